package figures

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pointsmith/calc/refuse"
)

// OutRow is one row to be written, in the table's own units.
type OutRow struct {
	RPM       float64  `json:"rpm" need:"yes" min:"50" max:"12000" unit:"rpm, engine or distributor as speedUnit says" help:"speed"`
	MinDeg    *float64 `json:"minDeg,omitempty" min:"-40" max:"90" unit:"degrees, crank or distributor as angleUnit says" help:"of a spec: the least the book allows"`
	MaxDeg    *float64 `json:"maxDeg,omitempty" min:"-40" max:"90" unit:"degrees, crank or distributor as angleUnit says" help:"of a spec: the most the book allows"`
	Deg       *float64 `json:"deg,omitempty" min:"-60" max:"120" unit:"degrees, crank or distributor as angleUnit says" help:"of readings: what was read"`
	Direction string   `json:"direction,omitempty" enum:"rising|falling" help:"of readings: whether speed was being raised or lowered"`
	Place     string   `json:"place,omitempty" enum:"bench|car" help:"of readings: where"`
	Vacuum    string   `json:"vacuum,omitempty" enum:"off|connected" help:"of readings: the vacuum pipe"`
	Note      string   `json:"note,omitempty" maxLen:"400" help:"what is to stand beside the row"`
}

// WriteIn is a table to be written.
type WriteIn struct {
	What      string   `json:"what" need:"yes" enum:"spec|readings" help:"what the table is"`
	AngleUnit string   `json:"angleUnit" need:"yes" enum:"crank|distributor" help:"which shaft the degrees belong to"`
	SpeedUnit string   `json:"speedUnit" need:"yes" enum:"engine|distributor" help:"which shaft the speeds belong to"`
	Base      string   `json:"base" need:"yes" enum:"included|excluded" help:"whether the degrees hold the base timing"`
	Rows      []OutRow `json:"rows" need:"yes" minItems:"1" maxItems:"400" help:"the rows; of a spec at most 64"`
}

// WriteOut is the table as text.
type WriteOut struct {
	Text     string   `json:"text" help:"the table as CSV: commas, decimal points, lines that end with CRLF"`
	FileType string   `json:"fileType" help:"the media type of the text"`
	Notes    []Note   `json:"notes" help:"what is to be known of the text"`
	Sources  []string `json:"sources" help:"where the rules come from"`
}

// Write writes a table as CSV by RFC 4180: one line of heads with the units in
// them, commas, quotes where a cell needs them, CRLF; figures with a decimal
// point, no thousands, as short as gives the same number back. Read gives the
// same rows back and asks nothing. Notes are kept letter for letter, in
// quotes. One that begins like a formula (= + - @, a tab or a line end) is kept
// too, and named in notes: some programs would reckon it when the file is
// opened.
//
// Refused: a spec with two rows for one speed, a row without degrees or with
// degrees of the other kind, a least above the most, a note with a zero
// character. Source: RFC 4180.
func Write(in WriteIn) (WriteOut, error) {
	if bad := in.check(); bad != nil {
		return WriteOut{}, bad
	}
	out := WriteOut{FileType: "text/csv; charset=utf-8; header=present", Sources: []string{"RFC 4180 (CSV)"}}
	columns := in.columns()
	var b strings.Builder
	line := func(cells []string) { b.WriteString(strings.Join(cells, ",") + "\r\n") }
	var heads []string
	for _, is := range columns {
		heads = append(heads, in.head(is))
	}
	line(heads)
	for i, row := range in.Rows {
		var cells []string
		for _, is := range columns {
			cells = append(cells, row.cell(is))
		}
		line(cells)
		if row.Note != "" && strings.ContainsRune("=+-@\t\r\n", rune(row.Note[0])) {
			text := fmt.Sprintf("The note of row %d begins with %q. It was kept as it is, in quotes. A program that opens "+
				"the file may take it for a formula.", i+1, row.Note[:1])
			out.Notes = append(out.Notes, Note{Code: "like-a-formula", Text: text})
		}
	}
	out.Text = b.String()
	return out, nil
}

// columns are those the rows need. Readings always have a direction, so that
// the order of the speeds need not tell it.
func (in WriteIn) columns() []string {
	has := func(is func(OutRow) bool) bool { return slices.ContainsFunc(in.Rows, is) }
	if in.What == spec {
		out := []string{isSpeed}
		if has(func(row OutRow) bool { return row.MinDeg != nil }) {
			out = append(out, isMin)
		}
		if has(func(row OutRow) bool { return row.MaxDeg != nil }) {
			out = append(out, isMax)
		}
		if has(func(row OutRow) bool { return row.Note != "" }) {
			out = append(out, isNote)
		}
		return out
	}
	out := []string{isSpeed, isDeg, isDirection}
	if has(func(row OutRow) bool { return row.Place != "" }) {
		out = append(out, isPlace)
	}
	if has(func(row OutRow) bool { return row.Vacuum != "" }) {
		out = append(out, isVacuum)
	}
	if has(func(row OutRow) bool { return row.Note != "" }) {
		out = append(out, isNote)
	}
	return out
}

func (in WriteIn) head(is string) string {
	base := map[string]string{included: "with base", excluded: "without base"}[in.Base]
	switch is {
	case isSpeed:
		return "speed (" + in.SpeedUnit + " rpm)"
	case isDeg:
		return "angle (" + in.AngleUnit + " degrees " + base + ")"
	case isMin:
		return "least (" + in.AngleUnit + " degrees " + base + ")"
	case isMax:
		return "most (" + in.AngleUnit + " degrees " + base + ")"
	}
	return is
}

func (row OutRow) cell(is string) string {
	figure := func(x *float64) string {
		if x == nil {
			return ""
		}
		return strconv.FormatFloat(*x, 'f', -1, 64)
	}
	switch is {
	case isSpeed:
		return figure(&row.RPM)
	case isMin:
		return figure(row.MinDeg)
	case isMax:
		return figure(row.MaxDeg)
	case isDeg:
		return figure(row.Deg)
	case isDirection:
		return row.Direction
	case isPlace:
		return row.Place
	case isVacuum:
		return row.Vacuum
	}
	if row.Note == "" {
		return ""
	}
	return `"` + strings.ReplaceAll(row.Note, `"`, `""`) + `"`
}

func (in WriteIn) check() *refuse.Error {
	if in.What == spec && len(in.Rows) > maxSpecRows {
		return refuse.Input("rows", fmt.Sprintf("has %d rows", len(in.Rows)),
			fmt.Sprintf("at most %d of a spec", maxSpecRows),
			"leave some out")
	}
	at := map[float64]int{}
	for i, row := range in.Rows {
		field := fmt.Sprintf("rows[%d]", i)
		if bad := row.check(in.What); bad != nil {
			return bad.Under(field)
		}
		if j, again := at[row.RPM]; again && in.What == spec {
			return refuse.Input(field+".rpm", fmt.Sprintf("%g rpm stands in row %d too", row.RPM, j+1),
				"one row for each speed", "correct the speed or leave one out")
		}
		at[row.RPM] = i
	}
	return nil
}

func (row OutRow) check(what string) *refuse.Error {
	ofBook := row.MinDeg != nil || row.MaxDeg != nil
	ofReading := row.Deg != nil || row.Direction != "" || row.Place != "" || row.Vacuum != ""
	switch {
	case what == spec && (ofReading || !ofBook):
		return refuse.Input("", "is no row of a spec", "minDeg or maxDeg or both, and none of what readings have",
			"give the band, or say what: readings")
	case what == readings && (ofBook || row.Deg == nil):
		return refuse.Input("", "is no reading", "deg, and neither minDeg nor maxDeg", "give deg, or say what: spec")
	case row.MinDeg != nil && row.MaxDeg != nil && *row.MinDeg > *row.MaxDeg:
		return refuse.Input("minDeg", fmt.Sprintf("the least, %g, is more than the most, %g", *row.MinDeg, *row.MaxDeg),
			"minDeg at most maxDeg", "swap the two or correct one")
	case strings.ContainsRune(row.Note, 0):
		return refuse.Input("note", "holds a zero character", "text without zero characters", "take it out")
	}
	return nil
}
