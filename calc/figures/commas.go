package figures

import (
	"slices"
	"strings"
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
func (r *reader) undoCommas() {
	if r.out.Separator != "comma" {
		return
	}
	heads, padding := len(r.headCells(0)), 0
	for _, rec := range r.table.heads {
		padding = len(rec.cells) - lastFilled(rec.cells)
	}
	want := heads
	if said := r.columnsSaid(); len(said) > 0 {
		want = len(said)
	}
	switch how := r.answer("commas"); {
	case how == "" && r.isTorn(want, padding):
		r.askCommas(want, padding)
	case how != "" && how != "columns":
		r.putTogether(how, want, padding)
	}
}

func (r *reader) askCommas(want, padding int) {
	var options []option
	for _, o := range []option{
		{ofDegrees, "some are decimal commas of degrees; the speeds are whole numbers"},
		{ofAll, "some are decimal commas, of speeds too; rows that can be read in more than one way are left out"},
		{ofThousands, "some set off thousands"}} {
		if _, can := r.tryWidths(o.answer, want, padding); can {
			options = append(options, o)
		}
	}
	if len(options) > 0 {
		r.ask("commas", "Some commas may stand inside figures. Which are they?",
			"The rows have more cells than the table has columns, or could be read with fewer.",
			append(options, option{"columns", "none; every comma begins a new cell"})...)
	}
}

// isTorn tells whether commas may stand inside figures.
func (r *reader) isTorn(want, padding int) bool {
	if want == 0 {
		return slices.ContainsFunc(r.table.rows, func(rec record) bool { return lastFilled(rec.cells) > 2 })
	}
	noted := r.noteColumn()
	return slices.ContainsFunc(r.table.rows, func(rec record) bool {
		return len(withoutPadding(rec.cells, padding)) > want || isNoteTorn(rec.cells, noted)
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
func isNoteTorn(cells []string, noted int) bool {
	return noted > 0 && noted < len(cells) && canJoin(cells[noted-1], cells[noted], ofDegrees)
}

// withoutPadding takes off as many empty cells as the heads have at their end.
func withoutPadding(cells []string, padding int) []string {
	for padding > 0 && len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
		padding--
	}
	return cells
}

// putTogether makes every row as wide as its heads; a row for which there is
// no one way is left out.
func (r *reader) putTogether(how string, want, padding int) {
	if r.in.Hints.Decimal == "" {
		r.in.Hints.Decimal = map[mark]string{point: "point", comma: "comma"}[markOf(how)]
	}
	done, can := r.tryWidths(how, want, padding)
	if !can {
		return
	}
	var kept []record
	for i, rec := range r.table.rows {
		if done[i] == nil {
			r.leave(rec, "its commas can be read in more than one way, or in none")
			continue
		}
		rec.cells = done[i]
		kept = append(kept, rec)
		r.width = max(r.width, len(done[i]))
	}
	r.table.rows = kept
}

// tryWidths brings every row to one width: that of the heads, else the first to
// which four rows of five can come. A row that can in more than one way, or in
// none, is nil. False where no row can be put together.
func (r *reader) tryWidths(how string, want, padding int) ([][]string, bool) {
	widths := []int{want}
	if want == 0 {
		widths = []int{2, 3, 4, 5, 6}
	}
	noted := r.noteColumn()
	for _, width := range widths {
		done := make([][]string, len(r.table.rows))
		fit, torn := 0, 0
		for i, rec := range r.table.rows {
			cells := withoutPadding(rec.cells, padding)
			switch {
			case len(cells) > width:
				ways := joinWays(cells, width, how)
				if len(ways) == 1 {
					done[i] = ways[0]
				}
				torn += one(len(ways) > 0)
				fit += one(len(ways) > 0)
			case how == ofThousands || !isNoteTorn(cells, noted):
				done[i] = cells
				fit++
			}
		}
		if torn > 0 && (want > 0 || fit*5 >= len(r.table.rows)*4) {
			return done, true
		}
	}
	return nil, false
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
