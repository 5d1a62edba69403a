package advance

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// baseFinding is where the base stands and how that is known.
type baseFinding struct {
	how       string // "", "static", "bench and car", "constant offset", "in band", "idle and book"
	value     float64
	low, high float64
	spread    float64 // bench and car: the middle one of how far the single speeds disagree
	at        []baseAt
}

// baseAt is the base computed at one speed from a car reading and the bench.
type baseAt struct{ rpm, car, bench, base float64 }

func (f baseFinding) known() bool { return f.how != "" }

// curveRun picks the readings that tell the shape: without base when there
// are any, in the direction the book lists (rising unless it says falling),
// else in the other direction.
func (c *court) curveRun(withBase bool) []reading {
	wantFalling := c.spec.ListedWhile == "falling"
	for _, falling := range []bool{wantFalling, !wantFalling} {
		run := pick(c.usable, func(r reading) bool { return r.withBase == withBase && r.falling == falling })
		if len(run) > 0 {
			return run
		}
	}
	return nil
}

// findBase looks for the base where something tells it apart from the curve:
// a static figure, or bench and car readings of the same curve. The two-car-
// readings cases (constant offset, in band) are added by findShape. A static
// figure that bench and car together, or another static figure, speak against
// is not dropped: then neither is taken.
func (c *court) findBase() {
	c.findStatic()
	if bench := c.curveRun(false); len(bench) > 0 {
		c.ringOff = shapeOf(c.deviations(bench, 0)).shape == "base-only"
	}
	both := c.benchAndCar()
	switch {
	case c.ringOff: // a moved zero would be taken for a moved base
	case c.clash != nil || !both.known():
	case both.spread > c.allowedSpread():
		c.wander = &both
	case c.base.how == "":
		c.base = both
	case len(both.at) >= 2:
		if k := c.lampAgainst(both); k != nil {
			c.clash, c.base = k, baseFinding{}
			return
		}
		c.base = both
	}
}

// findStatic takes the lamp's figure, the last where there are several that
// agree.
func (c *court) findStatic() {
	for _, set := range c.sets {
		if set.StaticCrankDeg == nil {
			continue
		}
		s, e := *set.StaticCrankDeg, set.readingError()
		if b := c.base; b.known() && abs(b.value-s) > (b.high-b.low)/2+e+rounding {
			c.clash = &clash{static: b.value, other: s, low: s - e, high: s + e, from: secondLamp, err: (b.high - b.low) / 2}
		}
		c.base = baseFinding{how: "static", value: s, low: s - e, high: s + e}
	}
	if c.clash != nil {
		c.base = baseFinding{}
	} else if c.base.known() {
		s := c.base.value
		c.lamp = &s
	}
}

// lampOffset is the lamp's base less the book's for readings that hold it; 0
// where no lamp was held to it.
func (c *court) lampOffset(run []reading) float64 {
	if c.lamp == nil || c.band.base == nil || !run[0].withBase {
		return 0
	}
	return *c.lamp - *c.band.base
}

// drivePlay is how far slack in chain, gears and drive may part lamp and
// strobe without either being misread, crank degrees (common practice: static
// timing is good to about one degree with them).
const drivePlay = 1

// lampAgainst: bench and car leave one base, and it lies farther from the
// lamp's than both can be misread and the drive can play.
func (c *court) lampAgainst(both baseFinding) *clash {
	s := c.base
	if abs(both.value-s.value) <= (both.high-both.low)/2+(s.high-s.low)/2+drivePlay {
		return nil
	}
	return &clash{static: s.value, other: both.value, low: both.low, high: both.high, from: byBoth, err: (s.high - s.low) / 2}
}

// benchAndCar takes the bench's advance off the car's reading at each speed:
//
//	base = car reading − advance on the bench at the same speed
//
// and gives the median with its 90 % range from both reading errors.
func (c *court) benchAndCar() baseFinding {
	var f baseFinding
	var bases []float64
	var variance float64
	for _, falling := range []bool{false, true} {
		way := func(withBase bool) []reading {
			return pick(c.usable, func(r reading) bool { return r.withBase == withBase && r.falling == falling })
		}
		bench := way(false)
		for _, r := range way(true) {
			deg, ok := measuredAt(bench, r.rpm)
			if !ok {
				continue
			}
			f.at = append(f.at, baseAt{r.rpm, r.deg, deg, r.deg - deg})
			bases = append(bases, r.deg-deg)
			variance += (r.err*r.err + bench[0].err*bench[0].err) / 4 // the stated error is two standard deviations
		}
	}
	n := float64(len(bases))
	if n == 0 {
		return f
	}
	f.how, f.value = "bench and car", median(bases)
	var off []float64
	for _, b := range bases {
		off = append(off, abs(b-f.value))
	}
	f.spread = median(off)
	seen := 1.483 * f.spread / math.Sqrt(n)                        // 1.483: standard deviation over median deviation of a normal law
	half := 1.645 * math.Max(seen, math.Sqrt(variance/n/n)) * 1.25 // 1.645: 90 % of a normal law; 1.25: a median's error against a mean's
	f.low, f.high = f.value-half, f.value+half
	return f
}

// report writes the base into the answer.
func (c *court) report(f baseFinding) {
	c.base = f
	value, low, high := f.value, f.low, f.high
	c.out.BaseCrankDeg, c.out.BaseLowCrankDeg, c.out.BaseHighCrankDeg = &value, &low, &high
	if c.band.base != nil {
		offset := value - *c.band.base
		c.out.BaseOffsetCrankDeg = &offset
	}
	c.out.Basis = c.basis(f)
}

func (c *court) basis(f baseFinding) string {
	switch f.how {
	case "static":
		return "the static figure proved with the lamp, engine stopped"
	case "bench and car":
		return fmt.Sprintf("the car's readings less the bench's advance at the same speeds (%s)", finding.Count(len(f.at), "speed", "speeds"))
	case "constant offset":
		return "one shift that brings every reading on the car into the book's band"
	case "in band":
		return "the car's readings less the middle of the book's advance, the curve taken to be as the book says"
	case "idle and book":
		return "the reading less what the book's own curve adds at that speed"
	}
	return ""
}

// idleOnly tells whether the car's readings are idle figures alone: all below
// a third of the curve (chosen), where nothing can be said about its shape.
func idleOnly(run []reading, b *band) bool {
	for _, r := range run {
		if b.share(r.rpm) > 1.0/3 {
			return false
		}
	}
	return len(run) > 0
}

// fromIdle takes the book's own advance off an idle figure:
//
//	base = idle reading − advance of the book at that speed (least to most)
//
// Where the book is silent that only bounds the base, and a base within the
// bounds is not known by it.
func (c *court) fromIdle(run []reading) baseFinding {
	f := baseFinding{how: "idle and book", low: math.Inf(-1), high: math.Inf(1)}
	told, least, most, possible := 0.0, math.Inf(-1), math.Inf(1), true
	for _, r := range run {
		low, high, _ := c.band.at(r.rpm, false)
		f.low, f.high = math.Max(f.low, r.deg-high-r.err), math.Min(f.high, r.deg-low+r.err)
		least, most = math.Max(least, r.deg-high), math.Min(most, r.deg-low)
		mid := (low + high) / 2
		low, high, _ = c.band.at(r.rpm, true)
		possible = possible && abs(outside(r.deg, low, high)) <= r.err+rounding
		if !c.band.silent(r.rpm) {
			f.value, told = f.value+r.deg-mid, told+1
		}
	}
	if f.low > f.high { // the idle figures disagree with one another beyond reading error
		c.idleApart = true
		return baseFinding{}
	}
	if told > 0 {
		f.value /= told
		return f
	}
	if possible {
		return baseFinding{}
	}
	f.value = math.Min(most, math.Max(least, *c.band.base))
	return f
}
