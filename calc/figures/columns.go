package figures

import (
	"fmt"
	"slices"
	"strings"

	"pointsmith/calc/refuse"
)

// A column is what is known of one column.
type column struct {
	head     string
	said     unit // what head and cells say
	is       string
	sureness string

	cells, figures    int // of the rows looked at: filled, and numeric
	speeds, angles    int // that can be speeds; that can be degrees in a column below 60
	onlySpeed         int // that can be nothing else
	onlyAngle         int
	top               float64
	isSpeeds, isAngle bool // by the size of its figures
}

// shown is what the column was taken for; what was not made out is skipped.
func (c column) shown() string {
	if c.is == "" {
		return isSkip
	}
	return c.is
}

// sampleRows is how many rows are looked at to find what the columns are
// (judgement).
const sampleRows = 2000

// findColumns finds what each column is: by what the person said, by the
// heads, by the size of the figures.
func (r *reader) findColumns() *refuse.Error {
	if bad := r.makeColumns(); bad != nil {
		return bad
	}
	r.measureColumns()
	if said := r.columnsSaid(); len(said) > 0 {
		if len(said) != len(r.cols) {
			return refuse.Input("hints.columns",
				fmt.Sprintf("names %d columns, the table has %d", len(said), len(r.cols)),
				"one word for each column", "say skip for a column that is not wanted")
		}
		if !isWhole(said) {
			return refuse.Input("hints.columns", "has not one column of speed and what belongs to one row's degrees",
				"speed once, and deg, or minDeg and maxDeg, or risingDeg and fallingDeg", "say skip for the others")
		}
		for i, is := range said {
			r.cols[i].is, r.cols[i].sureness = is, sure
		}
	} else {
		r.byHeads()
	}
	r.askSwapped()
	return nil
}

func (r *reader) columnsSaid() []string {
	if a := r.answer("columns"); a != "" {
		return strings.Split(a, ",")
	}
	return r.in.Hints.Columns
}

// isWhole tells whether columns make rows: one speed, and degrees of one kind.
func isWhole(is []string) bool {
	n := map[string]int{}
	for _, s := range is {
		n[s]++
	}
	bands, runs := n[isMin]+n[isMax], n[isRising]+n[isFalling]
	if n[isSpeed] != 1 || n[isDeg] > 1 || n[isMin] > 1 || n[isMax] > 1 || n[isRising] > 1 || n[isFalling] > 1 {
		return false
	}
	return (n[isDeg] == 1 && runs == 0) || (n[isDeg] == 0 && (bands > 0) != (runs > 0))
}

func (r *reader) makeColumns() *refuse.Error {
	width := 0
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		width = max(width, lastFilled(rec.cells))
	}
	heads := r.headCells(r.usualWidth())
	if n := len(heads); n > 0 {
		// A row longer than most is left out rather than making a column of its own.
		width = max(n, r.usualWidth())
	} else {
		width = max(width, len(r.columnsSaid()))
		if width == 2 && r.allEndEmpty(width) {
			width++ // a least, and a most that is left empty
		}
	}
	if r.width > 0 {
		width = r.width
	}
	if width > maxColumns {
		return refuse.Input("text", fmt.Sprintf("has %d columns", width), fmt.Sprintf("at most %d columns", maxColumns),
			"keep only the columns of speed and degrees")
	}
	r.cols = make([]column, width)
	for i := range heads {
		r.cols[i].head = heads[i]
		r.cols[i].said = headUnit(heads[i])
	}
	return nil
}

// usualWidth is the width most rows have.
func (r *reader) usualWidth() int {
	count := map[int]int{}
	best := 0
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		n := lastFilled(rec.cells)
		count[n]++
		if count[n] > count[best] || count[n] == count[best] && n > best {
			best = n
		}
	}
	return best
}

// headCells puts the head lines together, column by column.
func (r *reader) headCells(width int) []string {
	var out []string
	for _, rec := range r.table.heads {
		cells := rec.cells
		if wide := byWideBlanks(rec.raw); r.isByBlanks() && len(cells) != width && len(wide) == width {
			cells = wide
		}
		if r.isByBlanks() && len(cells) != width {
			r.leave(rec, fmt.Sprintf("heads that do not fit: %d words over %d columns", len(cells), width))
			continue
		}
		for i, c := range cells[:lastFilled(cells)] {
			if i >= len(out) {
				out = append(out, "")
			}
			out[i] = strings.TrimSpace(out[i] + " " + strings.Join(strings.Fields(c), " "))
		}
	}
	return out
}

// byWideBlanks cuts a line where two blanks or a tab stand.
func byWideBlanks(raw string) (out []string) {
	for part := range strings.SplitSeq(strings.ReplaceAll(raw, "\t", "  "), "  ") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// measureColumns counts what each column's figures can be.
func (r *reader) measureColumns() {
	for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
		for i := range min(len(rec.cells), len(r.cols)) {
			r.cols[i].count(rec.cells[i])
		}
	}
	for i := range r.cols {
		c := &r.cols[i]
		mostly := func(n int) bool { return c.figures > 0 && n*5 >= c.figures*4 }
		c.isSpeeds = mostly(c.speeds) && c.top >= leastTopOfSpeed && (c.onlySpeed > 0 || c.onlyAngle == 0)
		c.isAngle = mostly(c.angles) && (c.onlySpeed == 0 || !c.isSpeeds)
	}
}

func (c *column) count(cell string) {
	if strings.TrimSpace(cell) == "" {
		return
	}
	c.cells++
	isSpeedly, isAngly, isNumber := false, false, false
	for _, m := range []mark{point, comma} {
		f := parse(cell, m)
		if !f.isNumeric() {
			continue
		}
		isNumber = true
		c.learn(f.unit)
		if f.fits(isSpeed) {
			isSpeedly = true
			c.top = max(c.top, f.high)
		}
		isAngly = isAngly || f.fits(isDeg) && f.high <= mostDegColumn
	}
	c.figures += one(isNumber)
	c.speeds += one(isSpeedly)
	c.angles += one(isAngly)
	c.onlySpeed += one(isSpeedly && !isAngly)
	c.onlyAngle += one(isAngly && !isSpeedly)
}

// learn takes over what unit words in the cells say.
func (c *column) learn(u unit) {
	c.said.engine = c.said.engine || u.engine
	c.said.crank = c.said.crank || u.crank
	c.said.distrib = c.said.distrib || u.distrib
	if c.said.role() == "" {
		c.said.speed = c.said.speed || u.speed
		c.said.angle = c.said.angle || u.angle
	}
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}

// byHeads takes the columns as their heads say, fills in what figures decide,
// and asks for the rest.
func (r *reader) byHeads() {
	for i := range r.cols {
		c := &r.cols[i]
		c.is = c.said.role()
		c.sureness = sure
		if c.is == "" && c.figures == 0 {
			c.is, c.sureness = r.byWords(i), likely
		}
		if c.is == isVacuum && c.figures > 0 {
			c.is = isSkip
		}
	}
	r.fillIn(isSpeed, func(is string) bool { return is == isSpeed }, func(c column) bool { return c.isSpeeds })
	r.fillIn(isDeg, degrees, func(c column) bool { return c.isAngle })
	var is []string
	for i := range r.cols {
		is = append(is, r.cols[i].is)
	}
	if open := r.openColumns(); !isWhole(is) || len(open) > 0 || r.emptyBeside() >= 0 {
		r.askColumns()
		return
	}
	r.skipRest()
}

// byWords finds what a column of words holds, where all of them are words of
// one kind and the head tells nothing.
func (r *reader) byWords(col int) string {
	for _, is := range []string{isDirection, isPlace, isVacuum} {
		if slices.ContainsFunc(r.cols, func(c column) bool { return c.is == is || c.said.role() == is }) {
			continue
		}
		some, all := false, true
		for _, rec := range r.table.rows[:min(len(r.table.rows), sampleRows)] {
			if col < len(rec.cells) && strings.TrimSpace(rec.cells[col]) != "" {
				some = true
				all = all && wordsOf[is][strings.ToLower(strings.TrimSpace(rec.cells[col]))] != ""
			}
		}
		if some && all {
			return is
		}
	}
	return ""
}

// fillIn takes the one column without a head that tells, whose figures can be
// nothing else, for what is missing.
func (r *reader) fillIn(is string, have func(string) bool, fits func(column) bool) {
	if slices.ContainsFunc(r.cols, func(c column) bool { return have(c.is) }) {
		return
	}
	found := -1
	for i, c := range r.cols {
		if c.is == "" && fits(c) {
			if found >= 0 {
				return
			}
			found = i
		}
	}
	if found < 0 {
		return
	}
	r.cols[found].is, r.cols[found].sureness = is, likely
	r.note("by-size", fmt.Sprintf("Column %d was taken for %s by the size of its figures.", found+1, inWords[is]))
}

// openColumns are columns without any head that hold figures, beside others:
// they may belong to the head on their left.
func (r *reader) openColumns() (out []int) {
	for i, c := range r.cols {
		if c.is == "" && c.head == "" && c.figures > 0 {
			out = append(out, i)
		}
	}
	return out
}

func (r *reader) skipRest() {
	var names []string
	hasBand := slices.ContainsFunc(r.cols, func(c column) bool { return c.is == isMin || c.is == isMax })
	for i := range r.cols {
		c := &r.cols[i]
		if c.is == isDeg && hasBand {
			c.is = isSkip
		}
		if c.is == "" {
			c.is, c.sureness = isSkip, likely
		}
		if c.is == isSkip && c.cells > 0 {
			names = append(names, fmt.Sprintf("%d (%s)", i+1, c.head))
		}
	}
	if len(names) > 0 {
		r.note("not-read", "These columns are not read: "+strings.Join(names, ", ")+".")
	}
}
