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
	tolerance      float64 // crank degrees either side of the base
	inTable        bool    // the table holds the base: it says itself how wide it is
}

func bandOf(s Spec) (*band, *refuse.Error) {
	if bad := s.check(); bad != nil {
		return nil, bad.Under("spec")
	}
	b := &band{base: s.BaseCrankDeg, ratio: s.ratio(), tolerance: s.BaseToleranceCrankDeg, inTable: s.Base == "included"}
	if s.NoAdvanceBelowRPM != nil {
		b.noAdvanceBelow = *s.NoAdvanceBelowRPM * s.speedFactor()
	}
	points, _ := s.sorted()
	var table []knot
	for _, p := range points {
		table = append(table, knot{p.RPM * s.speedFactor(), p.MinDeg * s.angleFactor(), p.MaxDeg * s.angleFactor()})
	}
	if s.Base == "excluded" {
		b.advance = b.startAt(table, 0)
		if b.base != nil {
			b.total = raised(b.advance, *b.base-b.tolerance, *b.base+b.tolerance)
		}
		return b, nil
	}
	b.total = table
	if b.base != nil {
		b.total = b.startAt(table, *b.base)
		b.advance = raised(b.total, -*b.base, -*b.base)
	}
	return b, nil
}

// startAt puts the corner of "no advance below" in front of the table: there
// the advance is none, so the figure is level (0, or the base where the table
// holds it). A row printed at that very speed stays as it is printed.
func (b *band) startAt(table []knot, level float64) []knot {
	if b.noAdvanceBelow <= 0 {
		return table
	}
	for i, k := range table {
		if k.rpm == b.noAdvanceBelow {
			return table[i:]
		}
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
// end value above the last of them (held). Below the first it is what the
// weights at rest give where the book says that they rest, and where the book
// is silent only what is possible.
func (b *band) at(rpm float64, withBase bool) (low, high float64, held bool) {
	first := b.knots(withBase)[0]
	if rpm >= first.rpm {
		return interpolate(b.knots(withBase), rpm)
	}
	if !b.silent(rpm) {
		low, high = b.atRest(withBase, !b.inTable)
		return low, high, true
	}
	if withBase && b.base == nil {
		return min(leastBase, first.low), first.high, true
	}
	low, high = b.atRest(withBase, true)
	return min(low, first.low), max(high, first.high), true
}

// leastBase is the latest base a spec may name, crank degrees: all that is
// known of a total below the table while the base is not.
const leastBase = -30

// atRest is the figure with the weights home: no advance. A table that holds
// the base is not widened by its tolerance; what is possible below it is.
func (b *band) atRest(withBase, widened bool) (low, high float64) {
	switch {
	case !withBase:
		return 0, 0
	case !widened:
		return *b.base, *b.base
	}
	return *b.base - b.tolerance, *b.base + b.tolerance
}

// silent tells whether the book says nothing at an engine speed: below its
// first row, without "no advance below" (or with it, where the table holds a
// base that is not known). There the advance lies between none and the first
// row's most; which of them only the unit knows.
func (b *band) silent(rpm float64) bool {
	k := b.total
	if len(k) == 0 {
		k = b.advance
	}
	return rpm < k[0].rpm && (b.noAdvanceBelow <= 0 || b.inTable && b.base == nil)
}

// printed gives the band as the contract words it: the end value held on both
// sides of the table.
func (b *band) printed(rpm float64, withBase bool) (low, high float64, held bool) {
	if b.silent(rpm) {
		return interpolate(b.knots(withBase), rpm)
	}
	return b.at(rpm, withBase)
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
	if b.silent(rpm) {
		return fmt.Sprintf("the book is silent below its first speed (%.0f engine rpm); its value there is held, and a reading is low only below the base", k[0].rpm)
	}
	if rpm < k[0].rpm {
		return fmt.Sprintf("the book says no advance below %.0f engine rpm", b.noAdvanceBelow)
	}
	return fmt.Sprintf("above the book's last speed (%.0f engine rpm); its value is held as the maximum", k[len(k)-1].rpm)
}
