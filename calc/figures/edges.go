package figures

import "strings"

// isByBlanks tells whether lines are cut where blanks stand.
func (r *reader) isByBlanks() bool { return r.out.Separator == "blanks" || r.out.Separator == words }

// allEndEmpty tells whether every row has one cell more than width, and it is
// empty.
func (r *reader) allEndEmpty(width int) bool {
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		if len(rec.cells) != width+1 || lastFilled(rec.cells) != width {
			return false
		}
	}
	return true
}

// emptyBeside finds the empty column of a table without heads that has speeds,
// one column of degrees, and it: the figures may be a least or a most alone.
// -1 where there is none, or the text is readings.
func (r *reader) emptyBeside() int {
	if len(r.cols) != 3 || r.said("what", r.in.Hints.What) == readings {
		return -1
	}
	empty := -1
	for i, c := range r.cols {
		switch {
		case c.head != "":
			return -1
		case c.figures == 0 && r.saysNothing(i):
			if empty >= 0 {
				return -1
			}
			empty = i
		case !c.isSpeeds && !c.isAngle:
			return -1
		}
	}
	return empty
}

// saysNothing tells whether all cells of a column are empty, or a sign for it.
func (r *reader) saysNothing(col int) bool {
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		if col < len(rec.cells) && !nothing[plainLetters(strings.TrimSpace(rec.cells[col]))] {
			return false
		}
	}
	return true
}

// edgeOrBoth are the two meanings of such a table: the empty column is a least
// or a most that the book does not give, or it is nothing.
func (r *reader) edgeOrBoth(empty int) [][]string {
	edge, alone := make([]string, len(r.cols)), make([]string, len(r.cols))
	next := isMin
	for i, c := range r.cols {
		switch {
		case i != empty && c.isSpeeds && !c.isAngle, i != empty && c.is == isSpeed:
			edge[i], alone[i] = isSpeed, isSpeed
		default:
			edge[i], alone[i] = next, isDeg
			if i == empty {
				alone[i] = isSkip
			}
			next = isMax
		}
	}
	if !isWhole(edge) || !isWhole(alone) {
		return nil
	}
	return [][]string{edge, alone}
}
