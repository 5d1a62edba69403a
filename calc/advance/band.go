package advance

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// knot is a corner of the band: crank degrees at an engine speed.
type knot struct{ rpm, low, high float64 }

// band is the book's table in crank degrees at engine rpm. total holds the
// base, advance does not; one of them is empty when the base is not known.
type band struct {
	total, advance []knot
	base           *float64
	ratio          float64
	noAdvanceBelow float64 // engine rpm; 0 when the book does not say
}

func bandOf(s Spec) (*band, *refuse.Error) {
	if bad := s.check(); bad != nil {
		return nil, bad.Under("spec")
	}
	b := &band{base: s.BaseCrankDeg, ratio: s.ratio()}
	points, _ := s.sorted()
	var table []knot
	for _, p := range points {
		table = append(table, knot{p.RPM * s.speedFactor(), p.MinDeg * s.angleFactor(), p.MaxDeg * s.angleFactor()})
	}
	var tolerance float64
	if s.Base == "excluded" {
		tolerance = s.BaseToleranceCrankDeg
		b.advance = b.startAt(s, table, 0)
		if b.base != nil {
			b.total = raised(b.advance, *b.base-tolerance, *b.base+tolerance)
		}
		return b, nil
	}
	b.total = table
	if b.base != nil {
		b.total = b.startAt(s, table, *b.base)
		b.advance = raised(b.total, -*b.base, -*b.base)
	}
	return b, nil
}

// startAt puts the corner of "no advance below" in front of the table: there
// the advance is none, so the figure is level (0, or the base where the table
// holds it).
func (b *band) startAt(s Spec, table []knot, level float64) []knot {
	if s.NoAdvanceBelowRPM == nil || *s.NoAdvanceBelowRPM <= 0 {
		return table
	}
	b.noAdvanceBelow = *s.NoAdvanceBelowRPM * s.speedFactor()
	for i, k := range table {
		if k.rpm > b.noAdvanceBelow {
			return append([]knot{{b.noAdvanceBelow, level, level}}, table[i:]...)
		}
	}
	return table
}

func raised(table []knot, low, high float64) []knot {
	out := make([]knot, len(table))
	for i, k := range table {
		out[i] = knot{k.rpm, k.low + low, k.high + high}
	}
	return out
}

// knots gives the corners with or without the base.
func (b *band) knots(withBase bool) []knot {
	if withBase {
		return b.total
	}
	return b.advance
}

// need refuses a comparison for which the book's base is wanted but not known.
func (b *band) need(withBase bool) *refuse.Error {
	if len(b.knots(withBase)) > 0 {
		return nil
	}
	return refuse.Input("spec.baseCrankDeg", "is missing; the table and the question do not both hold the base timing",
		"crank degrees, before TDC positive", "give the book's static figure, or mark both as with or both as without base")
}

// at gives the band at an engine speed: a straight line between corners, the
// end value outside them (held).
func (b *band) at(rpm float64, withBase bool) (low, high float64, held bool) {
	return interpolate(b.knots(withBase), rpm)
}

func interpolate(k []knot, rpm float64) (low, high float64, held bool) {
	last := k[len(k)-1]
	switch {
	case rpm <= k[0].rpm:
		return k[0].low, k[0].high, rpm < k[0].rpm
	case rpm >= last.rpm:
		return last.low, last.high, rpm > last.rpm
	}
	i := 1
	for k[i].rpm < rpm {
		i++
	}
	x := (rpm - k[i-1].rpm) / (k[i].rpm - k[i-1].rpm)
	return k[i-1].low + x*(k[i].low-k[i-1].low), k[i-1].high + x*(k[i].high-k[i-1].high), false
}

// heldNote says in words why the band holds an end value at this speed.
func (b *band) heldNote(rpm float64) string {
	k := b.total
	if len(k) == 0 {
		k = b.advance
	}
	if rpm < k[0].rpm {
		if b.noAdvanceBelow > 0 {
			return fmt.Sprintf("the book says no advance below %.0f engine rpm", b.noAdvanceBelow)
		}
		return fmt.Sprintf("below the book's first speed (%.0f engine rpm); its value is held", k[0].rpm)
	}
	return fmt.Sprintf("above the book's last speed (%.0f engine rpm); its value is held as the maximum", k[len(k)-1].rpm)
}
