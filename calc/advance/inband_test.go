package advance

import (
	"strings"
	"testing"
)

// sixFourEarly is an invented six set four degrees early, one low reading at the
// slow end not to be trusted: base 8 by the book, allowed 1 either way.
func sixFourEarly(static *float64) (Spec, Set) {
	spec := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded", BaseCrankDeg: ptr(8.0),
		BaseToleranceCrankDeg: 1,
		Points: table([3]float64{400, 0, 1}, [3]float64{700, 2.2, 4.2}, [3]float64{1000, 4.5, 7.5},
			[3]float64{2000, 14, 17}, [3]float64{3200, 21, 24}, [3]float64{4800, 23, 26})}
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off",
		StaticCrankDeg: static}
	for _, p := range [][2]float64{{700, 12}, {1000, 17.5}, {2000, 29}, {3200, 36}, {4800, 38}} {
		set.Points = append(set.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	for _, p := range [][2]float64{{3200, 37}, {2000, 29.5}, {1000, 20}, {700, 13.5}} {
		set.Points = append(set.Points, ReadingPoint{p[0], p[1], "falling"})
	}
	return spec, set
}

// TestInTheBandIsCountedOneWay: four degrees later put more of the readings in
// the band than are in as read, and the count is said.
func TestInTheBandIsCountedOneWay(t *testing.T) {
	for _, tolerance := range []float64{1, 0} {
		spec, set := sixFourEarly(ptr(12.0))
		spec.BaseToleranceCrankDeg = tolerance
		if tolerance == 0 { // the same band, its degree of tolerance printed in the table
			for i := range spec.Points {
				*spec.Points[i].MinDeg, *spec.Points[i].MaxDeg = *spec.Points[i].MinDeg-1, *spec.Points[i].MaxDeg+1
			}
		}
		out := judge(t, spec, set)
		n := out.Counts
		if n.AsRead.all() != 9 || n.BaseOff == nil || n.BaseOff.in() <= n.AsRead.in() || abs(*n.BaseOffCrankDeg-4) > 1 {
			t.Fatalf("tolerance %v: %+v, base off %+v: %v", tolerance, n, n.BaseOff, codes(out))
		}
		if f := find(out, "base-moved"); f == nil || f.Direction != "too early" {
			t.Errorf("the base: %+v", f)
		}
	}
}

// TestSomeReadingsOutAreNoPass: readings beyond the band are no pass.
func TestSomeReadingsOutAreNoPass(t *testing.T) {
	spec, set := sixFourEarly(nil)
	out := judge(t, spec, set)
	if out.Verdict == "pass" {
		t.Errorf("%s %s with %d readings out: %s %v", out.Verdict, out.Shape, out.Counts.AsRead.Outside,
			out.Summary, codes(out))
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
	if out := judge(t, linnet(), set); out.Shape != "base-only" || out.Verdict != "fail" ||
		out.BaseOffsetCrankDeg == nil || out.Counts.BaseOff == nil || out.Counts.BaseOff.in() != 10 {
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
	if out.Shape != "base-only" || find(out, "wild-reading") == nil || out.BaseOffsetCrankDeg == nil ||
		abs(*out.BaseOffsetCrankDeg-5) > 1 {
		t.Errorf("%s %v %s", out.Shape, codes(out), out.Summary)
	}
}

// TestNothingInsideWhileAReadingIsInDoubt: the base right, one reading alone.
func TestNothingInsideWhileAReadingIsInDoubt(t *testing.T) {
	spec, set := stour()
	set.Points[2].Deg += 2.5
	set.Points = set.Points[:5]
	if out := judge(t, spec, set); find(out, "wild-reading") == nil || out.Counts.BaseOff != nil ||
		!strings.Contains(out.Summary, "2000 engine rpm, rising") {
		t.Fatalf("%s %v", out.Summary, codes(out))
	}
}

// TestABenchRunOffByOneAmountIsZeroedFirst: no spring for a ring that moved.
func TestABenchRunOffByOneAmountIsZeroedFirst(t *testing.T) {
	spec, set := stour()
	for i := range set.Points {
		set.Points[i].Deg += 2 // not the base of the book in distributor degrees
	}
	if out := judge(t, spec, set); out.Shape != "base-only" {
		t.Fatalf("%s", out.Shape)
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
	if f == nil || strings.Contains(f.Text, "Mend the curve first") || out.Shape != "base-only" {
		t.Errorf("%s %v %+v", out.Shape, codes(out), f)
	}
}
