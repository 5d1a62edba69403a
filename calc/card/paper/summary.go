package paper

import (
	"strings"

	"pointsmith/calc/card"
)

// summary is a card in a few lines of plain text: one fact a line, without
// markup. What is unknown is left out.
func summary(c card.Card, lines []Line) string {
	out := []string{"Setup card: " + c.Car.Name}
	add := func(label, text string) {
		if text != "" {
			out = append(out, label+text)
		}
	}
	add("", said(", ", day(c.Date), said(" ", prefixed("set by ", c.SetBy)), prefixed("checked by ", c.CheckedBy)))
	if st := c.State; st != nil {
		add("", strings.ToUpper(st.Verdict)+": "+st.Summary)
		add("Next: ", st.Next)
	}
	block := func(title string, lines []string) {
		if len(lines) > 0 {
			out = append(append(out, "", title), lines...)
		}
	}
	block("Read first", dashed(c.Warnings))
	var set []string
	for _, l := range lines {
		if l.Group == lines[0].Group && l.Text != "" {
			set = append(set, l.Label+": "+l.Text)
		}
	}
	if len(set) > 0 {
		block(lines[0].Group, set)
	}
	var work []string
	for _, w := range c.Work {
		work = append(work, said(": ", day(w.Date), workWords(w)))
	}
	block("Work done", dashed(work))
	block("Still to do", dashed(c.LeftUndone))
	if c.NextCheck != "" {
		out = append(out, "", "Next check: "+c.NextCheck)
	}
	return strings.Join(out, "\n") + "\n"
}

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func dashed(lines []string) []string {
	var out []string
	for _, line := range lines {
		out = append(out, "- "+line)
	}
	return out
}
