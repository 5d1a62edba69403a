package figures

import (
	"fmt"
	"slices"
	"strings"
)

// takeSpec makes a row of the book's table.
func (r *reader) takeSpec(row Row, found figures) string {
	least, most := found.of(isMin), found.of(isMax)
	if f := found.of(isDeg); f.kind != isEmpty {
		if f.kind != isAtMost {
			row.MinDeg = &f.low
		}
		if f.kind != isAtLeast {
			row.MaxDeg = &f.high
		}
	}
	if least.kind == isBand || least.kind == isAtMost || most.kind == isBand || most.kind == isAtLeast {
		return "a least or a most is itself a band or a bound of the other kind"
	}
	if found.of(isRising).kind != isEmpty || found.of(isFalling).kind != isEmpty {
		return "has a rising or falling figure; a book's table has one band for each speed"
	}
	if least.kind != isEmpty {
		row.MinDeg = &least.low
	}
	if most.kind != isEmpty {
		row.MaxDeg = &most.low
	}
	if row.MinDeg != nil && row.MaxDeg != nil {
		switch {
		case *row.MinDeg < *row.MaxDeg:
			r.ordered++
		case *row.MinDeg == *row.MaxDeg:
		case r.answer("leastMost") == "swap":
			row.MinDeg, row.MaxDeg = row.MaxDeg, row.MinDeg
		default:
			r.reversed++
			return fmt.Sprintf("the least, %g, is more than the most, %g", *row.MinDeg, *row.MaxDeg)
		}
	}
	r.built = append(r.built, row)
	return ""
}

// takeReadings makes one reading of a row, or two where it has one rising and
// one falling.
func (r *reader) takeReadings(row Row, found figures) string {
	if found.of(isMin).kind != isEmpty || found.of(isMax).kind != isEmpty {
		return "has a least or a most; a reading is one figure"
	}
	taken := 0
	for _, is := range []string{isDeg, isRising, isFalling} {
		f := found.of(is)
		switch f.kind {
		case isEmpty:
			continue
		case isAtLeast, isAtMost:
			return "has only a bound; a reading is one figure"
		case isBand:
			r.bands++
			if r.answer("bands") != "middle" {
				return fmt.Sprintf("has a band, %g to %g; a reading is one figure", f.low, f.high)
			}
		}
		one, x := row, (f.low+f.high)/2
		one.Deg = &x
		switch is {
		case isRising:
			one.Direction = rising
		case isFalling:
			one.Direction = falling
		}
		r.built = append(r.built, one)
		taken++
	}
	return ""
}

// Words of the columns that hold words (common practice).
var wordsOf = map[string]map[string]string{
	isDirection: {"rising": rising, "up": rising, "increasing": rising, "r": rising, "going up": rising,
		"↑": rising, "+": rising,
		"falling": falling, "down": falling, "decreasing": falling, "f": falling, "going down": falling, "↓": falling},
	isPlace: {"bench": "bench", "on the bench": "bench", "car": "car", "on the car": "car", "in the car": "car"},
	isVacuum: {"off": "off", "no": "off", "plugged": "off", "disconnected": "off", "off and plugged": "off",
		"connected": "connected", "on": "connected", "yes": "connected"},
}

// word reads a cell of words into the row.
func (row *Row) word(is, cell string) string {
	if is == isNote {
		row.Note = cell
		return ""
	}
	words, has := wordsOf[is]
	text := strings.ToLower(strings.TrimSpace(cell))
	if !has || nothing[text] {
		return ""
	}
	meant, known := words[text]
	if !known {
		return fmt.Sprintf("“%s” under %s is not known", shortened(strings.TrimSpace(cell)), is)
	}
	switch is {
	case isDirection:
		row.Direction = meant
	case isPlace:
		row.Place = meant
	case isVacuum:
		row.Vacuum = meant
	}
	return ""
}

// findWhat finds whether it is the book's table or readings.
func (r *reader) findWhat() {
	shown := ""
	for _, c := range r.cols {
		switch c.is {
		case isMin, isMax:
			shown = spec
		case isRising, isFalling, isDirection, isPlace, isVacuum:
			if shown == "" {
				shown = readings
			}
		}
	}
	if shown == "" && r.mostlyBands() {
		shown = spec
	}
	r.out.What = r.agreed("what", r.in.Hints.What, shown, false)
	isOne := slices.ContainsFunc(r.cols, func(c column) bool { return c.is == isDeg }) && !r.mostlyBands()
	if r.out.What == spec && isOne {
		r.note("one-figure", "The table has one figure for a speed. It was taken for the least and the most.")
	}
}

func (r *reader) mostlyBands() bool {
	bands, all := 0, 0
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		for i := range min(len(rec.cells), len(r.cols)) {
			if !degrees(r.cols[i].is) {
				continue
			}
			f := parse(rec.cells[i], point)
			if !f.isNumeric() {
				f = parse(rec.cells[i], comma)
			}
			all += one(f.isNumeric())
			bands += one(f.kind > isFigure)
		}
	}
	return bands*2 > all
}

// findUnits finds the shafts and the base from answers, hints and heads.
func (r *reader) findUnits() {
	angle, speed, base := "", "", ""
	tornAngle, tornSpeed, tornBase := false, false, false
	meet := func(have *string, torn *bool, other string, both bool) {
		*torn = *torn || both || *have != "" && other != "" && *have != other
		if other != "" {
			*have = other
		}
	}
	for _, c := range r.cols {
		switch {
		case c.is == isSpeed:
			meet(&speed, &tornSpeed, c.said.shaft(true), c.said.isBoth())
		case degrees(c.is):
			meet(&angle, &tornAngle, c.said.shaft(false), c.said.isBoth())
			meet(&base, &tornBase, c.said.base(), c.said.without && (c.said.within || c.said.total))
		}
	}
	r.out.AngleUnit = r.agreed("angleUnit", r.in.Hints.AngleUnit, angle, tornAngle)
	r.out.SpeedUnit = r.agreed("speedUnit", r.in.Hints.SpeedUnit, speed, tornSpeed)
	r.out.Base = r.agreed("base", r.in.Hints.Base, base, tornBase)
}

// agreed is the answer; else the hint and what the table says, where they do
// not differ; else it is asked, and empty.
func (r *reader) agreed(id, hint, shown string, torn bool) string {
	if a := r.answer(id); a != "" {
		return a
	}
	switch {
	case torn:
		r.askOf(id, "The heads of the table say both.")
	case hint != "" && shown != "" && hint != shown:
		r.askOf(id, fmt.Sprintf("You said %s, the table looks like %s.", hint, shown))
	case hint != "":
		return hint
	case shown != "":
		return shown
	default:
		r.askOf(id, "Neither you nor the heads of the table say it.")
	}
	return ""
}
