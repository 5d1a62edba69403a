package coil

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/spark"
)

// TestCourseObeysItsLoop: while the points are open the current is the charge of the condensers flowing, C v′ (the
// slope taken from the volts by differences), and supply, coil and resistance balance, L i′ = V − R i − v, from the
// equation of the loop and not from its solution; while they are closed L i′ = V − R i.
func TestCourseObeysItsLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		dwell := u("dwell", 20, 70)
		in := SweepIn{SupplyV: u("volts", 5, 15), Cylinders: 4, EngineRPM: []float64{u("rpm", 300, 6000)},
			Points: Points{DwellDistDeg: &dwell}}
		ohm, milliH, microF := u("ohm", 0.8, 4), u("milliH", 3, 12), u("microF", 0.1, 0.4)
		in.Coil = Coil{TotalOhm: &ohm, InductanceMilliH: &milliH, CondenserMicroF: &microF}
		c, err := Follow(in)
		if err != nil {
			t.Fatal(err)
		}
		l, cap := milliH/1000, microF*1e-6+65*65*50e-12
		ms, small := u("ms", 0.001, 2), 1e-5 // a hundredth of a microsecond
		i, v, kV := c.Open(ms)
		before, vBefore, _ := c.Open(ms - small)
		after, vAfter, _ := c.Open(ms + small)
		slope := func(a, b float64) float64 { return (b - a) / (2 * small / 1000) }
		full := c.Break.CurrentA
		if got := cap * slope(vBefore, vAfter); math.Abs(got-i) > 1e-5*full {
			t.Fatalf("C v′ = %v A, current %v A", got, i)
		}
		if got, want := l*slope(before, after), in.SupplyV-ohm*i-v; math.Abs(got-want) > 1e-3 {
			t.Fatalf("L i′ = %v V, V − R i − v = %v V", got, want)
		}
		if kV != 65*v/1000 {
			t.Fatalf("secondary %v kV of %v V", kV, v)
		}
		early, late := c.ClosedA(ms-small), c.ClosedA(ms+small)
		if got, want := l*slope(early, late), in.SupplyV-ohm*c.ClosedA(ms); math.Abs(got-want) > 1e-4*in.SupplyV {
			t.Fatalf("closed: L i′ = %v V, V − R i = %v V", got, want)
		}
		if start, nothing, _ := c.Open(0); math.Abs(start-c.ClosedA(c.Row.ChargeMs)) > 1e-12*start || nothing != 0 {
			t.Fatalf("at the break %v A, %v V; charged to %v A", start, nothing, c.ClosedA(c.Row.ChargeMs))
		}
	})
}

// TestCourseHasTheFiguresOfSweepAndBreak: the row is that of coil.sweep, the top that of coil.break, and from one top
// to the next the slope is level.
func TestCourseHasTheFiguresOfSweepAndBreak(t *testing.T) {
	dwell, ratio, at := 35.0, 8.8, 20.0
	in := SweepIn{SupplyV: 13.8, Cylinders: 6, EngineRPM: []float64{2400}, Points: Points{DwellDistDeg: &dwell},
		Engine: Engine{Cylinder: spark.Cylinder{CompressionRatio: &ratio, SparkCrankDeg: &at}}}
	running := 11.5 // volts at the coil, a loss on the way to it
	in.Feed.RunningV = &running
	c, err := Follow(in)
	if err != nil {
		t.Fatal(err)
	}
	swept, err := Sweep(in)
	if err != nil || swept.Rows[0] != c.Row {
		t.Fatalf("%+v, coil.sweep %+v (%v)", c.Row, swept.Rows[0], err)
	}
	broken, err := Break(c.Break)
	if err != nil {
		t.Fatal(err)
	}
	for i, ms := range []float64{c.PeakMs(), c.PeakMs() + c.HalfSwingMs(), c.PeakMs() + 2*c.HalfSwingMs()} {
		amps, v, _ := c.Open(ms)
		if math.Abs(amps) > 1e-9 {
			t.Errorf("at top or bottom %d %v A still flow", i, amps)
		}
		if i == 0 && (math.Abs(v-broken.PeakPrimaryV) > 1e-9 || math.Abs(1000*ms-broken.PeakAtMicroS) > 1e-9) {
			t.Errorf("top %v V after %v ms, coil.break %v V after %v µs", v, ms, broken.PeakPrimaryV,
				broken.PeakAtMicroS)
		}
	}
	if charged, err := Charge(c.Charge); err != nil || math.Abs(c.TimeConstantMs()-charged.TimeConstantMs) > 1e-12 ||
		math.Abs(charged.CurrentA-c.Row.CurrentA) > 1e-12 {
		t.Errorf("%v ms, %v A; coil.charge %+v (%v)", c.TimeConstantMs(), c.Row.CurrentA, charged, err)
	}
	for _, kV := range []float64{1, 8, 20, c.Row.AvailableKV} {
		ms, reached := c.ReachesMs(kV)
		if _, _, got := c.Open(ms); !reached || math.Abs(got-kV) > 1e-6 || ms > c.PeakMs() {
			t.Errorf("%v kV after %v ms: %v kV", kV, ms, got)
		}
	}
	if _, reached := c.ReachesMs(c.Row.AvailableKV + 0.01); reached {
		t.Error("more than the coil has is reached")
	}
}

// TestADenseGasStopsNoCoil: where the plug's need cannot be told, charge and swing can.
func TestADenseGasStopsNoCoil(t *testing.T) {
	dwell, ratio, at := 60.0, 14.0, 0.0
	in := SweepIn{SupplyV: 13.8, Cylinders: 4, EngineRPM: []float64{1000}, Points: Points{DwellDistDeg: &dwell},
		Engine: Engine{Cylinder: spark.Cylinder{CompressionRatio: &ratio, SparkCrankDeg: &at}}}
	if _, err := Sweep(in); err == nil {
		t.Fatal("coil.sweep tells the need of a gas that no law holds")
	}
	c, err := Follow(in)
	if err != nil || c.NoNeed == nil || c.Row.AvailableKV < 20 || c.Row.RequiredKV != 0 {
		t.Errorf("%+v, %v", c, err)
	}
}
