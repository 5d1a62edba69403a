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

// undoCommas puts figures together again that a separating comma has torn, as
// the person says; where rows do not fit their heads and nothing was said, it
// asks.
func (r *reader) undoCommas() {
	if r.out.Separator != "comma" {
		return
	}
	want := len(r.headCells(0))
	if said := r.columnsSaid(); len(said) > 0 {
		want = len(said)
	}
	how := r.answer("commas")
	if how == "decimal" || how == "thousands" {
		r.joinAll(how, want, true)
		if r.in.Hints.Decimal == "" {
			r.in.Hints.Decimal = map[string]string{"decimal": "comma", "thousands": "point"}[how]
		}
		return
	}
	if how != "" || !r.isTorn(want) {
		return
	}
	var options []option
	for _, o := range []option{{"decimal", "some commas are decimal commas"},
		{"thousands", "some commas set off thousands"}} {
		if r.joinAll(o.answer, want, false) {
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
func (r *reader) isTorn(want int) bool {
	if want == 0 {
		return slices.ContainsFunc(r.table.rows, func(rec record) bool { return lastFilled(rec.cells) > 2 })
	}
	noted := -1
	for _, rec := range r.table.heads {
		for i, c := range rec.cells {
			if headUnit(c).role() == isNote {
				noted = i
			}
		}
	}
	return slices.ContainsFunc(r.table.rows, func(rec record) bool {
		if noted > 0 && noted < len(rec.cells) && isTail(rec.cells[noted]) && isWhole60(rec.cells[noted-1]) {
			return true
		}
		n := lastFilled(rec.cells)
		return n > want && isNumeric(rec.cells[n-1])
	})
}

// joinAll tries to bring every row to one width, and does it where do is said.
// Without a width it takes the first to which four rows of five come.
func (r *reader) joinAll(how string, want int, do bool) bool {
	widths := []int{want}
	if want == 0 {
		widths = []int{2, 3, 4, 5, 6}
	}
	for _, width := range widths {
		joined := make([][]string, len(r.table.rows))
		fit, torn := 0, 0
		for i, rec := range r.table.rows {
			cells := rec.cells[:lastFilled(rec.cells)]
			if len(cells) <= width && !(how == "decimal" && want > 0 && len(cells) == width && isNoteTorn(cells)) {
				joined[i] = rec.cells
				fit++
				continue
			}
			ways := joinWays(cells, width, how)
			if len(ways) == 1 && hasPair(numericCells(ways[0])) {
				joined[i] = ways[0]
				fit++
				torn++
			}
		}
		if torn == 0 || want == 0 && fit*5 < len(r.table.rows)*4 {
			continue
		}
		if do {
			for i := range joined {
				if joined[i] != nil {
					r.table.rows[i].cells = joined[i]
				}
			}
		}
		return true
	}
	return false
}

// isNoteTorn: a row as long as its heads whose note is the tail of a figure is
// one cell short once it is put together.
func isNoteTorn(cells []string) bool {
	n := len(cells)
	return n > 2 && isTail(cells[n-1]) && isWhole60(cells[n-2]) && hasPair(numericCells(cells[:n-1]))
}

// joinWays are the ways to bring cells to a width by putting neighbours
// together.
func joinWays(cells []string, width int, how string) (out [][]string) {
	if len(cells) > mostJoined || len(cells) < width {
		return nil
	}
	var walk func(done []string, rest []string)
	walk = func(done, rest []string) {
		if len(rest) == 0 {
			if len(done) == width {
				out = append(out, slices.Clone(done))
			}
			return
		}
		walk(append(slices.Clone(done), rest[0]), rest[1:])
		if len(rest) > 1 && canJoin(rest[0], rest[1], how) {
			walk(append(slices.Clone(done), strings.TrimSpace(rest[0])+","+strings.TrimSpace(rest[1])), rest[2:])
		}
	}
	walk(nil, cells)
	return out
}

func canJoin(a, b, how string) bool {
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	if how == "decimal" {
		return isWhole60(a) && isTail(b)
	}
	x, ok := plainDigits(a)
	return ok && len(a) < digitGroup && x > 0 && x*1000 <= mostRPM && len(b) == digitGroup && allDigits(b)
}

// isWhole60 tells whether a cell is whole degrees.
func isWhole60(cell string) bool {
	x, ok := plainDigits(strings.TrimPrefix(strings.TrimSpace(cell), "-"))
	return ok && x <= mostDegColumn
}

// isTail tells whether a cell can be what stands behind a decimal comma.
func isTail(cell string) bool {
	cell = strings.TrimSpace(cell)
	return cell != "" && len(cell) <= digitGroup && allDigits(cell)
}
