package engine

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pointsmith/calc/engine/cycle"
)

// TestMiddleIsTheMiddleOfBest: charge, delay, burning and loss are those the room draws around; with the one γ the
// highest pressure is run.go's to 7 %, the work to 6 %, over 400 engines at random.
func TestMiddleIsTheMiddleOfBest(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 21))
	u := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	names := []string{"side-valve", "bathtub", "wedge", "hemispherical", "pent-roof"}
	sum, worst, worstWork := 0.0, 0.0, 0.0
	const n = 400
	for i := range n {
		bore, stroke := u(65, 100), u(65, 110)
		in := MiddleIn{Engine: Engine{BoreMm: &bore, StrokeMm: &stroke, CompressionRatio: u(6, 10.5),
			Chamber: names[i%5]}, EngineRPM: u(700, 5000), Load: u(0.35, 1)}
		b, bad := in.Engine.body()
		if bad != nil {
			t.Fatal(bad)
		}
		y := b.cylinder(conditionOf(in.EngineRPM, in.Load, Fuel{Scale: "AKI"}, in.Air), middle)
		in.SparkCrankDeg = y.delay + halfBurned*y.duration - u(2, 16) // half burned where engines have it
		m, err := Middle(in)
		if err != nil {
			t.Fatal(err)
		}
		if m.DelayCrankDeg != y.delay || m.StartKPa != y.in.kPa || m.Cycle.HeatRatio != y.in.heat ||
			m.Cycle.BurnDurationCrankDeg != y.duration || m.Cycle.BurnStartCrankDeg != y.delay-in.SparkCrankDeg {
			t.Fatalf("%+v, drawn around %+v", m, y.in)
		}
		want := y.run(in.SparkCrankDeg)
		got, err := cycle.Cycle(m.Cycle)
		if err != nil {
			t.Fatal(err)
		}
		off := got.PMaxRatio/want.peak - 1
		sum, worst = sum+off/n, max(worst, math.Abs(off))
		worstWork = max(worstWork, math.Abs(got.WorkRatio/want.work-1))
	}
	t.Logf("highest pressure: mean %+.2f %%, worst %.1f %%; work: worst %.1f %%", 100*sum, 100*worst, 100*worstWork)
	if math.Abs(sum) > 0.02 || worst > 0.07 || worstWork > 0.06 {
		t.Errorf("highest pressure off by %v in the mean, %v at worst; work by %v", sum, worst, worstWork)
	}
}

// TestAreaOfTheMiddle: with the growth given, head, piston and liner of the cycle are those of run.go.
func TestAreaOfTheMiddle(t *testing.T) {
	bore, stroke := 90.0, 80.0
	in := MiddleIn{Engine: Engine{BoreMm: &bore, StrokeMm: &stroke, CompressionRatio: 8, Chamber: "side-valve"},
		EngineRPM: 2000, Load: 1, SparkCrankDeg: 20}
	m, err := Middle(in)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := in.Engine.body()
	y := b.cylinder(conditionOf(2000, 1, Fuel{Scale: "AKI"}, Air{}), middle)
	// The cycle's area at volume V is k (1 + βV), and k β is the liner's 4 V1 / bore: so both ends tell it.
	liner := 4 / bore * (math.Pi / 4 * bore * bore * stroke * 8 / 7)
	for _, i := range []int{0, places / 2} {
		v := y.at[i].v
		got := liner / *m.Cycle.HeatLoss.AreaGrowth * (1 + *m.Cycle.HeatLoss.AreaGrowth*v)
		want := y.at[i].area*math.Pi/4*bore*bore + liner/8 // the cycle's liner holds the clearance too
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("area %v mm², run.go %v mm²", got, want)
		}
	}
}

func TestOutsideTheMiddle(t *testing.T) {
	for field, in := range map[string]MiddleIn{"": {EngineRPM: 300, Load: 0.2}, "engineRPM": {EngineRPM: 299, Load: 1},
		"vacuumKPa": {EngineRPM: 3000, Load: 0.19}} {
		if bad := in.Outside(); (bad == nil) != (field == "") || bad != nil && !strings.HasPrefix(bad.Error(), field) {
			t.Errorf("%+v: %v", in, bad)
		}
	}
	if bad := (MiddleIn{EngineRPM: 8001, Load: 1}).Outside(); bad == nil {
		t.Error("8001 engine rpm is inside")
	}
	_, err := Middle(MiddleIn{EngineRPM: 3000, Load: 1})
	if err == nil || !strings.HasPrefix(err.Error(), "engine.boreMm") {
		t.Errorf("an engine without its size: %v", err)
	}
}
