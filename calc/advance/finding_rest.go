package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

// accounts gives the two stories that fit the car's readings alike: the base
// as the book has it, and a base that would leave another clean fault.
func (c *court) accounts(asRead, other shapeFinding) []Explanation {
	if asRead.shape == "mixed" {
		return []Explanation{}
	}
	book := 0.0
	if c.band.base != nil {
		book = *c.band.base
	}
	test := "Static timing with the lamp, engine stopped and the weights home. " +
		fmt.Sprintf("Near %s: the first. Near %s: the second. ", before(book), before(book+other.offset)) +
		"Or turn the rotor by hand to its stop, coil feed off: full travel to the number on the limit plate speaks for the second, short travel for the first. Bench readings decide it altogether."
	return []Explanation{
		{Code: accountCode(asRead, 0), Text: c.accountText(asRead, book, 0), Test: test},
		{Code: accountCode(other, other.offset), Text: c.accountText(other, book, other.offset), Test: test},
	}
}

func accountCode(f shapeFinding, offset float64) string {
	code := map[string]string{"early": "curve-early", "late": "curve-late", "over-limit": "limit-over", "under-limit": "limit-under"}[f.shape]
	if offset == 0 {
		return code
	}
	return "base-moved+" + code
}

func (c *court) accountText(f shapeFinding, book, offset float64) string {
	curve := map[string]string{
		"early":       "the curve comes in too early (" + partPrimary + ")",
		"late":        "the curve comes in too late (" + partPrimary + ", or weights gummed)",
		"over-limit":  "the curve goes over its limit at the top (" + partStop + ")",
		"under-limit": "the limit is far too short: the weights meet the " + partStop + " too soon",
	}[f.shape]
	if offset == 0 {
		return fmt.Sprintf("The base is right at %s, and %s.", before(book), curve)
	}
	way := "late"
	if offset > 0 {
		way = "early"
	}
	return fmt.Sprintf("The base was set %.0f degrees %s, at about %s, and under it %s.", abs(offset), way, before(book+offset), curve)
}

// accountFindings puts the rival accounts among the findings, each possible.
func (c *court) accountFindings() {
	for i, e := range c.out.Explanations {
		title := "First account: the base is right, the curve is not"
		part, way := partStop, "too little"
		if i > 0 {
			title = "Second account: the base was moved to suit a wrong curve"
			part, way = partBody+" and "+partPrimary, "late base, early curve"
		}
		c.add(finding.Finding{Code: e.Code, Title: title, Text: e.Text + " Do not turn the body and change nothing inside until the test has decided.", Part: part, Direction: way, Sureness: "possible",
			DisprovedBy: e.Test, Working: outLines(c.shape, c.band.ratio),
			Sources: []string{"a car's readings hold base and curve in one sum; one of the two has to be measured alone: arithmetic"}})
	}
	c.ask("Can the static timing be proved with the lamp, or the rotor's travel to the stop be measured? One of them decides between the two accounts.")
}

// hysteresisFinding says what falling less rising means.
func (c *court) hysteresisFinding() {
	h := c.hysteresis
	if h != nil && h.below {
		c.belowFinding(h)
		return
	}
	if h == nil || h.distDeg <= hysteresisWatch && c.out.Shape != "sticking" {
		return
	}
	find := finding.Finding{Code: "hysteresis", Title: fmt.Sprintf("A little late to come back: %.1f distributor degrees between rising and falling", h.distDeg), Part: partWeights, Direction: "late on falling", Sureness: "likely",
		Text:        "Up to one distributor degree is normal, up to two is worth a drop of oil on the felt under the rotor and on the pivots.",
		DisprovedBy: "a second run, speed settled 3 to 5 seconds at each point, up and down"}
	if h.distDeg > hysteresisFail || c.out.Shape == "sticking" {
		find.Code, find.Sureness = "sticking", "sure"
		find.Title = fmt.Sprintf("The advance sticks: %.1f distributor degrees between rising and falling", h.distDeg)
		find.Text = "Falling lies well above rising at the same speed: the weights or the cam sleeve do not come back freely. Clean and oil the sleeve under the rotor and the weight pivots before judging any spring. On the road it idles high after a run and stalls at junctions, and the base seems to move." + curveNotBody
	}
	find.Working = c.lagLines(h)
	find.Working = append(find.Working, "Counted: the mean of the larger half of these differences. Normal to 1, watch to 2, sticking beyond (distributor degrees).")
	c.add(find)
}

func (c *court) lagLines(h *hysteresis) []string {
	var lines []string
	for _, p := range h.pairs[:min(8, len(h.pairs))] {
		lines = append(lines, fmt.Sprintf("At %.0f engine rpm: falling %.1f less rising %.1f = %.1f crank, %.1f distributor degrees.", p.rpm, p.falling, p.rising, p.falling-p.rising, (p.falling-p.rising)/c.band.ratio))
	}
	return lines
}

// belowFinding: friction holds the weights out as speed falls, so falling lies
// at or above rising; the other way about is a slip of the pen or of the run.
func (c *court) belowFinding(h *hysteresis) {
	c.add(finding.Finding{Code: "falling-below-rising", Title: "Falling lies below rising: the columns look swapped", Part: "the figures as entered", Direction: "check before touching anything", Sureness: "likely",
		Text:        "Friction holds the weights out while the speed falls, so falling readings lie at or a little above rising ones. Here they lie below by more than both can be misread. Either rising and falling were swapped, or the speed had not settled and was read ahead of the weights. Judge nothing by one column alone before this is known.",
		DisprovedBy: "both directions read again, the speed settled 3 to 5 seconds at each point",
		Working:     append(c.lagLines(h), fmt.Sprintf("Counted: the mean of the lower half of these differences, against %.2g distributor degrees of reading error for the two.", 2*c.readingError()/c.band.ratio))})
	c.ask("Falling lies below rising. Were the two columns swapped?")
}

// coverageFinding says what has not been read.
func (c *court) coverageFinding() {
	bench, car := c.curveRun(false), c.curveRun(true)
	run := bench
	if len(run) == 0 {
		run = car
	}
	if len(run) == 0 || c.idleApart {
		return
	}
	const rest = "Idle, 1500, 2000 to 2500 and all-in (engine rpm) tell the story; can the missing ones be taken?"
	devs := c.deviations(run, 0)
	speeds := speedsIn(run)
	switch {
	case len(run) >= 4 && span(devs) >= 0.6: // four points over six tenths of the curve tell the story (common practice: idle, 1500, 2000 to 2500, all-in)
	case speeds == 1:
		c.ask("Only one speed was read. " + rest)
	default:
		c.ask(fmt.Sprintf("Only %d speeds over %.0f %% of the curve were read. %s", speeds, 100*span(devs), rest))
	}
}

// speedsIn counts the different speeds of a run.
func speedsIn(run []reading) int {
	n := 0
	for i, r := range run {
		if i == 0 || r.rpm != run[i-1].rpm {
			n++
		}
	}
	return n
}
