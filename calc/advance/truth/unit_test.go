package truth_test

import (
	"math"
	"sort"
)

// link is one of two like weights and what it drives. Lengths in mm, angles
// in radians. The weight turns by θ about a pivot on the plate; its centre of
// mass lies com from the pivot, comAngle from the line to the shaft at rest.
// A pin on the weight slides in a slot of the cam plate that points at the
// shaft, or the weight's heel rolls on the plate.
type link struct {
	massKg, pivot, com, comAngle float64
	pin, pinAngle                float64
	rolls                        bool
	rollRatio, rollGrowth        float64 // cam radians per weight radian at rest, and its change per radian
}

// cam is the turn of the cam plate for a turn of the weight, both radians.
func (l link) cam(turn float64) float64 {
	if l.rolls {
		return l.rollRatio*turn + l.rollGrowth*turn*turn/2
	}
	at := func(angle float64) float64 {
		return math.Atan2(l.pin*math.Sin(angle), l.pivot-l.pin*math.Cos(angle))
	}
	return at(l.pinAngle+turn) - at(l.pinAngle)
}

// camSlope is the derivative of cam.
func (l link) camSlope(turn float64) float64 {
	if l.rolls {
		return l.rollRatio + l.rollGrowth*turn
	}
	c := math.Cos(l.pinAngle + turn)
	return l.pin * (l.pivot*c - l.pin) / (l.pivot*l.pivot + l.pin*l.pin - 2*l.pivot*l.pin*c)
}

// moment is the torque of both weights about their pivots, N mm for each
// (rad/s)²: m ω² times the offset of the pull from the pivot.
func (l link) moment(turn float64) float64 {
	return 2 * l.massKg * l.pivot * l.com * math.Sin(l.comAngle+turn) / 1000
}

// Steps of the tables: a fiftieth of a distributor degree, up to 24.
const (
	stepDeg = 0.02
	mostDeg = 24
	steps   = mostDeg / stepDeg
	radian  = math.Pi / 180
)

// pullTable is the torque on the cam plate for each (rad/s)², every stepDeg;
// nil where the plate cannot turn so far. By virtual work it is the moment of
// the weights times their turn per turn of the plate.
func (l link) pullTable() []float64 {
	table, turn := make([]float64, steps+1), 0.0
	for i := range table {
		want := float64(i) * stepDeg * radian
		for range 8 {
			slope := l.camSlope(turn)
			if slope < 0.15 { // the pin is about to pass the centre
				return nil
			}
			turn += (want - l.cam(turn)) / slope
		}
		if math.Abs(l.cam(turn)-want) > 1e-9 || l.comAngle+turn > 2.6 {
			return nil
		}
		table[i] = l.moment(turn) / l.camSlope(turn)
	}
	return table
}

// spring runs from a post on the turning plate, post mm from the shaft, to an
// arm of the cam plate, arm mm from it; angle lies between them at rest. Its
// pull is rate times what it is longer than free; never a push. A spring that
// rubs pulls more by the share bump between two advances (degrees).
type spring struct {
	rate, free       float64 // N/mm, mm
	post, arm, angle float64 // mm, mm, radians
	bump             float64
	bumpFrom, bumpTo float64
}

func (s spring) length(deg float64) float64 {
	return math.Sqrt(s.post*s.post + s.arm*s.arm - 2*s.post*s.arm*math.Cos(s.angle+deg*radian))
}

// lever is how many mm the spring lengthens for each radian of the cam plate.
func (s spring) lever(deg float64) float64 {
	return s.post * s.arm * math.Sin(s.angle+deg*radian) / s.length(deg)
}

func (s spring) torque(deg float64) float64 {
	pull := s.rate * math.Max(0, s.length(deg)-s.free)
	if s.bump > 0 && deg > s.bumpFrom && deg < s.bumpTo {
		pull *= 1 + s.bump*math.Sin(math.Pi*(deg-s.bumpFrom)/(s.bumpTo-s.bumpFrom))
	}
	if pull == 0 {
		return 0
	}
	return pull * s.lever(deg)
}

// takesUp is the advance, degrees, at which a slack spring begins to pull; 0
// for one that is taut at rest, past every stop for one that never does.
func (s spring) takesUp() float64 {
	low, high := 0.0, 60.0
	if s.rate == 0 || s.length(high) < s.free {
		return high
	}
	for range 50 {
		if middle := (low + high) / 2; s.length(middle) < s.free {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// unit is one distributor's governor.
type unit struct {
	link               link
	pull               []float64 // of link, N mm per (rad/s)²
	pullScale          float64
	primary, secondary spring
	limit              float64  // distributor degrees
	stiction           float64  // dry friction at the sleeve, N mm
	rub                float64  // dry friction at pivots and pins, share of the weights' pull
	seized             *float64 // held at this advance at every speed
}

func perSecond(distRPM float64) float64 { return distRPM * 2 * math.Pi / 60 }
func perMinute(omega float64) float64   { return omega * 60 / (2 * math.Pi) }

// pullAt reads the table of the weights' pull.
func (u unit) pullAt(deg float64) float64 {
	x := math.Min(deg, mostDeg-stepDeg) / stepDeg
	i := int(x)
	return u.pullScale * (u.pull[i] + (x-float64(i))*(u.pull[i+1]-u.pull[i]))
}

// needs is the speed squared (rad/s)² at which the weights hold the plate at
// this advance: creeping outward (way 1), inward (way −1) or without friction.
//
//	ω² pull (1 − way rub) = springs + way stiction
func (u unit) needs(deg, way float64) float64 {
	springs := u.primary.torque(deg) + u.secondary.torque(deg)
	return math.Max(0, springs+way*u.stiction) / (u.pullAt(deg) * (1 - way*u.rub))
}

// curve is a governor's advance over speed, tabulated.
type curve struct {
	limit           float64
	rising, falling []float64 // speed squared needed at each step of advance
	middle          []float64 // the same without friction
	seized          *float64
}

// curve tabulates the speeds that are needed. Where less speed would hold a
// greater advance the plate flies on, so outward the greatest need up to an
// advance counts, and inward the least need beyond it.
func (u unit) curve() *curve {
	n := int(math.Ceil(u.limit/stepDeg)) + 1
	c := &curve{limit: u.limit, seized: u.seized}
	c.rising, c.falling, c.middle = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		deg := math.Min(float64(i)*stepDeg, u.limit)
		c.rising[i], c.falling[i], c.middle[i] = u.needs(deg, 1), u.needs(deg, -1), u.needs(deg, 0)
	}
	for i := 1; i < n; i++ {
		c.rising[i], c.middle[i] = math.Max(c.rising[i], c.rising[i-1]), math.Max(c.middle[i], c.middle[i-1])
		if j := n - 1 - i; c.falling[j] > c.falling[j+1] {
			c.falling[j] = c.falling[j+1]
		}
	}
	return c
}

// at is the advance at a speed, distributor degrees and rpm, as speed rises
// from rest or falls from the top.
func (c *curve) at(distRPM float64, falling bool) float64 {
	if falling {
		return c.on(c.falling, distRPM)
	}
	return c.on(c.rising, distRPM)
}

// free is the advance without friction.
func (c *curve) free(distRPM float64) float64 { return c.on(c.middle, distRPM) }

func (c *curve) on(table []float64, distRPM float64) float64 {
	if c.seized != nil {
		return *c.seized
	}
	square := math.Pow(perSecond(distRPM), 2)
	i := sort.Search(len(table), func(i int) bool { return table[i] >= square })
	switch {
	case i == 0:
		return 0
	case i == len(table):
		return c.limit
	}
	part := (square - table[i-1]) / (table[i] - table[i-1])
	return math.Min(c.limit, (float64(i-1)+part)*stepDeg)
}

// startRPM, kneeRPM, limitRPM are the corners without friction, distributor
// rpm: the weights move, the secondary takes up, the stop is met.
func (u unit) startRPM() float64       { return perMinute(math.Sqrt(u.needs(0, 0))) }
func (u unit) risingStartRPM() float64 { return perMinute(math.Sqrt(u.needs(0, 1))) }
func (u unit) kneeRPM() float64 {
	return perMinute(math.Sqrt(u.needs(math.Min(u.secondary.takesUp(), u.limit), 0)))
}
func (u unit) limitRPM() float64 { return perMinute(math.Sqrt(u.needs(u.limit, 0))) }
