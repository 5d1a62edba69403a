package faults

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func ranked(t testing.TB, in In) Out {
	t.Helper()
	out, err := Rank(in)
	if err != nil {
		t.Fatal(err)
	}
	sane(t, out)
	return out
}

// sane is what every answer holds: no certainty, nothing hidden, none keeps
// its share, what was asked is not asked again.
func sane(t testing.TB, out Out) {
	t.Helper()
	if len(out.Causes) != len(known().causes) || out.None.Probability < Strange || out.Summary == "" {
		t.Fatalf("%d causes, none %g", len(out.Causes), out.None.Probability)
	}
	last := 1.0
	for _, c := range out.Causes {
		if !(c.Probability >= 0 && c.Probability <= 1-Strange && c.Probability <= last) {
			t.Fatalf("%s has %g after %g", c.ID, c.Probability, last)
		}
		last = c.Probability
	}
	for _, n := range out.NextTests {
		sum := 0.0
		for _, a := range n.Answers {
			sum += a.Chance
		}
		if math.Abs(sum-1) > 1e-9 || n.Gain <= 0 || n.Minutes <= 0 || n.Expected == "" {
			t.Fatalf("%s: chances %g, gain %g, expected %q", n.ID, sum, n.Gain, n.Expected)
		}
	}
}

func TestNothingToldIsNothingConcluded(t *testing.T) {
	for _, in := range []In{{}, {Symptoms: []string{"other"}}} {
		out := ranked(t, in)
		if out.Causes[0].Probability > 0.1 || out.Sureness != "possible" {
			t.Errorf("%v: %s has %.2f", in.Symptoms, out.Causes[0].ID, out.Causes[0].Probability)
		}
	}
	a, b := ranked(t, In{}), ranked(t, In{Symptoms: []string{"other"}})
	if b.None.Probability < 2*a.None.Probability {
		t.Errorf("a symptom that is not listed leaves none at %g", b.None.Probability)
	}
}

// Everything normal: no cause stands out, and what is on no list gains.
func TestEverythingNormal(t *testing.T) {
	in := In{Symptoms: []string{"S04"}}
	for _, one := range known().tests {
		if one.Minutes > 0 {
			in.Observations = append(in.Observations, Observation{ID: one.ID, Result: "expected"})
		}
	}
	out := ranked(t, in)
	if out.None.Probability < 0.3 || out.Causes[0].Probability > 0.4 || len(out.NextTests) != 0 {
		t.Errorf("none %.2f, first %s %.2f, %d tests", out.None.Probability, out.Causes[0].ID,
			out.Causes[0].Probability,
			len(out.NextTests))
	}
	t.Log(out.Summary)
}

// Everything wrong at once: no crash, no certainty.
func TestEverythingContradicts(t *testing.T) {
	in := In{}
	for _, s := range known().symptoms {
		in.Symptoms = append(in.Symptoms, s.ID)
	}
	for _, one := range known().tests {
		if one.Minutes > 0 {
			in.Observations = append(in.Observations, Observation{ID: one.ID, Result: "not"})
		}
	}
	t.Log(ranked(t, in).Summary)
	two := In{Symptoms: []string{"S31"}, Observations: []Observation{{ID: "T6", Seen: "good"}, {ID: "T2", Seen: "low"},
		{ID: "T4", Result: "expected"}, {ID: "T3", Seen: "dead"}}}
	out := ranked(t, two)
	if out.Causes[0].Probability > 0.97 {
		t.Errorf("%s has %.3f of contradictions", out.Causes[0].ID, out.Causes[0].Probability)
	}
}

func TestEveryTestRefused(t *testing.T) {
	in := In{Symptoms: []string{"S01"}}
	for _, one := range known().tests {
		if one.Minutes > 0 {
			in.Observations = append(in.Observations, Observation{ID: one.ID, Result: "undone"})
		}
	}
	out, plain := ranked(t, in), ranked(t, In{Symptoms: []string{"S01"}})
	if len(out.NextTests) != 0 || math.Abs(out.Causes[0].Probability-plain.Causes[0].Probability) > 1e-12 {
		t.Errorf("%d tests left; %g, %g", len(out.NextTests), out.Causes[0].Probability, plain.Causes[0].Probability)
	}
}

func TestWhatForbidsStartingIsKept(t *testing.T) {
	for _, c := range []struct {
		in      In
		allowed []string
	}{
		{In{Symptoms: []string{"S04"}, NoStart: true}, []string{"off"}},
		{In{Symptoms: []string{"S31"}}, []string{"off", "cranking"}},
		{In{Symptoms: []string{"S31"}, Car: Car{Runs: "yes"}}, []string{"off", "cranking", "running", "road"}},
		{In{Symptoms: []string{"S04"}, Car: Car{Runs: "no"}}, []string{"off", "cranking"}},
		{In{Symptoms: []string{"S04"}, NoIgnition: true}, []string{"off", "cranking"}},
	} {
		c.in.MostTests = 60
		out := ranked(t, c.in)
		for _, n := range out.NextTests {
			if !slices.Contains(c.allowed, n.Engine) || c.in.NoIgnition && n.NeedsPower {
				t.Errorf("%+v: %s wants the engine %s", c.in.Symptoms, n.ID, n.Engine)
			}
		}
		if len(out.NextTests) < 5 {
			t.Errorf("%+v: only %d tests", c.in, len(out.NextTests))
		}
	}
}

// What is on file is not asked.
func TestAnswersOnFileAreNotAsked(t *testing.T) {
	all := Facts{BatteryV: num(12.6), CrankingV: num(10), FeedV: num(6.1), PointsDropV: num(.1), ChargingV: num(14.2),
		Polarity: "right", DwellVariationDistDeg: num(1), GapMm: num(.38), JitterCrankDeg: num(.5),
		MarkErrorCrankDeg: num(.3),
		CompressionKPa:    []float64{1100, 1080, 1120, 1090}, Capsule: "pass", ManifoldKPa: num(65),
		Spark: Spark{LengthMm: num(8), Colour: "blue"}, Plugs: []PlugFound{{1, "good"}, {2, "good"}, {3, "good"}, {4,
			"good"}},
		Accounts: []Account{{"sound", .95}}, BaseRead: true,
		Checks: []Checked{{"B16", "pass"}, {"B17", "pass"}, {"B28", "pass"}, {"B29", "pass"}, {"b5", "pass"},
			{"B26.primary", "pass"}}}
	out := ranked(t, In{Car: fullCar(), Symptoms: []string{"S04"}, Facts: all, MostTests: 60})
	answered := []string{"T38", "T2", "T3", "T30", "T34", "T9", "T33", "T10", "T13", "T16", "T14", "T17", "T6",
		"T21", "T11",
		"T12", "T7", "T55", "T26", "T39", "T37"}
	for _, n := range out.NextTests {
		if slices.Contains(answered, n.ID) {
			t.Errorf("%s is asked and on file", n.ID)
		}
	}
	t.Log(out.Summary, len(out.NextTests))
}

// A test that could not be done is not asked, and counts when it is on file
// later; one done in this hunt is not counted again from the file.
func TestUndoneIsNotAnswered(t *testing.T) {
	car := fullCar()
	undone := In{Car: car, Symptoms: []string{"S04"}, Observations: []Observation{{ID: "T34", Result: "undone"}}}
	plain := ranked(t, undone)
	undone.Facts.Polarity = "reversed"
	if a, b := of(plain, "IG24"), of(ranked(t, undone), "IG24"); b.Probability < 3*a.Probability {
		t.Errorf("on file after it could not be done: %g, %g", a.Probability, b.Probability)
	}
	seen := In{Car: car, Symptoms: []string{"S22"}, Observations: []Observation{{ID: "T12", Seen: "early"},
		{ID: "T2", Value: num(6.1)}}}
	once := ranked(t, seen)
	seen.Facts = Facts{Accounts: []Account{{"primary-early", .95}}, FeedV: num(6.1)}
	if a, b := of(once, "IG18"), of(ranked(t, seen), "IG18"); math.Abs(a.Probability-b.Probability) > 1e-12 {
		t.Errorf("counted twice: %g, %g", a.Probability, b.Probability)
	}
}

// Each fact moves the cause it is about, the way it should.
func TestFactsMoveTheirCause(t *testing.T) {
	car := fullCar()
	plain := ranked(t, In{Car: car, Symptoms: []string{"S04"}})
	for _, c := range []struct {
		name  string
		facts Facts
		cause string
	}{
		{"feed", Facts{FeedV: num(2.5)}, "IG08"},
		{"feed drop", Facts{BatteryV: num(12.4), FeedDropV: num(10)}, "IG08"},
		{"feed running", Facts{FeedRunningDropV: num(1.5)}, "IG08"},
		{"feed at half the current", Facts{FeedDropV: num(.2), FeedA: num(1)}, "IG08"},
		{"points", Facts{PointsDropV: num(.8)}, "IG02"},
		{"body", Facts{BodyDropV: num(.5)}, "IG09"},
		{"charging", Facts{ChargingV: num(16)}, "IG33"},
		{"cranking", Facts{CrankingV: num(7)}, "ME09"},
		{"strap", Facts{StrapDropV: num(1)}, "ME09"},
		{"polarity", Facts{Polarity: "reversed"}, "IG24"},
		{"dwell", Facts{DwellVariationDistDeg: num(6)}, "IG22"},
		{"gap", Facts{GapMm: num(.2)}, "IG01"},
		{"dwell at idle", Facts{DwellDistDeg: num(72)}, "IG01"},
		{"condenser", Facts{CondenserMicroF: num(.05)}, "IG04"},
		{"leak", Facts{CondenserLeaks: yes(true)}, "IG05"},
		{"jitter", Facts{JitterCrankDeg: num(4)}, "IG23"},
		{"base", Facts{BaseFoundCrankDeg: num(0)}, "IG15"},
		{"base early", Facts{BaseFoundCrankDeg: num(16)}, "IG16"},
		{"mark", Facts{MarkErrorCrankDeg: num(8)}, "IG25"},
		{"curve", Facts{Accounts: []Account{{"stop-short", .9}}}, "IG17"},
		{"drag", Facts{Accounts: []Account{{"drag", .9}}}, "IG19"},
		{"strobe against lamp", Facts{Accounts: []Account{{"mark-off", .9}}}, "IG25"},
		{"scatter", Facts{ScatterWorstDistDeg: num(2.5)}, "IG22"},
		{"one valve", Facts{CompressionKPa: []float64{1100, 1080, 700, 1090}}, "ME01"},
		{"neighbours", Facts{CompressionKPa: []float64{1100, 600, 620, 1090}}, "ME02"},
		{"rings", Facts{CompressionKPa: []float64{1100, 1080, 700, 1090}, CompressionOiledKPa: []float64{1150, 1120,
			1020, 1130}}, "ME03"},
		{"capsule", Facts{Capsule: "fail"}, "IG20"},
		{"manifold", Facts{ManifoldKPa: num(40)}, "ME03"},
		{"spark", Facts{Spark: Spark{LengthMm: num(3), Colour: "yellow"}}, "IG04"},
		{"plugs", Facts{Plugs: []PlugFound{{1, "sooty"}, {2, "wet"}}}, "FU02"},
		{"plug", Facts{Plugs: []PlugFound{{1, "good"}, {2, "damaged"}}}, "IG14"},
		{"check", Facts{Checks: []Checked{{"B16", "fail"}}}, "IG10"},
		{"one figure of a check", Facts{Checks: []Checked{{"B15.insulation", "fail"}}}, "IG05"},
		{"clearances", Facts{Checks: []Checked{{"B28", "fail"}}}, "ME01"},
	} {
		if strings.HasPrefix(c.name, "feed ") && c.name != "feed drop" {
			car.Ballasted, car.BallastOhm, car.CoilOhm = yes(false), nil, num(3)
		} else {
			car = fullCar()
		}
		out := ranked(t, In{Car: car, Symptoms: []string{"S04"}, Facts: c.facts})
		before, after := of(plain, c.cause), of(out, c.cause)
		if after.Probability < 1.5*before.Probability {
			t.Errorf("%s: %s from %.3f to %.3f", c.name, c.cause, before.Probability, after.Probability)
		}
		if !slices.ContainsFunc(after.Because, func(b Because) bool { return b.Kind != "symptom" && b.Factor > 1.4 }) {
			t.Errorf("%s: %s does not say why", c.name, c.cause)
		}
	}
}

func of(out Out, id string) Suspect {
	return out.Causes[slices.IndexFunc(out.Causes, func(s Suspect) bool { return s.ID == id })]
}

// A factor is the odds with a thing divided by the odds of the same case asked
// again without it.
func TestFactorsAreOddsWithAndWithout(t *testing.T) {
	whole := In{Car: fullCar(), Symptoms: []string{"S01", "S10"}, LastChanged: []string{"IG14"},
		Observations: []Observation{{ID: "T34", Seen: "reversed"}, {ID: "T1", Seen: "coil-lead"}},
		Facts:        Facts{FeedV: num(6)}}
	out := ranked(t, whole)
	for name, without := range map[string]In{
		"S01": {Symptoms: []string{"S10"}, LastChanged: whole.LastChanged, Observations: whole.Observations,
			Facts: whole.Facts},
		"IG14": {Symptoms: whole.Symptoms, Observations: whole.Observations, Facts: whole.Facts},
		"T34": {Symptoms: whole.Symptoms, LastChanged: whole.LastChanged, Observations: whole.Observations[1:],
			Facts: whole.Facts},
		"feedV": {Symptoms: whole.Symptoms, LastChanged: whole.LastChanged, Observations: whole.Observations},
	} {
		without.Car = whole.Car
		other := ranked(t, without)
		for _, c := range out.Causes {
			want := odds(c.Probability) / odds(of(other, c.ID).Probability)
			at := slices.IndexFunc(c.Because, func(b Because) bool { return b.ID == name })
			switch {
			case at >= 0 && math.Abs(c.Because[at].Factor/want-1) > 1e-9:
				t.Errorf("%s %s: factor %g, asked again %g", name, c.ID, c.Because[at].Factor, want)
			case at < 0 && (want > leastMove+1e-9 || want < 1/leastMove-1e-9):
				t.Errorf("%s moved %s by %g and it is not said", name, c.ID, want)
			}
		}
	}
	if p := of(out, "IG24").Probability; p < 0.5 {
		t.Errorf("a reversed coil that was seen has %.2f", p)
	}
}

// What the car has not cannot be wrong with it; what was changed last weighs.
func TestTheCarAndWhatWasChanged(t *testing.T) {
	out := ranked(t, In{Car: Car{Trigger: "electronic", Capsule: "none", Carburettors: 1}, Symptoms: []string{"S04",
		"S21"}})
	for _, id := range []string{"IG01", "IG02", "IG04", "IG20", "FU09"} {
		if of(out, id).Probability != 0 {
			t.Errorf("%s has %g on a car without it", id, of(out, id).Probability)
		}
	}
	plain, changed := ranked(t, In{Symptoms: []string{"S04"}}), ranked(t, In{Symptoms: []string{"s4"},
		LastChanged: []string{"ig04"}})
	if ratio := odds(of(changed, "IG04").Probability) / odds(of(plain, "IG04").Probability); math.Abs(ratio-3) > 0.2 {
		t.Errorf("changed last weighs %.2f", ratio)
	}
}

// Whatever is told and seen, the answer is sane; the order of what was seen
// does not matter.
func TestAnyCaseIsAnsweredSanely(t *testing.T) {
	k := known()
	rapid.Check(t, func(rt *rapid.T) {
		in := In{NoStart: rapid.Bool().Draw(rt, "noStart")}
		for _, at := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(k.symptoms)-1), 0, 6, rapid.ID[int]).Draw(rt,
			"symptoms") {
			in.Symptoms = append(in.Symptoms, k.symptoms[at].ID)
		}
		for _, at := range rapid.SliceOfNDistinct(rapid.IntRange(0, 54), 0, 20, rapid.ID[int]).Draw(rt, "tests") {
			one := k.tests[at]
			seen := rapid.IntRange(0, len(one.Outcomes)-1).Draw(rt, "seen")
			in.Observations = append(in.Observations, Observation{ID: one.ID, Seen: one.Outcomes[seen].ID})
		}
		out, err := Rank(in)
		if err != nil {
			rt.Fatal(err)
		}
		sane(t, out)
		slices.Reverse(in.Observations)
		slices.Reverse(in.Symptoms)
		again, _ := Rank(in)
		for _, c := range out.Causes {
			if math.Abs(of(again, c.ID).Probability-c.Probability) > 1e-9 {
				rt.Fatalf("%s: %g, the other way round %g", c.ID, c.Probability, of(again, c.ID).Probability)
			}
		}
	})
}

func BenchmarkRank(b *testing.B) {
	for _, n := range []int{0, 5, 20} {
		in := In{Car: fullCar(), Symptoms: []string{"S01", "S10", "S22"}, LastChanged: []string{"IG14"}, MostTests: 60}
		for _, one := range known().tests[:n] {
			in.Observations = append(in.Observations, Observation{ID: one.ID, Result: "expected"})
		}
		b.Run(fmt.Sprintf("%d tests done", n), func(b *testing.B) {
			for b.Loop() {
				ranked(b, in)
			}
		})
	}
}

func BenchmarkKnowledge(b *testing.B) {
	for b.Loop() {
		known().network()
	}
}
