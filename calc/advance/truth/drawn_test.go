package truth_test

import (
	"math"
	"math/rand/v2"
)

func between(rng *rand.Rand, low, high float64) float64 { return low + (high-low)*rng.Float64() }

// ratioBetween draws evenly in the logarithm.
func ratioBetween(rng *rand.Rand, low, high float64) float64 {
	return low * math.Pow(high/low, rng.Float64())
}

// drawLink draws weights of the size common in distributors (chosen: 30 to 90
// grams each, pivots 20 to 30 mm from the shaft). Their pull per degree grows
// by no more than 6 % and falls by no more than a half.
func drawLink(rng *rand.Rand) (link, []float64) {
	for {
		l := link{massKg: between(rng, 0.03, 0.09), pivot: between(rng, 20, 30), com: between(rng, 8, 16),
			comAngle: between(rng, 45, 85) * radian, rolls: rng.IntN(2) == 0}
		l.pin, l.pinAngle = between(rng, 0.35, 0.6)*l.pivot, between(rng, -25, -5)*radian
		l.rollRatio, l.rollGrowth = between(rng, 0.6, 1.4), between(rng, -0.4, 0.4)
		table := l.pullTable()
		if table == nil {
			continue
		}
		growth := (table[int(12/stepDeg)]/table[0] - 1) / 12
		if growth > -0.005 && growth < 0.05 {
			return l, table
		}
	}
}

func drawSpring(rng *rand.Rand) spring {
	return spring{post: between(rng, 20, 32), arm: between(rng, 8, 16), angle: between(rng, 35, 75) * radian}
}

// drawUnit draws a governor from its corners: start 180 to 600 distributor
// rpm, limit 6 to 16 degrees met between 900 and 2600, the secondary taking up
// at 25 to 75 % of the travel and making the curve 2 to 8 times flatter
// (chosen: what curves of such units show). Springs follow from the corners.
func drawUnit(rng *rand.Rand) unit {
	for {
		u := unit{pullScale: 1, primary: drawSpring(rng), secondary: drawSpring(rng)}
		u.link, u.pull = drawLink(rng)
		u.limit = between(rng, 6, 16)
		knee := between(rng, 0.25, 0.75) * u.limit
		start, top := math.Pow(perSecond(between(rng, 180, 600)), 2), math.Pow(perSecond(between(rng, 900, 2600)), 2)
		flatter := ratioBetween(rng, 2, 8)
		slope := (top - start) / (knee + flatter*(u.limit-knee)) // of speed squared, per degree, below the knee
		if !u.fitSprings(knee, start, start+slope*knee, top) {
			continue
		}
		// Half of falling less rising below the knee is 0.05 to 0.35 distributor
		// degree (common practice: up to 1 between the two).
		u.stiction = between(rng, 0.05, 0.35) * slope * u.pullAt(0)
		u.rub = between(rng, 0.001, 0.008)
		if u.climbs(knee) {
			return u
		}
	}
}

// fitSprings finds the springs that hold the weights at the three corners.
func (u *unit) fitSprings(knee, start, middle, top float64) bool {
	p, s := &u.primary, &u.secondary
	atRest, atKnee := start*u.pullAt(0)/p.lever(0), middle*u.pullAt(knee)/p.lever(knee)
	p.rate = (atKnee - atRest) / (p.length(knee) - p.length(0))
	p.free = p.length(0) - atRest/p.rate
	s.free = s.length(knee)
	left := top*u.pullAt(u.limit) - p.torque(u.limit)
	s.rate = left / s.lever(u.limit) / (s.length(u.limit) - s.free)
	return p.rate > 0 && p.free > 3 && s.rate > 0 && s.rate > 0.3*p.rate
}

// climbs refuses governors that fly, or nearly: a fifth of a degree more must
// ask for more speed everywhere, by at least a third of the mean of that part.
func (u unit) climbs(knee float64) bool {
	for deg := 0.0; deg+0.2 <= u.limit; deg += 0.2 {
		from, to := 0.0, knee
		if deg+0.2 > knee {
			from, to = knee, u.limit
		}
		if deg < knee && deg+0.2 > knee {
			continue
		}
		mean := (u.needs(to, 0) - u.needs(from, 0)) / (to - from)
		if (u.needs(deg+0.2, 0)-u.needs(deg, 0))/0.2 < mean/3 {
			return false
		}
	}
	return true
}

// another is a unit of the same make: springs, tension, take-up, stop and
// weights scatter as made parts do (chosen: 4 % of a rate, 5 % of a tension, a
// third of a degree of take-up, a quarter of a degree of stop).
func (u unit) another(rng *rand.Rand, scatter float64) unit {
	by := func(share float64) float64 { return math.Exp(scatter * share * rng.NormFloat64()) }
	u.primary = u.primary.withTension(by(0.05)).stiffer(by(0.04))
	u.secondary.rate *= by(0.04)
	u.secondary = u.secondary.takingUpAt(u.secondary.takesUp() + scatter*0.33*rng.NormFloat64())
	u.limit += scatter * 0.25 * math.Max(-2, math.Min(2, rng.NormFloat64()))
	u.pullScale *= by(0.02)
	u.stiction *= by(0.3)
	return u
}

// stiffer is another spring on the same posts: rate and tension times a ratio.
func (s spring) stiffer(ratio float64) spring { s.rate *= ratio; return s }

// withTension is the same rate with another tension at rest, by a ratio.
func (s spring) withTension(ratio float64) spring {
	s.free = s.length(0) - ratio*(s.length(0)-s.free)
	return s
}

// takingUpAt is the same spring with a loop that takes up at this advance,
// degrees; below 0 it pulls at rest.
func (s spring) takingUpAt(deg float64) spring {
	s.free = s.length(deg)
	return s
}

// rubbing gives one spring of a unit a bump of 12 to 20 % over a part of the
// travel.
func (u unit) rubbing(rng *rand.Rand) unit {
	s, from, to := &u.primary, 0.0, u.limit
	if rng.IntN(2) == 0 {
		s, from = &u.secondary, u.secondary.takesUp()
	}
	width := between(rng, 0.4, 0.8) * (to - from)
	s.bump, s.bumpFrom = between(rng, 0.12, 0.20), between(rng, from, to-width)
	s.bumpTo = s.bumpFrom + width
	return u
}
