package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

var bodyCautions = []string{
	"Engine stopped before the clamp is loosened: what turns the body turns the spark with it, and high tension throws the hand.",
	"Under a strobe fan, belts and pulleys look still; they are not. Keep hands, leads and sleeves out of their line.",
	"Back off at the first knock. The car's own manual and local rules come first; where in doubt, licensed practice does the work.",
}

// baseFirst: the curve is right and stands off by one amount, a lone doubtful
// reading set aside. The body is turned, everything is read again, and nothing
// inside is touched.
func (d *desk) baseFirst(c *court, out *PrescribeOut) {
	base := d.band.base
	if base == nil || d.in.Allow.Base != nil && !*d.in.Allow.Base {
		out.Verdict = "fail"
		out.Summary = "The curve is right and stands off by one amount: only the base can mend it, and that may not be touched."
		return
	}
	found := c.base.value
	o := Option{Rank: 1, Change: MendChange{BaseCrankDeg: base}, Effort: postEffort, BodyOnly: true, Verdict: "pass", Curve: d.model.curve(1.05 * d.topRPM())}
	o.Expected = c.readAgain(found - *base)
	turn := fmt.Sprintf("%.1f° later", found-*base)
	if found < *base {
		turn = fmt.Sprintf("%.1f° earlier", *base-found)
	}
	o.Steps = []string{
		fmt.Sprintf("Turn the body until the base is %s, static with the lamp: %s than the %s it is now. Tighten the clamp and prove it again after tightening.", before(*base), turn, before(found)),
		"Then read again through the same speeds, up and down, and compare with the figures expected below.",
	}
	if w := c.shape.wild; w != nil {
		o.Steps = append(o.Steps, fmt.Sprintf("Take the reading at %s with the speed settled 3 to 5 seconds: it stood alone. Until it has been repeated, touch no spring, post or stop.", w.name()))
	} else {
		o.Steps = append(o.Steps, "Touch no spring, post or stop unless the new readings ask for it.")
	}
	for _, e := range o.Expected {
		o.Verdict = finding.Worse(o.Verdict, e.Verdict)
	}
	if c.shape.wild != nil && c.strays() == 0 {
		o.Verdict = "watch" // the one that fails is the one to take again
	}
	if o.Verdict == "fail" {
		out.Verdict = "unknown"
		out.Summary = fmt.Sprintf("Nothing is prescribed: with the base set back to %s some readings would still be out of the band (%s). Prove the static timing with the lamp and read again, up and down.", before(*base), c.out.Counts.words())
		return
	}
	o.Why = "That is the body, not a spring; what is inside is not judged before the readings have been taken again."
	out.Options, out.Verdict, out.Cautions = []Option{o}, "watch", bodyCautions
	out.Summary = fmt.Sprintf("Set the base %s, from %s to %s, then read again: %s.", turn, before(found), before(*base), c.out.Counts.words())
	out.Working = append(out.Working, fmt.Sprintf("Expected: each reading less %+.1f crank degrees, which is the base as found less the book's.", found-*base))
}

// readAgain is what the same readings should show with the base moved back.
func (c *court) readAgain(taken float64) []Expected {
	out := []Expected{}
	for _, p := range c.out.Points {
		if p.Base != "included" || p.Verdict == "unknown" {
			continue
		}
		e := Expected{EngineRPM: p.EngineRPM, Direction: p.Direction, DistRPM: p.EngineRPM / c.band.ratio, CrankDeg: p.MeasuredCrankDeg - taken,
			MinCrankDeg: p.MinCrankDeg, MaxCrankDeg: p.MaxCrankDeg}
		e.DistDeg = (e.CrankDeg - *c.band.base) / c.band.ratio
		e.Doubtful = c.isLone(p)
		e.Verdict = pointVerdict(outside(e.CrankDeg, e.MinCrankDeg, e.MaxCrankDeg), p.ReadingErrorCrankDeg)
		out = append(out, e)
	}
	return out
}

// heldWhy says why nothing inside is prescribed yet, or "" where it may be.
func (c *court) heldWhy() string {
	switch {
	case c.clash != nil:
		if c.clash.from == secondLamp {
			return "Nothing is prescribed: " + c.clash.words() + ". Prove the static timing with the lamp again first."
		}
		return "Nothing is prescribed: " + c.clash.words() + ". Prove true TDC with a positive stop, then the lamp again, then the strobe with the pipe off and plugged."
	case c.fallsBelow():
		return "Nothing is prescribed: falling lies below rising by more than can be misread. See first whether the two columns were swapped, or read again, up and down."
	case c.wander != nil && c.out.Shape != "sticking": // what sticks is cleaned first: it parts any two runs
		return "Nothing is prescribed while bench and car do not tell the same curve: look at the drive, the vacuum pipe and the timing mark, and take both runs again with the pipe off and plugged."
	case c.out.Shape == "stuck":
		return "Nothing is prescribed while the advance does not move. Free it first: clean and oil the weights, their pivots and the cam sleeve until the rotor, twisted in its running direction and let go, springs back fully; then read again, up and down."
	case c.out.Shape == "base-only" && !c.ringOff && c.slightTurn():
		return fmt.Sprintf("Nothing is prescribed: the readings ask for a turn of %.1f°, less than the reading error. Read again with the speed settled.", abs(c.base.value-*c.band.base))
	case c.out.Shape == "base-only":
		return "Nothing is prescribed: the whole bench run stands off by one amount. Zero the ring again below the start of the advance and repeat the run first."
	case c.out.Shape == "in-band" && c.shape.wild != nil:
		return fmt.Sprintf("Nothing inside is prescribed while one reading stands alone. Take the reading at %s, again first; %s.", c.shape.wild.name(), c.out.Counts.words())
	case c.out.Shape == "in-band" && c.strays() > 0:
		return fmt.Sprintf("Nothing inside is prescribed: the curve agrees in one direction, but only %s. Prove the static timing with the lamp and read again, up and down.", c.out.Counts.words())
	case c.idleApart:
		return "Nothing is prescribed: the idle figures do not agree with one another. Read them again, or prove the static timing with the lamp."
	case c.out.Shape == "in-band" && c.base.how == "idle and book":
		return "Nothing is prescribed: an idle figure alone says nothing about the curve."
	}
	return ""
}
