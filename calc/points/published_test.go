package points

import (
	"math"
	"testing"
)

// near holds x against a published figure to half its last printed digit.
func near(t *testing.T, what string, x, want, half float64) {
	t.Helper()
	if math.Abs(x-want) > half+1e-12 {
		t.Errorf("%s: %.6g, published %.6g ± %.3g", what, x, want, half)
	}
}

func dwell(t *testing.T, cylinders int, deg, rpm float64) DwellOut {
	t.Helper()
	out, err := Dwell(DwellIn{Cylinders: cylinders, DwellDistDeg: &deg, EngineRPM: rpm})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// a trade school's online textbook, contact-breaker dwell: 4 cylinders, 2000 rpm, 4000
// sparks a minute.
func TestSparksAMinute(t *testing.T) {
	near(t, "sparks a minute", 60*dwell(t, 4, 60, 2000).SparksPerSecond, 4000, 1e-6)
}

// a page on ignition physics, cam dwell angle.
func TestIgnitionPhysicsPage(t *testing.T) {
	four := dwell(t, 4, 60, 5000)
	near(t, "4 cylinders, sparks a second", four.SparksPerSecond, 166.7, 0.05)
	near(t, "4 cylinders, period", four.PeriodMs, 6, 0.5)
	near(t, "4 cylinders, percent", four.DwellPercent, 66.7, 0.05)
	near(t, "4 cylinders, charge", four.ChargeMs, 4.0, 0.05)
	six := dwell(t, 6, 35, 5000)
	near(t, "6 cylinders, sparks a second", six.SparksPerSecond, 250, 0.5)
	near(t, "6 cylinders, period", six.PeriodMs, 4, 0.5)
	near(t, "6 cylinders, percent", six.DwellPercent, 58, 0.5)
	near(t, "6 cylinders, charge", six.ChargeMs, 2.333, 0.0005)
}

// an amateur engineer's page on ignition: V8 at 6000 rpm, 2.5 ms and 400 Hz.
func TestPeriodOfAnEight(t *testing.T) {
	out := dwell(t, 8, 30, 6000)
	near(t, "period", out.PeriodMs, 2.5, 0.05)
	near(t, "sparks a second", out.SparksPerSecond, 400, 0.5)
}

// de.zxc.wiki, Schliesswinkel (4 cylinders: 45° is 50 %, 50° is 55.6 %, open =
// 90 − dwell); an owners' article (52 + 38 = 90, 57.78 %).
func TestPercentAndOpening(t *testing.T) {
	near(t, "45° of 90", dwell(t, 4, 45, 1000).DwellPercent, 50, 0.5)
	near(t, "50° of 90", dwell(t, 4, 50, 1000).DwellPercent, 55.6, 0.05)
	near(t, "open beside 50°", dwell(t, 4, 50, 1000).OpenDistDeg, 40, 1e-9)
	near(t, "52° of 90", dwell(t, 4, 52, 1000).DwellPercent, 57.78, 0.005)
	near(t, "open beside 52°", dwell(t, 4, 52, 1000).OpenDistDeg, 38, 1e-9)
}

// US Navy Construction Mechanic course, automotive electrical chapter, text of
// fig 2-52: 8 cylinders about 30°; gaps 0.015 in (0.381 mm) for eight, 0.025 in
// (0.635 mm) for six and four. Taken as a typical figure, it raises no question.
func TestNavyCourse(t *testing.T) {
	out := dwell(t, 8, 30, 1000)
	near(t, "pitch", out.PitchDistDeg, 45, 1e-9)
	if len(out.Ask) != 0 {
		t.Errorf("a typical dwell is asked about: %v", out.Ask)
	}
	near(t, "0.015 in", 15*mmPerThou, 0.381, 0.0005)
	near(t, "0.025 in", 25*mmPerThou, 0.635, 0.0005)
}

// Computed, exact: dwell over three times the speed.
func TestChargeTimes(t *testing.T) {
	for _, c := range []struct {
		cylinders    int
		deg, rpm, ms float64
	}{
		{4, 54, 600, 30}, {4, 54, 1000, 18}, {4, 54, 3000, 6}, {4, 54, 6000, 3},
		{6, 36, 1000, 12}, {6, 36, 3000, 4}, {6, 36, 6000, 2},
		{8, 30, 1000, 10}, {8, 30, 3000, 10.0 / 3}, {8, 30, 6000, 5.0 / 3},
	} {
		near(t, "charge", dwell(t, c.cylinders, c.deg, c.rpm).ChargeMs, c.ms, 1e-9)
	}
}

// One degree of dwell is one degree of timing, later for more: common practice,
// and geometry of a lobe alike on both sides.
func TestDwellMovesTiming(t *testing.T) {
	out, err := Shift(ShiftIn{DwellFromDistDeg: 60, DwellToDistDeg: 63})
	if err != nil || out.TimingShiftCrankDeg != -3 {
		t.Errorf("60 to 63: %v crank degrees (%v), want -3", out.TimingShiftCrankDeg, err)
	}
	k := 1.5
	if out, _ := Shift(ShiftIn{DwellFromDistDeg: 60, DwellToDistDeg: 58,
		CrankDegPerDwellDegree: &k}); out.TimingShiftCrankDeg != 3 || out.MostCrankDeg != 3 {
		t.Errorf("measured 1.5: %+v", out)
	}
}
