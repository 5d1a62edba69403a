package advance

import (
	"strings"
	"testing"
)

// turnsBody tells whether anything in an answer orders the body turned.
func turnsBody(out JudgeOut) bool {
	for _, f := range out.Findings {
		if strings.Contains(f.Text, "Turn the body") || strings.Contains(f.Text, "turn the body until") {
			return true
		}
	}
	return false
}

// TestLampAndStrobeDisagree: the car reads 5 degrees high at every speed, the
// lamp says 4, or 8 as the book has it: 9 and 5 degrees apart.
func TestLampAndStrobeDisagree(t *testing.T) {
	for _, static := range []float64{4, 8} {
		set := midCar(5, ptr(static))
		out := judge(t, linnet(), set)
		f := find(out, "base-contradicted")
		if f == nil || !strings.Contains(f.Text, "positive stop") || !strings.Contains(f.Part, "vacuum pipe") ||
			f.Caution == "" {
			t.Errorf("static %v: %+v", static, f)
		}
		if out.Verdict != "unknown" || out.BaseCrankDeg != nil || turnsBody(out) || out.Suspicion != "none" {
			t.Errorf("static %v: %s, base %v, %s, %v", static, out.Verdict, out.BaseCrankDeg,
				out.Suspicion, out.Findings)
		}
		for _, part := range []string{before(static), "Turn nothing"} {
			if !strings.Contains(out.Summary, part) {
				t.Errorf("%q is not in %q", part, out.Summary)
			}
		}
	}
}

// TestLampAndStrobeThatAgreeTurnTheBody: both say 13, the book 8.
func TestLampAndStrobeThatAgreeTurnTheBody(t *testing.T) {
	set := midCar(5, ptr(13.0))
	if out := judge(t, linnet(), set); find(out, "base-contradicted") != nil || !turnsBody(out) {
		t.Errorf("%v", codes(out))
	}
}

// TestTheLampIsNotDroppedForBenchAndCar: bench and car leave 13, the lamp
// proved 8.
func TestTheLampIsNotDroppedForBenchAndCar(t *testing.T) {
	sets := []Set{midBench(0), midCar(5, ptr(8.0))}
	out := judge(t, linnet(), sets...)
	f := find(out, "base-contradicted")
	if f == nil || !strings.Contains(f.Text, "8.0° before TDC") || turnsBody(out) || out.Verdict != "unknown" ||
		out.BaseCrankDeg != nil {
		t.Errorf("%s %v %+v", out.Verdict, codes(out), f)
	}
	for _, static := range []float64{12, 13, 14} { // within what both can be misread and the drive can play
		out := judge(t, linnet(), midBench(0), midCar(5, ptr(static)))
		if find(out, "base-contradicted") != nil || out.BaseCrankDeg == nil || abs(*out.BaseCrankDeg-13) > 1.5 ||
			!turnsBody(out) {
			t.Errorf("static %v: %v %v", static, out.BaseCrankDeg, codes(out))
		}
	}
}

func TestTwoStaticFiguresAreSaidToDiffer(t *testing.T) {
	alone := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", StaticCrankDeg: ptr(14.0)}
	out := judge(t, linnet(), midCar(0, ptr(8.0)), alone)
	f := find(out, "static-figures-differ")
	if f == nil || !strings.Contains(f.Text, "8.0°") || !strings.Contains(f.Text, "14.0°") ||
		out.Verdict != "unknown" || out.BaseCrankDeg != nil || turnsBody(out) {
		t.Errorf("%s %v %+v", out.Verdict, codes(out), f)
	}
	first := alone
	first.StaticCrankDeg = ptr(8.0)
	if out := judge(t, linnet(), first, alone); find(out, "static-figures-differ") == nil {
		t.Errorf("no readings beside them: %s %v", out.Summary, codes(out))
	}
	alone.StaticCrankDeg = ptr(9.0)
	if out := judge(t, linnet(), midCar(0, ptr(8.0)), alone); find(out, "static-figures-differ") != nil ||
		out.BaseCrankDeg == nil {
		t.Errorf("a degree apart: %v", codes(out))
	}
}

// TestBenchAndCarThatDifferAreHeld: a middle curve on the bench, on the car
// one that starts below it and climbs far above.
func TestBenchAndCarThatDifferAreHeld(t *testing.T) {
	car := midCar(0, nil)
	for i, deg := range []float64{4, 10, 20, 30, 36, 42, 46} {
		car.Points[i].Deg = deg
	}
	for _, static := range []*float64{nil, ptr(14.0)} {
		car.StaticCrankDeg = static
		out := judge(t, linnet(), midBench(0), car)
		if find(out, "bench-car-differ") == nil && out.Suspicion != "vacuum-connected" || turnsBody(out) ||
			out.Verdict != "unknown" {
			t.Errorf("%s %v %s", out.Verdict, codes(out), out.Summary)
		}
	}
}

// TestAMovedRingIsNoMovedBase: the bench two distributor degrees off at
// every speed, the car in the band.
func TestAMovedRingIsNoMovedBase(t *testing.T) {
	for _, static := range []*float64{nil, ptr(8.0)} {
		out := judge(t, linnet(), midBench(2), midCar(0, static))
		if len(out.Findings) != 1 || out.Findings[0].Code != "bench-zero-moved" || out.BaseCrankDeg == nil ||
			abs(*out.BaseCrankDeg-8) > 1 || turnsBody(out) || out.Verdict != "watch" ||
			!strings.Contains(out.Summary, "zero its ring") {
			t.Errorf("%s %v base %v: %s", out.Verdict, codes(out), out.BaseCrankDeg, out.Summary)
		}
	}
	out := judge(t, linnet(), midBench(2), midCar(5, nil)) // ring and base both off
	if f := find(out, "base-moved"); find(out, "bench-zero-moved") == nil || f == nil || f.Direction != "too early" ||
		turnsBody(out) {
		t.Errorf("%v %+v", codes(out), f)
	}
	if out := judge(t, linnet(), midBench(2), midCar(5, ptr(8.0))); find(out, "bench-zero-moved") == nil ||
		find(out, "base-contradicted") == nil {
		t.Errorf("the lamp against the car, beside the ring: %v", codes(out))
	}
}

// TestALampThatExplainsTheReadingsClearsThePipe: everything ten degrees high,
// the lamp at 18; without the lamp the pipe is asked for and nothing turned.
func TestALampThatExplainsTheReadingsClearsThePipe(t *testing.T) {
	set := midCar(10, ptr(18.0))
	out := judge(t, linnet(), set)
	f := find(out, "base-moved")
	if out.Suspicion != "none" || f == nil || f.Sureness != "sure" || out.Verdict != "fail" || !turnsBody(out) {
		t.Errorf("%s %s %v", out.Verdict, out.Suspicion, codes(out))
	}
	if out := judge(t, linnet(), midCar(8, ptr(16.0))); out.Suspicion != "none" || !turnsBody(out) {
		t.Errorf("lamp at 16, all eight high: %s %v", out.Suspicion, codes(out))
	}
	// The pipe said to be off, and no lamp: the base, and never sure; the lamp proves it.
	for name, sets := range map[string][]Set{"car alone": {midCar(10, nil)},
		"bench and car": {midBench(0), midCar(10, nil)}} {
		out := judge(t, linnet(), sets...)
		if f := find(out, "base-moved"); f != nil && f.Sureness == "sure" && name == "car alone" ||
			find(out, "curve-early") != nil {
			t.Errorf("%s: %s %s %v", name, out.Verdict, out.Suspicion, codes(out))
		}
	}
}
