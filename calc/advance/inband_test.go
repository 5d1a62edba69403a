package advance

import (
	"strings"
	"testing"

	"pointsmith/calc/finding"
)

// sixTwoEarly is an invented six set two degrees early, one low reading at the
// slow end not to be trusted: base 8 by the book, allowed 1 either way.
func sixTwoEarly(static *float64) (Spec, Set) {
	spec := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded", BaseCrankDeg: ptr(8.0), BaseToleranceCrankDeg: 1, LimitDistDeg: ptr(12.0),
		Points: []SpecPoint{{400, 0, 1}, {700, 2.2, 4.2}, {1000, 4.5, 7.5}, {2000, 14, 17}, {3200, 21, 24}, {4800, 23, 26}}}
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off", StaticCrankDeg: static}
	for _, p := range [][2]float64{{700, 10}, {1000, 15.5}, {2000, 27}, {3200, 34}, {4800, 36}} {
		set.Points = append(set.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	for _, p := range [][2]float64{{3200, 35}, {2000, 27.5}, {1000, 18}, {700, 11.5}} {
		set.Points = append(set.Points, ReadingPoint{p[0], p[1], "falling"})
	}
	return spec, set
}

func mend(t *testing.T, spec Spec, sets ...Set) PrescribeOut {
	t.Helper()
	out, err := Prescribe(PrescribeIn{Spec: spec, Readings: sets})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestInTheBandIsCountedOneWay: by hand, two degrees later put eight of the
// nine readings in the band; as read, six are.
func TestInTheBandIsCountedOneWay(t *testing.T) {
	for _, tolerance := range []float64{1, 0} {
		spec, set := sixTwoEarly(ptr(10.0))
		spec.BaseToleranceCrankDeg = tolerance
		if tolerance == 0 { // the same band, its degree of tolerance printed in the table
			for i := range spec.Points {
				spec.Points[i].MinDeg, spec.Points[i].MaxDeg = spec.Points[i].MinDeg-1, spec.Points[i].MaxDeg+1
			}
		}
		out := judge(t, spec, set)
		n := out.Counts
		if n.AsRead != (InBand{3, 3, 3}) || n.BaseOff == nil || n.BaseOff.in() != 8 || n.BaseOff.Outside != 1 || *n.BaseOffCrankDeg != 2 {
			t.Fatalf("tolerance %v: %+v, base off %+v", tolerance, n, n.BaseOff)
		}
		for _, want := range []string{"8 of 9 readings are in the band once 2.0° of base is taken off", "6 of 9 as read", "700 engine rpm, rising"} {
			if !strings.Contains(out.Summary, want) {
				t.Errorf("tolerance %v: %q is not in %q", tolerance, want, out.Summary)
			}
		}
		for i, p := range out.Points {
			if p.Alone != (i == 0) {
				t.Errorf("reading %d alone: %v", i, p.Alone)
			}
		}
		if p := out.Points[0]; p.Verdict != "pass" || p.BaseOffVerdict != "fail" {
			t.Errorf("the lone reading: %s as read, %s with the base off", p.Verdict, p.BaseOffVerdict)
		}
		f := find(out, "wild-reading")
		if f == nil || !strings.Contains(f.Text, "once the base is taken off") || !strings.Contains(strings.Join(f.Working, " "), "less 2.0 of base") {
			t.Errorf("the lone reading: %+v", f)
		}
		f = find(out, "base-moved")
		if f == nil || f.Sureness == "sure" || !strings.Contains(f.Text, "8 of 9") || strings.Contains(f.Text, "All speeds") {
			t.Errorf("the base: %+v", f)
		}
	}
}

func TestTheBaseIsSetBeforeAnythingInside(t *testing.T) {
	spec, set := sixTwoEarly(ptr(10.0))
	out := mend(t, spec, set)
	if len(out.Options) != 1 || out.Options[0].Change.Change != (Change{}) || out.Verdict != "watch" {
		t.Fatalf("%s: %s %+v", out.Verdict, out.Summary, out.Options)
	}
	o := out.Options[0]
	if !o.BodyOnly {
		t.Error("it is not said that nothing is opened")
	}
	steps := strings.Join(o.Steps, "\n")
	for _, want := range []string{"2.0° later", "8.0° before TDC", "read again", "700 engine rpm, rising", "no spring, post or stop"} {
		if !strings.Contains(steps, want) {
			t.Errorf("%q is not in %s", want, steps)
		}
	}
	if len(o.Expected) != 9 || !strings.Contains(out.Summary, "8 of 9") {
		t.Fatalf("%d expected, %s", len(o.Expected), out.Summary)
	}
	for _, e := range o.Expected {
		lone := e.EngineRPM == 700 && e.Direction == "rising"
		if (e.Verdict == "fail") != lone || e.Doubtful != lone {
			t.Errorf("%+v", e)
		}
		if e.EngineRPM == 4800 && e.CrankDeg != 34 {
			t.Errorf("36 less 2 is expected as %v", e.CrankDeg)
		}
	}
}

// TestSomeReadingsOutAreNoPass: rising agrees within reading error, three of
// the falling ones do not.
func TestSomeReadingsOutAreNoPass(t *testing.T) {
	spec, set := sixTwoEarly(nil)
	out := judge(t, spec, set)
	if out.Verdict != "watch" || find(out, "some-out") == nil || !strings.Contains(out.Summary, "6 of 9 readings are in the band as read") {
		t.Errorf("%s %s with %d readings out: %s %v", out.Verdict, out.Shape, out.Counts.AsRead.Outside, out.Summary, codes(out))
	}
	if m := mend(t, spec, set); len(m.Options) != 0 || m.Verdict != finding.Unknown || !strings.Contains(m.Summary, "Prove the static timing") {
		t.Errorf("%s %s: %+v", m.Verdict, m.Summary, m.Options)
	}
}

// TestBothWaysShowTheBase: rising lies just within reading error of the band,
// falling a little above it; one shift brings all of both in.
func TestBothWaysShowTheBase(t *testing.T) {
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, dir := range directions(true) {
		for _, rpm := range []float64{1000, 1600, 2200, 3000, 4200} {
			low, high, _ := interpolate(raisedTotal(linnet()), rpm)
			deg := (low+high)/2 + 2.8
			if dir == "falling" {
				deg += 0.7
			}
			set.Points = append(set.Points, ReadingPoint{rpm, deg, dir})
		}
	}
	if out := judge(t, linnet(), set); out.Shape != "base-only" || out.Verdict != "fail" || out.BaseOffsetCrankDeg == nil || out.Counts.BaseOff.in() != 10 {
		t.Errorf("%s %s: %s", out.Verdict, out.Shape, out.Summary)
	}
}

// TestALoneReadingDoesNotHideTheBase: every reading four degrees early but one.
func TestALoneReadingDoesNotHideTheBase(t *testing.T) {
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for i, rpm := range []float64{700, 1400, 2000, 2600, 3400, 4200} {
		low, high, _ := interpolate(raisedTotal(linnet()), rpm)
		deg := (low+high)/2 + 5
		if i == 2 {
			deg -= 9
		}
		set.Points = append(set.Points, ReadingPoint{rpm, deg, "rising"})
	}
	out := judge(t, linnet(), set)
	if out.Shape != "base-only" || find(out, "wild-reading") == nil || out.BaseOffsetCrankDeg == nil || abs(*out.BaseOffsetCrankDeg-5) > 1 {
		t.Errorf("%s %v %s", out.Shape, codes(out), out.Summary)
	}
	if m := mend(t, linnet(), set); len(m.Options) != 1 || m.Options[0].Change.Change != (Change{}) || m.Options[0].Verdict != "watch" {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
}

// TestNothingInsideWhileAReadingIsInDoubt: the base right, one reading alone.
func TestNothingInsideWhileAReadingIsInDoubt(t *testing.T) {
	spec, set := stour()
	set.Points[2].Deg += 2.5
	set.Points = set.Points[:5]
	if out := judge(t, spec, set); find(out, "wild-reading") == nil || out.Counts.BaseOff != nil || !strings.Contains(out.Summary, "4 of 5 readings are in the band as read") {
		t.Fatalf("%s %v", out.Summary, codes(out))
	}
	out := mend(t, spec, set)
	if len(out.Options) != 0 || out.Verdict != finding.Unknown || !strings.Contains(out.Summary, "Take the reading at 2000 engine rpm, rising, again first") {
		t.Errorf("%s: %s, %d options", out.Verdict, out.Summary, len(out.Options))
	}
}

// TestABenchRunOffByOneAmountIsZeroedFirst: no spring for a ring that moved.
func TestABenchRunOffByOneAmountIsZeroedFirst(t *testing.T) {
	spec, set := stour()
	for i := range set.Points {
		set.Points[i].Deg += 3
	}
	if out := judge(t, spec, set); out.Shape != "base-only" {
		t.Fatalf("%s", out.Shape)
	}
	if out := mend(t, spec, set); len(out.Options) != 0 || !strings.Contains(out.Summary, "Zero the ring") {
		t.Errorf("%s: %+v", out.Summary, out.Options)
	}
}

// TestAHiddenBaseUnderASoundCurveAsksForNoMend of the curve.
func TestAHiddenBaseUnderASoundCurveAsksForNoMend(t *testing.T) {
	spec, bench := stour()
	car := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, p := range [][2]float64{{1000, 6}, {1500, 13}, {2000, 18}, {3000, 24}, {4000, 28}} {
		car.Points = append(car.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	out := judge(t, spec, bench, car)
	f := find(out, "base-hidden")
	if f == nil || strings.Contains(f.Text, "Mend the curve first") || out.Shape != "in-band" {
		t.Errorf("%s %v %+v", out.Shape, codes(out), f)
	}
	if m := mend(t, spec, bench, car); len(m.Options) != 1 || m.Options[0].Change.Change != (Change{}) || m.Options[0].Change.BaseCrankDeg == nil {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
}

// TestTheFitSaysOnWhichBaseItStands: static where proved, as judged where one
// shift shows it, none for readings without base.
func TestTheFitSaysOnWhichBaseItStands(t *testing.T) {
	spec, set := sixTwoEarly(ptr(10.0))
	fit, err := Fit(FitIn{Spec: &spec, Readings: Sets{set}})
	if err != nil || fit.BaseCrankDeg == nil || *fit.BaseCrankDeg != 10 {
		t.Errorf("%v %v", err, fit.BaseCrankDeg)
	}
	shifted := linnetStrobe()
	for i := range shifted.Points {
		low, high, _ := interpolate(raisedTotal(linnet()), shifted.Points[i].RPM)
		shifted.Points[i].Deg = (low+high)/2 + 4
	}
	book := linnet()
	fit, err = Fit(FitIn{Spec: &book, Readings: Sets{shifted}})
	if err != nil || fit.BaseCrankDeg == nil || abs(*fit.BaseCrankDeg-12) > 1e-9 {
		t.Errorf("%v %v", err, fit.BaseCrankDeg)
	}
	if fit, err = Fit(FitIn{Readings: Sets{linnetBench()}}); err != nil || fit.BaseCrankDeg != nil {
		t.Errorf("%v %v", err, fit.BaseCrankDeg)
	}
}
