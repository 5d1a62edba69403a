package advance

import (
	"math"
	"strings"
	"testing"
)

// table is the book's rows: speed, least, most.
func table(rows ...[3]float64) []SpecPoint {
	var out []SpecPoint
	for _, r := range rows {
		out = append(out, SpecPoint{RPM: r[0], MinDeg: &r[1], MaxDeg: &r[2]})
	}
	return out
}

func TestExpectDemoBands(t *testing.T) {
	out, err := Expect(ExpectIn{Spec: linnet(), EngineRPM: []float64{800, 1000, 1500, 2000, 3000, 4000, 5000}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][2]float64{{8.7, 12}, {10.4, 14.4}, {17, 21}, {22, 26}, {26, 30}, {30, 34}, {32, 36}} {
		if b := out.Bands[i]; math.Abs(b.MinCrankDeg-want[0]) > 0.05 || math.Abs(b.MaxCrankDeg-want[1]) > 0.05 {
			t.Errorf("%+v, want %v", b, want)
		}
	}
}

func TestDemoBenchIsEarly(t *testing.T) {
	out := judge(t, linnet(), linnetBench())
	if out.Shape != "early" || out.Verdict != "fail" || out.Suspicion != "none" || out.BaseCrankDeg != nil {
		t.Errorf("shape %s, verdict %s, suspicion %s, base %v", out.Shape, out.Verdict, out.Suspicion, out.BaseCrankDeg)
	}
	for i, want := range []float64{5, 10, 9, 6, 4, 0, 0} {
		if got := out.Points[i].DeviationCrankDeg; math.Abs(got-want) > 1e-9 {
			t.Errorf("at %v engine rpm deviation %v, want %v", out.Points[i].EngineRPM, got, want)
		}
	}
	f := find(out, "curve-early")
	if f == nil || !strings.Contains(f.Part, "primary spring") ||
		!strings.Contains(f.Text, "Do not turn the body to cure it") {
		t.Errorf("finding %+v", f)
	}
	if h := out.HysteresisDistDeg; h == nil || math.Abs(*h-0.9) > 0.2 {
		t.Errorf("hysteresis %v, want about 0.9", h)
	}
}

func TestDemoBenchAndStrobeFindTheHiddenBase(t *testing.T) {
	out := judge(t, linnet(), linnetBench(), linnetStrobe())
	if out.BaseCrankDeg == nil || math.Abs(*out.BaseCrankDeg+4.3) > 1 || *out.BaseLowCrankDeg > -4.3 ||
		*out.BaseHighCrankDeg < -4.3 {
		t.Fatalf("base %v from %v to %v, want -4.3", *out.BaseCrankDeg, *out.BaseLowCrankDeg, *out.BaseHighCrankDeg)
	}
	if out.Shape != "early" || find(out, "curve-early") == nil {
		t.Errorf("shape %s, findings %v", out.Shape, codes(out))
	}
	f := find(out, "base-hidden")
	if f == nil || f.Direction != "too late" || !strings.Contains(f.Title, "° after TDC") ||
		!strings.Contains(f.Title, "idle figure of 8.0") {
		t.Errorf("hidden base: %+v", f)
	}
}

// With the pipe on throughout there is nothing to compare, and the summary
// says so and what to do.
func TestEveryReadingWithThePipeOnIsAskedForAgain(t *testing.T) {
	set := linnetStrobe()
	set.Vacuum = "connected"
	out := judge(t, linnet(), set)
	if out.Verdict != "unknown" || !strings.Contains(out.Summary,
		"every reading was taken with the vacuum pipe connected. Take them again with the pipe off and its end plugged") {
		t.Errorf("%s: %s", out.Verdict, out.Summary)
	}
}

func TestDemoStrobeAloneGivesBothAccounts(t *testing.T) {
	out := judge(t, linnet(), linnetStrobe())
	if len(out.Explanations) < 2 || out.Verdict != "fail" {
		t.Fatalf("%d accounts, shape %s, verdict %s", len(out.Explanations), out.Shape, out.Verdict)
	}
	for _, a := range out.Accounts { // one of them is a base set late; none is named
		if a.Share >= 0.75 {
			t.Errorf("%s holds %.2f on these readings alone", a.ID, a.Share)
		}
	}
	if test := out.Explanations[0].Test; !strings.Contains(test, "Static timing") {
		t.Errorf("test that tells them apart: %q", test)
	}
	for _, f := range out.Findings {
		if f.Sureness != "possible" {
			t.Errorf("%s is %s while two accounts fit", f.Code, f.Sureness)
		}
	}
}

func TestSixPassesEveryPointAndBaseIsNotAddedTwice(t *testing.T) {
	spec, set := stour()
	out := judge(t, spec, set)
	if out.Verdict != "pass" || out.Shape != "in-band" || out.Suspicion != "none" {
		t.Errorf("%s %s %s: %v", out.Verdict, out.Shape, out.Suspicion, codes(out))
	}
	for _, p := range out.Points {
		if p.Verdict != "pass" {
			t.Errorf("%+v", p)
		}
	}
	// The trap: the same figures as totals, and a reader who adds the base.
	spec.Base = "excluded"
	total := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, p := range [][2]float64{{1000, 10}, {1500, 17}, {2000, 22}, {3000, 28}, {4000, 32}} {
		total.Points = append(total.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	if out := judge(t, spec, total); out.Suspicion != "base-missing" || len(out.Ask) == 0 {
		t.Errorf("suspicion %s, ask %v", out.Suspicion, out.Ask)
	}
}

func TestConstantOffsetIsTheBase(t *testing.T) {
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, rpm := range []float64{700, 1400, 2000, 3000, 4000} {
		low, high, _ := interpolate(raisedTotal(linnet()), rpm)
		set.Points = append(set.Points, ReadingPoint{rpm, (low+high)/2 + 4, "rising"})
	}
	out := judge(t, linnet(), set)
	if f := find(out, "base-moved"); f == nil || f.Direction != "too early" {
		t.Errorf("which way a base is off: %+v", f)
	}
	if out.Shape != "base-only" || *out.BaseLowCrankDeg > 12 || *out.BaseHighCrankDeg < 12 || out.Suspicion != "none" {
		t.Errorf("shape %s offset %v suspicion %s", out.Shape, *out.BaseOffsetCrankDeg, out.Suspicion)
	}
}

func raisedTotal(s Spec) []knot {
	b, _ := bandOf(s)
	return b.total
}

func TestIdleFigureAloneProvesNothingAboutTheCurve(t *testing.T) {
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off",
		Points: []ReadingPoint{{800, 8, "rising"}}}
	out := judge(t, linnet(), set)
	f := find(out, "idle-holds-advance")
	if f == nil || out.Verdict == "pass" || !strings.Contains(f.Text, "a base of 4.") {
		t.Errorf("verdict %s, %+v", out.Verdict, f)
	}
	if out.BaseCrankDeg != nil { // one speed holds base and advance in one sum
		t.Errorf("base %v from one speed", *out.BaseCrankDeg)
	}
}
