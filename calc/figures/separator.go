package figures

import (
	"slices"
	"strings"
)

// separators in the order they are tried. The first three are put there on
// purpose; commas and blanks also stand inside figures.
var separators = []struct {
	name   string
	letter byte
	text   string
}{
	{"tab", '\t', "tabs"}, {"semicolon", ';', "semicolons"}, {"pipe", '|', "upright lines"},
	{"comma", ',', "commas"}, {"blanks", 0, "blanks"},
}

// sampleRecords and sampleBytes bound what is looked at to choose a separator
// (judgement).
const (
	sampleRecords = 300
	sampleBytes   = 64_000
	signature     = 8 // rows compared; judgement
)

// A dialect is a text cut by one separator, as far as needed to choose.
type dialect struct {
	name   string
	rows   int // records with a speed and an angle
	headed bool
	first  [][]string // the figures of the first rows
}

// pickSeparator finds what stands between cells. More than one way that gives
// other figures is a question.
func (r *reader) pickSeparator() {
	name := r.said("separator", r.in.Hints.Separator)
	if name == "" && r.hasSentences() {
		name = words
	}
	if name == "" {
		name = r.findSeparator()
	}
	r.out.Separator = name
	if name == words {
		r.cutSentences()
	}
	for _, s := range separators {
		if s.name == name {
			r.records = cut(r.text, s.letter, maxText)
		}
	}
	if name == "blanks" {
		for i := range r.records {
			r.records[i].cells = joined(r.records[i].cells)
		}
	}
}

func (r *reader) findSeparator() string {
	all := r.tryAll(hasPair)
	if len(all) == 0 { // speeds in thousands, say
		all = r.tryAll(func(cells []string) bool { return len(cells) > 1 })
	}
	if len(all) == 0 {
		return "comma"
	}
	if slices.ContainsFunc(all, func(d dialect) bool { return d.headed }) {
		all = slices.DeleteFunc(all, func(d dialect) bool { return !d.headed })
	}
	best := all[0]
	rivals := slices.DeleteFunc(all, func(d dialect) bool {
		return d.name != best.name && (best.isOnPurpose() && d.name == "blanks" || sameFigures(d.first, best.first))
	})
	if len(rivals) > 1 {
		r.askSeparator(rivals)
	}
	return best.name
}

func (d dialect) isOnPurpose() bool { return d.name != "comma" && d.name != "blanks" }

func sameFigures(a, b [][]string) bool {
	return slices.EqualFunc(a, b, func(x, y []string) bool { return slices.Equal(x, y) })
}

// tryAll cuts the text in every way that gives rows.
func (r *reader) tryAll(isRow func([]string) bool) (all []dialect) {
	for _, s := range separators {
		if d := r.try(s.name, s.letter, isRow); d.rows > 0 {
			all = append(all, d)
		}
	}
	return all
}

func (r *reader) try(name string, letter byte, isRow func([]string) bool) dialect {
	d := dialect{name: name}
	var before []record
	for _, rec := range cut(firstLines(r.text, sampleBytes), letter, sampleRecords) {
		if rec.kind == ofComment {
			continue
		}
		if name == "blanks" {
			rec.cells = joined(rec.cells)
		}
		cells := numericCells(rec.cells)
		if !isRow(cells) {
			if d.rows == 0 {
				before = append(before, rec)
			}
			continue
		}
		d.rows++
		if len(d.first) < signature {
			d.first = append(d.first, cells)
		}
		if d.rows == 1 {
			d.headed = headsFit(before, rec)
		}
	}
	return d
}

// headsFit tells whether heads of speed and angle stand before the first row,
// as many as it has cells.
func headsFit(before []record, row record) bool {
	return slices.ContainsFunc(before, func(rec record) bool {
		speed, angle := false, false
		for _, c := range rec.cells {
			is := headUnit(c).role()
			speed = speed || is == isSpeed
			angle = angle || degrees(is)
		}
		return speed && angle && len(rec.cells) == len(row.cells) && !slices.ContainsFunc(rec.cells, beginsWithFigure)
	})
}

func numericCells(cells []string) (out []string) {
	for _, c := range cells {
		if isNumeric(c) {
			out = append(out, strings.TrimSpace(c))
		}
	}
	return out
}

func isNumeric(cell string) bool {
	return parse(cell, point).isNumeric() || strings.ContainsAny(cell, ".,") && parse(cell, comma).isNumeric()
}

// hasPair tells whether among the figures of a record one may be a speed and
// another an angle.
func hasPair(cells []string) bool { return hasPairBy(cells, point, comma) }

// hasPairBy is the same by some decimal marks.
func hasPairBy(cells []string, marks ...mark) bool {
	for i, a := range cells {
		if !mayBe(a, isSpeed, marks) {
			continue
		}
		for j, b := range cells {
			if i != j && mayBe(b, isDeg, marks) {
				return true
			}
		}
	}
	return false
}

// mayBe tells whether a cell can be a speed, or degrees.
func mayBe(cell, is string, marks []mark) bool {
	for _, m := range marks {
		if f := parse(cell, m); f.isNumeric() && f.fits(is) {
			return true
		}
	}
	return false
}

// fits tells whether a figure lies where such figures can lie.
func (f figure) fits(is string) bool {
	if is == isSpeed {
		return f.kind == isFigure && f.low >= leastRPM && f.high <= mostRPM && !f.unit.angle
	}
	return f.low >= leastDeg && f.high <= mostDeg && !f.unit.speed
}

// firstLines is the beginning of a text, up to the end of a line.
func firstLines(text string, most int) string {
	if len(text) <= most {
		return text
	}
	if end := strings.LastIndexAny(text[:most], "\r\n"); end > 0 {
		return text[:end+1]
	}
	return text[:most]
}

// joined puts together what runs of blanks have torn: bands and figures with
// their unit words.
func joined(cells []string) []string {
	if len(numericCells(cells)) == 0 {
		return cells
	}
	var out []string
	for i := 0; i < len(cells); i++ {
		c := cells[i]
		word := plainLetters(c)
		last := len(out) - 1
		switch {
		case last >= 0 && i+1 < len(cells) && slices.Contains(toWords, word) && isNumeric(out[last]) &&
			isNumeric(cells[i+1]):
			i++
			out[last] += " " + c + " " + cells[i]
		case last >= 0 && isNumeric(out[last]) && !isNumeric(c) && isUnitWord(word) && isNumeric(out[last]+" "+c):
			out[last] += " " + c
		default:
			out = append(out, c)
		}
	}
	return out
}

func isUnitWord(word string) bool {
	return slices.ContainsFunc(cellUnits, func(s spelling) bool { return slices.Contains(s.words, word) }) ||
		slices.Contains(afterTDC, word)
}
