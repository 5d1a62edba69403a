package advance

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// conclude turns what was found into findings, questions, a verdict and one
// sentence.
func (c *court) conclude() {
	c.entryFindings()
	if len(c.usable) == 0 && !c.base.known() {
		c.out.Verdict, c.out.Shape = "unknown", "in-band"
		c.out.Summary = "Nothing here can be compared with the book: every reading was taken with the vacuum pipe connected. Take them again with the pipe off and its end plugged."
		return
	}
	c.shapeFindings()
	c.baseFindings()
	c.hysteresisFinding()
	c.coverageFinding()
	c.out.Verdict = c.verdict()
	c.out.Summary = c.summary()
	c.out.Working, c.out.Sources = c.working()
}

func (c *court) add(f finding.Finding) { c.out.Findings.Add(f) }

func (c *court) ask(question string) { c.out.Ask = append(c.out.Ask, question) }

// verdict is the whole in one word: unknown while a mistake of entry is the
// likelier account, fail for a curve or base out of the band, watch for what
// should be looked at again.
func (c *court) verdict() string {
	switch {
	case c.mistaken():
		return "unknown"
	case c.out.Shape != "in-band", c.baseOut():
		return "fail"
	case c.hysteresis != nil && c.hysteresis.distDeg > hysteresisFail:
		return "fail"
	case c.shape.wild != nil, c.hysteresis != nil && c.hysteresis.distDeg > hysteresisWatch, c.idleHidden():
		return "watch"
	case c.baseFirst(), c.strays() > 0:
		return "watch"
	case len(c.usable) == 0:
		return "pass"
	case c.edgy():
		return "watch"
	}
	return "pass"
}

// mistaken tells whether a mistake of entry is the likelier account. A base
// counted twice or left out is the same to a car as a moved one, so there the
// verdict stands beside the question.
func (c *court) mistaken() bool {
	return c.suspect.name != "" && !strings.HasPrefix(c.suspect.name, "base")
}

// edgy: half the readings or more lie outside the book's own edges, if within
// reading error of them.
func (c *court) edgy() bool {
	n := 0
	for _, p := range c.out.Points {
		if p.Verdict == "watch" {
			n++
		}
	}
	return n > 0 && 2*n >= len(c.out.Points)
}

// baseOut tells whether a base that is known lies outside the book's
// tolerance and its own uncertainty.
func (c *court) baseOut() bool {
	if c.band.base == nil || !c.base.known() || c.base.how == "in band" || c.base.how == "idle and book" {
		return false
	}
	allowed := c.spec.BaseToleranceCrankDeg
	b := *c.band.base
	margin := max(1.5, (c.base.high-c.base.low)/2) // a degree and a half: between what a strobe can be set to (1) and what is usually allowed (2; both common practice)
	return c.base.value < b-allowed-margin || c.base.value > b+allowed+margin
}

// idleHidden: a single figure set by strobe at idle, equal to the book's base,
// where the book's own curve has already begun.
func (c *court) idleHidden() bool {
	car := c.curveRun(true)
	if c.band.base == nil || c.base.how != "idle and book" || len(car) == 0 {
		return false
	}
	_, most, _ := interpolate(c.band.advance, car[0].rpm)
	return most > 1 && abs(car[0].deg-*c.band.base) <= 1.5 // figures within a degree and a half count as "set to the book's number" (chosen)
}

var shapeWords = map[string]string{
	"in-band": "the curve is in the book's band", "base-only": "the curve has the book's shape but stands off by one amount everywhere: the base",
	"early": "the curve comes in too early", "late": "the curve comes in too late", "stuck": "the advance does not move",
	"over-limit": "the curve is right until the top and then goes over its limit", "under-limit": "the curve stops short of its limit",
	"sticking": "the advance sticks on its way", "mixed": "the curve is off in more than one way",
}

func (c *court) summary() string {
	if c.suspect.name != "" && c.out.Verdict == "unknown" {
		return "Before anything is touched: " + lowerFirst(c.out.Findings[0].Title) + "."
	}
	words := shapeWords[c.out.Shape]
	if len(c.out.Explanations) > 1 {
		words = "two accounts fit these readings, and one more measurement decides between them"
	}
	if n := c.out.Counts; c.out.Shape == "base-only" && n.BaseOff != nil || c.out.Shape == "in-band" && (n.BaseOff != nil || c.shape.wild != nil || n.AsRead.Outside > 0) {
		words = c.countedSummary(words)
	}
	if len(c.curveRun(true))+len(c.curveRun(false)) == 0 {
		words = "no curve was read"
	} else if c.base.how == "idle and book" {
		words = "an idle figure alone says nothing about the curve"
	}
	if c.base.known() && c.base.how != "in band" && c.band.base != nil && len(c.out.Explanations) < 2 {
		words += fmt.Sprintf("; the base is %s where the book has %s", before(c.base.value), before(*c.band.base))
	}
	return upperFirst(words) + "."
}

// countedSummary puts the count of readings into the sentence, and the one to
// take again.
func (c *court) countedSummary(words string) string {
	counted := c.out.Counts.words()
	if c.out.Shape == "base-only" {
		counted = words + "; " + counted
	}
	if c.shape.wild != nil {
		counted += fmt.Sprintf("; take the one at %s, again", c.shape.wild.name())
	}
	return counted
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

func (c *court) working() (lines, sources []string) {
	lines = append(lines, c.spec.totalRule(c.band)...)
	lines = append(lines, "Deviation = measured less the nearer edge of the band; 0 inside. Pass inside, watch within the reading error, fail beyond. In the band means pass or watch.")
	if n := c.out.Counts; n.BaseOff != nil {
		lines = append(lines, fmt.Sprintf("Counted twice: as read, %d of %d in the band; with %+.1f crank degrees of base taken off the readings that hold it, %d of %d.", n.AsRead.in(), n.AsRead.all(), *n.BaseOffCrankDeg, n.BaseOff.in(), n.BaseOff.all()))
	}
	for i, set := range c.sets {
		how := "stated"
		if set.ReadingErrorCrankDeg == nil {
			how = "common practice, none was stated"
		}
		lines = append(lines, fmt.Sprintf("Set %d, %s: reading error ±%.3g crank degrees (%s).", i+1, set.where(), set.readingError(), how))
	}
	return lines, []string{"the book's table as entered", "reading errors of ±1 crank degree by strobe and ±0.5 distributor degree on a bench: common practice"}
}
