package turn

import (
	"math"
	"slices"
	"strings"

	"pointsmith/calc/cap"
	"pointsmith/calc/coil"
	"pointsmith/calc/points"
	"pointsmith/calc/refuse"
	"pointsmith/calc/spark"
)

// set is one set of points on the crank, crank degrees.
type set struct {
	at                    float64 // where they open for No. 1
	pitch, closed, bounce float64 // closed: for good, after the bounce
	sparks                int     // openings in one cycle
	dwellDist             float64 // distributor degrees closed for good
}

// snap: angles nearer than this are one (chosen: floats of some hundred degrees are good to 1e-13).
const snap = 1e-9

// since gives how long ago the points opened, and whether they have closed since, and how long ago that was.
func (s *set) since(deg float64) (opened float64, isClosed bool, closed float64) {
	opened = math.Mod(deg-s.at, s.pitch)
	if opened < 0 {
		opened += s.pitch
	}
	if s.pitch-opened < snap {
		opened = 0
	}
	closed = opened - (s.pitch - s.closed)
	return opened, closed > -snap, max(0, closed)
}

// openings are the angles where they open, that of No. 1 first and then as they follow.
func (s *set) openings() []float64 {
	out := make([]float64, s.sparks)
	for i := range out {
		out[i] = onto(s.at + float64(i)*s.pitch)
	}
	return out
}

// onto brings an angle into −360 to 360, the upper end excluded.
func onto(deg float64) float64 {
	for deg < -360 {
		deg += 720
	}
	for deg >= 360 {
		deg -= 720
	}
	return deg
}

// points lays the cam on the crank.
func (r *run) points() *refuse.Error {
	n := r.in.Cylinders
	if n == nil {
		r.missing("points", "cylinders", "how many cylinders this set of points fires", "count the lobes of the cam")
		return nil
	}
	if bad := r.order(*n); bad != nil {
		return bad
	}
	r.set = &set{pitch: points.Pitch(*n) * r.ratio, sparks: 2 * *n / int(r.ratio)}
	if r.out.Timing != nil {
		r.set.at = -r.out.Timing.SparkCrankDeg
	}
	return r.dwell(*n)
}

// dwell says for how long they are closed.
func (r *run) dwell(cylinders int) *refuse.Error {
	p, s := r.in.Points, r.set
	if p.DwellDistDeg == nil && p.DwellPercent == nil {
		r.missing("points", "points.dwellDistDeg", "dwellDistDeg or dwellPercent",
			"give the dwell the meter shows, or the book's")
		return nil
	}
	d, err := points.Dwell(points.DwellIn{Cylinders: cylinders, DwellDistDeg: p.DwellDistDeg,
		DwellPercent: p.DwellPercent, EngineRPM: r.in.EngineRPM, DriveRatio: &r.ratio})
	if err != nil {
		return under("points", err)
	}
	r.out.Ask = append(r.out.Ask, d.Ask...)
	s.dwellDist = d.DwellDistDeg
	if b := p.BounceDistDeg; b != nil {
		if *b >= s.dwellDist {
			return refuse.Input("points.bounceDistDeg", "leaves nothing of the dwell", "less than the dwell",
				"give the dwell read slow as the dwell, and what is lost of it here as bounce")
		}
		s.dwellDist, s.bounce = s.dwellDist-*b, *b*r.ratio
	}
	s.closed = s.dwellDist * r.ratio
	if r.out.Timing == nil {
		r.leave("points", refuse.Input("baseCrankDeg", "where the points open on the crank is not known", "the timing",
			"see what is said of the timing"))
	}
	return nil
}

// order checks the firing order.
func (r *run) order(n int) *refuse.Error {
	if len(r.in.FiringOrder) > 0 {
		return cap.CheckOrder("firingOrder", r.in.FiringOrder, n)
	}
	if n > 1 {
		r.missing("cylinders by number", "firingOrder", "each cylinder once, No. 1 first",
			"give the order from the engine's book")
	}
	return nil
}

// works says whether the points open and close at angles that are known.
func (r *run) works() bool { return r.set != nil && r.set.dwellDist > 0 && r.out.Timing != nil }

// swings is the coil's course, and its times in crank degrees.
type swings struct {
	coil.Course
	degPerMs float64
}

// coil follows charge and swing.
func (r *run) coil() *refuse.Error {
	if r.in.SupplyV == nil {
		r.missing("coil", "supplyV", "battery volts running", "give what a meter shows across the battery")
		return nil
	}
	if r.set == nil || r.set.dwellDist == 0 {
		r.leave("coil", refuse.Input("points", "how long the points are closed is not known", "cylinders and dwell",
			"see what is said of the points"))
		return nil
	}
	c, err := coil.Follow(coil.SweepIn{SupplyV: *r.in.SupplyV, StoppedV: r.in.StoppedV, Cylinders: *r.in.Cylinders,
		EngineRPM: []float64{r.in.EngineRPM}, Coil: r.in.Coil, Points: coil.Points{DwellDistDeg: &r.set.dwellDist},
		Plug: r.in.Plug, Feed: r.in.Feed, Engine: coil.Engine{Cylinder: r.cylinder()}, DriveRatio: &r.ratio})
	if err != nil {
		return under("", err)
	}
	r.take(c)
	if r.in.SparkMs == nil {
		r.missing("spark ends", "sparkMs", "milliseconds",
			"read it from an oscilloscope; how long a spark burns no rule here tells")
	}
	return nil
}

// take takes from the coil's room what it says of it.
func (r *run) take(c coil.Course) {
	r.swings = &swings{c, r.out.DegPerMs}
	for _, line := range c.Assumed {
		if rest, isNeed := strings.CutPrefix(line, "engine."); isNeed {
			line = "for the plug's need, " + rest
		}
		r.assume(line)
	}
	for _, ask := range c.Ask { // the points have asked the same of the dwell
		if !slices.Contains(r.out.Ask, ask) {
			r.out.Ask = append(r.out.Ask, ask)
		}
	}
	r.out.Asked.Charge, r.out.Asked.Break = &c.Charge, &c.Break
	if c.NoNeed != nil {
		r.leave("plug's need", needField(c.NoNeed))
	} else {
		r.out.Coil = &c.Row
		r.out.Fires = r.fires()
	}
}

// needField names the field of this method that a refused need hangs on.
func needField(bad *refuse.Error) *refuse.Error {
	at := *bad
	if strings.HasPrefix(at.Field, "engine.") {
		at.Field = "engine.compressionRatio"
	}
	return &at
}

// cylinder is what decides the plug's need.
func (r *run) cylinder() spark.Cylinder {
	c := spark.Cylinder{CompressionRatio: r.in.Engine.CompressionRatio}
	if t := r.out.Timing; t != nil {
		c.SparkCrankDeg = &t.SparkCrankDeg
	}
	if v := r.in.VacuumKPa; v != nil {
		manifold := r.in.Air.AmbientKPa() - *v
		c.ManifoldKPa = &manifold
	}
	return c
}

// fires is when the swing comes to the need.
func (r *run) fires() *Fires {
	row := r.out.Coil
	f := &Fires{LowKV: row.RequiredLowKV, HighKV: row.RequiredKV}
	if ms, reached := r.swings.ReachesMs(f.LowKV); reached {
		us := 1000 * ms
		f.LowMicroS = &us
	}
	if ms, reached := r.swings.ReachesMs(f.HighKV); reached {
		us, deg := 1000*ms, ms*r.out.DegPerMs
		f.HighMicroS, f.HighCrankDeg = &us, &deg
	}
	return f
}
