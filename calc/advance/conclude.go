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
	if len(c.usable) == 0 && !c.base.known() && c.clash == nil {
		c.out.Verdict, c.out.Shape = "unknown", "in-band"
		c.out.Summary = "Nothing here can be compared with the book: every reading was taken with the vacuum pipe connected. Take them again with the pipe off and its end plugged."
		return
	}
	if c.suspect.name != signTurned { // of figures turned about nothing further can be said
		c.shapeFindings()
		c.baseFindings()
		c.hysteresisFinding()
		c.coverageFinding()
	}
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
	case c.clash != nil && (c.out.Shape == "in-band" || c.out.Shape == "base-only"):
		return "unknown"
	case c.ringAlone() && c.carRight && !c.baseOut(): // the car is right, the bench is to be read again
		return "watch"
	case c.idleApart:
		return "unknown"
	case c.out.Shape != "in-band", c.baseOut():
		return "fail"
	case c.hysteresis != nil && c.hysteresis.distDeg > hysteresisFail:
		return "fail"
	case c.fallsBelow():
		return "watch"
	case c.wander != nil && c.out.Counts.AsRead.Outside > 0:
		return "fail"
	case c.wander != nil:
		return "watch"
	case c.shape.wild != nil, c.hysteresis != nil && c.hysteresis.distDeg > hysteresisWatch, c.idleHidden():
		return "watch"
	case c.baseFirst(), c.strays() > 0:
		return "watch"
	case len(c.usable) == 0:
		return "pass"
	case c.onlySilent() && !c.base.known():
		return "unknown"
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

// fallsBelow: rising and falling look swapped.
func (c *court) fallsBelow() bool { return c.hysteresis != nil && c.hysteresis.below }

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
	if c.band.base == nil || c.base.how != "idle and book" || len(car) == 0 || c.band.silent(car[0].rpm) {
		return false
	}
	_, most, _ := interpolate(c.band.advance, car[0].rpm)
	return most > 1 && c.base.value < *c.band.base && abs(car[0].deg-*c.band.base) <= 1.5 // figures within a degree and a half count as "set to the book's number" (chosen)
}

var shapeWords = map[string]string{
	"in-band": "the curve is in the book's band", "base-only": "the curve has the book's shape but stands off by one amount everywhere: the base",
	"early": "the curve comes in too early", "late": "the curve comes in too late", "stuck": "the advance does not move",
	"over-limit": "the curve is right until the top and then goes over its limit", "under-limit": "the curve stops short of its limit",
	"sticking": "the advance sticks on its way", "mixed": "the curve is off in more than one way",
}

func (c *court) summary() string {
	if c.mistaken() {
		return "Before anything is touched: " + lowerFirst(suspicionTexts[c.suspect.name].title) + "."
	}
	words := c.curveWords()
	switch {
	case c.clash != nil && (c.out.Shape == "in-band" || c.out.Shape == "base-only"):
		return upperFirst(c.clash.words()) + "."
	case c.clash != nil:
		return upperFirst(words) + "; and " + c.clash.words() + "."
	case c.fallsBelow():
		words += "; but falling lies below rising: were the columns swapped?"
		return upperFirst(words)
	case c.base.how == "idle and book" && c.onlySilent(): // what is possible is said; a base within it is not known
	case c.base.how == "idle and book" && c.band.base != nil:
		words += fmt.Sprintf("; under the book's own curve it means a base of %s where the book has %s", before(c.base.value), before(*c.band.base))
	case c.base.known() && c.base.how != "in band" && c.band.base != nil && len(c.out.Explanations) < 2:
		words += fmt.Sprintf("; the base is %s where the book has %s", before(c.base.value), before(*c.band.base))
	}
	return upperFirst(words) + "."
}

// curveWords says what the readings say of the curve.
func (c *court) curveWords() string {
	words, n := shapeWords[c.out.Shape], c.out.Counts
	switch {
	case len(c.curveRun(true))+len(c.curveRun(false)) == 0:
		return "no curve was read"
	case c.idleApart:
		return "the idle figures do not agree with one another: read them again, or prove the static timing with the lamp"
	case c.onlySilent():
		return c.silentWords()
	case c.oneSpeed():
		return c.oneSpeedWords()
	case len(c.out.Explanations) > 1:
		return "two accounts fit these readings, and one more measurement decides between them"
	case c.ringAlone():
		words = fmt.Sprintf("the bench run has the book's shape but stands off by %+.1f distributor degrees everywhere: zero its ring and repeat it", c.shape.offset/c.band.ratio)
		if c.carRight && !c.baseOut() {
			words += "; on the car the readings are in the band"
		}
	case c.wander != nil:
		return "bench and car do not tell the same curve; on the bench " + words
	case c.out.Shape == "base-only" && n.BaseOff != nil, c.out.Shape == "in-band" && (n.BaseOff != nil || c.shape.wild != nil || n.AsRead.Outside > 0):
		return c.countedSummary(words)
	}
	return words
}

// oneSpeedWords: what was read has no shape; only whether it is in the band,
// and what base it means, can be said.
func (c *court) oneSpeedWords() string {
	run := c.curveRun(false)
	if len(run) == 0 {
		run = c.curveRun(true)
	}
	what := "readings at one speed say"
	switch {
	case !run[0].bench && idleOnly(run, c.band):
		what = "an idle figure alone says"
	case len(run) == 1:
		what = "one reading says"
	}
	words := what + " nothing about the curve"
	if c.base.how == "idle and book" {
		return words
	}
	return words + "; " + c.countedSummary("")
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
