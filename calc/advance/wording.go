package advance

import (
	"fmt"
	"strings"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// wording puts a judgement into words. It decides nothing.
type wording struct {
	*judgement
	out *JudgeOut
}

func (w wording) add(f finding.Finding) { w.out.Findings.Add(f) }

func (w wording) ask(question string) { w.out.Ask = append(w.out.Ask, question) }

// findings says what is named; where nothing is, the accounts that stand side
// by side and the reading that tells them apart.
func (w wording) findings() {
	w.statedPipe()
	named := w.named()
	for _, e := range named {
		if e != "mark-off" { // said with the lamp
			w.add(w.findingOf(e))
		}
	}
	if w.doubtful() || w.out.Suspicion != "none" {
		w.askAboutEntry()
	}
	w.staticFindings()
	if len(named) == 0 && w.shares["sound"] < likelyShare {
		w.sideBySide()
	}
	w.outlierFindings()
	w.idleFinding()
	w.lagFinding()
	w.strayFinding(named)
	w.questions()
}

// findingOf is the finding of one named element.
func (w wording) findingOf(id string) finding.Finding {
	e, share := known[id], w.element(id)
	f := finding.Finding{Share: &share, Code: e.code, Title: e.title, Part: e.part,
		Direction: e.direction, Text: e.text,
		DisprovedBy: e.disproof, Sureness: sureness(share), Working: append(w.worstLines(), w.shareLine(id))}
	switch e.kind {
	case kindBase:
		w.baseWords(&f, id)
	case kindBench:
		w.benchWords(&f, id)
	case kindEntry:
		w.entryWords(&f, id)
	case kindPipe:
		w.pipeWords(&f, id)
	}
	if id == "stop-long" && w.spec.LimitDistDeg != nil {
		n := *w.spec.LimitDistDeg
		f.Working = append(f.Working,
			fmt.Sprintf("Stop at %.3g distributor degrees is %.3g × %.3g = %.3g crank degrees, without base.", n,
				w.band.ratio, n, w.band.ratio*n))
	}
	return f
}

func (w wording) shareLine(id string) string {
	line := fmt.Sprintf("Share of all accounts under which %s: %.0f in 100.", known[id].short, 100*w.element(id))
	return line
}

// sideBySide gives each leading account as a finding, and the test.
func (w wording) sideBySide() {
	test := w.testWords()
	quiet := w.soundLeads()
	for _, a := range w.out.Accounts {
		// a tenth: what is less likely is not worth his time (chosen)
		if a.Share < 0.1 || a.ID == "other" || len(w.out.Explanations) >= 3 {
			continue
		}
		w.out.Explanations = append(w.out.Explanations,
			Explanation{Code: w.accountCode(a.ID), Text: a.Text, Test: test})
		if a.ID == "sound" || quiet || w.out.Findings.Has(w.accountCode(a.ID)) {
			continue
		}
		f := finding.Finding{Share: &a.Share, Code: w.accountCode(a.ID), Title: fmt.Sprintf("Possible, %.0f in 100: %s",
			100*a.Share, lowerFirst(a.Title)), Part: strings.Join(a.Parts, " and "), Direction: a.Direction,
			Sureness: "possible", DisprovedBy: test, Working: w.worstLines(),
			Text: a.Text + " Turn nothing and change nothing inside until the next reading has decided."}
		w.add(f)
	}
	if len(w.out.Explanations) < 2 || quiet {
		w.out.Explanations = []Explanation{}
	}
	if test != "" && len(w.out.Explanations) > 1 {
		w.ask("Can one more reading be taken? " + test)
	}
}

// soundLeads: nothing wrong is the likeliest account, and no reading is out.
func (w wording) soundLeads() bool {
	return len(w.out.Accounts) > 0 && w.out.Accounts[0].ID == "sound" && w.strays() == 0
}

// accountCode is the code of an account's finding: as it was named before
// accounts had ids.
func (w wording) accountCode(id string) string {
	var codes []string
	for _, e := range elements(id) {
		c := known[e].code
		if c == "" {
			c = e
		}
		codes = append(codes, c)
	}
	return strings.Join(codes, "+")
}

// testWords is the reading that tells most, in words.
func (w wording) testWords() string {
	if len(w.out.NextReadings) == 0 {
		return "the same speeds read again, up and down, the speed settled 3 to 5 seconds at each point"
	}
	words := w.out.NextReadings[0].words()
	for _, n := range w.out.NextReadings[1:] {
		if n.Place == "lamp" {
			words += " Or: " + n.words()
		}
	}
	return words
}

func shortOf(id string) string {
	var all []string
	for _, e := range elements(id) {
		all = append(all, known[e].short)
	}
	return strings.Join(all, " and ")
}

// accountText says an account in a sentence, with its figures.
func (j *judgement) accountText(id string) string {
	if id == "other" {
		return "None of these, or more than two things at once."
	}
	var parts []string
	for _, e := range elements(id) {
		parts = append(parts, j.elementText(id, e))
	}
	text := strings.Join(parts, ", and ")
	if strings.Count(text, baseRight) > 1 { // once is enough
		text = strings.ReplaceAll(text, baseRight, "") + baseRight
	}
	return upperFirst(text) + "."
}

const baseRight = ", the base being right"

func (j *judgement) elementText(id, e string) string {
	k := known[e]
	switch {
	case k.kind == kindBase && j.band.base != nil:
		r := infer.RangeOf(j.ofAccount(id), func(d *infer.Drawn) float64 { return d.Base * halfSpeed })
		off := r.Middle - *j.band.base
		return fmt.Sprintf("the base was set %.0f degrees %s, at about %s", abs(off), earlyLate(off), before(r.Middle))
	case k.kind == kindInside && !isBase(id) && len(j.static) == 0 && j.hasCar():
		return k.short + baseRight
	case k.kind == kindBench:
		r := infer.RangeOf(j.ofAccount(id), func(d *infer.Drawn) float64 { return d.Zero * halfSpeed / j.band.ratio })
		return fmt.Sprintf("%s by %+.1f distributor degrees", k.short, r.Middle)
	}
	return k.short
}

func (j *judgement) hasCar() bool {
	_, car, _ := j.result.Has()
	return car
}

func earlyLate(off float64) string {
	if off < 0 {
		return "late"
	}
	return "early"
}

// worstLines shows the first reading out and the one furthest out.
func (j *judgement) worstLines() []string {
	first, worst := -1, -1
	for i, p := range j.points {
		if p.Verdict != "fail" {
			continue
		}
		if first < 0 {
			first = i
		}
		if worst < 0 || abs(p.DeviationCrankDeg) > abs(j.points[worst].DeviationCrankDeg) {
			worst = i
		}
	}
	var lines []string
	if first >= 0 {
		lines = append(lines, j.pointLine(j.points[first]))
	}
	if worst > first {
		lines = append(lines, j.pointLine(j.points[worst]))
	}
	return lines
}

func (j *judgement) pointLine(p JudgedPoint) string {
	kind := "advance"
	if p.Base == "included" {
		kind = "total before TDC"
	}
	line := fmt.Sprintf("At %.0f engine rpm (%.0f distributor rpm), %s: %s %.1f, book %.1f to %.1f", p.EngineRPM,
		p.EngineRPM/j.band.ratio, p.Direction, kind, p.MeasuredCrankDeg, p.MinCrankDeg, p.MaxCrankDeg)
	if p.Silent {
		line += " (no figure in the book here: what is possible)"
	}
	if p.DeviationCrankDeg == 0 {
		return line + ": inside."
	}
	return fmt.Sprintf(
		"%s: %.1f crank degrees (%.1f distributor degrees) %s; allowed beyond the edge for reading error: %.3g.",
		line, abs(p.DeviationCrankDeg), abs(p.DeviationCrankDeg)/j.band.ratio, direction(p.DeviationCrankDeg),
		p.ReadingErrorCrankDeg)
}

func direction(beyond float64) string {
	if beyond > 0 {
		return "too high"
	}
	return "too low"
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
