package vacuum

import (
	"fmt"

	"pointsmith/calc/finding"
)

// Total at cruise: 42 to 52 crank degrees are usual, over 58 is asked about
// (common practice).
const (
	cruiseHigh = 52
	cruiseAsk  = 58
)

// cruiseFinding adds up base, centrifugal and capsule at light throttle.
func (c *court) cruiseFinding() {
	moves := c.out.Measured.MaxDistDeg
	if moves == nil || c.out.Suspicion != "none" { // figures in doubt add nothing up
		moves = c.out.Spec.MaxDistDeg
	}
	if c.in.BaseCrankDeg == nil || c.in.CruiseCentrifugalCrankDeg == nil || moves == nil ||
		c.in.Capsule.Kind != "advance" {
		return
	}
	total := *c.in.BaseCrankDeg + *c.in.CruiseCentrifugalCrankDeg + c.ratio**moves
	c.out.CruiseTotalCrankDeg = &total
	line := fmt.Sprintf("At cruise: base %.3g + centrifugal %.3g + %g × %.3g of the capsule = %.1f crank degrees before TDC; usual 42 to %d.",
		*c.in.BaseCrankDeg, *c.in.CruiseCentrifugalCrankDeg, c.ratio, *moves, total, cruiseHigh)
	c.out.Working = append(c.out.Working, line)
	if total <= cruiseHigh {
		return
	}
	f := finding.Finding{Code: "cruise-high", Part: "travel of the capsule", Direction: "too much at light throttle",
		Sureness: "possible", Title: fmt.Sprintf("%.0f degrees at cruise is a lot", total),
		Text:        "Too much shows as surging at steady light throttle and light knock as the throttle opens. The cure is less travel or a weaker-acting capsule, not a later base: at full throttle the capsule takes no part.",
		DisprovedBy: "a steady cruise with the pipe off and plugged: if the surge stays, it is not the capsule",
		Working:     []string{line}}
	if total > cruiseAsk {
		f.Sureness = "likely"
		c.ask(fmt.Sprintf("The total at cruise comes to %.0f crank degrees, more than %d. Are these distributor degrees, is the base not counted twice, and is the centrifugal figure without base?", total, cruiseAsk))
	}
	c.add(finding.Watch, f)
}

// retardFinding judges a retard unit tried at idle: timing must drop at once
// when the hose is put on (US repair guide 1968-88).
func (c *court) retardFinding() {
	t := c.in.RetardTest
	if c.in.Capsule.Kind != "retard" {
		return
	}
	if t == nil {
		c.ask("Try it at idle: timing with the retard pipe off and plugged, then on. It must drop at once. A retard pipe left off and open raises idle and timing, and looks like too much advance.")
		return
	}
	drop := t.OffCrankDeg - t.OnCrankDeg
	c.say("Retard at idle: %.1f off, %.1f on: %.1f crank degrees later.", t.OffCrankDeg, t.OnCrankDeg, drop)
	if drop >= 1 { // what a strobe can tell, crank degrees (common practice)
		c.concluded = finding.Worse(c.concluded, finding.Pass)
		return
	}
	half := "The unit"
	if c.in.Capsule.Twin {
		half = "The inner half (retard, from the manifold)"
	}
	c.add(finding.Fail, finding.Finding{Code: "no-retard", Part: partCapsule, Direction: "does not retard",
		Sureness: "likely", Title: "Putting the retard pipe on changes nothing",
		Text:        half + " should pull the timing back at once. Its diaphragm is holed, its pipe has no vacuum, or the pipes are changed over.",
		DisprovedBy: "the gauge on the end of that pipe at idle, and the leak test of that half",
		Sources:     []string{"retard test at idle: US repair guide 1968-88"}})
}

// finish puts the verdict and the summary together.
func (c *court) finish() {
	c.out.Verdict = c.concluded
	if c.concluded == "" || c.concluded == finding.Pass && (len(c.band) == 0 || len(c.out.Points) == 0) {
		c.out.Verdict = finding.Unknown
	}
	isUntested := c.out.Verdict == finding.Pass && c.in.Hold == nil // a holed capsule may move as it should
	if isUntested {
		c.out.Verdict = finding.Unknown
	}
	c.out.Sources = []string{"straight line between start and full, tolerances ±1 distributor degree and ±1 inHg unless the book says: common practice", "leak test: " + armyLeak}
	switch {
	case len(c.out.Findings) > 0:
		c.out.Summary = c.out.Findings[0].Title + "."
	case isUntested:
		c.out.Summary = "It moves as its figures say. Whether it holds is not tested."
	case c.out.Verdict == finding.Pass:
		c.out.Summary = "The capsule does what its figures say."
	case c.out.Verdict == finding.Watch:
		c.out.Summary = "The capsule is at the edge of its figures, within reading error."
	case c.out.Verdict == finding.Fail:
		c.out.Summary = "Readings lie outside the figures."
	default:
		c.out.Summary = "Not enough is known to judge the capsule."
	}
}
