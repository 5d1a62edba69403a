package engine

import (
	"fmt"

	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/refuse"
)

// MiddleIn is an engine at one speed, load and timing.
type MiddleIn struct {
	Engine        Engine
	Mixture       *float64 // fuel over what the air can burn; as Fuel takes it
	Air           Air
	EngineRPM     float64
	Load          float64 // manifold pressure over the air's
	SparkCrankDeg float64 // before TDC
}

// MiddleOut is that engine as combustion.cycle takes it.
type MiddleOut struct {
	Cycle         cycle.CycleIn
	DelayCrankDeg float64 // from the spark to the start of burning
	StartKPa      float64 // as compression begins, absolute
	ExhaustKPa    float64 // while the exhaust valve is open, absolute
	Assumed       []string
}

// oneGamma is the ratio of specific heats where a cycle has one for all of it. Chosen: over 400 engines at random the
// highest pressure is then that of run.go, whose γ falls with temperature, to 7 %, 1 % too high in the mean (tested).
const oneGamma = 1.28

// Speeds of Best, and so of this.
const (
	slowestRPM = 300
	fastestRPM = 8000
)

// Outside says where speed or load lie outside what this room's burning holds for; nil inside.
func (in MiddleIn) Outside() *refuse.Error {
	switch {
	case in.EngineRPM < slowestRPM || in.EngineRPM > fastestRPM:
		return refuse.Input("engineRPM", fmt.Sprintf("%.6g engine rpm is outside the speeds whose burning is known",
			in.EngineRPM), fmt.Sprintf("%d to %d engine rpm", slowestRPM, fastestRPM), "give a speed in that range")
	case in.Load < leastLoad:
		return refuse.Input("vacuumKPa", "that vacuum leaves the engine too little to burn",
			fmt.Sprintf("at most %.4g kPa in this air (a fifth of it left)", (1-leastLoad)*in.Air.kPa()),
			"give a vacuum at which the engine pulls, or idle")
	}
	return nil
}

// Middle gives the engine as it is in the middle of what it could be (every uncertain input of spread.go at its
// middle), in the terms of combustion.cycle: charge, delay and duration of burning, and heat to the walls are those
// that Best draws around. One ratio of specific heats stands for all. Refused: an engine without its size, a rod hardly
// longer than the stroke.
func Middle(in MiddleIn) (MiddleOut, error) {
	b, bad := in.Engine.body()
	if bad != nil {
		return MiddleOut{}, bad.Under("engine")
	}
	fuel := Fuel{Scale: "AKI", Mixture: in.Mixture} // octane has no part in a cycle that does not knock
	c := conditionOf(in.EngineRPM, in.Load, fuel, in.Air)
	charge := b.charge(c, middle)
	delay, duration := b.burning(c, charge, middle)
	boreMm, strokeMm := 1000*b.bore, 1000*b.stroke
	// The area of the head is 1 + shape.area of the bore's with the piston's; the liner's grows with the volume.
	growth := 4 * b.stroke / b.bore * charge.ratio / (charge.ratio - 1) / (1 + b.shape.area)
	w := wiebe(in.SparkCrankDeg, delay, duration)
	out := MiddleOut{DelayCrankDeg: delay, StartKPa: charge.kPa, ExhaustKPa: backFlow * in.Air.kPa()}
	out.Cycle = cycle.CycleIn{CompressionRatio: charge.ratio, Gamma: oneGamma, HeatRatio: charge.heat,
		BurnStartCrankDeg: w.Start, BurnDurationCrankDeg: w.Duration, WiebeA: &w.A, WiebeM: &w.M, RodRatio: &b.rod,
		HeatLoss: &cycle.HeatLoss{Law: "woschni", EngineRPM: &in.EngineRPM, AreaGrowth: &growth,
			WallRatio: wallK / charge.kelvin, BoreMm: &boreMm, StrokeMm: &strokeMm, StartKPa: &charge.kPa,
			StartK: &charge.kelvin}}
	out.Assumed = assumed(in.Engine, fuel, in.Air)
	return out, nil
}
