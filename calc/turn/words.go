package turn

import "fmt"

// words shows the rules with this car's figures, and where they come from.
func (r *run) words() {
	say := func(format string, args ...any) { r.out.Working = append(r.out.Working, fmt.Sprintf(format, args...)) }
	say("One cycle is two turns, 720 crank degrees: 2 × 60 000 / %.6g = %.4g ms; in a millisecond the crank turns %.4g "+
		"degrees.", r.in.EngineRPM, 2*r.out.RevMs, r.out.DegPerMs)
	r.sayTiming(say)
	if r.works() {
		s := r.set
		say("Points: every %.4g crank degrees, closed for %.4g distributor degrees = %.4g crank degrees = %.4g ms.",
			s.pitch, s.dwellDist, s.closed, s.closed/r.out.DegPerMs)
		if s.bounce > 0 {
			say("Before that they bounce for %.4g crank degrees = %.4g ms, in which the coil does not charge.", s.bounce,
				s.bounce/r.out.DegPerMs)
		}
	}
	if c := r.swings; c != nil {
		peak := c.PeakMs()
		_, volts, kV := c.Open(peak)
		say("Coil: %.4g A when the points open; %.4g µs later the first swing stands at %.4g V, on the secondary at best "+
			"%.4g kV.", c.Break.CurrentA, 1000*peak, volts, kV)
	}
	if f := r.out.Fires; f != nil {
		say("The plug may ask for %.3g to %.3g kV.", f.LowKV, f.HighKV)
	}
	if g := r.out.Gas; g != nil {
		say("Fire: %.3g degrees (%.3g ms) before anything burns, nine tenths burnt %.3g degrees (%.3g ms) after the spark; "+
			"highest pressure %.4g kPa at %.3g degrees after TDC.", g.DelayCrankDeg, g.DelayMs, g.BurnCrankDeg,
			g.BurnMs, g.PMaxKPa, g.PMaxCrankDeg)
	}
	r.sources()
}

// sources names what the parts stand on that are given.
func (r *run) sources() {
	r.out.Sources = []string{"arithmetic of crank, distributor and time"}
	add := func(with bool, lines ...string) {
		if with {
			r.out.Sources = append(r.out.Sources, lines...)
		}
	}
	add(r.rodMm > 0, "piston: slider-crank geometry (Heywood, Internal Combustion Engine Fundamentals, eq. 2.5; number from "+
		"memory), as marks.piston")
	add(r.out.Timing != nil, "timing: middle of the book's band, straight between its lines (common practice), or the "+
		"governor that was measured")
	add(r.swings != nil, "current: growth of current in a coil (J. O. Bird, Electrical Circuit Theory and Technology, "+
		"ch 17), as coil.charge", "volts: the loop of coil, condenser and reflected secondary, solved exactly, as coil.break")
	add(r.fire != nil, "burning and pressure: single zone with Wiebe burning (Ferguson & Kirkpatrick, Internal Combustion "+
		"Engines, ch 2), as combustion.cycle; pressure of inlet and exhaust held level: chosen")
}

func (r *run) sayTiming(say func(string, ...any)) {
	t := r.out.Timing
	switch {
	case t == nil:
		return
	case r.in.SparkCrankDeg != nil:
		say("Spark at %.4g crank degrees before TDC, as read.", t.SparkCrankDeg)
		return
	case t.BaseCrankDeg == nil:
		say("Spark at %.4g crank degrees before TDC, from a table that holds the base.", t.SparkCrankDeg)
		return
	}
	vacuum := 0.0
	if t.VacuumCrankDeg != nil {
		vacuum = *t.VacuumCrankDeg
	}
	say("Spark: base %.4g + weights %g × %.4g + capsule %.4g = %.4g crank degrees before TDC.", *t.BaseCrankDeg,
		r.ratio, *t.WeightsDistDeg, vacuum, t.SparkCrankDeg)
}
