package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

// Parts of a breaker-point distributor that decide the curve.
const (
	partPrimary   = "primary spring or its post"
	partSecondary = "secondary spring or its post"
	partStop      = "stop (limit plate, slot or stop bush)"
	partWeights   = "weights, pivots and cam sleeve"
	partBody      = "body of the distributor (base)"
)

const curveNotBody = " Do not turn the body to cure it: that moves every speed alike and only hides the fault at one of them."

// shapeFindings says what is wrong with the curve.
func (c *court) shapeFindings() {
	f := c.shape
	if f.wild != nil {
		c.add(c.wildFinding(*f.wild))
	}
	if len(c.out.Explanations) > 1 {
		c.accountFindings()
		return
	}
	switch f.shape {
	case "in-band":
		if !c.baseFirst() && c.clash == nil && c.wander == nil && !c.oneSpeed() && !c.fallsBelow() && c.strays() > 0 {
			c.someOutFinding()
		}
	case "early":
		c.earlyFinding(f)
	case "late":
		c.lateFinding(f)
	case "stuck":
		c.stuckFinding(f)
	case "over-limit":
		sure := "sure"
		if f.onlySilentOut() || len(spoken(f.devs)) < 2 {
			sure = "likely"
		}
		c.add(c.overLimit(f, sure))
	case "under-limit":
		c.add(c.underLimit(f, "likely"))
	case "mixed":
		c.mixedFinding(f)
	}
}

// sureness of a curve fault: the bench and a proved base are sure, the car
// alone is likely, because there a moved base can play a part. Nothing is sure
// that rests on speeds of which the book is silent.
func (c *court) sureness() string {
	if c.shape.onlySilentOut() {
		return "likely"
	}
	if !c.fallsBelow() && (len(c.curveRun(false)) > 0 || c.base.how == "static") {
		return "sure"
	}
	return "likely"
}

func (c *court) disproof() string {
	text := "static timing proved with the lamp, engine stopped and the weights home: if the base is not where the book has it, the readings hold a moved base as well"
	if c.sureness() == "sure" || len(c.curveRun(false)) > 0 {
		text = "the same run read again with the speed settled 3 to 5 seconds at each point: if it comes out in the band, the first run was at fault"
	}
	if c.otherShaft {
		text += "; or the book's speed column means the other shaft (misprints exist): read that way, these figures would lie in the band"
	}
	return text
}

func (c *court) earlyFinding(f shapeFinding) {
	part, low := partPrimary, true
	if f.first != lowRegion {
		part, low = partSecondary, false
	}
	find := finding.Finding{Code: "curve-early", Part: part, Direction: "too early", Sureness: c.sureness(), DisprovedBy: c.disproof(), Working: worstLines(f, c.band.ratio)}
	if low {
		find.Title = "Too early too soon: primary spring weak or its post too slack"
		find.Text = "The low speeds are high and the top is right or nearly so: the advance starts too soon and climbs too fast. Look for a stretched or lost primary spring, a worn hook, or a post bent in, and whether the secondary spring ever takes up." + curveNotBody +
			" Left alone it knocks low down; retarded to stop the knock, it runs hot and flat at the top."
	} else {
		find.Title = "Too much in the middle: the secondary spring takes up too late"
		find.Text = "The start is right, the middle is high. The secondary spring takes up too late (worn hook, loop too long, post bent in) or is too weak. Bend its post out to take up the slack before changing springs." + curveNotBody
	}
	c.add(find)
	if f.topToo && c.overNumber(f) {
		c.add(c.overLimit(f, "likely"))
	}
}

// overNumber: the top reading is over the number on the limit plate, or no
// number is known.
func (c *court) overNumber(f shapeFinding) bool {
	if c.spec.LimitDistDeg == nil {
		return true
	}
	top := f.devs[len(f.devs)-1]
	return !top.withBase && top.deg/c.band.ratio > *c.spec.LimitDistDeg+0.5 // half a distributor degree: reading error on a bench (common practice)
}

func (c *court) lateFinding(f shapeFinding) {
	find := finding.Finding{Code: "curve-late", Part: partPrimary, Direction: "too late", Sureness: c.sureness(), DisprovedBy: c.disproof(), Working: worstLines(f, c.band.ratio)}
	if f.first == lowRegion {
		find.Title = "Late and lazy: primary spring too strong, or weights and sleeve gummed"
		find.Text = "The readings are low from the low speeds on. First clean and oil the weight pivots and the cam sleeve under the rotor, and read again: old grease does this and costs a drop of oil. If it stays, the primary spring is too strong or its post is bent out too far, or this distributor is not the one the book means." + curveNotBody
	} else {
		find.Part = partSecondary
		find.Title = "Slow in the upper half: secondary spring too strong or taking up too soon"
		find.Text = "The low speeds are right, the upper ones low and still climbing. The secondary spring is too strong or takes up too soon: ease its post in, or fit a lighter one." + curveNotBody
	}
	c.add(find)
}

func (c *court) stuckFinding(f shapeFinding) {
	first, last := f.devs[0], f.devs[len(f.devs)-1]
	c.add(finding.Finding{Code: "curve-stuck", Title: "The advance does not move", Part: partWeights, Direction: "seized", Sureness: c.sureness(),
		Text:        "The reading hardly changes while the book rises. The weights or the cam sleeve under the rotor are seized, or a weight or its pin is lost. Free, clean and oil them: twisted in its running direction and let go, the rotor must spring back fully and briskly." + curveNotBody,
		DisprovedBy: "the rotor, twisted in its running direction by hand, moves to the stop and springs back: then the readings, or the lamp, are at fault",
		Working: []string{fmt.Sprintf("From %.0f to %.0f engine rpm the reading goes from %.1f to %.1f crank degrees; the middle of the book goes from %.1f to %.1f.",
			first.rpm, last.rpm, first.deg, last.deg, (first.low+first.high)/2, (last.low+last.high)/2)}})
}

func (c *court) overLimit(f shapeFinding, sure string) finding.Finding {
	find := finding.Finding{Code: "limit-over", Title: "Over its limit at the top: stop worn or missing", Part: partStop, Direction: "too much", Sureness: sure,
		Text:        "The curve agrees until the top and then goes over. Look for a worn slot, a worn or missing stop bush, or a limit plate of another number. This is the advance that breaks pistons at full throttle: do not hold high speed under load until it is put right." + curveNotBody,
		DisprovedBy: "the number on the limit plate, and the travel measured by hand to the stop, both agree with the book",
		Working:     worstLines(f, c.band.ratio)}
	if n := c.spec.LimitDistDeg; n != nil {
		find.Working = append(find.Working, fmt.Sprintf("Limit plate %.3g distributor degrees is %.3g × %.3g = %.3g crank degrees, without base.", *n, c.band.ratio, *n, c.band.ratio**n))
	}
	return find
}

func (c *court) underLimit(f shapeFinding, sure string) finding.Finding {
	top := f.devs[len(f.devs)-1]
	return finding.Finding{Code: "limit-under", Title: "Stops short: the limit is too small", Part: partStop, Direction: "too little", Sureness: sure,
		Text:        fmt.Sprintf("The curve is right low down and then stands level, %.1f crank degrees below the band at the top: the weights meet their stop too soon. Look for a limit plate of a smaller number, a bush too thick, dirt in the slot, or a wrong part.", abs(top.beyond)) + curveNotBody,
		DisprovedBy: "the rotor twisted by hand to the stop travels the full number of the limit plate",
		Working:     append(worstLines(f, c.band.ratio), fmt.Sprintf("At the top the reading stays at %.1f while the book rises to %.1f to %.1f.", top.deg, top.low, top.high))}
}

func (c *court) mixedFinding(f shapeFinding) {
	c.add(finding.Finding{Code: "curve-mixed", Title: "High in one place and low in another: more than one thing, or the wrong unit", Part: "springs and stop together", Direction: "high and low",
		Sureness: "possible", DisprovedBy: c.disproof(),
		Text:    "No single spring, post or stop does this. Check first that this distributor is the one the book means (type number, limit plate), then see whether a change of two parts can bring it in." + curveNotBody,
		Working: outLines(f, c.band.ratio)})
}

func (c *court) wildFinding(d dev) finding.Finding {
	if c.oneSpeed() {
		return finding.Finding{Code: "one-speed-out", Title: fmt.Sprintf("Out of the band at %s, and no other speed was read", d.name()), Part: "the reading", Direction: direction(d.beyond),
			Text:     "One speed has no shape: this may be the base, a spring, the pipe left on, or a slip. Let the speed settle, take it again, and read the other speeds beside it. Turn nothing and change nothing inside for its sake.",
			Sureness: "likely", DisprovedBy: "the same figure read again", Working: []string{devLine(d, c.band.ratio)}}
	}
	where := "in the band"
	if d.taken != 0 {
		where = "in the band once the base is taken off, and it is not"
	}
	return finding.Finding{Code: "wild-reading", Title: fmt.Sprintf("One reading stands alone: %s", d.name()), Part: "the reading", Direction: direction(d.beyond),
		Text:     "Its neighbours are " + where + ". A curve cannot jump: let the speed settle and take it again before believing it, and change nothing inside for its sake.",
		Sureness: "likely", DisprovedBy: "the same figure read again", Working: []string{devLine(d, c.band.ratio)}}
}

// someOutFinding: the direction judged agrees, some readings of the other or
// of another set do not.
func (c *court) someOutFinding() {
	find := finding.Finding{Code: "some-out", Title: "Some readings are out of the band, though the curve agrees: " + c.out.Counts.words(), Part: "the base, the friction, or the readings", Sureness: "possible",
		Text:        "Read in one direction the curve lies in the band within the reading error; these readings do not. A base a little off or weights slow to come back do this, and so does a speed that had not settled. Prove the static timing with the lamp, then read up and down again. Change nothing inside for this.",
		DisprovedBy: "the same speeds read again, settled 3 to 5 seconds each, lie in the band"}
	for _, p := range c.out.Points {
		if p.Verdict == "fail" && len(find.Working) < 8 {
			find.Working = append(find.Working, fmt.Sprintf("At %.0f engine rpm, %s: %.1f, book %.1f to %.1f: %+.1f crank degrees.", p.EngineRPM, p.Direction, p.MeasuredCrankDeg, p.MinCrankDeg, p.MaxCrankDeg, p.DeviationCrankDeg))
		}
	}
	c.add(find)
}

// name says which reading it is.
func (d dev) name() string { return fmt.Sprintf("%.0f engine rpm, %s", d.rpm, d.direction()) }

func direction(beyond float64) string {
	if beyond > 0 {
		return "too high"
	}
	return "too low"
}

// worstLines shows the first reading out and the one furthest out.
func worstLines(f shapeFinding, ratio float64) []string {
	var lines []string
	for _, d := range f.devs {
		if d.out() {
			lines = append(lines, devLine(d, ratio))
			if d.rpm == f.worst.rpm {
				return lines
			}
			break
		}
	}
	return append(lines, devLine(f.worst, ratio))
}

func outLines(f shapeFinding, ratio float64) []string {
	var lines []string
	for _, d := range f.devs {
		if d.out() {
			lines = append(lines, devLine(d, ratio))
		}
	}
	return lines
}

func devLine(d dev, ratio float64) string {
	kind := "advance"
	if d.withBase {
		kind = "total before TDC"
	}
	line := fmt.Sprintf("At %.0f engine rpm (%.0f distributor rpm), %s: %s %.1f%s, book %.1f to %.1f", d.rpm, d.rpm/ratio, d.direction(), kind, d.deg, d.less(), d.low, d.high)
	if d.silent {
		line += " (the book is silent here: what is possible)"
	}
	if d.beyond == 0 {
		return line + ": inside."
	}
	return fmt.Sprintf("%s: %.1f crank degrees (%.1f distributor degrees) %s; allowed beyond the edge for reading error: %.3g.", line, abs(d.beyond), abs(d.beyond)/ratio, direction(d.beyond), d.err)
}

// less says what base was taken off a reading before it was held against the
// book, and nothing where none was.
func (d dev) less() string {
	if d.taken == 0 {
		return ""
	}
	return fmt.Sprintf(" less %.1f of base = %.1f", d.taken, d.deg-d.taken)
}
