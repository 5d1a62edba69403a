package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

// baseFindings says where the base stands and what hid it.
func (c *court) baseFindings() {
	car := c.curveRun(true)
	if c.ringAlone() {
		c.ringFinding()
	}
	switch {
	case len(c.out.Explanations) > 1:
	case c.clash != nil:
		c.clashFinding()
	case c.wander != nil:
		c.differFinding()
	case c.mistaken(), c.fallsBelow(): // what is doubtful is read again before the body is turned
	case c.idleApart:
		c.idleApartFinding(car)
	case c.idleHidden():
		c.idleFinding(car[0])
	case c.base.how == "idle and book" && c.shape.shape == "base-only" && c.shape.onlySilentOut():
		c.shape.findWorst()
		c.silentIdleFinding(c.shape.worst)
	case c.base.how == "idle and book" && c.shape.shape == "base-only":
		c.movedFinding("possible")
	case c.baseOut() && !c.ringOff && len(car) > 0 && c.idleSaysBook(car[0]):
		c.hiddenFinding(car[0])
	case c.baseOut() || c.baseFirst() || c.shape.shape == "base-only" && !c.ringOff && !c.slightTurn():
		c.movedFinding(c.baseSureness())
	}
	if c.shape.shape == "base-only" && !c.ringOff && c.clash == nil && c.slightTurn() {
		c.ask(fmt.Sprintf("The readings ask for a base only %.1f° from the book's, less than the reading error. Can they be taken again, speed settled?", abs(c.base.value-*c.band.base)))
	}
	if len(car) == 0 && len(c.out.Points) > 0 && c.base.how == "" {
		c.ask("The base has not been proved on the car. Where does it stand (static with the lamp, or strobe with the pipe off)?")
	}
}

// earlyOrLate says which way a base is off: nobody calls a base high or low.
func earlyOrLate(off float64) string {
	if off > 0 {
		return "too early"
	}
	return "too late"
}

func (c *court) baseSureness() string {
	if c.shape.wild == nil && (c.base.how == "static" || c.base.how == "bench and car" && len(c.base.at) >= 2) {
		return "sure"
	}
	return "likely"
}

// allowedSpread is how far the base may differ at half the speeds before bench
// and car tell two different curves: the reading error, and a crank degree for
// the straight lines between bench readings (chosen).
func (c *court) allowedSpread() float64 { return c.readingError() + 1 }

// readingError is the largest stated among the readings, crank degrees.
func (c *court) readingError() float64 {
	worst := 0.0
	for _, r := range c.usable {
		worst = max(worst, r.err)
	}
	return worst
}

// idleSaysBook: the lowest car reading stands at the book's base figure, and
// the curve has begun there.
func (c *court) idleSaysBook(idle reading) bool {
	return c.band.base != nil && abs(idle.deg-*c.band.base) <= 1.5 && idle.deg-c.base.value > 1.5 // within a degree and a half: "set to the book's number" (chosen)
}

func (c *court) hiddenFinding(idle reading) {
	book := *c.band.base
	order := "Mend the curve first, then set"
	if c.baseFirst() {
		order = "The curve itself is not in question: set"
	}
	find := finding.Finding{Code: "base-hidden", Title: fmt.Sprintf("The base is %s, hidden behind an idle figure of %.1f", before(c.base.value), idle.deg), Part: partBody,
		Direction: earlyOrLate(c.base.value - book), Sureness: c.baseSureness(),
		Text: fmt.Sprintf("At %.0f engine rpm the strobe shows %s, the book's own base figure, and looks right. But the weights have already moved there: %.1f of it is advance, so the base is %s. The book's base is meant with the weights home. %s the base to %s, static, and read again.",
			idle.rpm, before(idle.deg), idle.deg-c.base.value, before(c.base.value), order, before(book)),
		DisprovedBy: c.lampDisproof()}
	for _, a := range c.base.at {
		if len(find.Working) < 6 {
			find.Working = append(find.Working, fmt.Sprintf("At %.0f engine rpm: %.1f on the car less %.1f of advance on the bench leaves %+.1f.", a.rpm, a.car, a.bench, a.base))
		}
	}
	find.Sources = []string{"base = total − advance at the same speed: arithmetic", "an idle above the start of the advance hides a wrong base: common practice"}
	c.add(find)
}

// lampDisproof is the measurement that would speak against a moved base; where
// the lamp was held to it already, that very figure taken again.
func (c *court) lampDisproof() string {
	if c.lamp != nil {
		return "the static figure proved again with the lamp, coming up to the mark in the running direction, shows the book's figure after all"
	}
	return "static timing proved with the lamp, engine stopped and the weights home, shows the book's figure"
}

func (c *court) idleFinding(idle reading) {
	low, high, _ := interpolate(c.band.advance, idle.rpm)
	c.add(finding.Finding{Code: "idle-holds-advance", Title: "Set to the book's figure at idle, the base is late", Part: partBody, Direction: "too late", Sureness: "likely",
		Text: fmt.Sprintf("The book's %s is meant with the weights home. At %.0f engine rpm the book's own curve already adds %.1f to %.1f, so a strobe figure of %.1f there means a base of %.1f to %.1f. With a sound curve the strobe should show %.1f to %.1f at this idle. One idle figure says nothing about the curve: read at least at 1500, 2000 to 2500, and all-in.",
			before(*c.band.base), idle.rpm, low, high, idle.deg, idle.deg-high, idle.deg-low, *c.band.base+low, *c.band.base+high),
		DisprovedBy: "static timing proved with the lamp, engine stopped",
		Working:     []string{fmt.Sprintf("%.1f − %.1f to %.1f = %.1f to %.1f before TDC.", idle.deg, low, high, idle.deg-high, idle.deg-low)}})
}

// idleApartFinding: near one speed the idle figures are farther apart than
// band and reading error allow.
func (c *court) idleApartFinding(car []reading) {
	find := finding.Finding{Code: "idle-figures-differ", Title: "The idle figures do not agree with one another", Part: "the readings", Direction: "read again", Sureness: "likely",
		Text:        "Less the advance of the book's own curve they leave no one base, so they tell neither whether it is early nor whether it is late. Let the idle settle and read again with the pipe off and plugged, or prove the static timing with the lamp. Turn nothing for these.",
		DisprovedBy: "the same figures read again, the idle settled"}
	for _, r := range car {
		low, high, _ := interpolate(c.band.advance, r.rpm)
		if len(find.Working) < 8 {
			find.Working = append(find.Working, fmt.Sprintf("At %.0f engine rpm: %.1f less %.1f to %.1f of the book's advance leaves a base of %+.1f to %+.1f.", r.rpm, r.deg, low, high, r.deg-high, r.deg-low))
		}
	}
	c.add(find)
}

func (c *court) movedFinding(sure string) {
	if c.band.base == nil {
		c.add(finding.Finding{Code: "base-moved", Title: fmt.Sprintf("Every reading is off by %+.1f crank degrees: the base", c.shape.offset), Part: partBody, Direction: earlyOrLate(c.shape.offset), Sureness: sure,
			Text: "The curve has the book's shape; the whole of it stands off by one amount. That is the body of the distributor turned, not a spring.", DisprovedBy: "static timing proved with the lamp, engine stopped, agrees with the book",
			Working: []string{fmt.Sprintf("One shift between %+.1f and %+.1f brings every reading into the band.", c.shape.low, c.shape.high)}})
		return
	}
	off := c.base.value - *c.band.base
	way, turn := "late", "against the rotor's running direction"
	if off > 0 {
		way, turn = "early", "with the rotor's running direction"
	}
	find := finding.Finding{Code: "base-moved", Title: fmt.Sprintf("The base is %.1f crank degrees too %s: %s", abs(off), way, before(c.base.value)), Part: partBody, Direction: earlyOrLate(off), Sureness: sure,
		Text:        fmt.Sprintf("%s: it is the base and not the curve, and no spring needs touching for this. Turn the body %s until the base is %s, tighten the clamp and prove it again after tightening.", upperFirst(c.out.Counts.words()), turn, before(*c.band.base)),
		DisprovedBy: c.lampDisproof() + "; or the timing mark itself is wrong (true TDC by a positive stop)",
		Working:     []string{fmt.Sprintf("Base as found %.1f (between %.1f and %.1f) less the book's %.1f = %+.1f crank degrees. How found: %s.", c.base.value, c.base.low, c.base.high, *c.band.base, off, c.basis(c.base))}}
	switch order := fmt.Sprintf("urn the body %s until the base is %s, tighten the clamp and prove it again after tightening.", turn, before(*c.band.base)); {
	case c.base.how == "idle and book": // one speed holds base and curve in one sum
		find.Title = "If the curve is the book's, " + lowerFirst(find.Title)
		find.Text = fmt.Sprintf("Under the book's own curve this figure means a base of %s, but one speed says nothing about the curve. Prove the static timing with the lamp, engine stopped; where that agrees, t%s", before(c.base.value), order)
	case len(c.out.Points) == 0:
		find.Text = "By the lamp the base is off; no curve was read, so nothing is said of it. T" + order
	case c.oneSpeed():
		find.Text = fmt.Sprintf("%s. The base is off; one speed says nothing about the curve. T%s", upperFirst(c.out.Counts.words()), order)
	}
	if c.shape.shape != "base-only" && c.shape.shape != "in-band" {
		find.Text = fmt.Sprintf("Beside the fault of the curve, the base itself is off. Mend the curve first, then turn the body %s until the base is %s, tighten the clamp and prove it again.", turn, before(*c.band.base))
	}
	if c.ringAlone() {
		find.Text = fmt.Sprintf("Beside the ring of the bench, the readings on the car stand off by one amount: the base. Repeat the bench run with the ring zeroed first; where that agrees with the book, the body wants turning %s until the base is %s.", turn, before(*c.band.base))
	}
	c.add(find)
}

// ringFinding: bench readings all off by one amount, rest included.
func (c *court) ringFinding() {
	c.add(finding.Finding{Code: "bench-zero-moved", Title: fmt.Sprintf("The whole bench run stands off by %+.1f distributor degrees", c.shape.offset/c.band.ratio), Part: "zero of the bench ring, or weights that do not come home", Direction: direction(c.shape.offset), Sureness: "likely",
		Text:        "The curve has the book's shape but every reading is off by one amount, the lowest speed too. Zero the ring again below the start of the advance and repeat. If the zero will not stay, the weights are not coming home: clean and oil them, and look at the primary spring.",
		DisprovedBy: "the ring reads zero again at the lowest speed after the run",
		Working:     []string{fmt.Sprintf("One shift between %+.1f and %+.1f crank degrees brings every reading into the band.", c.shape.low, c.shape.high)}})
}

// differFinding: bench and car do not tell the same curve.
func (c *court) differFinding() {
	find := finding.Finding{Code: "bench-car-differ", Title: "Bench and car do not tell the same curve", Part: "drive, vacuum pipe, or the timing mark", Direction: "differs with speed", Sureness: "likely",
		Text:        "The car's readings less the bench's advance should leave one base at every speed; here it wanders. If something inside was changed between the two runs, they are two curves: judge the newer alone, or take the older again. If not, good on the bench and bad on the car is the drive (gear, dog, chain), the vacuum pipe left on, or a slipped damper mark rather than the springs. Turn nothing and change nothing inside until both runs agree.",
		DisprovedBy: "both runs taken again with the pipe off and plugged and the speed settled agree to a degree or two"}
	for _, a := range c.wander.at {
		if len(find.Working) < 8 {
			find.Working = append(find.Working, fmt.Sprintf("At %.0f engine rpm: %.1f on the car less %.1f on the bench leaves a base of %+.1f.", a.rpm, a.car, a.bench, a.base))
		}
	}
	c.add(find)
}
