package figures

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// askOf asks what the table is, or which shaft its figures belong to.
func (r *reader) askOf(id, why string) {
	switch id {
	case "what":
		r.ask(id, "Is this the book's table, or are these readings?", why, option{spec, "the book's table"},
			option{readings, "readings"})
	case "angleUnit":
		r.ask(id, "Are the degrees those of the crank or of the distributor?",
			why+" One is twice the other where the distributor turns at half speed.",
			option{crank, "crank degrees"}, option{distributor, "distributor degrees"})
	case "speedUnit":
		r.ask(id, "Are the speeds those of the engine or of the distributor?",
			why+" One is twice the other where the distributor turns at half speed.",
			option{engine, "engine speed"}, option{distributor, "distributor speed"})
	case "base":
		r.ask(id, "Do the degrees hold the base timing?",
			why+" Total timing holds it; advance alone begins near 0.",
			option{included, "yes, they are the total"}, option{excluded, "no, they are advance alone"})
	}
}

func (r *reader) askSeparator(rivals []dialect) {
	var options []option
	for _, d := range rivals {
		for _, s := range separators {
			if s.name == d.name {
				options = append(options, option{s.name, s.text})
			}
		}
	}
	r.ask("separator", "What stands between two cells of a row?",
		"The text can be cut in more than one way, and they give other figures.", options...)
}

func (r *reader) askTable() {
	var options []option
	for i, t := range r.tables[:min(len(r.tables), maxTables)] {
		text := fmt.Sprintf("the table from line %d", t.rows[0].line)
		if len(t.heads) > 0 {
			text += ": " + shortened(t.heads[0].raw)
		}
		options = append(options, option{strconv.Itoa(i + 1), text})
	}
	r.ask("table", fmt.Sprintf("The text holds %d tables. Which one is to be read?", len(r.tables)),
		"Heads stand in it once more, below rows.", options...)
}

func (r *reader) askDecimal(rec record, is string) {
	options := []option{{"point", "the point is the decimal mark"}, {"comma", "the comma is the decimal mark"}}
	if r.mark != 0 {
		options = append(options, option{"each", "both are met; take for each figure what is possible"})
	}
	r.ask("decimal", "Which is the decimal mark, the point or the comma?",
		fmt.Sprintf("The %s in line %d (“%s”) can be thousands or a decimal, and other figures do not agree on it.",
			inWords[is], rec.line, shortened(rec.raw)), options...)
}

// askSwapped asks where heads and the size of the figures do not go together.
func (r *reader) askSwapped() {
	r.roles = nil
	var roles []string
	speed, angle := -1, -1
	for i, c := range r.cols {
		roles = append(roles, c.shown())
		switch {
		case c.is == isSpeed && c.isAngle && !c.said.thousands:
			speed = i
		case degrees(c.is) && c.isSpeeds && (angle < 0 || c.onlySpeed > r.cols[angle].onlySpeed):
			angle = i
		}
	}
	if isWhole(roles) {
		r.roles = roles
	}
	if speed < 0 || angle < 0 {
		return
	}
	a, b := &r.cols[speed], &r.cols[angle]
	switch r.answer("swapped") {
	case "":
		r.ask("swapped", fmt.Sprintf("Are columns %d and %d swapped?", speed+1, angle+1),
			fmt.Sprintf("Column %d is called %s and holds figures below %d; column %d is called %s and holds hundreds or "+
				"thousands.", speed+1, inWords[a.is], mostDegColumn, angle+1, inWords[b.is]),
			option{"swap", "yes, take each for what its figures are"},
			option{"keep", "no, leave out the rows that cannot be"})
	case "swap":
		a.is, b.is = b.is, a.is
		a.said, b.said = b.said, a.said // the heads' words go with what they name
		r.note("swapped", fmt.Sprintf("Columns %d and %d were swapped, as you said.", speed+1, angle+1))
	}
}

// askColumns asks what the columns are, and goes on with the first answer for
// a picture.
func (r *reader) askColumns() {
	choices := r.columnChoices()
	var options []option
	for _, is := range choices {
		var words []string
		for i, s := range is {
			if s != isSkip {
				words = append(words, fmt.Sprintf("column %d %s", i+1, inWords[s]))
			}
		}
		options = append(options, option{strings.Join(is, ","), strings.Join(words, ", ")})
	}
	r.ask("columns", "What are the columns?",
		"The heads do not say it, or say one thing twice. If none of these is right, name the columns yourself.", options...)
	for i := range r.cols {
		r.cols[i].is, r.cols[i].sureness = isSkip, possible
		if len(choices) > 0 {
			r.cols[i].is = choices[0][i]
		}
	}
}

// mostChoices bounds a question about columns (judgement).
const mostChoices = 12

// columnChoices are the columns in every way that makes rows and fits the size
// of the figures.
func (r *reader) columnChoices() (out [][]string) {
	if i := r.emptyBeside(); i >= 0 {
		return r.edgeOrBoth(i)
	}
	speeds := r.candidates(func(c column) bool { return c.is == isSpeed }, func(c column) bool { return c.isSpeeds })
	angles := r.candidates(func(c column) bool { return degrees(c.is) }, func(c column) bool { return c.isAngle })
	for _, s := range speeds {
		add := func(set map[int]string) {
			is := make([]string, len(r.cols))
			for i, c := range r.cols {
				is[i] = isSkip
				if c.is == isNote || c.is == isDirection || c.is == isPlace || c.is == isVacuum {
					is[i] = c.is
				}
			}
			is[s] = isSpeed
			for i, as := range set {
				is[i] = as
			}
			if isWhole(is) && len(out) < mostChoices &&
				!slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, is) }) {
				out = append(out, is)
			}
		}
		rest := slices.DeleteFunc(slices.Clone(angles), func(i int) bool { return i == s })
		r.pairs(rest, add)
		for _, i := range rest {
			as := r.cols[i].is
			if !degrees(as) {
				as = isDeg
			}
			add(map[int]string{i: as})
		}
	}
	return out
}

// pairs offers two columns together: as their heads say, else as least and
// most where all rows allow it, else as rising and falling.
func (r *reader) pairs(angles []int, add func(map[int]string)) {
	for n, i := range angles {
		for _, j := range angles[n+1:] {
			a, b := r.cols[i].is, r.cols[j].is
			if degrees(a) || degrees(b) {
				add(map[int]string{i: a, j: b})
				continue
			}
			if r.isOrdered(i, j) {
				add(map[int]string{i: isMin, j: isMax})
			}
			if r.isOrdered(j, i) {
				add(map[int]string{i: isMax, j: isMin})
			}
			if r.said("what", r.in.Hints.What) != spec {
				add(map[int]string{i: isRising, j: isFalling})
				add(map[int]string{i: isFalling, j: isRising})
			}
		}
	}
}

// isOrdered tells whether in no row the figure of column low is above that of
// column high.
func (r *reader) isOrdered(low, high int) bool {
	return !slices.ContainsFunc(r.table.rows[:min(len(r.table.rows), sampleRows)], func(rec record) bool {
		if len(rec.cells) <= max(low, high) {
			return false
		}
		a, b := eitherMark(rec.cells[low]), eitherMark(rec.cells[high])
		return a.isNumeric() && b.isNumeric() && a.low > b.high
	})
}

func eitherMark(cell string) figure {
	if f := parse(cell, point); f.isNumeric() {
		return f
	}
	return parse(cell, comma)
}

// candidates are the columns that are said to be something, else those whose
// figures can be it, else all with figures.
func (r *reader) candidates(said, fits func(column) bool) []int {
	for _, is := range []func(column) bool{said,
		func(c column) bool { return c.is == "" && fits(c) }, func(c column) bool { return c.figures > 0 }} {
		var found []int
		for i, c := range r.cols {
			if is(c) {
				found = append(found, i)
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}
