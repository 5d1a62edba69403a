package engine

import (
	"encoding/json"
	"math/rand/v2"
	"testing"
)

// Whatever is let in is answered, with figures that are numbers and ranges that are
// in order; refused is only what cannot be.
func TestExtremesAreAnswered(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 8))
	n := count(4, 400)
	end := func(low, high float64) *float64 { // often an end of the range
		x := []float64{low, high, low + (high-low)*rng.Float64()}[rng.IntN(3)]
		return &x
	}
	for range n {
		e := Engine{BoreMm: end(40, 150), StrokeMm: end(40, 180), CompressionRatio: *end(4, 14),
			Chamber: []string{"side-valve", "bathtub", "wedge", "hemispherical", "pent-roof"}[rng.IntN(5)],
			Cam:     []string{"", "standard", "mild", "hot"}[rng.IntN(4)]}
		f := Fuel{Octane: *end(55, 115), Scale: []string{"RON", "AKI", "MON"}[rng.IntN(3)], Mixture: end(0.75, 1.4)}
		a := Air{TemperatureC: end(-30, 60), AltitudeM: end(-400, 5000)}
		in := BestIn{Engine: e, Fuel: f, Air: a, EngineRPM: *end(300, 8000), Load: Load{Load: end(0.2, 1)}}
		in.Records.Knock = []KnockRecord{{EngineRPM: *end(300, 8000), Load: Load{Load: end(0.2, 1)},
			CrankDeg: *end(-20, 70),
			Heard:    []string{"none", "trace", "rattle", "heavy"}[rng.IntN(4)], Fuel: f}}
		in.Records.Best = []BestRecord{{EngineRPM: *end(300, 8000), Load: full(), CrankDeg: *end(-20, 70),
			How: "hill-time", Fuel: f}}
		out, err := Best(in)
		if err != nil {
			t.Fatalf("%v for %+v", err, in)
		}
		if _, err := json.Marshal(out); err != nil {
			t.Errorf("%v for %+v", err, in)
		}
		if out.MBTLowCrankDeg > out.MBTCrankDeg || out.MBTCrankDeg > out.MBTHighCrankDeg ||
			out.KnockLimitLowCrankDeg > out.KnockLimitCrankDeg || out.KnockLimitCrankDeg > out.KnockLimitHighCrankDeg ||
			out.AdviceCrankDeg > out.KnockLimitLowCrankDeg {
			t.Errorf("out of order: %+v for %+v", out.Figures, in)
		}
		if rng.IntN(4) > 0 {
			continue
		}
		target, err := Target(TargetIn{Engine: e, Fuel: f, Air: Air{TemperatureC: a.TemperatureC}, Records: in.Records})
		if err != nil {
			t.Fatalf("%v for %+v", err, in)
		}
		if _, err := json.Marshal(target); err != nil {
			t.Errorf("%v for %+v", err, in)
		}
	}
}
