package advance

import (
	"math"
)

// suspicion is a mistake of entry the readings look like.
type suspicion struct {
	name   string
	set    int
	both   bool    // angle and speed are off together
	offset float64 // for the base and vacuum ones, crank degrees
}

// trial is one supposed mistake: what the true figures would be, as a share
// of those entered.
type trial struct {
	name         string
	angle, speed float64
}

var trials = []trial{
	{"angle-doubled", 0.5, 1}, {"angle-halved", 2, 1},
	{"speed-doubled", 1, 0.5}, {"speed-halved", 1, 2},
	{"angle-doubled", 0.5, 0.5}, {"angle-halved", 2, 2},
}

// A trial counts when at least nine readings in ten fall into the band under
// it and no more than six in ten as entered, over at least two fifths of the
// curve (chosen on the table of judged cases).
const (
	trialFits = 0.9
	asReadOff = 0.6
	trialSpan = 0.4
	bothRMS   = 0.4 // with both units wrong a strong spring can look the same: the readings must run close to the middle
)

// findSuspicion tries each set under each mistake.
func (c *court) findSuspicion() {
	for i, set := range c.sets {
		run := pick(c.usable, func(r reading) bool { return r.set == i })
		if len(run) < 3 {
			continue
		}
		if c.signTurned(run) {
			c.suspect = suspicion{name: signTurned, set: i}
			if c.base.how == "bench and car" {
				c.base = baseFinding{}
				c.out.BaseCrankDeg, c.out.BaseLowCrankDeg, c.out.BaseHighCrankDeg, c.out.BaseOffsetCrankDeg, c.out.Basis = nil, nil, nil, nil, ""
				c.countInBand()
			}
			return
		}
		s := c.unitMistake(run)
		if s.name == "" {
			s = c.baseMistake(run)
		}
		if v := c.vacuumOn(run); set.Place == "car" && v.name != "" && (s.name == "" || v.offset > 14) {
			s = v
		}
		if s.name != "" {
			s.set = i
			c.suspect = s
			c.out.Suspicion = s.name
			return
		}
	}
}

// signTurned is no word of the answer's suspicion, whose list is fixed: the
// finding and the verdict say it.
const signTurned = "sign-turned"

// signTurned: readings without base, none above zero, that go down as the
// speed goes up by more than two readings can be misread. Weights never give
// less advance for more speed: the ring was read the wrong way.
func (c *court) signTurned(run []reading) bool {
	last := run[0]
	for _, r := range run {
		if r.withBase || r.deg > rounding {
			return false
		}
		if r.rpm > last.rpm {
			last = r
		}
	}
	return last.deg < run[0].deg-2*last.err // run is sorted by speed
}

// unitMistake looks for figures that are half or double what their stated
// unit should give.
func (c *court) unitMistake(run []reading) suspicion {
	asRead, rmsAsRead := inside(c.deviations(run, 0))
	if asRead > asReadOff {
		return suspicion{}
	}
	best, bestRMS := suspicion{}, math.Inf(1)
	for _, t := range trials {
		devs := c.deviations(scaled(run, t), 0)
		share, rms := inside(devs)
		if share < trialFits || span(devs) < trialSpan || rms >= bestRMS {
			continue
		}
		if t.angle != 1 && t.speed != 1 && rms > bothRMS {
			continue
		}
		if c.plausible(t, run[0]) {
			best, bestRMS = suspicion{name: t.name, both: t.angle != 1 && t.speed != 1}, rms
		}
	}
	if best.name == "" || bestRMS > 0.7*rmsAsRead {
		return suspicion{}
	}
	shifted := shapeFinding{devs: c.deviations(run, 0)}
	if shifted.constant() { // a moved base explains them as well: let that stand unless the mistake fits far better
		if _, rms := inside(c.deviations(run, shifted.offset)); bestRMS > 0.7*rms {
			return suspicion{}
		}
	}
	return best
}

// plausible refuses a speed mistake that the stated unit cannot hold. Engine
// rpm written down as distributor rpm come out doubled, the other way round
// halved; a bench that shows its own shaft's speed makes no such mistake, and
// springs that are too weak or too strong look much the same. The thought is
// then kept for what would disprove a fault of the curve, not raised as a
// suspicion.
func (c *court) plausible(t trial, r reading) bool {
	if t.speed == 1 || t.angle != 1 {
		return true
	}
	if (c.sets[r.set].SpeedUnit == "distributor") == (t.speed < 1) {
		return true
	}
	c.otherShaft = true
	return false
}

func scaled(run []reading, t trial) []reading {
	out := make([]reading, len(run))
	for i, r := range run {
		r.deg, r.rpm = r.deg*t.angle, r.rpm*t.speed
		out[i] = r
	}
	return out
}

// inside gives the share of readings in the widened band, and their root mean
// square distance from its middle in units of its half width.
func inside(devs []dev) (share, rms float64) {
	for _, d := range devs {
		if !d.out() {
			share++
		}
		rel := d.offMid / ((d.high-d.low)/2 + d.err)
		rms += rel * rel
	}
	n := float64(len(devs))
	return share / n, math.Sqrt(rms / n)
}

// baseMistake: readings all off by just the book's base look as if the base
// had been counted twice, or left out.
func (c *court) baseMistake(run []reading) suspicion {
	if c.band.base == nil || abs(*c.band.base) < 3 { // below three degrees (chosen) it cannot be told from a moved base
		return suspicion{}
	}
	f := classify(c.deviations(run, 0))
	if f.shape != "base-only" || classify(c.deviations(run, c.lampOffset(run))).shape != "base-only" { // a base the lamp has proved is counted once
		return suspicion{}
	}
	const near = 1.5 // crank degrees between the offset and the base; chosen: reading error and half the play of a band
	switch b := *c.band.base; {
	case abs(f.offset-b) <= near:
		return suspicion{name: "base-twice", offset: f.offset}
	case abs(f.offset+b) <= near:
		return suspicion{name: "base-missing", offset: f.offset}
	}
	return suspicion{}
}

// A capsule at work adds at least this, crank degrees, once its pipe sees
// vacuum on a free-revving engine (common practice: 4 to 15 distributor
// degrees).
const vacuumLeast = 8

// vacuumOn: everything high by much the same large amount (manifold vacuum),
// or everything but idle (a port above the throttle), to the very top. What
// the lamp has proved to be base is no capsule.
func (c *court) vacuumOn(run []reading) suspicion {
	s := c.highThroughout(c.deviations(run, 0))
	if s.name == "" || c.highThroughout(c.deviations(run, c.lampOffset(run))).name == "" {
		return suspicion{}
	}
	return s
}

func (c *court) highThroughout(devs []dev) suspicion {
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	high := 0
	for _, d := range devs {
		if idleOnly([]reading{d.reading}, c.band) && !d.out() {
			continue
		}
		high++
		least, most, sum = math.Min(least, d.offMid), math.Max(most, d.offMid), sum+d.offMid
	}
	if high < 2 || high < len(devs)/2 || least < vacuumLeast || most-least > 10 {
		return suspicion{}
	}
	mean := sum / float64(high)
	if v := c.spec.VacuumMaxDistDeg; v != nil && abs(mean-*v*c.band.ratio) > 5 {
		return suspicion{}
	}
	return suspicion{name: "vacuum-connected", offset: mean}
}
