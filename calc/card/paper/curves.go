package paper

import (
	"cmp"
	"slices"

	"pointsmith/calc/advance"
	"pointsmith/calc/card"
)

// at is one figure of the curve, in crank degrees at engine speed.
type at struct{ engineRPM, crankDeg float64 }

// curve is one set of readings, ready to be drawn.
type curve struct {
	name            string
	rising, falling []at
}

// row is one row of the book; an edge the book does not name is missing.
type row struct {
	engineRPM float64
	min, max  *float64
}

// plot is all that the figure shows, in one quantity: totals before TDC, or
// the advance above the base.
type plot struct {
	isTotal bool
	book    []row
	curves  []curve
	leftOut int // sets whose base nobody said, so that they cannot be brought to this quantity
}

// usualRatio is engine turns per turn of the distributor of a four-stroke.
const usualRatio = 2

// plotOf brings book and readings to crank degrees at engine speed:
//
//	crank degrees = distributor degrees × ratio, engine rpm = distributor rpm × ratio
//	total before TDC = base + advance
//
// The figure shows the advance where any readings leave the base out, because
// the bench knows none; else totals. The base put in or taken off is the
// static figure of the readings, else as it was set, else the book's.
func plotOf(c card.Card) plot {
	p := plot{isTotal: !slices.ContainsFunc(c.Curves, func(s advance.Set) bool { return s.Base == "excluded" })}
	if len(c.Curves) == 0 && c.Spec != nil {
		p.isTotal = c.Spec.Base == "included"
	}
	ratio := usualRatio * 1.0
	if c.Spec != nil && c.Spec.DriveRatio != nil {
		ratio = *c.Spec.DriveRatio
	}
	for _, set := range c.Curves {
		shift, isKnown := p.shift(set.Base == "included", baseOf(c, set.StaticCrankDeg))
		if !isKnown {
			p.leftOut++
			continue
		}
		p.curves = append(p.curves, curveOf(set, ratio, shift))
	}
	if c.Spec != nil {
		p.book = p.bookOf(*c.Spec, ratio)
	}
	return p
}

// shift is what turns figures with or without their base into the plot's.
func (p plot) shift(isTotal bool, base *float64) (crankDeg float64, isKnown bool) {
	switch {
	case isTotal == p.isTotal:
		return 0, true
	case base == nil:
		return 0, false
	case p.isTotal:
		return *base, true
	}
	return -*base, true
}

func baseOf(c card.Card, static *float64) *float64 {
	switch {
	case static != nil:
		return static
	case c.AsSet != nil && c.AsSet.StaticCrankDeg != nil:
		return c.AsSet.StaticCrankDeg
	case c.Spec != nil:
		return c.Spec.BaseCrankDeg
	}
	return nil
}

func curveOf(set advance.Set, ratio, shift float64) curve {
	out := curve{name: nameOf(set)}
	scale := scaleOf(set.AngleUnit == "crank", ratio)
	faster := scaleOf(set.SpeedUnit == "engine", ratio)
	for _, p := range set.Points {
		one := at{p.RPM * faster, p.Deg*scale + shift}
		if p.Direction == "falling" {
			out.falling = append(out.falling, one)
		} else {
			out.rising = append(out.rising, one)
		}
	}
	out.rising, out.falling = bySpeed(out.rising), bySpeed(out.falling)
	return out
}

func nameOf(set advance.Set) string {
	switch {
	case set.Name != "":
		return set.Name
	case set.Place == "bench":
		return "on the bench"
	}
	return "on the car"
}

func scaleOf(isAlready bool, ratio float64) float64 {
	if isAlready {
		return 1
	}
	return ratio
}

// bySpeed puts points in order of speed, and makes one of those at the same.
func bySpeed(points []at) []at {
	slices.SortStableFunc(points, func(a, b at) int { return cmp.Compare(a.engineRPM, b.engineRPM) })
	var out []at
	for i := 0; i < len(points); {
		sum, n := 0.0, 0
		for ; i+n < len(points) && points[i+n].engineRPM == points[i].engineRPM; n++ {
			sum += points[i+n].crankDeg
		}
		out = append(out, at{points[i].engineRPM, sum / float64(n)})
		i += n
	}
	return out
}

func (p plot) bookOf(s advance.Spec, ratio float64) []row {
	shift, isKnown := p.shift(s.Base == "included", s.BaseCrankDeg)
	if !isKnown {
		return nil
	}
	scale, faster := scaleOf(s.AngleUnit == "crank", ratio), scaleOf(s.SpeedUnit == "engine", ratio)
	edge := func(deg *float64) *float64 {
		if deg == nil {
			return nil
		}
		return new(*deg*scale + shift)
	}
	var rows []row
	for _, one := range s.Points {
		rows = append(rows, row{one.RPM * faster, edge(one.MinDeg), edge(one.MaxDeg)})
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.engineRPM, b.engineRPM) })
	return rows
}

// all gives every figure that the axes have to hold.
func (p plot) all() []at {
	var out []at
	for _, c := range p.curves {
		out = append(append(out, c.rising...), c.falling...)
	}
	for _, r := range p.book {
		for _, edge := range []*float64{r.min, r.max} {
			if edge != nil {
				out = append(out, at{r.engineRPM, *edge})
			}
		}
	}
	return out
}
