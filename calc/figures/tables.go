package figures

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A table is heads and the records under them.
type table struct {
	heads []record
	rows  []record
}

// split parts the records into tables: heads that come after rows begin
// another one. What is neither is left out with its reason.
func (r *reader) split() {
	var now table
	var texts []record // text lines that may be heads of what comes
	flush := func(because string) {
		for _, rec := range texts {
			r.leave(rec, because)
		}
		texts = nil
	}
	for _, rec := range r.records {
		switch {
		case rec.kind == ofComment:
			r.leave(rec, "a comment")
		case isData(rec, len(now.rows) > 0 && (!r.isByBlanks() || isNumeric(rec.cells[0]))):
			if len(texts) > 0 && len(now.rows) > 0 && areHeads(texts) && !sameHeads(texts, now.heads) {
				r.tables = append(r.tables, now)
				now = table{}
			}
			if len(now.rows) == 0 {
				now.heads, texts = r.headsOf(texts), nil
			}
			flush("holds no figures")
			now.rows = append(now.rows, rec)
		default:
			texts = append(texts, rec)
		}
	}
	flush("holds no figures")
	if len(now.rows) > 0 {
		r.tables = append(r.tables, now)
	}
}

// isData: a row has two figures; further down one is enough, so that a row
// with a missing figure is not taken for a text.
func isData(rec record, later bool) bool {
	n := 0
	for _, c := range rec.cells {
		if isNumeric(c) {
			n++
		}
		if n == 2 || n == 1 && later {
			return true
		}
	}
	return false
}

func areHeads(texts []record) bool {
	return slices.ContainsFunc(texts, func(rec record) bool {
		return len(rec.cells) > 1 &&
			slices.ContainsFunc(rec.cells, func(c string) bool { return headUnit(c).role() != "" })
	})
}

func sameHeads(a, b []record) bool {
	return len(b) > 0 && len(a) >= len(b) && slices.EqualFunc(a[len(a)-len(b):], b, func(x, y record) bool {
		return slices.Equal(x.cells, y.cells)
	})
}

// headsOf keeps the last text lines before the rows that have more than one
// cell; titles above are left out.
func (r *reader) headsOf(texts []record) (heads []record) {
	first := len(texts)
	for first > 0 && filled(texts[first-1].cells) > 1 && (first == len(texts) || !texts[first].after) {
		first--
	}
	for _, rec := range texts[:first] {
		r.leave(rec, "a title, or text without figures")
	}
	for _, rec := range texts[first:] {
		if slices.ContainsFunc(rec.cells, beginsWithFigure) {
			r.leave(rec, "holds no speed and angle that can be read")
			continue
		}
		heads = append(heads, rec)
	}
	return heads
}

// beginsWithFigure tells a cell of a row that could not be read from a head.
// Heads may begin with 1/min or with a factor of a thousand.
func beginsWithFigure(cell string) bool {
	cell = strings.TrimLeft(plainLetters(cell), "~<>=+-")
	return cell != "" && isDigit(cell[0]) && !strings.HasPrefix(cell, "1/min") && !strings.HasPrefix(cell, "1000")
}

func filled(cells []string) (n int) {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			n++
		}
	}
	return n
}

// lastFilled is how many cells there are up to the last that is not empty.
func lastFilled(cells []string) int {
	n := len(cells)
	for n > 0 && strings.TrimSpace(cells[n-1]) == "" {
		n--
	}
	return n
}

// pickTable takes the one table there is, or asks which.
func (r *reader) pickTable() {
	chosen := 0
	if len(r.tables) > 1 {
		if n, err := strconv.Atoi(r.answer("table")); err == nil && n >= 1 && n <= len(r.tables) {
			chosen = n - 1
		} else {
			r.askTable()
		}
		for i, t := range r.tables {
			if i != chosen {
				last := t.rows[len(t.rows)-1]
				r.leave(t.rows[0], fmt.Sprintf("another table, to line %d; read the text once more for it", last.line))
			}
		}
	}
	r.table = &r.tables[min(chosen, len(r.tables)-1)]
}

// turn makes rows of a table that is written across: each record one kind of
// figure, with its head in the first cell.
func (r *reader) turn() {
	var across []record
	width := 0
	speeds := 0
	for _, rec := range r.records {
		if rec.kind == ofComment {
			continue
		}
		is := ""
		if len(rec.cells) > 0 && !isNumeric(rec.cells[0]) {
			is = headUnit(rec.cells[0]).role()
		}
		if is == isSpeed {
			speeds++
		}
		n := lastFilled(rec.cells)
		if is == "" || n < 3 || width > 0 && n != width || !slices.ContainsFunc(rec.cells[1:], isNumeric) {
			return
		}
		width = n
		across = append(across, rec)
	}
	if len(across) < 2 || speeds != 1 {
		return
	}
	turned := make([]record, width)
	for i := range turned {
		turned[i] = record{line: across[0].line, raw: across[0].raw}
		for _, rec := range across {
			turned[i].cells = append(turned[i].cells, rec.cells[i])
		}
	}
	r.records = append(slices.DeleteFunc(r.records, func(rec record) bool { return rec.kind != ofComment }), turned...)
	r.turned = true
	r.note("turned", "The table is written across, each line one kind of figure. It was turned; each row has the line of "+
		"the first.")
}
