package figures

import (
	"fmt"
	"slices"
	"strings"
)

// findMark finds by which decimal mark figures with two readings are read: what
// other figures of the table show decides.
func (r *reader) findMark() {
	points, commas := 0, 0
	for _, rec := range r.table.rows {
		for i := range min(len(rec.cells), len(r.cols)) {
			if is := r.cols[i].is; is != isSpeed && !degrees(is) || !strings.ContainsAny(rec.cells[i], ".,") {
				continue
			}
			byPoint, byComma := parse(rec.cells[i], point), parse(rec.cells[i], comma)
			points += one(byPoint.isNumeric() && !byComma.isNumeric())
			commas += one(byComma.isNumeric() && !byPoint.isNumeric())
		}
	}
	r.out.Decimal = "none"
	switch said := r.said("decimal", r.in.Hints.Decimal); {
	case said == "each":
		r.out.Decimal = "mixed"
	case said == "point":
		r.mark, r.out.Decimal = point, said
	case said == "comma":
		r.mark, r.out.Decimal = comma, said
	case points > 0 && commas > 0:
		r.out.Decimal = "mixed"
		r.note("mixed-marks", "Some figures have a decimal point and some a decimal comma. Each was read in the one way it "+
			"can be read.")
	case points > 0:
		r.mark, r.out.Decimal = point, "point"
	case commas > 0:
		r.mark, r.out.Decimal = comma, "comma"
	}
}

// value reads a cell as what its column is.
func (r *reader) value(rec record, col int) (figure, string) {
	cell := rec.cells[col]
	if strings.ContainsRune(cell, unreadable) {
		if r.answer("unreadable") == "leave" {
			return figure{}, "a character of it could not be read"
		}
		r.noteOnce("unreadable", "A character that could not be read was taken for a degree sign.")
	}
	a := r.cols[col].parse(cell, point)
	if !strings.ContainsAny(cell, ".,") {
		return a, wrongCell(a, cell)
	}
	b := r.cols[col].parse(cell, comma)
	switch r.said("decimal", r.in.Hints.Decimal) {
	case "point":
		b = figure{kind: isText}
	case "comma":
		a = figure{kind: isText}
	}
	switch {
	case !b.isNumeric():
		return a, wrongCell(a, cell)
	case !a.isNumeric(), a == b:
		return b, wrongCell(b, cell)
	}
	return r.oneOfTwo(rec, a, b, r.cols[col].is), ""
}

// parse reads a cell of this column, with the factor its head names.
func (c column) parse(cell string, m mark) figure {
	f := parse(cell, m)
	if c.is == isSpeed && c.said.thousands {
		f.low, f.high = f.low*1000, f.high*1000
	}
	return f
}

// oneOfTwo chooses between the two readings of a cell: the only possible one,
// else the one other figures speak for, and asks where these differ.
func (r *reader) oneOfTwo(rec record, byPoint, byComma figure, is string) figure {
	fitsPoint, fitsComma := byPoint.fits(is), byComma.fits(is)
	if fitsPoint == fitsComma {
		if fitsPoint && r.mark == 0 {
			r.askDecimal(rec, is)
		}
		if r.mark == comma {
			return byComma
		}
		return byPoint
	}
	only, m := byPoint, point
	if fitsComma {
		only, m = byComma, comma
	}
	switch {
	case r.mark != 0 && r.mark != m:
		r.askDecimal(rec, is)
	case r.mark == 0:
		r.noteOnce("by-size-of-figure", fmt.Sprintf("Line %d has a figure that could be thousands or a decimal. Only one "+
			"of the two is a possible %s; such figures were read so.", rec.line, inWords[is]))
	}
	return only
}

func (r *reader) noteOnce(code, text string) {
	if !slices.ContainsFunc(r.out.Notes, func(n Note) bool { return n.Code == code }) {
		r.note(code, text)
	}
}

func wrongCell(f figure, cell string) string {
	if f.kind == isText {
		return fmt.Sprintf("“%s” is no figure", shortened(strings.TrimSpace(cell)))
	}
	return ""
}

// build makes the rows.
func (r *reader) build() {
	r.built = make([]Row, 0, len(r.table.rows))
	for _, rec := range r.table.rows {
		if because := r.buildRow(rec); because != "" {
			r.leave(rec, because)
		}
	}
}

func (r *reader) buildRow(rec record) string {
	if n := lastFilled(rec.cells); n > len(r.cols) {
		return fmt.Sprintf("has %d cells, the table has %d columns", n, len(r.cols))
	}
	for i := len(rec.cells); i < len(r.cols); i++ {
		if is := r.cols[i].is; is == isSpeed || degrees(is) {
			return fmt.Sprintf("has %d cells, the table has %d columns", len(rec.cells), len(r.cols))
		}
	}
	row := Row{Line: rec.line}
	var found figures
	for i, cell := range rec.cells[:min(len(rec.cells), len(r.cols))] {
		is := r.cols[i].is
		if is != isSpeed && !degrees(is) {
			if because := row.word(is, cell); because != "" {
				return because
			}
			continue
		}
		f, because := r.value(rec, i)
		if because != "" {
			return because
		}
		if f.unit.speed && is != isSpeed || f.unit.angle && is == isSpeed {
			return fmt.Sprintf("“%s” stands where %s was looked for", shortened(strings.TrimSpace(cell)), inWords[is])
		}
		of := r.unitOf(r.cols[i])
		if shaft := f.unit.shaft(is == isSpeed); shaft != "" && of != "" && shaft != of {
			return fmt.Sprintf("“%s” names another shaft than the column", shortened(strings.TrimSpace(cell)))
		}
		found[place(is)] = f
	}
	return r.take(row, found)
}

// figures are those of one row, by what their column is.
type figures [6]figure

// figureKinds are the columns that hold figures, speed first.
var figureKinds = [6]string{isSpeed, isDeg, isMin, isMax, isRising, isFalling}

func place(is string) int { return slices.Index(figureKinds[:], is) }

func (f figures) of(is string) figure { return f[place(is)] }

// take holds a row's figures against what such a row can have.
func (r *reader) take(row Row, found figures) string {
	if because := r.speedOf(found); because != "" {
		return because
	}
	row.RPM = found[0].low
	least, most := float64(leastDeg), float64(mostDeg)
	if r.out.What == spec {
		least, most = leastSpecDeg, mostSpecDeg
	}
	some, about := false, found[0].about
	for _, f := range found[1:] {
		if f.kind == isEmpty {
			continue
		}
		some = true
		about = about || f.about
		for _, x := range []float64{f.low, f.high} {
			if x < least || x > most {
				return fmt.Sprintf("%g is no angle between %g and %g degrees", x, least, most)
			}
		}
	}
	if !some {
		return "has no angle"
	}
	if about {
		r.noteOnce("about", "Some figures are marked as not exact (“~”). They were read as they stand.")
	}
	if r.out.What == spec {
		return r.takeSpec(row, found)
	}
	return r.takeReadings(row, found)
}

// speedOf says what is wrong with a row's speed.
func (r *reader) speedOf(found figures) string {
	speed := found[0]
	switch {
	case speed.kind == isEmpty:
		return "has no speed"
	case speed.kind != isFigure:
		return "has more than one speed, or only a bound of it; a row needs one"
	case speed.low >= leastRPM && speed.low <= mostRPM:
		return ""
	}
	for _, f := range found[1:] {
		if f.isNumeric() && f.low > mostDeg && speed.low <= mostDegColumn {
			return "speed and degrees look swapped in this row"
		}
	}
	return fmt.Sprintf("%g is no speed between %d and %d rpm", speed.low, leastRPM, mostRPM)
}
