package advance

import (
	"strings"
	"testing"
)

// midCar is the invented four's middle curve on the car, all of it raised by
// an amount; static is the lamp's figure or none.
func midCar(raised float64, static *float64) Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off", StaticCrankDeg: static}
	for _, p := range [][2]float64{{600, 9}, {900, 11}, {1400, 18}, {2000, 24}, {3000, 28}, {4000, 32}, {5000, 34}} {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1] + raised, "rising"})
	}
	return s
}

// midBench is the same unit on the bench, the ring off by an amount.
func midBench(raised float64) Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, p := range [][2]float64{{300, .5}, {450, 1.5}, {700, 5}, {1000, 8}, {1500, 10}, {2000, 12}, {2500, 13}} {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1] + raised, "rising"})
	}
	return s
}

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
	for static, want := range map[float64]string{4: "9.0°", 8: "5.0°"} {
		set := midCar(5, ptr(static))
		out := judge(t, linnet(), set)
		f := find(out, "base-contradicted")
		if f == nil || !strings.Contains(f.Title, want) || !strings.Contains(f.Text, "positive stop") || !strings.Contains(f.Part, "vacuum pipe") || f.Caution == "" {
			t.Errorf("static %v: %+v", static, f)
		}
		if out.Verdict != "unknown" || out.BaseCrankDeg != nil || turnsBody(out) || out.Suspicion != "none" {
			t.Errorf("static %v: %s, base %v, %s, %v", static, out.Verdict, out.BaseCrankDeg, out.Suspicion, out.Findings)
		}
		for _, part := range []string{before(static), "13.0° before TDC", "Turn nothing"} {
			if !strings.Contains(out.Summary, part) {
				t.Errorf("%q is not in %q", part, out.Summary)
			}
		}
		if m := mend(t, linnet(), set); len(m.Options) != 0 || m.Verdict != "unknown" || !strings.Contains(m.Summary, "true TDC") {
			t.Errorf("static %v: %s %s, %d options", static, m.Verdict, m.Summary, len(m.Options))
		}
	}
}

// TestLampAndStrobeThatAgreeTurnTheBody: both say 13, the book 8.
func TestLampAndStrobeThatAgreeTurnTheBody(t *testing.T) {
	set := midCar(5, ptr(13.0))
	if out := judge(t, linnet(), set); find(out, "base-contradicted") != nil || !turnsBody(out) {
		t.Errorf("%v", codes(out))
	}
	if m := mend(t, linnet(), set); len(m.Options) != 1 || m.Options[0].Verdict != "pass" {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
}

// TestNoTurnBelowTheReadingError: the lamp shows 9, every reading is out by
// two tenths as read and in with the one degree off; it was read to one and a
// half.
func TestNoTurnBelowTheReadingError(t *testing.T) {
	set := midCar(3.7, ptr(9.0))
	set.ReadingErrorCrankDeg = ptr(1.5)
	if m := mend(t, linnet(), set); len(m.Options) != 0 {
		t.Errorf("%s %+v", m.Summary, m.Options[0].Steps)
	}
}

// TestNoMendIsOfferedThatWouldFail: lamp and rising readings say 13, but two
// falling readings would be out with the base back at 8 too.
func TestNoMendIsOfferedThatWouldFail(t *testing.T) {
	set := midCar(5, ptr(13.0))
	for _, i := range []int{3, 4} { // 1.3 up the band while rising, 3.2 while falling: no friction to speak of
		set.Points[i].Deg += 1.3
		set.Points = append(set.Points, ReadingPoint{set.Points[i].RPM, set.Points[i].Deg + 1.9, "falling"})
	}
	if m := mend(t, linnet(), set); len(m.Options) != 0 || m.Verdict != "unknown" || !strings.Contains(m.Summary, "still be out") {
		t.Errorf("%s %s: %d options", m.Verdict, m.Summary, len(m.Options))
	}
}

// TestTheLampIsNotDroppedForBenchAndCar: bench and car leave 13, the lamp
// proved 8.
func TestTheLampIsNotDroppedForBenchAndCar(t *testing.T) {
	sets := []Set{midBench(0), midCar(5, ptr(8.0))}
	out := judge(t, linnet(), sets...)
	f := find(out, "base-contradicted")
	if f == nil || !strings.Contains(f.Text, "8.0° before TDC") || !strings.Contains(f.Text, "13.0° before TDC") || turnsBody(out) || out.Verdict != "unknown" || out.BaseCrankDeg != nil {
		t.Errorf("%s %v %+v", out.Verdict, codes(out), f)
	}
	if m := mend(t, linnet(), sets...); len(m.Options) != 0 || !strings.Contains(m.Summary, "true TDC") {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
	for _, static := range []float64{11, 13, 15} { // within what both can be misread and the drive can play
		out := judge(t, linnet(), midBench(0), midCar(5, ptr(static)))
		if find(out, "base-contradicted") != nil || out.BaseCrankDeg == nil || abs(*out.BaseCrankDeg-13) > 0.5 || !turnsBody(out) {
			t.Errorf("static %v: %v %v", static, out.BaseCrankDeg, codes(out))
		}
	}
}

func TestTwoStaticFiguresAreSaidToDiffer(t *testing.T) {
	alone := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", StaticCrankDeg: ptr(14.0)}
	out := judge(t, linnet(), midCar(0, ptr(8.0)), alone)
	f := find(out, "static-figures-differ")
	if f == nil || !strings.Contains(f.Text, "8.0°") || !strings.Contains(f.Text, "14.0°") || out.Verdict != "unknown" || out.BaseCrankDeg != nil || turnsBody(out) {
		t.Errorf("%s %v %+v", out.Verdict, codes(out), f)
	}
	if m := mend(t, linnet(), midCar(0, ptr(8.0)), alone); len(m.Options) != 0 || !strings.Contains(m.Summary, "two static figures differ") {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
	first := alone
	first.StaticCrankDeg = ptr(8.0)
	if out := judge(t, linnet(), first, alone); find(out, "static-figures-differ") == nil {
		t.Errorf("no readings beside them: %s %v", out.Summary, codes(out))
	}
	alone.StaticCrankDeg = ptr(9.0)
	if out := judge(t, linnet(), midCar(0, ptr(8.0)), alone); find(out, "static-figures-differ") != nil || out.BaseCrankDeg == nil {
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
		if find(out, "bench-car-differ") == nil || turnsBody(out) || out.Verdict != "fail" || !strings.Contains(out.Summary, "do not tell the same curve") {
			t.Errorf("%s %v %s", out.Verdict, codes(out), out.Summary)
		}
		if m := mend(t, linnet(), midBench(0), car); len(m.Options) != 0 || m.Verdict != "unknown" || !strings.Contains(m.Summary, "do not tell the same curve") {
			t.Errorf("%s: %+v", m.Summary, m.Options)
		}
	}
}

// TestAMovedRingIsNoMovedBase: the bench three distributor degrees off at
// every speed, the car in the band.
func TestAMovedRingIsNoMovedBase(t *testing.T) {
	for _, static := range []*float64{nil, ptr(8.0)} {
		out := judge(t, linnet(), midBench(3), midCar(0, static))
		if len(out.Findings) != 1 || out.Findings[0].Code != "bench-zero-moved" || out.BaseCrankDeg == nil || abs(*out.BaseCrankDeg-8) > 0.5 || turnsBody(out) || out.Verdict != "watch" || !strings.Contains(out.Summary, "zero its ring") {
			t.Errorf("%s %v base %v: %s", out.Verdict, codes(out), out.BaseCrankDeg, out.Summary)
		}
		if m := mend(t, linnet(), midBench(3), midCar(0, static)); len(m.Options) != 0 || !strings.Contains(m.Summary, "Zero the ring") {
			t.Errorf("%s: %+v", m.Summary, m.Options)
		}
	}
	out := judge(t, linnet(), midBench(3), midCar(5, nil)) // ring and base both off
	if f := find(out, "base-moved"); out.Findings[0].Code != "bench-zero-moved" || f == nil || !strings.Contains(f.Title, "5.0 crank degrees too early") || turnsBody(out) {
		t.Errorf("%v %+v", codes(out), f)
	}
	if out := judge(t, linnet(), midBench(3), midCar(5, ptr(8.0))); out.Findings[0].Code != "bench-zero-moved" || find(out, "base-contradicted") == nil {
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
	if m := mend(t, linnet(), set); len(m.Options) != 1 || m.Options[0].Verdict != "pass" {
		t.Errorf("%s: %+v", m.Summary, m.Options)
	}
	if out := judge(t, linnet(), midCar(8, ptr(16.0))); out.Suspicion != "none" || !turnsBody(out) {
		t.Errorf("lamp at 16, all eight high: %s %v", out.Suspicion, codes(out))
	}
	for name, sets := range map[string][]Set{"car alone": {midCar(10, nil)}, "bench and car": {midBench(0), midCar(10, nil)}, "lamp at the book's 8": {midCar(18, ptr(8.0))}} {
		out := judge(t, linnet(), sets...)
		if out.Suspicion != "vacuum-connected" || turnsBody(out) || out.Verdict != "unknown" {
			t.Errorf("%s: %s %s %v", name, out.Verdict, out.Suspicion, codes(out))
		}
	}
}

// TestAFitIsNotBentByALampThatDisagrees: under the lamp's 4 the governor would
// start at once and stand 4.5 distributor degrees too high.
func TestAFitIsNotBentByALampThatDisagrees(t *testing.T) {
	spec := linnet()
	fit, err := Fit(FitIn{Spec: &spec, Readings: Sets{midCar(5, ptr(4.0))}})
	if err != nil || fit.BaseCrankDeg == nil || abs(*fit.BaseCrankDeg-13) > 0.5 || fit.Model.LimitDistDeg > 14 {
		t.Errorf("%v base %v, %+v", err, fit.BaseCrankDeg, fit.Model)
	}
}
