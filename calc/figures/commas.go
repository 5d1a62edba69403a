package figures

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pointsmith/calc/refuse"
)

// Commas that separate cells may also stand inside figures: "1500,12,5" is a
// speed and two figures, or a speed and 12.5; "1,500,12" has thousands. What
// was meant is asked, never guessed.

// mostJoined bounds the cells of a row that is put together again (judgement).
const mostJoined = 10

// Answers to the question of the commas.
const (
	ofDegrees   = "decimal"   // decimal commas, in degrees alone
	ofAll       = "decimals"  // decimal commas, in speeds too
	ofThousands = "thousands" // commas that set off thousands
)

// undoCommas puts figures together again that a separating comma has torn, as
// the person says; where rows do not fit their heads and nothing was said, it
// asks.
func (r *reader) undoCommas() *refuse.Error {
	if r.out.Separator != "comma" {
		return nil
	}
	want, padding := len(r.headCells(0)), 0
	for _, rec := range r.table.heads {
		padding = len(rec.cells) - lastFilled(rec.cells)
	}
	if said := r.columnsSaid(); len(said) > 0 {
		want = len(said)
	}
	answer := r.answer("commas")
	switch how, width, _ := strings.Cut(answer, "/"); {
	case how == "" && r.isTorn(want, padding):
		r.askCommas(want, padding)
	case how != "" && how != "columns":
		if n, err := strconv.Atoi(width); err == nil {
			want = n
		}
		return r.putTogether(how, max(want, leastWidth), padding)
	}
	return nil
}

// leastWidth is what a table has: a speed and an angle.
const leastWidth = 2

// askCommas offers the ways in which rows can be put together: as wide as the
// heads, or, where there are none, as wide as they can be.
func (r *reader) askCommas(want, padding int) {
	widths := []int{want}
	if want == 0 {
		narrowest := maxColumns
		for _, rec := range r.table.rows {
			narrowest = min(narrowest, len(rec.cells))
		}
		widths = nil
		for w := leastWidth; w <= min(narrowest, mostJoined); w++ {
			widths = append(widths, w)
		}
	}
	var options []option
	for _, w := range widths {
		for _, o := range []option{
			{ofDegrees, "some are decimal commas of degrees; the speeds are whole numbers"},
			{ofAll, "some are decimal commas, of speeds too; rows that can be read in more than one way are left out"},
			{ofThousands, "some set off thousands"}} {
			if _, can := r.tryWidth(o.answer, w, padding); can {
				if want == 0 {
					o.answer += fmt.Sprintf("/%d", w)
					o.text += fmt.Sprintf("; the table has %d columns", w)
				}
				options = append(options, o)
			}
		}
	}
	if len(options) > 0 {
		r.ask("commas", "Some commas may stand inside figures. Which are they?",
			"The rows have more cells than the table has columns, or could be read with fewer.",
			append(options, option{"columns", "none; every comma begins a new cell"})...)
	}
}

// isCommas tells whether an answer is one of those askCommas can offer.
func isCommas(answer string) bool {
	how, width, wide := strings.Cut(answer, "/")
	n, err := strconv.Atoi(width)
	if wide && (err != nil || n < leastWidth || n > mostJoined || how == "columns") {
		return false
	}
	return slices.Contains([]string{ofDegrees, ofAll, ofThousands, "columns"}, how)
}

// isTorn tells whether commas may stand inside figures. Where a row has quotes,
// whoever wrote it knew what a comma does.
func (r *reader) isTorn(want, padding int) bool {
	noted, pointed := r.noteColumn(), r.hasPoints()
	return slices.ContainsFunc(r.table.rows, func(rec record) bool {
		n := len(withoutPadding(rec.cells, padding))
		switch {
		case strings.ContainsRune(rec.raw, '"'):
			return false
		case want == 0:
			return n > leastWidth
		}
		return n > want || !pointed && isNoteTorn(rec, noted)
	})
}

// hasPoints tells whether a figure has a decimal point and can have no other.
func (r *reader) hasPoints() bool {
	return slices.ContainsFunc(r.table.rows, func(rec record) bool {
		return slices.ContainsFunc(rec.cells, func(c string) bool {
			return strings.Contains(c, ".") && parse(c, point).isNumeric() && !parse(c, comma).isNumeric()
		})
	})
}

// noteColumn is the place of the notes, or -1.
func (r *reader) noteColumn() int {
	for _, rec := range r.table.heads {
		for i, c := range rec.cells {
			if headUnit(c).role() == isNote {
				return i
			}
		}
	}
	return -1
}

// isNoteTorn: a note that is the tail of a figure on its left.
func isNoteTorn(rec record, noted int) bool {
	return noted > 0 && noted < len(rec.cells) && !strings.ContainsRune(rec.raw, '"') &&
		canJoin(rec.cells[noted-1], rec.cells[noted], ofDegrees)
}

// withoutPadding takes off as many empty cells as the heads have at their end.
func withoutPadding(cells []string, padding int) []string {
	for padding > 0 && len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
		padding--
	}
	return cells
}

// putTogether brings every row to one width; a row for which there is no one
// way is left out.
func (r *reader) putTogether(how string, width, padding int) *refuse.Error {
	if r.in.Hints.Decimal == "" {
		r.in.Hints.Decimal = map[mark]string{point: "point", comma: "comma"}[markOf(how)]
	}
	done, _ := r.tryWidth(how, width, padding)
	var kept []record
	for i, rec := range r.table.rows {
		if done[i] == nil {
			r.leave(rec, "its commas can be read in more than one way, or in none")
			continue
		}
		rec.cells = done[i]
		kept = append(kept, rec)
	}
	if len(kept) == 0 {
		return refuse.Input("hints.answers.commas", "leaves no row that can be read in one way only",
			"rows whose commas have one meaning", "save the table with semicolons or tabs between the cells, and read that")
	}
	r.table.rows, r.width = kept, width
	return nil
}

// tryWidth brings every row to one width. A row that can in more than one way,
// or in none, is nil. False where no row can be put together.
func (r *reader) tryWidth(how string, width, padding int) ([][]string, bool) {
	noted := r.noteColumn()
	done := make([][]string, len(r.table.rows))
	torn := false
	for i, rec := range r.table.rows {
		cells := withoutPadding(rec.cells, padding)
		switch {
		case len(cells) > width && strings.ContainsRune(rec.raw, '"'):
		case len(cells) > width:
			ways := joinWays(cells, width, how)
			if len(ways) == 1 {
				done[i] = ways[0]
			}
			torn = torn || len(ways) > 0
		case how == ofThousands || !isNoteTorn(rec, noted):
			done[i] = cells
		default:
			torn = true
		}
	}
	return done, torn
}

// joinWays are the ways to bring cells to a width by putting neighbours
// together.
func joinWays(cells []string, width int, how string) (out [][]string) {
	if len(cells) > mostJoined {
		return nil
	}
	var walk func(done []string, rest []string)
	walk = func(done, rest []string) {
		switch {
		case len(done) > width || len(done)+len(rest) < width:
		case len(rest) == 0:
			if hasPairBy(done, markOf(how)) {
				out = append(out, slices.Clone(done))
			}
		default:
			walk(append(slices.Clone(done), rest[0]), rest[1:])
			if n := len(done) - 1; n >= 0 && canJoin(done[n], rest[0], how) {
				both := slices.Clone(done)
				both[n] = strings.TrimSpace(both[n]) + "," + strings.TrimSpace(rest[0])
				walk(both, rest[1:])
			}
		}
	}
	walk(nil, cells)
	return out
}

// markOf is the decimal mark of a table with such commas.
func markOf(how string) mark {
	if how == ofThousands {
		return point
	}
	return comma
}

// canJoin tells whether two cells are one figure with a comma inside.
func canJoin(a, b, how string) bool {
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	digits := 0
	for digits < len(b) && isDigit(b[digits]) {
		digits++
	}
	if a == "" || !isDigit(a[len(a)-1]) || digits == 0 || digits > digitGroup {
		return false
	}
	f := parse(a+","+b, markOf(how))
	if how == ofThousands {
		return digits == digitGroup && len(a) < digitGroup && f.isNumeric() && f.fits(isSpeed)
	}
	return f.isNumeric() && (how == ofAll || f.fits(isDeg) && f.high <= mostDegColumn)
}
