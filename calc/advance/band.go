package advance

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/advance/infer"
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
	noAdvanceBelow float64      // engine rpm; 0 when the book does not say
	tolerance      float64      // crank degrees either side of the base
	printedTable   []knot       // the rows as printed; an edge the book leaves open is infinite
	inTable        bool         // the table holds the base: it says itself how wide it is
	sound          *infer.Sound // the governors that it allows, once they have been asked for
}

func bandOf(s Spec) (*band, *refuse.Error) {
	b, bad := printedBand(s)
	if bad != nil {
		return nil, bad
	}
	table := b.closed(s, b.printedTable)
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

// printedBand is the table as it is printed, with nothing concluded from it.
func printedBand(s Spec) (*band, *refuse.Error) {
	if bad := s.check(); bad != nil {
		return nil, bad.Under("spec")
	}
	b := &band{base: s.BaseCrankDeg, ratio: s.ratio(), tolerance: s.BaseToleranceCrankDeg,
		inTable: s.Base == "included"}
	if s.NoAdvanceBelowRPM != nil {
		b.noAdvanceBelow = *s.NoAdvanceBelowRPM * s.speedFactor()
	}
	points, _ := s.sorted()
	var table []knot
	for _, p := range points {
		k := knot{p.RPM * s.speedFactor(), math.Inf(-1), math.Inf(1)}
		if p.MinDeg != nil {
			k.low = *p.MinDeg * s.angleFactor()
		}
		if p.MaxDeg != nil {
			k.high = *p.MaxDeg * s.angleFactor()
		}
		table = append(table, k)
	}
	b.printedTable = table
	return b, nil
}

// closed puts, where the book names only a least or only a most, the other edge
// that sound governors through the rest of the table can reach.
func (b *band) closed(s Spec, table []knot) []knot {
	open := func(k knot) bool { return math.IsInf(k.low, -1) || math.IsInf(k.high, 1) }
	if !slices.ContainsFunc(table, open) {
		return table
	}
	rpm := make([]float64, len(table))
	for i, k := range table {
		rpm[i] = k.rpm
	}
	out := slices.Clone(table)
	for i, k := range b.allowed(s, rpm) {
		if math.IsInf(out[i].low, -1) {
			out[i].low = min(k.low, out[i].high)
		}
		if math.IsInf(out[i].high, 1) {
			out[i].high = max(k.high, out[i].low)
		}
	}
	return out
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
		"crank degrees, before TDC positive",
		"give the book's static figure, or mark both as with or both as without base")
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

// printed gives the band as the contract words it: a straight line between the
// rows, the end value held on both sides of the table, or no advance where the
// book says that there is none.
func (b *band) printed(rpm float64, withBase bool) (low, high float64, held bool) {
	k := b.knots(withBase)
	if rpm >= k[0].rpm || b.silent(rpm) {
		return interpolate(k, rpm)
	}
	switch {
	case !withBase:
		return 0, 0, true
	case b.inTable: // a table that holds the base says itself how wide it is
		return *b.base, *b.base, true
	}
	return *b.base - b.tolerance, *b.base + b.tolerance, true
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
		return fmt.Sprintf("the book gives no figure below its first speed (%.0f engine rpm); its first figure is used there",
			k[0].rpm)
	}
	if rpm < k[0].rpm {
		return fmt.Sprintf("the book says no advance below %.0f engine rpm", b.noAdvanceBelow)
	}
	return fmt.Sprintf("above the book's last speed (%.0f engine rpm); its last figure is used",
		k[len(k)-1].rpm)
}
