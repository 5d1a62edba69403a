package coil

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pointsmith/calc/finding"
	"pointsmith/calc/spark"
)

func sweep(t *testing.T, in SweepIn) SweepOut {
	t.Helper()
	if in.EngineRPM == nil {
		in.EngineRPM = []float64{800, 1500, 3000, 5000}
	}
	if in.Points.DwellDistDeg == nil {
		in.Points.DwellDistDeg = num(60)
	}
	if in.Cylinders == 0 {
		in.Cylinders = 4
	}
	out, err := Sweep(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func found(l finding.List, code string) finding.Finding {
	for _, f := range l {
		if f.Code == code {
			return f
		}
	}
	return finding.Finding{}
}

// A wrong pairing: 13.8 V on 1.6 Ω is 8.6 A; a plain coil behind a ballast,
// 4.7 Ω, is 2.9 A (computed). Both with what to do.
func TestWrongPairings(t *testing.T) {
	hot := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{TotalOhm: num(1.6)}})
	near(t, "amperes", hot.MostA, 8.6, 0.05)
	f := found(hot.Findings, "current-high")
	if hot.Verdict != "fail" || !strings.Contains(f.Title, "8.6 A") || !strings.Contains(f.Text,
		"ballast of about 1.5 Ω") || f.Caution == "" || hot.Findings[0].Code != "current-high" {
		t.Errorf("8.6 A: %s, %+v", hot.Verdict, f)
	}
	weak := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(3.1), BallastOhm: num(1.5), LeadOhm: num(0.1)}})
	near(t, "amperes", weak.MostA, 2.9, 0.05)
	f = found(weak.Findings, "current-low")
	if weak.Verdict == "pass" || !strings.Contains(f.Title, "2.9 A") ||
		!strings.Contains(f.Text, "take the ballast out") {
		t.Errorf("2.9 A: %s, %+v", weak.Verdict, f)
	}
	if out := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{TotalOhm: num(3.1)}}); out.Findings.Has("current-high") ||
		out.Findings.Has("current-low") {
		t.Errorf("13.8 V on 3.1 Ω is right and is found fault with: %+v", out.Findings)
	}
	if out := sweep(t, SweepIn{SupplyV: 6.8, Coil: Coil{TotalOhm: num(1.4)}}); out.Findings.Has("current-high") ||
		out.Findings.Has("current-low") {
		t.Errorf("a 6 V car lives with 4.9 A: %+v", out.Findings)
	}
}

// Of a car of which only the voltage is known, nothing is judged sure: its
// ohms are the tool's own. The usual 6 V coil on the usual 6 V carries the
// 4.9 A that 6 V sets live with (common practice).
func TestAssumedOhmsAreAQuestion(t *testing.T) {
	plain := sweep(t, SweepIn{SupplyV: 6.9})
	near(t, "the usual 6 V set", plain.MostA, 4.9, 0.05)
	for _, volts := range []float64{6.2, 6.9, 7.4, 12, 13.8, 14.8} {
		if out := sweep(t, SweepIn{SupplyV: volts}); out.Findings.Has("current-high") ||
			out.Findings.Has("current-low") {
			t.Errorf("%v V on the tool's own coil: %+v", volts, out.Findings)
		}
	}
	for name, in := range map[string]SweepIn{
		"coil":    {SupplyV: 7.9},
		"low":     {SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(3.1), BallastOhm: num(1.5), BallastGuessed: true}},
		"high":    {SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(1.5), BallastGuessed: true}},
		"neither": {SupplyV: 9, Coil: Coil{BallastOhm: num(3), BallastGuessed: true}},
	} {
		out := sweep(t, in)
		f := out.Findings[slices.IndexFunc(out.Findings, func(f finding.Finding) bool {
			return strings.HasPrefix(f.Code, "current-")
		})]
		if f.Verdict != "watch" || f.Sureness != "possible" || !strings.Contains(f.Text,
			"assumed, not measured. Measure them first") || strings.Contains(f.Text, "fit a") {
			t.Errorf("%s: %+v", name, f)
		}
		if heat := found(out.Findings, "coil-heat"); heat.Sureness != "possible" {
			t.Errorf("%s: the heat of assumed ohms is called %s", name, heat.Sureness)
		}
	}
	if f := found(sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(1.5)}}).Findings,
		"current-high"); f.Verdict != "fail" || f.Sureness != "sure" {
		t.Errorf("a coil of known ohms and no ballast: %+v", f)
	}
}

// On 6 V the coil is looked at: a ballast weakens the spark there.
func TestSixVoltsHaveTheirOwnLimitAndNoBallast(t *testing.T) {
	for volts, ohm := range map[float64]float64{6.8: 1.4, 7.4: 1.4, 6.9: 1.3} {
		if out := sweep(t, SweepIn{SupplyV: volts, Coil: Coil{TotalOhm: num(ohm)}}); out.Findings.Has("current-high") {
			t.Errorf("%v V on %v Ω: %+v", volts, ohm, out.Findings)
		}
	}
	high := found(sweep(t, SweepIn{SupplyV: 6.9, Coil: Coil{TotalOhm: num(1)}}).Findings, "current-high")
	if strings.Contains(high.Caution, "ballast") || !strings.Contains(high.Caution, "The coil gets hot") {
		t.Errorf("a ballast that is not there: %q", high.Caution)
	}
	if high.Verdict != "fail" || !strings.Contains(high.Text, "Check the coil") ||
		!strings.Contains(high.Text, "no cure on a 6 V car") || !strings.Contains(strings.Join(high.Sources, " "),
		"4.9 A") || strings.Contains(strings.Join(high.Sources, " "), "12 V") {
		t.Errorf("%+v", high)
	}
	low := found(sweep(t, SweepIn{SupplyV: 6.9, Coil: Coil{PrimaryOhm: num(1.3), BallastOhm: num(1)}}).Findings,
		"current-low")
	if low.Verdict != "watch" || !strings.Contains(low.Text, "take the ballast out") ||
		strings.Contains(low.Text, "fit") {
		t.Errorf("%+v", low)
	}
}

// 20 to 30 kV out of 12 V (common practice) lies between the default coil with
// a dirty plug and the same at best, at idle and at 3000; and the tool says
// that its best is a bound.
func TestDefaultCoilIsPlausibleAndSaysWhatItIs(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 12})
	for _, row := range out.Rows[:3] {
		if row.AvailableLowKV < 20 || row.AvailableLowKV > 30 || row.AvailableKV < 30 || row.AvailableKV > 40 {
			t.Errorf("%v rpm: %v to %v kV", row.EngineRPM, row.AvailableLowKV, row.AvailableKV)
		}
	}
	if f := found(out.Findings, "usual-coil"); !strings.Contains(f.Text, "common practice") {
		t.Errorf("the default is not called one: %+v", f)
	}
	if f := found(out.Findings, "ideal-not-measured"); !strings.Contains(f.Text, "lossless") ||
		!strings.Contains(f.Text, "lower") {
		t.Errorf("why best is not measured: %+v", f)
	}
	if len(out.Assumed) < 10 {
		t.Errorf("assumed: %v", out.Assumed)
	}
	if f := found(sweep(t, SweepIn{SupplyV: 12, Coil: Coil{PrimaryOhm: num(3)}}).Findings, "usual-coil"); f.Code != "" {
		t.Error("a measured coil is called a usual one")
	}
}

// The sweep is Charge, Break and Required and nothing else.
func TestSweepAgreesWithItsParts(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 12, EngineRPM: []float64{5000}, Plug: Plug{GapMm: num(0.7), Polarity: "right"},
		Engine: Engine{Cylinder: spark.Cylinder{CompressionRatio: num(9)}},
		Coil: Coil{TotalOhm: num(3), InductanceMilliH: num(8), CondenserMicroF: num(0.2), TurnsRatio: num(65),
			SecondaryPicoF: num(50)}})
	c := charge(t, ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, Cylinders: whole(4), DwellDistDeg: num(60),
		EngineRPM: num(5000)})
	b := broken(t, BreakIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, CurrentA: c.CurrentA, CondenserMicroF: 0.2,
		TurnsRatio: 65, SecondaryPicoF: 50})
	need, err := spark.Required(spark.RequiredIn{GapMm: 0.7, Polarity: "right",
		Engine: &spark.Cylinder{CompressionRatio: num(9)}})
	if err != nil {
		t.Fatal(err)
	}
	row := out.Rows[0]
	near(t, "current", row.CurrentA, c.CurrentA, 1e-12)
	near(t, "energy", row.EnergyMilliJ, c.EnergyMilliJ, 1e-9)
	near(t, "available", row.AvailableKV, b.PeakSecondaryKV, 1e-9)
	near(t, "required", row.RequiredKV, need.HighKV, 1e-12)
	near(t, "margin", row.MarginKV, b.PeakSecondaryKV-need.HighKV, 1e-9)
}

// Cranking: without a ballast one row, with one two, and the bypass gives more.
func TestCrankingWithAndWithoutBypass(t *testing.T) {
	if out := sweep(t, SweepIn{SupplyV: 13.8}); len(out.Cranking) != 1 || out.Cranking[0].Bypass ||
		out.Cranking[0].BatteryV != 9.6 {
		t.Errorf("no ballast: %+v", out.Cranking)
	}
	if out := sweep(t, SweepIn{SupplyV: 6.9}); out.Cranking[0].BatteryV != 4.8 {
		t.Errorf("6 V: %+v", out.Cranking)
	}
	out := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(1.5), BallastOhm: num(1.5)},
		Cranking: Cranking{BatteryV: num(8)}})
	if len(out.Cranking) != 2 || !out.Cranking[1].Bypass {
		t.Fatalf("%+v", out.Cranking)
	}
	through, past := out.Cranking[0], out.Cranking[1]
	near(t, "through the ballast", through.CurrentA, 8/3.1, 1e-6)
	near(t, "past it", past.CurrentA, 8/1.6, 1e-6)
	if past.AvailableKV < 1.5*through.AvailableKV || !out.Findings.Has("bypass-needed") {
		t.Errorf("through %v kV, past %v kV, %+v", through.AvailableKV, past.AvailableKV, out.Findings)
	}
	near(t, "the coil's half", out.StalledCoilWatts, out.StalledA*out.StalledA*1.5, 1e-9)
	near(t, "the ballast's half", out.StalledBallastW, out.StalledCoilWatts, 1e-9)
}

func TestNeedFollowsTheTiming(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 13.8, EngineRPM: []float64{500, 1000, 2000, 3000, 6000},
		Engine: Engine{Timing: []SparkAt{{1000, 10}, {3000, 30}}}})
	r := out.Rows
	if r[0].RequiredKV != r[1].RequiredKV || r[3].RequiredKV != r[4].RequiredKV ||
		!(r[1].RequiredKV > r[2].RequiredKV && r[2].RequiredKV > r[3].RequiredKV) {
		t.Errorf("%+v", r)
	}
}

func TestWiderPlugAndWeakCoilFail(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 12, Cylinders: 8, Points: Points{DwellDistDeg: num(26)},
		Plug: Plug{GapMm: num(1.2)}, EngineRPM: []float64{1000, 5000}})
	if out.Verdict != "fail" || !out.Findings.Has("spark-short") || out.Rows[1].MarginKV >= 0 ||
		math.Signbit(out.Rows[0].MarginKV) {
		t.Errorf("%s %+v", out.Verdict, out.Rows)
	}
}

func BenchmarkSweep40(b *testing.B) {
	in := SweepIn{SupplyV: 13.8, Cylinders: 4, Points: Points{DwellDistDeg: num(60)}}
	for i := range 40 {
		in.EngineRPM = append(in.EngineRPM, float64(500+150*i))
	}
	for b.Loop() {
		if _, err := Sweep(in); err != nil {
			b.Fatal(err)
		}
	}
}

// With the engine stopped nothing charges: the battery's own volts count, as
// measured or 12.6 and 6.3 V; the points carry most at a slow idle on charge.
func TestStoppedTheBatteryAloneFeedsTheCoil(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{TotalOhm: num(3.2)}})
	near(t, "stopped", out.StalledA, 12.6/3.2, 1e-9)
	near(t, "most", out.MostA, 13.8/3.2, 1e-9)
	near(t, "heat", out.StalledWatts, 12.6*12.6/3.2, 1e-9)
	if said := strings.Join(out.Assumed, "; "); !strings.Contains(said, "stoppedV not given: 12.6 V") {
		t.Errorf("not said: %s", said)
	}
	if heat := found(out.Findings, "coil-heat"); !strings.Contains(heat.Title, "50 W") ||
		!strings.Contains(heat.Working[0], "12.6²") {
		t.Errorf("%+v", heat)
	}
	near(t, "6 V", sweep(t, SweepIn{SupplyV: 6.9, Coil: Coil{TotalOhm: num(1.4)}}).StalledA, 6.3/1.4, 1e-9)
	near(t, "measured", sweep(t, SweepIn{SupplyV: 13.8, StoppedV: num(12.2), Coil: Coil{TotalOhm: num(3.2)}}).StalledA,
		12.2/3.2, 1e-9)
}
