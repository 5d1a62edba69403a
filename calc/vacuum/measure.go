package vacuum

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

const (
	// readingError is what a bench ring is read to, distributor degrees
	// (common practice).
	readingError = 0.5
	rounding     = 1e-6
)

// gather turns readings into points and judges each.
func (c *court) gather() *refuse.Error {
	c.runs = map[string][]point{}
	for i, r := range c.in.Readings {
		if (r.DistDeg == nil) == (r.CrankDeg == nil) {
			return refuse.Input(fmt.Sprintf("readings[%d].distDeg", i),
				"one of distDeg and crankDeg is wanted, not both or none", "one of the two",
				"give the one that was read")
		}
		p := JudgedPoint{Reading: i, KPa: r.KPa, Direction: cmp.Or(r.Direction, "rising"), Verdict: finding.Unknown}
		if r.DistDeg != nil {
			p.MeasuredDistDeg = *r.DistDeg
		} else {
			p.MeasuredDistDeg = *r.CrankDeg / c.ratio
		}
		if len(c.band) > 0 {
			low, high := c.band.at(r.KPa)
			p.MinDistDeg, p.MaxDistDeg, p.DeviationDistDeg = &low, &high, outside(p.MeasuredDistDeg, low, high)
			p.Verdict = pointVerdict(p.DeviationDistDeg)
		}
		c.out.Points = append(c.out.Points, p)
		c.runs[p.Direction] = append(c.runs[p.Direction], point{p.KPa, p.MeasuredDistDeg})
	}
	for _, run := range c.runs {
		slices.SortStableFunc(run, func(a, b point) int { return cmp.Compare(a.kPa, b.kPa) })
	}
	return nil
}

func outside(x, low, high float64) float64 {
	switch {
	case x > high:
		return x - high
	case x < low:
		return x - low
	}
	return 0
}

func pointVerdict(deviation float64) string {
	switch d := math.Abs(deviation); {
	case d <= rounding:
		return finding.Pass
	case d <= readingError+rounding:
		return finding.Watch
	}
	return finding.Fail
}

// measure finds start, full and max while rising, slope and hysteresis.
func (c *court) measure() {
	run := c.runs["rising"]
	if len(run) == 0 {
		run = c.runs["falling"]
	}
	if len(run) == 0 {
		return
	}
	most := run[0].deg
	for _, p := range run {
		most = math.Max(most, p.deg)
	}
	c.out.Measured.MaxDistDeg = &most
	if most > readingError {
		c.out.Measured.StartKPa = c.startOf(run)
		c.out.Measured.FullKPa = fullOf(run, most)
	}
	if s, f := c.out.Measured.StartKPa, c.out.Measured.FullKPa; s != nil && f != nil && *f > *s {
		slope := most / (*f - *s)
		c.out.SlopeDistDegPerKPa = &slope
	}
	c.out.HysteresisDistDeg = hysteresis(c.runs["rising"], c.runs["falling"])
}

// startOf draws the line through the first two readings that moved, the second
// higher than the first, down to no movement; it lies between the last reading
// that did not move and the first that did. With one such reading only, the
// start is known where those two stand within an inch of mercury (the tolerance
// of the trade on a start); further apart it is asked for.
func (c *court) startOf(run []point) *float64 {
	i := slices.IndexFunc(run, func(p point) bool { return p.deg > readingError })
	if i < 1 { // it had moved at the first reading already
		return nil
	}
	last, first := run[i-1], run[i]
	if i+1 < len(run) && run[i+1].deg > first.deg+readingError/2 {
		start := first.kPa - first.deg*(run[i+1].kPa-first.kPa)/(run[i+1].deg-first.deg)
		start = math.Min(first.kPa, math.Max(last.kPa, start))
		return &start
	}
	if first.kPa-last.kPa > inHg+rounding {
		c.ask(fmt.Sprintf(
			"Where does it begin? Still at %s, moved %.1f distributor degrees at %s: read twice between the two.",
			both(last.kPa), first.deg, both(first.kPa)))
		return nil
	}
	start := (last.kPa + first.kPa) / 2
	return &start
}

// fullOf is the lowest vacuum with the whole movement, seen only where a
// higher vacuum moved it no further.
func fullOf(run []point, most float64) *float64 {
	for i, p := range run {
		if p.deg >= most-readingError/2 && i+1 < len(run) {
			return &p.kPa
		}
	}
	return nil
}

// hysteresis is falling less rising at one vacuum, the figure of largest
// size, where both runs have readings or lie around them.
func hysteresis(rising, falling []point) *float64 {
	var worst *float64
	for _, p := range falling {
		up, ok := between(rising, p.kPa)
		if !ok {
			continue
		}
		if d := p.deg - up; worst == nil || math.Abs(d) > math.Abs(*worst) {
			worst = &d
		}
	}
	return worst
}

// between reads a run at a vacuum, straight between its points.
func between(run []point, kPa float64) (float64, bool) {
	for i, p := range run {
		if p.kPa == kPa {
			return p.deg, true
		}
		if i > 0 && run[i-1].kPa < kPa && kPa < p.kPa {
			x := (kPa - run[i-1].kPa) / (p.kPa - run[i-1].kPa)
			return run[i-1].deg + x*(p.deg-run[i-1].deg), true
		}
	}
	return 0, false
}
