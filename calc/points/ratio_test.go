package points

import (
	"strings"
	"testing"
)

// One lobe on the crankshaft itself (driveRatio 1), closed for 200 of 360
// degrees, 5000 engine rpm: 200 / (6 × 5000) s = 6.67 ms, where a shaft at half
// speed would give 13.33. Classroom rule: time = angle over turning rate.
func TestOneLobeAtCrankSpeed(t *testing.T) {
	near(t, "charge", ChargeMs(200, 5000, 1), 6.667, 0.0005)
	near(t, "charge at half speed", ChargeMs(200, 5000, 2), 13.333, 0.0005)
	out, err := Dwell(DwellIn{Cylinders: 1, DwellDistDeg: num(200), EngineRPM: 5000, DriveRatio: num(1)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "charge by points.dwell", out.ChargeMs, 6.667, 0.0005)
}

// A shaft at crank speed turns as many degrees as the crank: a degree of dwell
// is half a degree of timing there, and its speed limits are half.
func TestDriveRatioInEveryMethodOfPoints(t *testing.T) {
	shift, err := Shift(ShiftIn{DwellFromDistDeg: 200, DwellToDistDeg: 204, DriveRatio: num(1)})
	if err != nil || shift.TimingShiftCrankDeg != -2 || shift.MostCrankDeg != -4 {
		t.Errorf("shift at crank speed: %+v (%v)", shift, err)
	}
	judged, err := Judge(JudgeIn{Cylinders: 1, DriveRatio: num(1), Speeds: []SpeedReading{{1000, 200}, {1200, 198},
		{2000, 190}}})
	if err != nil || judged.ShiftCrankDeg == nil || *judged.ShiftCrankDeg != 1 ||
		!judged.Findings.Has("points-bounce") {
		t.Errorf("2000 engine rpm is fast for this shaft: %+v (%v)", judged, err)
	}
	pairs := []Pair{{0.3, 66}, {0.5, 52}}
	half, _ := Learn(LearnIn{Cylinders: 4, Pairs: pairs})
	full, err := Learn(LearnIn{Cylinders: 4, Pairs: pairs, DriveRatio: num(1)})
	if err != nil || half.TimingPerThou == nil || full.TimingPerThou == nil {
		t.Fatalf("no timing for a thou: %+v (%v)", full, err)
	}
	near(t, "timing for a thou", *half.TimingPerThou, 70*mmPerThou, 1e-9)
	near(t, "the same at crank speed", *full.TimingPerThou, 35*mmPerThou, 1e-9)
}

// A percent typed as degrees is a doubt about the figure, never a fault.
func TestPercentTypedAsDegreesIsAsked(t *testing.T) {
	for name, in := range map[string]JudgeIn{
		"66.7 on a four":  {Cylinders: 4, DwellDistDeg: num(66.7), DwellBook: &Range{57, 63}},
		"58 on a six":     {Cylinders: 6, DwellDistDeg: num(58), DwellBook: &Range{32, 38}},
		"book in percent": {Cylinders: 4, DwellDistDeg: num(60), DwellBook: &Range{64, 70}},
		"with a right gap": {Cylinders: 4, State: "used", GapMm: num(0.38), GapBook: gaps(), DwellDistDeg: num(66.7),
			DwellBook: book()},
		"twin sets": {Cylinders: 4, Twin: &Twin{FirstDistDeg: 58, SecondDistDeg: 58, PairDistDeg: 72,
			Each: &Range{51, 54}, Pair: &Range{63, 67}}},
	} {
		out, err := Judge(in)
		if err != nil || out.Verdict != "unknown" || !out.Findings.Has("suspect-percent") {
			t.Errorf("%s: %s, %+v (%v)", name, out.Verdict, out.Findings, err)
		}
		if !strings.Contains(strings.Join(out.Ask, " "), "percent") || !strings.Contains(out.Summary, "percent") {
			t.Errorf("%s: asks %q, says %q", name, out.Ask, out.Summary)
		}
		for _, f := range out.Findings {
			if f.Verdict == "fail" || f.Code == "suspect-percent" && f.Sureness != "possible" {
				t.Errorf("%s: %s is %s, %s", name, f.Code, f.Verdict, f.Sureness)
			}
		}
	}
	if out, _ := Judge(JudgeIn{Cylinders: 4, DwellDistDeg: num(75), DwellBook: book()}); out.Verdict != "fail" {
		t.Errorf("75 is too much either way: %s", out.Verdict)
	}
	speeds := JudgeIn{Cylinders: 4, DwellDistDeg: num(66), DwellBook: book(), Speeds: []SpeedReading{{800, 59}, {1500,
		58}}}
	if out, _ := Judge(speeds); out.Verdict != "fail" || out.Findings.Has("suspect-percent") {
		t.Errorf("this meter shows degrees: %s %+v", out.Verdict, out.Findings)
	}
	for _, f := range mustJudge(t, JudgeIn{Cylinders: 4, DwellDistDeg: num(30), DwellBook: book()}).Findings {
		if f.Verdict == "fail" {
			t.Errorf("on another scale of the meter, and yet %s fails", f.Code)
		}
	}
	narrow := JudgeIn{Cylinders: 4, State: "new", GapMm: num(0.28), GapBook: gaps(), DwellDistDeg: num(66.7),
		DwellBook: book()}
	if out, _ := Judge(narrow); out.Verdict != "fail" || out.Findings.Has("suspect-percent") {
		t.Errorf("a narrow gap gives that much dwell: %s %+v", out.Verdict, out.Findings)
	}
}

func mustJudge(t *testing.T, in JudgeIn) JudgeOut {
	t.Helper()
	out, err := Judge(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
