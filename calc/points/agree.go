package points

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// level holds gap and dwell each against its own book figure, and the meter
// against its scale.
func (c *court) level() {
	in := c.in
	if in.DwellDistDeg == nil {
		return
	}
	if q := scaleQuestion(in.Cylinders, *in.DwellDistDeg); q != "" {
		c.out.Ask = append(c.out.Ask, q)
	}
	if in.DwellBook == nil || in.DwellBook.holds(*in.DwellDistDeg) {
		return
	}
	c.percent()
	for _, other := range []int{4, 6, 8} {
		meant := *in.DwellDistDeg * Pitch(in.Cylinders) / Pitch(other)
		if other != in.Cylinders && in.DwellBook.holds(meant) {
			c.offScale = true
			c.find("unknown", finding.Finding{Code: "suspect-meter-scale",
				Title: fmt.Sprintf("The meter looks to be on the scale for %d cylinders", other),
				Part:  "the figure as entered", Direction: "check before touching anything", Sureness: "possible",
				Text:        "Taken from that scale, the dwell lies in the book's range. A meter without a scale for this number of cylinders can be read on another: the percent of the pitch is the same.",
				DisprovedBy: "the meter's switch stands at the right number of cylinders",
				Working: []string{fmt.Sprintf(
					"%.4g° on the scale of %d cylinders is %.4g × %.4g / %.4g = %.4g° here; book %.4g to %.4g.",
					*in.DwellDistDeg, other, *in.DwellDistDeg, Pitch(in.Cylinders), Pitch(other), meant,
					in.DwellBook.Min, in.DwellBook.Max)}})
		}
	}
}

// disagreement is how far the dwell lies from what the gap should give: in
// distributor degrees, less dwell negative, and the same in thou of gap.
type disagreement struct {
	known bool
	deg   float64
	thou  float64
	how   string
}

// mostThou is how far gap and dwell may contradict each other (common practice).
const mostThou = 2

// together judges whether gap and dwell agree, and which to trust.
func (c *court) together() {
	if c.doubt { // the dwell is not what it seems: the gap is judged alone
		c.in.DwellDistDeg = nil
	}
	d := c.disagreement()
	if d.how != "" {
		c.say(d.how)
	}
	switch {
	case !d.known:
		c.trustAlone()
	case math.Abs(d.thou) <= mostThou:
		c.out.Agree = "yes"
		c.out.Trust, c.out.TrustText = "dwell",
			"Gap and dwell agree. The meter averages every lobe; the feeler measures one."
		c.offBook()
	default:
		c.out.Agree = "no"
		c.disagree(d)
	}
}

func (c *court) disagreement() disagreement {
	in := c.in
	if in.GapMm == nil || in.DwellDistDeg == nil || in.GapBook == nil || in.DwellBook == nil {
		return disagreement{}
	}
	if in.SlopePerMm == nil {
		perThou := slopeGuess(in.Cylinders)
		gapOut, dwellOut := in.GapBook.outside(*in.GapMm)/mmPerThou, in.DwellBook.outside(*in.DwellDistDeg)
		d := disagreement{known: true, thou: gapOut + dwellOut/perThou}
		d.deg = d.thou * perThou
		d.how = fmt.Sprintf("Gap %.3g mm, book %.3g to %.3g: %+.2g thou outside. Dwell %.4g°, book %.4g to %.4g: %+.3g° outside. With %.2g° for a thou (common practice, an estimate) they contradict each other by %.2g thou; a wide gap and little dwell cancel.",
			*in.GapMm, in.GapBook.Min, in.GapBook.Max, gapOut, *in.DwellDistDeg, in.DwellBook.Min, in.DwellBook.Max,
			dwellOut, perThou, math.Abs(d.thou))
		return d
	}
	expected := in.DwellBook.middle() + *in.SlopePerMm*(*in.GapMm-in.GapBook.middle())
	d := disagreement{known: true, deg: *in.DwellDistDeg - expected}
	d.thou = d.deg / (*in.SlopePerMm * mmPerThou)
	d.how = fmt.Sprintf("Through the middle of the book's figures with this car's slope, a gap of %.3g mm should give %.3g + (%.3g) × (%.3g − %.3g) = %.4g°; the meter says %.4g°: %+.3g°, as much as %+.2g thou of gap.",
		*in.GapMm, in.DwellBook.middle(), *in.SlopePerMm, *in.GapMm, in.GapBook.middle(), expected, *in.DwellDistDeg,
		d.deg, d.thou)
	return d
}

// slopeGuess is the least change of dwell for a thou by common practice.
func slopeGuess(cylinders int) float64 {
	if p, known := practice[cylinders]; known {
		return p[0]
	}
	return Pitch(cylinders) / 90
}

func (r Range) outside(x float64) float64 {
	switch r.side(x) {
	case -1:
		return x - r.Min
	case 1:
		return x - r.Max
	}
	return 0
}

// trustAlone says what to set by when the two cannot be compared.
func (c *court) trustAlone() {
	switch c.in.State {
	case "new":
		c.out.Trust, c.out.TrustText = "gap", "New points have flat faces: set the gap, at the wide end because the heel will bed in, then confirm by dwell."
	case "used":
		c.out.Trust, c.out.TrustText = "dwell",
			"On used points a feeler bridges pit and mound and reads a gap smaller than it is: set by dwell."
	default:
		c.out.TrustText = "Say whether the points are new or used: new ones are set by gap and confirmed by dwell, used ones by dwell."
	}
	c.offBook()
}

// offBook says which way to set what is out of the book's range.
func (c *court) offBook() {
	in := c.in
	if in.DwellDistDeg != nil && in.DwellBook != nil {
		c.set("dwell", "gap", in.DwellBook.side(*in.DwellDistDeg), *in.DwellDistDeg, *in.DwellBook, "°")
	}
	if in.GapMm != nil && in.GapBook != nil && (in.DwellDistDeg == nil || in.DwellBook == nil) {
		c.set("gap", "dwell", in.GapBook.side(*in.GapMm), *in.GapMm, *in.GapBook, " mm")
	}
}

func (c *court) set(what, other string, side int, x float64, r Range, unit string) {
	line := fmt.Sprintf("%s %.4g%s, book %.4g to %.4g%s.", what, x, unit, r.Min, r.Max, unit)
	c.say(line)
	if side == 0 {
		c.find("pass", finding.Finding{Code: what + "-in-book", Title: "The " + what + " is in the book's range",
			Part: "points", Sureness: "sure", Working: []string{line}, Text: "Leave it."})
		return
	}
	which, effect := "too little", "the points run weak at high speed and arc"
	if (side > 0) == (what == "dwell") {
		effect = "the points run hot and burn, the coil runs hot, and it starts badly"
	}
	if side > 0 {
		which = "too much"
	}
	verdict, sureness := "fail", "sure"
	if c.offScale && what == "dwell" { // the meter's scale is to be settled first
		verdict, sureness = "unknown", "possible"
	}
	c.find(verdict, finding.Finding{Code: what + "-out", Title: fmt.Sprintf("T%s %s", which[1:], what), Part: "points",
		Direction: which, Sureness: sureness, Working: []string{line},
		Text:        fmt.Sprintf("Left so, %s. Set it to the middle of the book, %.3g%s; the %s moves the other way. Timing moves with it and is to be done again.", effect, r.middle(), unit, other),
		Caution:     "Ignition off before the screwdriver goes in; keep sleeves and leads clear of fan and belts when it runs again.",
		DisprovedBy: "the same reading taken twice, inside the range",
		Sources:     []string{"the book's own range", "effects: US Army TM 10-3930-607-15"}})
}

func (c *court) disagree(d disagreement) {
	less := d.deg < 0
	if c.in.State == "used" && less {
		c.out.Trust, c.out.TrustText = "dwell",
			"Used points: the feeler bridges pit and mound, so the true gap is wider than it says. Set by dwell today."
	} else {
		c.out.Trust, c.out.TrustText = "neither", "Gap and dwell contradict each other by more than about two thou of gap. Stop and find out why before setting either."
	}
	c.out.Reasons = reasonsFor(less, c.in.State)
	title := "The dwell is more than this gap should give"
	if less {
		title = "The dwell is less than this gap should give"
	}
	verdict := "fail"
	if c.out.Trust == "dwell" {
		verdict = "watch"
	}
	if c.out.Trust == "dwell" {
		c.offBook()
	}
	c.find(verdict, finding.Finding{Code: "gap-dwell-disagree", Title: title, Part: "points, cam or meter",
		Sureness: "likely", Working: []string{d.how},
		Text:        c.out.TrustText + " First on the list: " + c.out.Reasons[0].Text + ".",
		DisprovedBy: c.out.Reasons[0].Test,
		Sources: []string{"a feeler on used faces reads peak to peak: US Army TM 10-3930-607-15, p. 121",
			"used points by dwell, new ones by gap, two thou as the limit: common practice"}})
}
