package truth_test

import (
	"math"
	"math/rand/v2"
)

// change does a fault to a unit as it stands; false where it cannot be done.
type change func(*state) bool

// fault is one thing that can be wrong, by the name that accounts have for it.
type fault struct {
	element string
	part    string // primary, secondary, stop, base, zero, whole
	draw    func(rng *rand.Rand) change
}

func onUnit(f func(u *unit)) change {
	return func(s *state) bool {
		f(&s.unit)
		s.curve = s.unit.curve()
		return true
	}
}

// faults: sizes are realistic (chosen). A spring of another rate keeps its
// post, so its tension changes by about the same ratio; hooks and free length
// differ a little too.
var faults = []fault{
	{"primary-early", "primary", func(rng *rand.Rand) change {
		switch rng.IntN(5) {
		case 0:
			return onUnit(func(u *unit) { u.primary.rate = 0 })
		case 1, 2:
			return bentPost(between(rng, 0.1, 0.6))
		}
		return otherPrimary(rng, 0.35, 0.75)
	}},
	{"primary-late", "primary", func(rng *rand.Rand) change {
		if rng.IntN(2) == 0 {
			return bentPost(ratioBetween(rng, 1.5, 3.5))
		}
		return otherPrimary(rng, 1.4, 2.6)
	}},
	{"secondary-early", "secondary", func(rng *rand.Rand) change {
		x, late := between(rng, 0.35, 0.75), between(rng, 1.5, 5)
		switch rng.IntN(5) {
		case 0:
			return onUnit(func(u *unit) { u.secondary.rate = 0 })
		case 1, 2:
			return takeUpBy(late)
		}
		return onUnit(func(u *unit) { u.secondary.rate *= x })
	}},
	{"secondary-late", "secondary", func(rng *rand.Rand) change {
		x, soon := ratioBetween(rng, 1.4, 2.6), between(rng, 1.5, 5)
		if rng.IntN(2) == 0 {
			return takeUpBy(-soon)
		}
		return onUnit(func(u *unit) { u.secondary.rate *= x })
	}},
	{"stop-short", "stop", func(rng *rand.Rand) change { return stopBy(-between(rng, 1.5, 5)) }},
	{"stop-long", "stop", func(rng *rand.Rand) change { return stopBy(between(rng, 1.5, 5)) }},
	{"seized", "whole", func(rng *rand.Rand) change {
		part := 0.0
		if rng.IntN(5) == 0 {
			part = between(rng, 0.2, 0.8)
		}
		return onUnit(func(u *unit) { at := part * u.limit; u.seized = &at })
	}},
	{"drag", "drag", func(rng *rand.Rand) change {
		x := between(rng, 4, 10)
		return onUnit(func(u *unit) { u.stiction, u.rub = u.stiction*x, u.rub*x })
	}},
	{"base-early", "base", func(rng *rand.Rand) change { return baseBy(between(rng, 3, 10)) }},
	{"base-late", "base", func(rng *rand.Rand) change { return baseBy(-between(rng, 3, 10)) }},
	{"zero-early", "zero", func(rng *rand.Rand) change { return zeroBy(between(rng, 1.5, 4)) }},
	{"zero-late", "zero", func(rng *rand.Rand) change { return zeroBy(-between(rng, 1.5, 4)) }},
}

func otherPrimary(rng *rand.Rand, low, high float64) change {
	x, hooks := ratioBetween(rng, low, high), between(rng, 0.85, 1.15)
	return onUnit(func(u *unit) { u.primary = u.primary.stiffer(x).withTension(hooks) })
}

// bentPost bends the primary's post along its radius until the torque at rest
// is x times what it was.
func bentPost(x float64) change {
	return func(s *state) bool {
		p := &s.unit.primary
		want, post := x*p.torque(0), p.post
		low, high := post-5, post+5 // no post bends further and stands
		for range 50 {
			p.post = (low + high) / 2
			if p.torque(0) < want {
				low = p.post
			} else {
				high = p.post
			}
		}
		s.curve = s.unit.curve()
		return p.post > post-4.99 && p.post < post+4.99
	}
}

// takeUpBy gives the secondary's loop so many degrees more (later) or less.
func takeUpBy(deg float64) change {
	return func(s *state) bool {
		at := s.unit.secondary.takesUp() + deg
		if at < -1 { // a loop that is gone holds the weights at rest; more would be another fault
			return false
		}
		s.unit.secondary = s.unit.secondary.takingUpAt(at)
		s.curve = s.unit.curve()
		return true
	}
}

func stopBy(deg float64) change {
	return func(s *state) bool {
		s.unit.limit += deg
		if s.unit.limit < 1.5 || s.unit.limit > mostDeg-1 {
			return false
		}
		s.curve = s.unit.curve()
		return true
	}
}

func baseBy(deg float64) change { return func(s *state) bool { s.base += deg; return true } }
func zeroBy(deg float64) change { return func(s *state) bool { s.benchZeroBy += deg; return true } }

// canSee tells whether the evidence can show a fault of this part: the body
// needs a car, the degree wheel a bench, and drag both directions (speed
// rising only, it is another tension of the primary).
func (e evidence) canSee(f fault) bool {
	switch f.part {
	case "base":
		return e.car
	case "zero":
		return e.bench
	case "drag":
		return e.falling
	}
	return true
}

// moves tells whether two states read differently enough to count as a fault:
// by two crank degrees or more at two of the speeds read; for a stop at one.
func moves(before, after state, plan []moment, part string) bool {
	speeds := map[float64]bool{}
	for _, m := range plan {
		if math.Abs(m.crank(after)-m.crank(before)) >= 2 {
			speeds[m.distRPM] = true
		}
	}
	return len(speeds) >= 2 || part == "stop" && len(speeds) >= 1
}

// crank is what is read at this moment, crank degrees, without noise.
func (m moment) crank(s state) float64 {
	if m.car {
		return s.base + ratio*s.curve.at(m.distRPM, m.falling)
	}
	return ratio * (s.curve.at(m.distRPM, m.falling) + s.benchZeroBy)
}
