package turn

import "pointsmith/calc/marks"

// fill works the series out, but for the gas.
func (r *run) fill(grid []float64) {
	s := &r.out.Series
	s.CrankDeg = grid
	for _, deg := range grid {
		s.ShaftDistDeg = append(s.ShaftDistDeg, deg/r.ratio)
		if r.rodMm > 0 {
			s.PistonMm = append(s.PistonMm, marks.Travel(*r.in.Engine.StrokeMm, r.rodMm, deg))
		}
		if r.out.Timing != nil {
			s.RotorDistDeg = append(s.RotorDistDeg, r.rotor(deg))
		}
		if r.works() {
			r.electric(s, deg)
		}
	}
}

// rotor is where cam and rotor arm stand: at the spark behind by what the plate has moved towards them.
func (r *run) rotor(deg float64) float64 {
	t := r.out.Timing
	ahead := t.SparkCrankDeg
	if t.VacuumCrankDeg != nil {
		ahead -= *t.VacuumCrankDeg
	}
	return (deg + ahead) / r.ratio
}

// electric is the primary and what it makes, from the last opening or closing before.
func (r *run) electric(s *Series, deg float64) {
	opened, isClosed, closed := r.set.since(deg)
	s.Closed = append(s.Closed, isClosed)
	if r.swings == nil {
		return
	}
	var amps, volts, kV float64
	if isClosed {
		amps = r.swings.ClosedA(closed / r.out.DegPerMs)
	} else {
		amps, volts, kV = r.swings.Open(opened / r.out.DegPerMs)
	}
	s.PrimaryA, s.PrimaryV = append(s.PrimaryA, amps), append(s.PrimaryV, volts)
	s.SecondaryKV = append(s.SecondaryKV, kV)
}
