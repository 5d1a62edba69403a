package vacuum

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// code is the invented four-cylinder's capsule: 4-12-7, starts at 4 inHg, all
// the way at 12, 7 distributor degrees.
func code(text string) Capsule {
	return Capsule{Kind: "advance", Code: &Code{Text: text, Meaning: []string{"start", "full", "max"},
		VacuumUnit: "inHg", AngleUnit: "distributor"}}
}

// run makes readings from pairs of inHg and distributor degrees; negative
// inHg means let down to that.
func run(pairs ...float64) []Reading {
	var out []Reading
	for i := 0; i < len(pairs); i += 2 {
		r := Reading{KPa: math.Abs(pairs[i]) * inHg, DistDeg: new(pairs[i+1])}
		if math.Signbit(pairs[i]) {
			r.Direction = "falling"
		}
		out = append(out, r)
	}
	return out
}

func holds() *Hold { return &Hold{StartKPa: 54, EndKPa: 53, Seconds: 20} }

func codes(out JudgeOut) string {
	var list []string
	for _, f := range out.Findings {
		list = append(list, f.Code)
	}
	return strings.Join(list, " ")
}

func TestCapsules(t *testing.T) {
	good := run(2, 0, 4.5, 0.2, 8, 3.4, 12, 6.5, 15, 6.5, -12, 6.6, -8, 3.9, -4, 0.1)
	for name, c := range map[string]struct {
		in      JudgeIn
		verdict string
		codes   string
	}{
		"sound": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: holds(), Source: "ported"},
			"pass", ""},
		"sound as it moves, leak test not done": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Source: "ported"},
			"unknown", ""},
		"holed": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0, 8, 0, 12, 0, 15, 0),
			Hold: &Hold{54, 2, 3}, Source: "ported"}, "fail", "holed dead"},
		"seized but holds": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0, 12, 0.2, 15, 0.2), Hold: holds(),
			Source: "ported"}, "fail", "dead"},
		"leaks a little": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: &Hold{54, 47, 20},
			Source: "ported"}, "watch", "leaks"},
		"short both ways": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0, 8, 0.8, 12, 3.5, 15, 4.5, -12,
			3.7, -8, 1), Hold: holds(), Source: "ported"}, "fail", "short"},
		"sticking": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0, 8, 1, 12, 5, 15, 7, -12, 7, -8,
			5.5, -4, 3), Hold: holds(), Source: "ported"}, "fail", "sticking"},
		"too much": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0.5, 8, 5, 12, 10, 15, 10.5),
			Hold: holds(), Source: "ported"}, "fail", "too-much"},
		"weak spring": {JudgeIn{Capsule: code("4-12-7"), Readings: run(2, 2.5, 4, 4, 8, 7, 12, 7.2),
			Hold: holds(), Source: "ported"}, "fail", "early-start"},
		"pulls the wrong way": {JudgeIn{Capsule: code("4-12-7"), Readings: run(4, 0, 8, -3, 12, -7), Hold: holds(),
			Source: "ported"}, "fail", "wrong-way"},
		"on the wrong port": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: holds(), Source: "manifold",
			BookSource: "ported", IdleVacuumKPa: new(19 * inHg)}, "watch", "wrong-port"},
		"ported with vacuum": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: holds(), Source: "ported",
			PipeAtIdleKPa: new(15 * inHg)}, "watch", "vacuum-at-idle"},
		"manifold, blocked": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: holds(), Source: "manifold",
			PipeAtIdleKPa: new(3 * inHg), IdleVacuumKPa: new(19 * inHg)}, "watch", "no-vacuum-at-idle"},
		"manifold, mild cam": {JudgeIn{Capsule: code("6-15-10"), Readings: run(5, 0, 9, 3.3, 12, 6.7, 15, 10, 18,
			10), Hold: holds(), Source: "manifold", IdleVacuumKPa: new(14 * inHg)}, "watch", "idle-hunts"},
		"no pipe at all": {JudgeIn{Capsule: code("4-12-7"), Readings: good, Hold: holds(), Source: "none"},
			"watch", "no-pipe"},
		"retard that does not": {JudgeIn{Capsule: Capsule{Kind: "retard", Twin: true, StartKPa: new(4 * inHg),
			FullKPa: new(6 * inHg), MaxDistDeg: new(4.0)}, Readings: run(3, 0, 6, 4, 8, 4), Hold: holds(),
			Source: "manifold", RetardTest: &RetardTest{8, 8}}, "fail", "no-retard"},
		"retard that does": {JudgeIn{Capsule: Capsule{Kind: "retard", StartKPa: new(4 * inHg),
			FullKPa: new(6 * inHg), MaxDistDeg: new(4.0)}, Readings: run(3, 0, 6, 4, 8, 4), Hold: holds(),
			Source: "manifold", RetardTest: &RetardTest{8, 0}}, "pass", ""},
		"nothing but a number": {JudgeIn{Capsule: Capsule{Kind: "advance", Code: &Code{Text: "PN 54403"}},
			Hold: holds(), Source: "ported"}, "unknown", ""},
		"no figures, good hold": {JudgeIn{Capsule: Capsule{Kind: "advance"}, Readings: good, Hold: holds(),
			Source: "ported"}, "unknown", ""},
	} {
		out, err := Judge(c.in)
		if err != nil || out.Verdict != c.verdict || codes(out) != c.codes {
			t.Errorf("%s: %s [%s] (%v), want %s [%s]\n%+v", name, out.Verdict, codes(out), err, c.verdict,
				c.codes, out.Points)
		}
		for _, f := range out.Findings {
			if f.Text == "" || f.Title == "" || f.Part == "" || len(f.Sources) == 0 {
				t.Errorf("%s: %s is not said whole: %+v", name, f.Code, f)
			}
		}
	}
}

func near(t *testing.T, what string, got *float64, want, tol float64) {
	t.Helper()
	if got == nil || !(math.Abs(*got-want) <= tol) {
		t.Errorf("%s is %v, want %g ± %g", what, got, want, tol)
	}
}

// TestV8Cruise: base 12, centrifugal 16.5 at 2200, capsule 10 distributor
// degrees: 48.5 crank degrees at cruise, and 42.5 with 7 (invented V8,
// arithmetic).
func TestV8Cruise(t *testing.T) {
	in := JudgeIn{Capsule: code("6-15-10"), BaseCrankDeg: new(12.0), CruiseCentrifugalCrankDeg: new(16.5),
		Hold: holds(), Source: "manifold", IdleVacuumKPa: new(14 * inHg)}
	out, err := Judge(in)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cruise", out.CruiseTotalCrankDeg, 48.5, 1e-9)
	if out.Findings.Has("cruise-high") || !out.Findings.Has("idle-hunts") {
		t.Error(codes(out))
	}
	in.Capsule.MaxDistDeg = new(7.0)
	out, _ = Judge(in)
	near(t, "cruise with 7", out.CruiseTotalCrankDeg, 42.5, 1e-9)
	in.Capsule.MaxDistDeg = new(15.0)
	out, _ = Judge(in)
	if !out.Findings.Has("cruise-high") || !strings.Contains(strings.Join(out.Ask, " "), "comes to 58") &&
		*out.CruiseTotalCrankDeg > 58 {
		t.Errorf("%v: %s, asks %v", *out.CruiseTotalCrankDeg, codes(out), out.Ask)
	}
}

func TestMeasuredFigures(t *testing.T) {
	out, err := Judge(JudgeIn{Capsule: code("4-12-7"), Readings: run(2, 0, 5, 0.875, 8, 3.5, 12, 7, 15, 7, -8, 4)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "start", out.Measured.StartKPa, 4*inHg, 1e-6)
	near(t, "full", out.Measured.FullKPa, 12*inHg, 1e-6)
	near(t, "most", out.Measured.MaxDistDeg, 7, 1e-9)
	near(t, "hysteresis", out.HysteresisDistDeg, 0.5, 1e-9)
	near(t, "spec start", out.Spec.StartKPa, 13.5456, 0.001)
}

// One reading that moved, far above the last that did not, is no start: it is
// asked for. Close together, the start lies between them.
func TestAStartThatWasNotSeen(t *testing.T) {
	capsule := Capsule{Kind: "advance"}
	reading := func(kPa, deg float64) Reading { return Reading{KPa: kPa, DistDeg: &deg} }
	out, err := Judge(JudgeIn{Capsule: capsule,
		Readings: []Reading{reading(0, 0), reading(13.5, 0.5), reading(40, 6.5)}})
	if err != nil || out.Measured.StartKPa != nil ||
		!strings.Contains(strings.Join(out.Ask, " "), "Where does it begin?") {
		t.Errorf("start %v, asked %q, %v", out.Measured.StartKPa, out.Ask, err)
	}
	out, err = Judge(JudgeIn{Capsule: capsule, Readings: []Reading{reading(12, 0), reading(15, 6), reading(40, 6.1)}})
	if err != nil || out.Measured.StartKPa == nil || *out.Measured.StartKPa != 13.5 {
		t.Errorf("start %v, %v", out.Measured.StartKPa, err)
	}
}

func TestEveryNumberIsAsked(t *testing.T) {
	for name, c := range map[string]struct {
		capsule Capsule
		asks    string
	}{
		"meaning": {Capsule{Kind: "advance", Code: &Code{Text: "6-15-9"}}, "What do the numbers"},
		"vacuum unit": {Capsule{Kind: "advance", Code: &Code{Text: "6-15-9", Meaning: []string{"start", "full", "max"},
			AngleUnit: "distributor"}}, "In which unit"},
		"degrees": {Capsule{Kind: "advance", Code: &Code{Text: "6-15-9", Meaning: []string{"start", "full", "max"},
			VacuumUnit: "inHg"}}, "distributor or crank"},
		"a letter behind": {code("3-7-5 K"), "really an advance"},
		"a part number":   {Capsule{Kind: "advance", Code: &Code{Text: "KX 20-11 B"}}, "part number"},
	} {
		out, err := Judge(JudgeIn{Capsule: c.capsule, Readings: run(4, 0, 12, 5)})
		if err != nil || !strings.Contains(strings.Join(out.Ask, "\n"), c.asks) {
			t.Errorf("%s: %v, asks %q", name, err, out.Ask)
		}
		if name != "a letter behind" && out.Points[0].Verdict != "unknown" {
			t.Errorf("%s: judged all the same", name)
		}
	}
}

func TestRefused(t *testing.T) {
	for name, in := range map[string]JudgeIn{
		"start over full": {Capsule: code("12-4-7")},
		"meanings short": {Capsule: Capsule{Kind: "advance",
			Code: &Code{Text: "6-15-9", Meaning: []string{"start"}}}},
		"more than nature":   {Capsule: code("6-150-9")},
		"too many degrees":   {Capsule: code("6-15-90")},
		"no figure":          {Capsule: code("4-12-7"), Readings: []Reading{{KPa: 20}}},
		"a table that falls": {Capsule: Capsule{Kind: "advance", Table: []TablePoint{{20, 2, 4}, {40, 1, 3}}}},
	} {
		if _, err := Judge(in); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}

// TestWhatFollowsItsLinePasses: a capsule exactly on its line passes with
// nothing found, read in crank or distributor degrees, whatever the line.
func TestWhatFollowsItsLinePasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := rapid.Float64Range(5, 30).Draw(t, "start")
		full := start + rapid.Float64Range(10, 40).Draw(t, "span")
		most := rapid.Float64Range(3, 15).Draw(t, "max")
		in := JudgeIn{Capsule: Capsule{Kind: "advance", StartKPa: &start, FullKPa: &full, MaxDistDeg: &most},
			Hold: holds(), Source: "ported"}
		for i := range 12 {
			v := full * 1.2 * float64(i) / 11
			deg := most * min(1, max(0, (v-start)/(full-start)))
			if rapid.Bool().Draw(t, "crank") {
				in.Readings = append(in.Readings, Reading{KPa: v, CrankDeg: new(2 * deg)})
			} else {
				in.Readings = append(in.Readings, Reading{KPa: v, DistDeg: &deg})
			}
		}
		out, err := Judge(in)
		if err != nil || out.Verdict != "pass" || len(out.Findings) > 0 {
			t.Fatalf("%s, %v, %v", out.Verdict, codes(out), err)
		}
	})
}
