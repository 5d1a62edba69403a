package advance

import (
	"fmt"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// outlierFindings are about readings that look like slips.
func (w wording) outlierFindings() {
	for _, i := range w.outliers {
		p := w.points[i]
		w.add(finding.Finding{Code: "wild-reading", Title: "One reading stands alone: " + p.name(), Part: "the reading",
			Direction: direction(p.DeviationCrankDeg),
			Text:      "Its neighbours do not agree with it, and a curve cannot jump: let the speed settle and take it again before believing it. Change nothing inside for its sake.",
			Sureness:  "likely", DisprovedBy: "the same figure read again", Working: []string{w.pointLine(p)}})
	}
}

// name says which reading it is.
func (p JudgedPoint) name() string {
	return fmt.Sprintf("%.0f engine rpm, %s", p.EngineRPM, p.Direction)
}

// lagFinding says what falling less rising means, where friction is not named.
func (w wording) lagFinding() {
	h := w.lag
	if h == nil {
		return
	}
	if h.copied {
		w.ask("Rising and falling are the same to the figure. Were both read, or was one column copied?")
	}
	if h.distDeg <= hysteresisWatch || w.out.Findings.Has("sticking") {
		return
	}
	f := finding.Finding{Code: "hysteresis",
		Title: fmt.Sprintf("A little late to come back: %.1f distributor degrees between rising and falling",
			h.distDeg), Part: partWeights, Direction: "late on falling", Sureness: "likely",
		Text:        "Up to one distributor degree is normal, up to two is worth a drop of oil on the felt under the rotor and on the pivots.",
		DisprovedBy: "a second run, speed settled 3 to 5 seconds at each point, up and down", Working: w.lagLines()}
	if h.distDeg > hysteresisFail {
		f.Code, f.Title, f.Text = "sticking",
			fmt.Sprintf("The advance sticks: %.1f distributor degrees between rising and falling", h.distDeg),
			known["drag"].text
	}
	w.add(f)
}

func (w wording) lagLines() []string {
	var lines []string
	for _, p := range w.lag.pairs[:min(8, len(w.lag.pairs))] {
		lines = append(lines,
			fmt.Sprintf("At %.0f engine rpm: falling %.1f less rising %.1f = %.1f crank, %.1f distributor degrees.",
				p.rpm, p.falling, p.rising, p.falling-p.rising, (p.falling-p.rising)/w.band.ratio))
	}
	return append(lines, "Counted: the mean of the larger half of these differences. Normal to 1, watch to 2, sticking beyond (distributor degrees).")
}

// strayFinding: nothing is named, and still readings are out of the book.
func (w wording) strayFinding(named []string) {
	if len(named) > 0 || len(w.out.Explanations) > 1 || w.strays() == 0 {
		return
	}
	f := finding.Finding{Code: "some-out", Title: "Some readings are out of the band, though the curve agrees: " +
		w.counts.words(), Part: "the base, the friction, or the readings", Sureness: "possible",
		Text:        "On the whole the readings agree with the book; these do not. A speed that had not settled does this. Read up and down again. Change nothing inside for this.",
		DisprovedBy: "the same speeds read again, settled 3 to 5 seconds each, lie in the band"}
	for _, p := range w.points {
		if p.Verdict == "fail" && len(f.Working) < 8 {
			f.Working = append(f.Working, w.pointLine(p))
		}
	}
	w.add(f)
}

// questions ask for what was not read.
func (w wording) questions() {
	bench, car, told := w.result.Has()
	if bench && !car && !told {
		w.ask("The base has not been proved on the car. Where does it stand (static with the test lamp, or strobe with the pipe off)?")
	}
	falling := false
	for _, r := range w.usable {
		falling = falling || r.falling
	}
	if w.spec.ListedWhile == "falling" && !falling && len(w.usable) > 0 {
		w.ask("The book's table is read while speed falls, but only rising readings are here. Rising readings of a sound unit lie up to a distributor degree lower. Can the falling ones be taken?")
	}
	if n := len(w.spec.Points); n < tellingRows && len(w.usable) > 0 {
		w.ask(fmt.Sprintf("The book has %s only. It tells whether a reading is possible, not which part is off. Is there a fuller table?", finding.Count(n, "line", "lines")))
	}
	if len(w.usable) > 0 && w.oneSpeed() {
		w.ask("Only one speed was read. Idle, 1500, 2000 to 2500 and all-in (engine rpm) show the curve; can the missing ones be taken?")
	}
}

var shapeWords = map[string]string{
	"in-band":   "the curve agrees with the book",
	"base-only": "the curve has the book's shape but stands off by one amount everywhere",
	"early":     "the curve comes in too early", "late": "the curve comes in too late",
	"stuck":       "the advance does not move",
	"over-limit":  "the curve is right until the top and then goes too far",
	"under-limit": "the curve stops too soon",
	"sticking":    "the advance sticks on its way", "mixed": "the curve is off in more than one way",
}

// summary is the whole in one sentence.
func (w wording) summary() string {
	named := w.named()
	switch {
	case w.out.Suspicion != "none" && w.doubt() >= 0.5:
		return "Before anything is touched: " + lowerFirst(w.textOf(w.out.Suspicion).title) + "."
	case w.element("mark-off") >= 0.5, len(w.slipped) > 0:
		return w.lampWords()
	case w.sum(w.shares, isBetween) >= 0.5:
		return known["repaired-between"].title + ". Turn nothing and change nothing inside until they do."
	case len(w.usable) == 0:
		return upperFirst("no curve was read"+w.baseEnd()) + "."
	case w.nothingTold():
		return "The book gives no figure at the speeds read, so they say nothing about the curve."
	case w.oneSpeed() && len(w.static) == 0:
		return "One speed says nothing about the curve; read at least idle, 1500, 2000 to 2500 and all-in."
	case len(named) == 0 && w.shares["sound"] < likelyShare:
		return w.undecided()
	}
	words := shapeWords[w.out.Shape]
	if len(w.outliers) == 1 {
		words += fmt.Sprintf("; take the reading at %s, again", w.points[w.outliers[0]].name())
	}
	if w.sum(w.shares, isBench) >= likelyShare && w.sum(w.shares, isInside) < 0.5 {
		words = "the bench run stands off by one amount: zero its ring and repeat it"
	}
	return upperFirst(words+w.baseEnd()) + "."
}

// lampWords: what the lamp says and what speaks against it.
func (w wording) lampWords() string {
	if len(w.static) > 1 {
		a, b := w.static[0], w.static[len(w.static)-1]
		return fmt.Sprintf("Two static figures differ, %s and %s. Turn nothing before it is known which one stands.",
			before(a.deg), before(b.deg))
	}
	found := infer.RangeOf(w.units, func(d *infer.Drawn) float64 { return (d.Base + d.Mark) * halfSpeed })
	return fmt.Sprintf("The test lamp gives a base of %s, the readings %s: they disagree by %.1f°. Turn nothing before it is known which is wrong.",
		before(w.static[0].deg), before(found.Middle), abs(found.Middle-w.static[0].deg))
}

// undecided says what stands side by side and that one reading decides.
func (w wording) undecided() string {
	words := fmt.Sprintf("%d accounts fit these readings, and one more measurement decides between them",
		len(w.out.Explanations))
	if len(w.out.Explanations) == 2 {
		words = "two accounts fit these readings, and one more measurement decides between them"
	}
	if len(w.outliers) == 1 {
		return fmt.Sprintf("Take the reading at %s, again: it does not agree with the others.",
			w.points[w.outliers[0]].name())
	}
	if w.soundLeads() {
		words = "as far as was read, the curve agrees with the book; readings at more speeds, up and down, would make it sure"
	} else if len(w.out.Explanations) < 2 {
		words = "these readings do not tell what is off; read up and down again, at more speeds"
	}
	return upperFirst(words) + "."
}

func (w wording) baseEnd() string {
	if w.baseNamed() == "" || !w.base.known() || w.band.base == nil {
		return ""
	}
	return fmt.Sprintf("; the base is %s where the book has %s", before(w.base.value), before(*w.band.base))
}

func (w wording) working() (lines, sources []string) {
	lines = append(lines, w.spec.totalRule(w.band)...)
	lines = append(lines, "Each reading stands against what sound distributors through the book's lines can show at its speed. Deviation = measured less the nearer edge; 0 inside. Pass inside, watch within the reading error, fail beyond.",
		"Share of an account = how likely it makes all readings together, times how often such a thing is met, over the sum of all accounts.")
	for i, set := range w.sets {
		how := "stated"
		if set.ReadingErrorCrankDeg == nil {
			how = "common practice, none was stated"
		}
		lines = append(lines, fmt.Sprintf("Set %d, %s: reading error ±%.3g crank degrees (%s).", i+1, set.where(),
			set.readingError(), how))
	}
	if len(w.asked) < len(w.usable) {
		lines = append(lines, fmt.Sprintf("%d readings were taken together into %d for the weighing.", len(w.usable),
			len(w.asked)))
	}
	return lines, []string{"the book's table as entered",
		"reading errors of ±1 crank degree by strobe and ±0.5 distributor degree on a bench: common practice",
		"evidence by annealed sampling: Neal, Statistics and Computing 11 (2001) 125; Del Moral, Doucet and Jasra, J. R. Statist. Soc. B 68 (2006) 411"}
}
