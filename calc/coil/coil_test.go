package coil

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/refuse"
)

func anyBreak(t *rapid.T) BreakIn {
	return BreakIn{SupplyV: rapid.Float64Range(0, 16).Draw(t, "volts"),
		TotalOhm: rapid.Float64Range(0, 6).Draw(t, "ohm"), InductanceMilliH: rapid.Float64Range(1, 20).Draw(t, "mH"),
		CurrentA:        rapid.Float64Range(0.5, 9).Draw(t, "amps"),
		CondenserMicroF: rapid.Float64Range(0.05, 1).Draw(t, "µF"), TurnsRatio: rapid.Float64Range(20, 120).Draw(t,
			"ratio"), SecondaryPicoF: rapid.Float64Range(10, 150).Draw(t, "pF")}
}

func TestMoreDwellIsNeverLessCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, r, l := rapid.Float64Range(1, 30).Draw(t, "v"), rapid.Float64Range(0.3, 10).Draw(t, "r"),
			rapid.Float64Range(0.5, 50).Draw(t, "l")
		a, more := rapid.Float64Range(0, 50).Draw(t, "ms"), rapid.Float64Range(0, 50).Draw(t, "more")
		b := a + more
		one, err := Charge(ChargeIn{SupplyV: v, TotalOhm: r, InductanceMilliH: l, ChargeMs: &a})
		if err != nil {
			t.Fatal(err)
		}
		two, _ := Charge(ChargeIn{SupplyV: v, TotalOhm: r, InductanceMilliH: l, ChargeMs: &b})
		if two.CurrentA < one.CurrentA || two.CurrentA > v/r*(1+1e-15) || two.FractionCharged > 1 {
			t.Fatalf("%v ms: %v A, %v ms: %v A, V/R %v", a, one.CurrentA, b, two.CurrentA, v/r)
		}
	})
}

// The peak found is the peak: nothing around it is higher, and it satisfies
// the energy account (no more than what was stored and what the supply gave).
func TestThePeakIsThePeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyBreak(t)
		if rapid.Bool().Draw(t, "leaky") {
			in.ShuntMegaOhm = num(rapid.Float64Range(0.5, 20).Draw(t, "MΩ"))
		}
		out, err := Break(in)
		if err != nil {
			var bad *refuse.Error
			if !errors.As(err, &bad) {
				t.Fatal(err)
			}
			return
		}
		s, _ := in.swing()
		at := out.PeakAtMicroS / 1e6
		for k := range 400 {
			if x := float64(k) / 200 * at; s.at(x) > out.PeakPrimaryV*(1+1e-12) {
				t.Fatalf("%v V at %v µs, above the peak of %v at %v", s.at(x), 1e6*x, out.PeakPrimaryV,
					out.PeakAtMicroS)
			}
		}
		if math.Abs(s.at(0)) > 1e-9 || out.PeakPrimaryV > out.LosslessPrimaryV*(1+1e-9)+2*in.SupplyV {
			t.Fatalf("starts at %v, peak %v, lossless %v", s.at(0), out.PeakPrimaryV, out.LosslessPrimaryV)
		}
	})
}

func TestALeakNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyBreak(t)
		c := circuit{milliH: in.InductanceMilliH, ratio: in.TurnsRatio, microF: in.CondenserMicroF,
			picoF: in.SecondaryPicoF}
		leak := rapid.Float64Range(0.05, 50).Draw(t, "MΩ")
		best, low, bad := c.kilovolts(in.SupplyV, in.TotalOhm, in.CurrentA, leak)
		_, lower, _ := c.kilovolts(in.SupplyV, in.TotalOhm, in.CurrentA, leak/2)
		if bad != nil || low > best || low <= 0 || lower > low*(1+1e-9)+1e-3*c.ratio*in.SupplyV {
			t.Fatalf("best %v, with %v MΩ %v, with half of it %v (%v)", best, leak, low, lower, bad)
		}
	})
}

func TestRefusals(t *testing.T) {
	big := reference()
	big.TotalOhm, big.CondenserMicroF = 500, 50
	fouled := reference()
	fouled.ShuntMegaOhm = num(0.01)
	d := 60.0
	for _, c := range []struct {
		name, field string
		call        func() error
	}{
		{"over-damped by ohms", "totalOhm", func() error { _, err := Break(big); return err }},
		{"over-damped by a leak", "shuntMegaOhm", func() error { _, err := Break(fouled); return err }},
		{"no time", "chargeMs", func() error {
			_, err := Charge(ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8})
			return err
		}},
		{"both times", "chargeMs", func() error {
			_, err := Charge(ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, ChargeMs: &d, EngineRPM: &d})
			return err
		}},
		{"part of an angle", "cylinders", func() error {
			_, err := Charge(ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, DwellDistDeg: &d, EngineRPM: &d})
			return err
		}},
		{"points that never open", "dwellDistDeg", func() error {
			_, err := Charge(ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, Cylinders: whole(8),
				DwellDistDeg: &d, EngineRPM: num(1000)})
			return err
		}},
		{"sweep without dwell", "points.dwellDistDeg", func() error {
			_, err := Sweep(SweepIn{SupplyV: 12, Cylinders: 4, EngineRPM: []float64{1000}})
			return err
		}},
		{"ballast above the whole", "coil.ballastOhm", func() error {
			_, err := Sweep(SweepIn{SupplyV: 12, Cylinders: 4, EngineRPM: []float64{1000},
				Points: Points{DwellDistDeg: &d}, Coil: Coil{TotalOhm: num(3), BallastOhm: num(3)}})
			return err
		}},
		{"two ways of ohms", "coil.totalOhm", func() error {
			_, err := Sweep(SweepIn{SupplyV: 12, Cylinders: 4, EngineRPM: []float64{1000},
				Points: Points{DwellDistDeg: &d}, Coil: Coil{TotalOhm: num(3), PrimaryOhm: num(3)}})
			return err
		}},
		{"terminal not among the marks", "distributorTerminal", func() error {
			_, err := Polarity(PolarityIn{Earth: "negative", Marks: "sw-cb", DistributorTerminal: "+"})
			return err
		}},
	} {
		var bad *refuse.Error
		if err := c.call(); !errors.As(err, &bad) || bad.Field != c.field || bad.Do == "" || bad.Limit == "" {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// One lobe at crank speed (driveRatio 1), 200° closed, 5000 engine rpm: 6.67 ms
// in charge and sweep alike, not the 13.3 of a shaft at half speed (classroom
// rule: angle over turning rate).
func TestDriveRatioSetsTheChargeTime(t *testing.T) {
	one := charge(t, ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, Cylinders: whole(1),
		DwellDistDeg: num(200), EngineRPM: num(5000), DriveRatio: num(1)})
	near(t, "charge", one.ChargeMs, 6.667, 0.0005)
	half := charge(t, ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, Cylinders: whole(1),
		DwellDistDeg: num(200), EngineRPM: num(5000)})
	near(t, "charge, shaft at half speed", half.ChargeMs, 13.333, 0.0005)
	out := sweep(t, SweepIn{SupplyV: 12, Cylinders: 1, EngineRPM: []float64{5000},
		Points: Points{DwellDistDeg: num(200)}, DriveRatio: num(1),
		Coil: Coil{TotalOhm: num(3), InductanceMilliH: num(8)}})
	near(t, "sweep", out.Rows[0].ChargeMs, 6.667, 0.0005)
	near(t, "current", out.Rows[0].CurrentA, one.CurrentA, 1e-9)
}
