package turn

import "slices"

const (
	mostAngles = 500
	bottom     = -180.0 // bottom dead centre before compression; the other has the other sign
	// Steps are chosen: pistons and pressures bend so little in 5 degrees that straight lines between are not seen to
	// be lines, and a burning of 60 steps has its tenths at their angles beside them.
	evenStep  = 5.0
	burnSteps = 60
	leastBurn = 1.0
	// before is how far before a sudden change its last angle stands, chosen too small to be drawn.
	before = 1e-3
)

// grid gives the angles of the series. The moments that have a name, and those on either side of a sudden change, are
// always among them; then those of burning and the even ones; what is left of the 500 goes to charge and swing.
func (r *run) grid() []float64 {
	must := []float64{-360, bottom, 0, -bottom, 360}
	if r.fire != nil {
		must = append(must, -bottom+before)
	}
	for _, e := range r.moments() {
		must = append(must, e.CrankDeg)
	}
	if r.works() {
		for _, at := range r.set.openings() {
			closes := onto(at + r.set.pitch - r.set.closed)
			must = append(must, closes, onto(closes-before))
			if r.swings != nil {
				must = append(must, onto(at+r.swings.deg(r.swings.PeakMs())))
			}
		}
	}
	grid := joined(nil, must)
	grid = joined(grid, r.evenly())
	if r.works() && r.swings != nil {
		each := (mostAngles - len(grid)) / r.set.sparks
		grid = joined(grid, r.quick(each))
	}
	return grid
}

// evenly are the angles all over the cycle, and closer ones from the spark to the end of burning.
func (r *run) evenly() []float64 {
	var out []float64
	for deg := -360.0; deg <= 360; deg += evenStep {
		out = append(out, deg)
	}
	if f := r.fire; f != nil {
		from, to := -r.out.Timing.SparkCrankDeg, min(-bottom, f.wiebe.At(0.99))
		step := max(leastBurn, (to-from)/burnSteps)
		for deg := from; deg < to; deg += step {
			out = append(out, deg)
		}
	}
	return out
}

// quick are at most so many angles after each closing and opening, where current and volts are quick.
func (r *run) quick(each int) []float64 {
	charge := r.charging()
	charge = charge[:min(len(charge), each/2)]
	swing := r.swinging()
	swing = swing[:min(len(swing), max(0, each-len(charge)))]
	var out []float64
	for _, at := range r.set.openings() {
		for _, deg := range charge {
			out = append(out, onto(at+r.set.pitch-r.set.closed+deg))
		}
		for _, deg := range swing {
			out = append(out, onto(at+deg))
		}
	}
	return out
}

// charging are angles after a closing at which the growing current bends, the weightiest first: at parts of the time
// constant, where that is short beside the even steps.
func (r *run) charging() []float64 {
	var out []float64
	tau := r.swings.deg(r.swings.TimeConstantMs())
	if tau > 6*evenStep { // even steps are near enough together (chosen: a sixth of the time constant)
		return nil
	}
	for _, part := range []float64{1, 0.4, 2, 3.2, 0.15, 1.5, 4.5} {
		if deg := part * tau; deg < r.set.closed {
			out = append(out, deg)
		}
	}
	return out
}

// swinging are angles after an opening that draw the swing, the weightiest first: the first rise and fall, then tops
// and bottoms as they follow, then where it crosses its middle.
func (r *run) swinging() []float64 {
	peak, half := r.swings.deg(r.swings.PeakMs()), r.swings.deg(r.swings.HalfSwingMs())
	open := r.set.pitch - r.set.closed
	var out []float64
	add := func(deg float64) {
		if deg < open-before {
			out = append(out, deg)
		}
	}
	for _, part := range []float64{4, 2, 6, 1, 3, 5, 7} { // eighths
		add(peak * part / 8)
		add(peak + half*part/8)
	}
	for i := 1.0; i < mostAngles && peak+i*half < open; i++ {
		add(peak + i*half)
	}
	for i := 1.5; i < mostAngles && peak+i*half < open; i++ {
		add(peak + i*half)
	}
	return out
}

func (s *swings) deg(ms float64) float64 { return ms * s.degPerMs }

// joined adds angles to those that are there, by rising angle, leaving out what is nearer than before/2 to one that is
// there already.
func joined(there, more []float64) []float64 {
	out := slices.Clone(there)
	for _, deg := range more {
		i, found := slices.BinarySearch(out, deg)
		near := snap
		if len(there) > 0 {
			near = before / 2
		}
		if found || i > 0 && deg-out[i-1] < near || i < len(out) && out[i]-deg < near {
			continue
		}
		out = slices.Insert(out, i, deg)
	}
	return out
}
