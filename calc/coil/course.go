package coil

import (
	"math"

	"pointsmith/calc/refuse"
)

// Course is one spark of a car followed in time, with the figures of Sweep's row at that speed.
type Course struct {
	Row Row // without the plug's need where that could not be told
	// NoNeed is why the plug's need could not be told; nil where it is.
	NoNeed *refuse.Error
	// Charge and Break are what coil.charge and coil.break are to be asked for the same figures.
	Charge       ChargeIn
	Break        BreakIn
	Assumed, Ask []string

	loop  loop
	swing swing
}

// Follow takes the first speed of a sweep apart in time: the current while the points are closed (as Charge gives it
// after the same time), current and volts after they open (the swing of which Break gives the first peak). The points
// open at zero of its second clock, and no plug fires: what a plug does to the swing is in no rule of this room.
// Refused: as Sweep, but for the plug's need: where the laws of sparking do not hold, the coil is followed all the
// same.
func Follow(in SweepIn) (Course, error) {
	if bad := in.Coil.check(); bad != nil {
		return Course{}, bad
	}
	if in.StoppedV == nil && in.Feed.ClosedV == nil { // no figure here hangs on it, so none is assumed
		in.StoppedV = &in.SupplyV
	}
	sixVolt := in.SupplyV <= 9
	r := run{in: in, sixVolt: sixVolt, circuit: in.Coil.complete(sixVolt)}
	if bad := r.prepare(); bad != nil {
		return Course{}, bad
	}
	rpm := in.EngineRPM[0]
	row, bad := r.charged(rpm, in.SupplyV, r.loopOhm)
	if bad != nil {
		return Course{}, bad
	}
	whole, noNeed := r.row(rpm, in.SupplyV, r.loopOhm, r.cylinder(rpm))
	if noNeed == nil {
		row = whole
	}
	c := Course{Row: row, NoNeed: noNeed, Assumed: r.out.Assumed, Ask: r.out.Ask,
		loop: loop{in.SupplyV, r.loopOhm, r.circuit.milliH / 1000}}
	c.Charge = ChargeIn{SupplyV: in.SupplyV, TotalOhm: r.loopOhm, InductanceMilliH: r.circuit.milliH,
		ChargeMs: &c.Row.ChargeMs}
	c.Break = BreakIn{SupplyV: in.SupplyV, TotalOhm: r.loopOhm, InductanceMilliH: r.circuit.milliH,
		CurrentA: row.CurrentA, CondenserMicroF: r.circuit.microF, TurnsRatio: r.circuit.ratio,
		SecondaryPicoF: r.circuit.picoF}
	var damped *refuse.Error
	if c.swing, damped = c.Break.swing(); damped != nil {
		return Course{}, damped
	}
	return c, nil
}

// ClosedA is the primary current so long after the points closed, amperes.
func (c Course) ClosedA(ms float64) float64 { return c.loop.current(ms / 1000) }

// Open gives the current of the primary and the volts across the points so long after they opened, and the kilovolts
// of the secondary, the turns ratio times these.
func (c Course) Open(ms float64) (amps, primaryV, secondaryKV float64) {
	t := ms / 1000
	v := c.swing.at(t)
	return c.swing.current(t), v, c.Break.TurnsRatio * v / 1000
}

// PeakMs is when the first swing is highest, after the points opened.
func (c Course) PeakMs() float64 {
	t, _ := c.swing.peak()
	return 1000 * t
}

// HalfSwingMs is from each top of the swing to the next bottom.
func (c Course) HalfSwingMs() float64 { return 1000 * math.Pi / c.swing.omega }

// TimeConstantMs is that of the charge, as Charge gives it.
func (c Course) TimeConstantMs() float64 { return 1000 * c.loop.tau() }

// ReachesMs is when the first swing of the secondary comes to so many kilovolts, at best; false where it never does.
func (c Course) ReachesMs(kV float64) (ms float64, reached bool) {
	low, high := 0.0, c.PeakMs()
	if _, _, most := c.Open(high); most < kV {
		return 0, false
	}
	for range 50 { // halves the peak's time to nothing
		mid := (low + high) / 2
		if _, _, v := c.Open(mid); v < kV {
			low = mid
		} else {
			high = mid
		}
	}
	return high, true
}
