package scatter

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pointsmith/calc/finding"
)

func find(out AnalyseOut, code string) finding.Finding {
	for _, f := range out.Findings {
		if f.Code == code {
			return f
		}
	}
	return finding.Finding{}
}

// ring gives the errors against an even ring of flashes that come by these
// intervals (crank degrees, four-stroke), read exactly.
func ring(intervals ...float64) []float64 {
	out, at := make([]float64, len(intervals)), 0.0
	for i := range out {
		out[i] = (float64(i)*720/float64(len(intervals)) - at) / 2
		at += intervals[i]
	}
	return out
}

func added(a []float64, b ...float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] + b[i%len(b)]
	}
	return out
}

// A V6 on three pins, 90° between its banks, fires at 90 and 150 degrees by
// turns (geometry). Read against an even ring and repeated exactly, it was
// "cam worn, sure".
func TestUnevenByDesignIsNoWornCam(t *testing.T) {
	design := []float64{150, 90, 150, 90, 150, 90}
	run := added(ring(design...), 0, .2, -.1, .1)
	in := AnalyseIn{ErrorsDistDeg: run, Repeats: [][]float64{run, run}}
	out := analyse(t, in)
	if out.Verdict != "unknown" || find(out, "lobes").Sureness == "sure" || !out.Findings.Has("uneven-design") ||
		!out.Findings.Has("twin-out-of-step") {
		t.Errorf("nothing said: %s, %s", out.Verdict, codes(out))
	}
	asks := strings.Join(out.Ask, " ")
	if !strings.Contains(asks, "How does the engine fire") || !strings.Contains(asks, "two sets of points") ||
		!strings.Contains(strings.Join(out.Working, " "), "even firing is taken") {
		t.Errorf("asks %q, works %q", asks, out.Working)
	}
	in.Firing = &Firing{design}
	out = analyse(t, in)
	if out.Verdict != "pass" || out.Findings.Has("lobes") || !out.Findings.Has("uneven-design") ||
		out.Against != "even" {
		t.Errorf("design said: %s, %s, %s", out.Verdict, codes(out), out.Against)
	}
	near(t, "worst", out.WorstDistDeg, 0.2, 0.16)
	in.Firing, in.Points = &Firing{[]float64{120, 120, 120, 120, 120, 120}}, "single"
	if out = analyse(t, in); out.Verdict != "fail" || find(out, "lobes").Sureness != "sure" {
		t.Errorf("even and single said: %s, %+v", out.Verdict, out.Findings)
	}
}

// The same engine read by strobe on each cylinder's own mark shows errors near
// nothing; intervals named from the wrong cylinder are asked about.
func TestWhatTheErrorsAreReadAgainst(t *testing.T) {
	design := []float64{150, 90, 150, 90, 150, 90}
	own := analyse(t, AnalyseIn{ErrorsDistDeg: []float64{0, .3, -.2, .1, .2, 0}, Firing: &Firing{design}})
	if own.Verdict != "pass" || own.Against != "own" {
		t.Errorf("own marks: %s, %s, %s", own.Verdict, own.Against, codes(own))
	}
	turned := analyse(t, AnalyseIn{ErrorsDistDeg: ring(90, 150, 90, 150, 90, 150), Firing: &Firing{design},
		Against: "even"})
	if turned.Verdict != "unknown" || !turned.Findings.Has("firing-turned") || turned.Findings.Has("lobes") {
		t.Errorf("named from the wrong cylinder: %s, %s", turned.Verdict, codes(turned))
	}
	worn := analyse(t, AnalyseIn{ErrorsDistDeg: added(ring(design...), 0, 0, 3, 0, 0, 0),
		Repeats: [][]float64{added(ring(design...), 0, 0, 3, 0, 0, 0)},
		Firing:  &Firing{design}, Against: "even", Points: "single"})
	if worn.Verdict != "fail" || !worn.Findings.Has("lobes") || worn.Earliest.Position != 3 {
		t.Errorf("a worn lobe under uneven firing: %s, %s, %+v", worn.Verdict, codes(worn), worn.Earliest)
	}
}

// Twin points, each firing every other cylinder, 3 degrees out of step on a V8.
func TestTwinPointsOutOfStep(t *testing.T) {
	run := []float64{0, -3, .1, -2.9, -.1, -3, .1, -3.1}
	even := &Firing{[]float64{90, 90, 90, 90, 90, 90, 90, 90}}
	out := analyse(t, AnalyseIn{ErrorsDistDeg: run, Repeats: [][]float64{run}, Points: "twin", Firing: even})
	f := find(out, "twin-out-of-step")
	if out.Findings[0].Code != "twin-out-of-step" || f.Sureness != "likely" || !strings.Contains(f.Text, "3.0") ||
		find(out, "lobes").Sureness != "possible" || f.Caution == "" {
		t.Errorf("%s: %+v", codes(out), out.Findings)
	}
	near(t, "alternating", out.AlternatingDistDeg, 1.5, 0.06)
	unsaid := analyse(t, AnalyseIn{ErrorsDistDeg: run, Repeats: [][]float64{run}})
	for _, f := range unsaid.Findings {
		if f.Part != "total timing" && f.Sureness == "sure" {
			t.Errorf("nothing said, and %s is sure", f.Code)
		}
	}
	single := analyse(t, AnalyseIn{ErrorsDistDeg: run, Repeats: [][]float64{run}, Points: "single", Firing: even})
	if single.Findings.Has("twin-out-of-step") || find(single, "lobes").Sureness != "sure" {
		t.Errorf("single, even: %s", codes(single))
	}
}

func TestFiringIsRefusedInWords(t *testing.T) {
	for name, in := range map[string]AnalyseIn{
		"too few": {Cylinders: 4, ErrorsDistDeg: []float64{0, 1, 2, 1}, Firing: &Firing{[]float64{180, 180, 360}}},
		"another sum": {Cylinders: 4, ErrorsDistDeg: []float64{0, 1, 2, 1},
			Firing: &Firing{[]float64{180, 180, 180, 170}}},
		"two drives": {Cylinders: 2, ErrorsDistDeg: []float64{0, 1}, Firing: &Firing{[]float64{180, 180}},
			DriveRatio: 2},
		"beyond pitch": {Cylinders: 2, ErrorsDistDeg: []float64{0, -90}},
	} {
		_, err := Analyse(in)
		if err == nil || name == "beyond pitch" && !strings.Contains(err.Error(), "firing") {
			t.Errorf("%s: %v", name, err)
		}
	}
	twin := AnalyseIn{Cylinders: 2, ErrorsDistDeg: []float64{0, 90}, Firing: &Firing{[]float64{180, 540}}}
	if out, err := Analyse(twin); err != nil || out.Verdict != "pass" {
		t.Errorf("a twin of 180 and 540 degrees: %v, %s %s", err, out.Verdict, codes(out))
	}
	two := AnalyseIn{Cylinders: 3, ErrorsDistDeg: []float64{0, 0, 1.5}, Firing: &Firing{[]float64{120, 120, 120}}}
	if out, err := Analyse(two); err != nil || out.Earliest.CrankDeg != 1.5 {
		t.Errorf("a two-stroke turns its points with the crank: %v, %+v", err, out.Earliest)
	}
}

// A simulator of its own: worn lobes, bent shafts, twin sets out of step and
// uneven engines, read with noise to half a degree, three runs, with and
// without what the engine is being said. Sure has to be right in 97 of 100.
func TestSureIsRight(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 1958))
	type tally struct{ cases, sure, wrong, named int }
	count := map[string]*tally{}
	for range 3000 {
		truth, said, in := madeCase(rng)
		out, err := Analyse(in)
		if err != nil {
			t.Fatal(err)
		}
		row := count[truth+said]
		if row == nil {
			row = &tally{}
			count[truth+said] = row
		}
		row.cases++
		if out.Findings.Has(map[string]string{"cam": "lobes", "shaft": "one-wave", "twin": "twin-out-of-step",
			"design": "uneven-design"}[truth]) {
			row.named++
		}
		for _, f := range out.Findings {
			if f.Sureness != "sure" || f.Code == "earliest" || f.Code == "scatter-good" || f.Code == "uneven-design" {
				continue
			}
			row.sure++
			if f.Code == "lobes" && truth != "cam" || f.Code == "one-wave" && truth != "shaft" ||
				f.Code == "twin-out-of-step" && truth != "twin" {
				row.wrong++
			}
		}
	}
	sure, wrong := 0, 0
	lines := []string{}
	for name, row := range count {
		sure, wrong = sure+row.sure, wrong+row.wrong
		lines = append(lines, fmt.Sprintf("%-32s cases %4d, named %4d, sure %4d, of these wrong %d", name, row.cases,
			row.named, row.sure, row.wrong))
		if strings.Contains(name, "nothing") && row.sure > 0 &&
			(strings.HasPrefix(name, "twin") || strings.HasPrefix(name,
				"design")) {
			t.Errorf("%s: sure in %d", name, row.sure)
		}
		if row.named < row.cases*9/10 {
			t.Errorf("%s: named in %d of %d", name, row.named, row.cases)
		}
	}
	t.Log("\n" + strings.Join(lines, "\n"))
	if float64(wrong) > 0.03*float64(sure) || sure < 400 {
		t.Errorf("sure %d times, wrong %d", sure, wrong)
	}
}

// madeCase draws a truth, what is said of the engine, and three runs.
func madeCase(rng *rand.Rand) (truth, said string, in AnalyseIn) {
	n := []int{6, 8}[rng.IntN(2)]
	truth = []string{"cam", "shaft", "twin", "design"}[rng.IntN(4)]
	base := make([]float64, n)
	intervals := make([]float64, n)
	for i := range intervals {
		intervals[i] = 720 / float64(n)
	}
	switch truth {
	case "cam": // one to three lobes worn late; others within what is ground
		for _, lobe := range rng.Perm(n)[:1+rng.IntN(3)] {
			base[lobe] -= 2.5 + 2*rng.Float64()
		}
	case "shaft":
		height, phase := 2.2+2*rng.Float64(), 2*math.Pi*rng.Float64()
		for i := range base {
			base[i] = height * math.Sin(2*math.Pi*float64(i)/float64(n)+phase)
		}
	case "twin":
		by := (4 + 3*rng.Float64()) * float64(1-2*rng.IntN(2))
		for i := 1; i < n; i += 2 {
			base[i] += by
		}
	case "design":
		by := (12 + 14*rng.Float64()) * float64(1-2*rng.IntN(2)) * 6 / float64(n)
		for i := range intervals {
			intervals[i] += by * float64(1-2*(i%2))
		}
		copy(base, ring(intervals...))
	}
	for i := range base {
		base[i] += 0.25 * rng.NormFloat64()
	}
	in = AnalyseIn{Cylinders: n}
	for k := range 3 {
		run := make([]float64, n)
		for i := range run {
			run[i] = math.Round(2*(base[i]-base[0]+0.12*rng.NormFloat64())) / 2
		}
		if k == 0 {
			in.ErrorsDistDeg = run
		} else {
			in.Repeats = append(in.Repeats, run)
		}
	}
	said = ", nothing said"
	if rng.IntN(2) == 0 {
		said, in.Firing, in.Points = ", all said", &Firing{intervals}, "single"
		if truth == "twin" {
			in.Points = "twin"
		}
	}
	return truth, said, in
}
