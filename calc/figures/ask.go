package figures

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"pointsmith/calc/refuse"
)

// An option is an answer before its preview is made.
type option struct{ answer, text string }

// inWords names what a column holds.
var inWords = map[string]string{isSpeed: "speed", isDeg: "degrees", isMin: "least degrees", isMax: "most degrees",
	isRising: "degrees rising", isFalling: "degrees falling", isDirection: "direction", isPlace: "place",
	isVacuum: "vacuum", isNote: "note", isSkip: "not read"}

// answers that each question allows; nil: the question makes its own.
var allowed = map[string][]string{
	"what": {spec, readings}, "angleUnit": {crank, distributor}, "speedUnit": {engine, distributor},
	"base": {included, excluded}, "separator": {"tab", "semicolon", "pipe", "comma", "blanks", words},
	"decimal": {"point", "comma", "each"}, "commas": nil, "columns": nil, "table": nil,
	"swapped": {"swap", "keep"}, "leastMost": {"swap", "leave"}, "bands": {"middle", "leave"},
	"unreadable": {"degree", "leave"}, "direction": {"order", rising, falling}, "repeats": {"first", "last", "widest"},
	"keep": nil,
}

// checkAnswers refuses answers that no question allows.
func (in ReadIn) checkAnswers() *refuse.Error {
	for _, id := range slices.Sorted(maps.Keys(in.Hints.Answers)) {
		answer := in.Hints.Answers[id]
		fits, known := allowed[id]
		field := "hints.answers." + id
		if !known {
			return refuse.Input(field, "is no question of this calculation", "one of "+
				strings.Join(slices.Sorted(maps.Keys(allowed)), ", "), "give back the id of an ask")
		}
		bad := fits != nil && !slices.Contains(fits, answer)
		limit := strings.Join(fits, " or ")
		switch id {
		case "columns":
			bad = slices.ContainsFunc(strings.Split(answer, ","), func(is string) bool { return inWords[is] == "" })
			limit = "names of columns with commas between them, such as speed,deg"
		case "commas":
			bad, limit = !isCommas(answer), "one of its choices"
		case "table":
			n, err := strconv.Atoi(answer)
			bad, limit = err != nil || n < 1, "a number from 1"
		case "keep":
			n, err := strconv.Atoi(answer)
			bad = (err != nil || n < 1 || n > mostRPM) && answer != "first"
			limit = fmt.Sprintf("a step of speed from 1 to %d rpm, or first", mostRPM)
		}
		if bad {
			return refuse.Input(field, fmt.Sprintf("%q is not an answer to it", shortened(answer)), limit,
				"give back the answer of one of its choices")
		}
	}
	return nil
}

// comeFirst are the questions about the shape of the table. What else is open
// hangs on their answers, so it is asked once they are answered.
var comeFirst = map[string]bool{"separator": true, "table": true, "commas": true, "columns": true, "swapped": true}

// ask adds a question, each answer with the first rows it would give.
func (r *reader) ask(id, question, why string, options ...option) {
	if r.quiet || slices.ContainsFunc(r.out.Asks, func(a Ask) bool { return a.ID == id || comeFirst[a.ID] }) {
		return
	}
	a := Ask{ID: id, Question: question, Why: why}
	for _, o := range options {
		a.Choices = append(a.Choices, Choice{Answer: o.answer, Text: o.text, Preview: r.preview(id, o.answer)})
	}
	r.out.Asks = append(r.out.Asks, a)
}

// previewRows is how many rows a preview shows, and previewFrom from how many
// lines it is made (judgement).
const previewRows, previewFrom = 3, 24

// preview reads the beginning of the table once more, with one answer added.
func (r *reader) preview(id, answer string) []string {
	if id == "keep" { // all rows are needed for it, and they are there
		return r.sayFirst(r.thin(answer, maxReadings), id)
	}
	p := &reader{in: r.in, quiet: true}
	p.in.Text = r.beginning(id, answer)
	h := &p.in.Hints
	h.Answers = map[string]string{}
	maps.Copy(h.Answers, r.in.Hints.Answers)
	delete(h.Answers, "table")
	delete(h.Answers, "keep")
	if id != "table" {
		h.Answers[id] = answer
	}
	if id != "separator" {
		h.Separator = r.out.Separator
	}
	if id != "decimal" && r.mark != 0 {
		h.Decimal = map[mark]string{point: "point", comma: "comma"}[r.mark]
	}
	if r.roles != nil && id != "columns" {
		h.Columns = r.roles
	}
	if p.read() != nil {
		return []string{}
	}
	return p.sayFirst(p.out.Rows, id)
}

func (r *reader) sayFirst(rows []Row, id string) []string {
	lines := []string{}
	for _, row := range rows[:min(len(rows), previewRows)] {
		lines = append(lines, r.say(row, id))
	}
	return lines
}

// beginning is the text a preview is made of.
func (r *reader) beginning(id, answer string) string {
	t := r.table
	if n, err := strconv.Atoi(answer); id == "table" && err == nil {
		t = &r.tables[n-1]
	}
	if t == nil || r.turned {
		return firstLines(r.text, maxShown*previewFrom)
	}
	var b strings.Builder
	for _, rec := range slices.Concat(t.heads, t.rows[:min(len(t.rows), previewFrom)]) {
		b.WriteString(rec.raw + "\n")
	}
	return b.String()
}

// say gives a row in words. Where a unit is asked, the other shaft's figure
// stands beside it, for a distributor that turns once in two turns of the
// engine.
func (r *reader) say(row Row, id string) string {
	half := func(x float64, unit string) string {
		if unit == distributor {
			return fmt.Sprintf("%.4g", x*2)
		}
		return fmt.Sprintf("%.4g", x/2)
	}
	angle, speed := strings.TrimSpace(r.out.AngleUnit+" degrees"), strings.TrimSpace(r.out.SpeedUnit+" rpm")
	other := map[string]string{crank: "distributor degrees", distributor: "crank degrees"}[r.out.AngleUnit]
	otherSpeed := map[string]string{engine: "distributor rpm", distributor: "engine rpm"}[r.out.SpeedUnit]
	text := fmt.Sprintf("%g %s", row.RPM, speed)
	if id == "speedUnit" && otherSpeed != "" {
		text += fmt.Sprintf(" (%s %s)", half(row.RPM, r.out.SpeedUnit), otherSpeed)
	}
	figure := func(x *float64) string {
		if id == "angleUnit" && other != "" {
			return fmt.Sprintf("%g (%s %s)", *x, half(*x, r.out.AngleUnit), other)
		}
		return fmt.Sprintf("%g", *x)
	}
	switch {
	case row.Deg != nil:
		text += ": " + figure(row.Deg)
	case row.MinDeg == nil:
		text += ": at most " + figure(row.MaxDeg)
	case row.MaxDeg == nil:
		text += ": at least " + figure(row.MinDeg)
	case *row.MinDeg == *row.MaxDeg:
		text += ": " + figure(row.MinDeg)
	default:
		text += ": " + figure(row.MinDeg) + " to " + figure(row.MaxDeg)
	}
	return strings.TrimSpace(text + " " + angle + " " + row.Direction)
}
