package figures

import (
	"fmt"
	"slices"
	"strings"

	"pointsmith/calc/refuse"
)

// reader is one text while it is read.
type reader struct {
	in      ReadIn
	text    string
	records []record
	tables  []table
	table   *table
	cols    []column
	mark    mark // the decimal mark where figures can be read both ways; 0: their size decides
	built   []Row
	turned  bool     // the table lay across
	width   int      // of rows that were put together; 0: found
	roles   []string // of the columns, before any swap

	ordered, reversed int     // rows whose least is less than the most; more
	bands             int     // readings with a band
	below             float64 // rpm below which the text says there is no advance; 0: nothing said
	more              int     // left out beyond the list
	out               ReadOut
	quiet             bool // a preview asks nothing and shows nothing
}

// Read reads the text of a table into rows of speed and degrees, each with the
// line it stands on.
//
// Cells are cut by RFC 4180, where tabs, semicolons, upright lines and runs of
// blanks may stand for the comma, and LF or CR for CRLF. What a column is, is
// said by the person, else by its head, else by the size of its figures:
//
//	speeds: 50 to 12,000, the highest at least 200; degrees: below 60
//
// A decimal comma is understood. A figure with one mark and three digits behind
// it ("1,500") has two readings: other figures of the text decide, else its
// size; where both are possible it is asked. Crank or distributor, engine or
// distributor, base included or not are always asked unless hints or heads say
// so. A band ("12-14", "12 to 14", "13 ± 1") is a least and a most; a spec's row
// with one figure has it for both.
//
// Refused: a text of more than 8,000,000 bytes, an empty one, one that was
// UTF-16 and cannot be mended, one in which no line has a speed and an angle,
// answers that no question allows. Sources: RFC 4180 for the cells; the sizes
// are common practice and stand in limits.go.
func Read(in ReadIn) (ReadOut, error) {
	if bad := in.checkAnswers(); bad != nil {
		return ReadOut{}, bad
	}
	r := &reader{in: in}
	if bad := r.read(); bad != nil {
		return ReadOut{}, bad
	}
	return r.out, nil
}

func (r *reader) read() *refuse.Error {
	if bad := r.clean(); bad != nil {
		return bad
	}
	r.pickSeparator()
	r.takeNoAdvance()
	r.turn()
	r.split()
	if len(r.tables) == 0 {
		return refuse.Input("text", "holds no line with a speed and an angle", "a table with two figures in a line at least",
			"paste the table with its speeds, one row a line, or say with hints.separator what stands between the cells")
	}
	r.pickTable()
	if bad := r.undoCommas(); bad != nil {
		return bad
	}
	if bad := r.findColumns(); bad != nil {
		return bad
	}
	r.findUnits()
	r.findMark()
	r.findWhat()
	r.giveNoAdvance()
	r.build()
	r.checkRows()
	r.limitRows()
	r.finish()
	return nil
}

func (r *reader) finish() {
	r.askUnreadable()
	r.noteLax()
	slices.SortStableFunc(r.out.LeftOut, func(a, b Left) int { return a.Line - b.Line })
	if r.more > 0 {
		last := &r.out.LeftOut[len(r.out.LeftOut)-1]
		last.Because += fmt.Sprintf("; and %d more lines", r.more)
	}
	for i, c := range r.cols {
		r.out.Columns = append(r.out.Columns,
			Column{Index: i, Head: c.head, Is: c.shown(), Unit: r.unitOf(c), Sureness: c.sureness})
	}
	r.out.Rows = r.built
	r.out.Sources = []string{"RFC 4180 (cells, quotes, line ends)",
		"common practice (units in heads, bands, the sizes of speeds and degrees)"}
}

func (r *reader) unitOf(c column) string {
	switch {
	case c.is == isSpeed:
		return r.out.SpeedUnit
	case degrees(c.is):
		return r.out.AngleUnit
	}
	return ""
}

// said is the answer to a question, else the hint.
func (r *reader) said(id, hint string) string {
	if a := r.answer(id); a != "" {
		return a
	}
	return hint
}

func (r *reader) answer(id string) string { return r.in.Hints.Answers[id] }

func (r *reader) note(code, text string) {
	if !r.quiet {
		r.out.Notes = append(r.out.Notes, Note{Code: code, Text: text})
	}
}

func (r *reader) leave(rec record, because string) {
	if len(r.out.LeftOut) >= maxLeftOut {
		r.more++
		return
	}
	r.out.LeftOut = append(r.out.LeftOut, Left{Line: rec.line, Text: shortened(rec.raw), Because: because})
}

// shortened keeps what is shown of a line short, on one line.
func shortened(raw string) string {
	if len(raw) > 8*maxShown {
		raw = strings.ToValidUTF8(raw[:8*maxShown], "")
	}
	runes := []rune(strings.Join(strings.FieldsFunc(raw, func(c rune) bool { return c == '\n' || c == '\r' }), " "))
	if len(runes) > maxShown {
		return string(runes[:maxShown]) + "…"
	}
	return string(runes)
}

// askUnreadable asks of characters that could not be read, where they stand in
// rows or heads.
func (r *reader) askUnreadable() {
	if r.answer("unreadable") != "" || !strings.ContainsRune(r.text, unreadable) {
		return
	}
	for _, rec := range slices.Concat(r.table.heads, r.table.rows) {
		for i, c := range rec.cells {
			isFree := i < len(r.cols) && r.cols[i].is == isNote
			if isFree || !strings.ContainsRune(c, unreadable) {
				continue
			}
			r.ask("unreadable", fmt.Sprintf("A character in line %d could not be read: “%s”. Is it a degree sign?",
				rec.line, shortened(strings.TrimSpace(c))),
				"The file was saved in another encoding. Behind a figure such a character may be a degree sign, or a half.",
				option{"degree", "yes, they are all degree signs"},
				option{"leave", "no; leave out the figures it stands in"})
			return
		}
	}
}

func (r *reader) noteLax() {
	n, first := 0, 0
	for _, rec := range r.table.rows {
		if rec.lax {
			if n++; n == 1 {
				first = rec.line
			}
		}
	}
	if n > 0 {
		r.note("quotes", fmt.Sprintf("In %d lines (the first is line %d) quotes do not match. There a quote was read as a "+
			"letter of its cell.", n, first))
	}
}
