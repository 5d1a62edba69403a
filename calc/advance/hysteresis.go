package advance

import "slices"

// Limits of falling less rising at one speed, distributor degrees: up to 1
// normal, 1 to 2 watch, beyond 2 sticking (common practice).
const (
	hysteresisWatch = 1
	hysteresisFail  = 2
)

// leastPairs is how many speeds must be read both ways before the columns are
// thought swapped; the lower half of the differences must then lie below zero
// by both readings' errors (chosen: 0 of 1,000 sound noisy curves).
const leastPairs = 3

// hysteresis is what falling readings add over rising ones.
type hysteresis struct {
	distDeg float64
	pairs   []pairedSpeed
	copied  bool // the two columns are the same to the figure
	below   bool // falling lies below rising by more than can be misread: friction cannot do that
}

type pairedSpeed struct{ rpm, rising, falling float64 }

// findHysteresis pairs falling with rising readings of one set and takes the
// mean of the larger half of the differences, so that speeds at rest and at
// the stop, where friction cannot show, do not hide it.
func (c *court) findHysteresis() {
	h := &hysteresis{copied: true}
	for i := range c.sets {
		run := func(falling bool) []reading {
			return pick(c.usable, func(r reading) bool { return r.set == i && r.falling == falling })
		}
		rising := run(false)
		for _, f := range run(true) {
			if deg, ok := measuredAt(rising, f.rpm); ok {
				h.pairs = append(h.pairs, pairedSpeed{f.rpm, deg, f.deg})
				h.copied = h.copied && f.deg == deg
			}
		}
	}
	if len(h.pairs) == 0 {
		return
	}
	var lag []float64
	moving := false
	for _, p := range h.pairs {
		lag = append(lag, (p.falling-p.rising)/c.band.ratio)
		moving = moving || abs(p.rising-h.pairs[0].rising) > 1
	}
	h.copied = h.copied && len(h.pairs) >= 4 && moving
	slices.Sort(lag)
	half := lag[len(lag)/2:]
	for _, x := range half {
		h.distDeg += x / float64(len(half))
	}
	lower := lag[:(len(lag)+1)/2]
	sum := 0.0
	for _, x := range lower {
		sum += x
	}
	h.below = len(lag) >= leastPairs && sum/float64(len(lower)) < -2*c.readingError()/c.band.ratio
	c.hysteresis = h
	distDeg := h.distDeg
	c.out.HysteresisDistDeg = &distDeg
}
