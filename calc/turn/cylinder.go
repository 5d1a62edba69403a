package turn

import (
	"math"
	"strings"

	"pointsmith/calc/engine"
	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/marks"
	"pointsmith/calc/refuse"
)

// piston takes stroke and rod.
func (r *run) piston() *refuse.Error {
	e := r.in.Engine
	if e.StrokeMm == nil {
		r.missing("piston", "engine.strokeMm", "mm", "give the stroke from the engine's book")
		return nil
	}
	rod := 1.75 * *e.StrokeMm // common practice, as the engine's room takes it
	if e.RodMm != nil {
		rod = *e.RodMm
	} else {
		r.assume("engine.rodMm not given: 1.75 strokes taken (common practice)")
	}
	half := 90.0
	if _, err := marks.Piston(marks.PistonIn{StrokeMm: *e.StrokeMm, RodMm: rod, CrankDeg: &half}); err != nil {
		return under("engine", err)
	}
	r.rodMm = rod
	return nil
}

// burning asks the engine's room.
func (r *run) burning() *refuse.Error {
	e := r.in.Engine
	for _, need := range []struct {
		given          bool
		field, limit   string
		doWhatIsWanted string
	}{
		{r.out.Timing != nil, "baseCrankDeg", "the timing", "see what is said of the timing"},
		{e.StrokeMm != nil, "engine.strokeMm", "mm", "give the stroke from the engine's book"},
		{e.BoreMm != nil || e.DisplacementCc != nil && r.in.Cylinders != nil, "engine.boreMm",
			"boreMm, or displacementCc and cylinders", "give the bore from the engine's book"},
		{e.CompressionRatio != nil, "engine.compressionRatio", "ratio", "give it as it is now"},
		{e.Chamber != "", "engine.chamber", "one of the shapes", "look at the head, or in the engine's book"},
		{r.in.VacuumKPa != nil, "vacuumKPa", "kPa below ambient", "give the vacuum the gauge shows; 0 is full throttle"},
	} {
		if !need.given {
			r.missing("burning", need.field, need.limit, need.doWhatIsWanted)
			return nil
		}
	}
	in := engine.MiddleIn{Engine: r.engine(), Mixture: r.in.Mixture, Air: r.in.Air, EngineRPM: r.in.EngineRPM,
		Load: 1 - *r.in.VacuumKPa/r.in.Air.AmbientKPa(), SparkCrankDeg: r.out.Timing.SparkCrankDeg}
	if outside := in.Outside(); outside != nil {
		r.leave("burning", outside)
		return nil
	}
	m, err := engine.Middle(in)
	if err != nil {
		return under("", err)
	}
	r.fire = &burning{in: m.Cycle, startKPa: m.StartKPa, exhaustKPa: m.ExhaustKPa, wiebe: m.Cycle.Burning()}
	r.out.Asked.Cycle = &m.Cycle
	for _, line := range m.Assumed {
		if !strings.HasPrefix(line, "rodMm") { // said with the piston
			r.assume("for the burning, " + line)
		}
	}
	return r.ignite(m.DelayCrankDeg)
}

// engine is the engine as its room takes it; a bore that is not given follows from the displacement.
func (r *run) engine() engine.Engine {
	e := r.in.Engine
	bore := e.BoreMm
	if bore == nil { // cm³ to mm³ over cylinders, stroke and π/4
		mm := math.Sqrt(1000 * *e.DisplacementCc / float64(*r.in.Cylinders) / *e.StrokeMm * 4 / math.Pi)
		bore = &mm
	}
	return engine.Engine{BoreMm: bore, StrokeMm: e.StrokeMm, RodMm: e.RodMm, CompressionRatio: *e.CompressionRatio,
		Chamber: e.Chamber, Cam: e.Cam}
}

// ignite runs the cycle and takes its figures.
func (r *run) ignite(delayDeg float64) *refuse.Error {
	f := r.fire
	out, err := cycle.Cycle(f.in)
	if err != nil {
		return under("engine", err)
	}
	f.peakDeg = out.PMaxCrankDeg
	burnDeg := f.wiebe.At(0.9) + r.out.Timing.SparkCrankDeg
	r.out.Gas = &Gas{StartKPa: f.startKPa, PMaxKPa: out.PMaxRatio * f.startKPa, PMaxCrankDeg: out.PMaxCrankDeg,
		DelayCrankDeg: delayDeg, DelayMs: delayDeg / r.out.DegPerMs, BurnCrankDeg: burnDeg,
		BurnMs: burnDeg / r.out.DegPerMs}
	return nil
}

// gas fills pressure and part burnt, over the whole cycle.
func (r *run) gas(grid []float64) *refuse.Error {
	f, s := r.fire, &r.out.Series
	if f == nil {
		return nil
	}
	from, to := 0, len(grid)
	for grid[from] < bottom {
		from++
	}
	for grid[to-1] > -bottom {
		to--
	}
	pressure, burnt, err := cycle.Trace(f.in, grid[from:to])
	if err != nil {
		return under("engine", err)
	}
	s.PressureKPa, s.Burnt = make([]float64, len(grid)), make([]float64, len(grid))
	for i := range grid {
		switch {
		case i < from: // the charge flows in
			s.PressureKPa[i] = f.startKPa
		case i < to:
			s.PressureKPa[i], s.Burnt[i] = pressure[i-from]*f.startKPa, burnt[i-from]
		default: // what is burnt flows out
			s.PressureKPa[i], s.Burnt[i] = f.exhaustKPa, burnt[len(burnt)-1]
		}
	}
	return nil
}
