package vacuum

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// amountFindings says whether it moves too much, too little, too soon or too
// late, where there are figures to judge by.
func (c *court) amountFindings() {
	short, over := c.worst()
	sticking := c.out.Findings.Has("sticking")
	switch {
	case short < 0 && over > 0 && !sticking:
		c.add(finding.Watch, finding.Finding{Code: "erratic", Part: partPlate, Direction: "both", Sureness: "possible", Title: "Some readings short, some over",
			Text: "It is not one fault of strength. Read again, up and down, and look for a plate that binds.", DisprovedBy: "a second set of readings", Sources: []string{armyPlate}})
	case short < 0 && !sticking:
		c.shortFinding(short)
	case over > 0 && c.overAtTop():
		c.tooMuch()
	case over > 0 && !sticking:
		c.add(finding.Watch, finding.Finding{Code: "early-start", Part: partCapsule, Direction: "too early", Sureness: "likely", Title: "It moves too soon",
			Text:        "It is ahead of its figures on the way and right at the end: the spring inside is weak, its preload is set too low, or this is another capsule than the book means.",
			DisprovedBy: "the code on the unit, and the gauge checked against another", Working: c.lines(func(p JudgedPoint) bool { return p.DeviationDistDeg > rounding })})
	}
}

// worst is the largest deviation below and above the band beyond reading
// error.
func (c *court) worst() (short, over float64) {
	for _, p := range c.out.Points {
		if p.Verdict == finding.Fail {
			short, over = math.Min(short, p.DeviationDistDeg), math.Max(over, p.DeviationDistDeg)
		}
	}
	return short, over
}

func (c *court) shortFinding(short float64) {
	f := finding.Finding{Code: "short", Part: partCapsule, Direction: "too little", Sureness: "likely", Title: "It moves too little, going up and coming down",
		Text:        "It falls short both ways, so friction is not the reason: the spring inside is too strong, its adjustment is set too high, the link is bent, or this is another capsule than the book means.",
		DisprovedBy: "the code on the unit, and the gauge checked against another", Sources: []string{armyPlate}, Working: c.lines(func(p JudgedPoint) bool { return p.DeviationDistDeg < -rounding })}
	if len(c.runs["falling"]) == 0 {
		f.Sureness, f.Title = "possible", "It moves too little going up"
		f.Text += " Read it coming down as well: if it is over there, the plate sticks."
	}
	v := finding.Fail
	if short > -2*readingError {
		v = finding.Watch
	}
	c.add(v, f)
}

// overAtTop tells whether the whole travel is more than allowed.
func (c *court) overAtTop() bool {
	if len(c.band) == 0 || c.out.Measured.MaxDistDeg == nil {
		return false
	}
	return *c.out.Measured.MaxDistDeg > c.band[len(c.band)-1].high+rounding
}

func (c *court) tooMuch() {
	c.add(finding.Fail, finding.Finding{Code: "too-much", Part: "travel of the capsule", Direction: "too much", Sureness: "sure", Title: "It moves too far",
		Text:        "The whole travel is more than allowed. At light throttle the spark comes too early: the engine surges or knocks lightly as the throttle opens. Limit the travel of the link or fit the right capsule. Do not retard the base for it, that spoils every other speed.",
		DisprovedBy: "the figures of the book for this very number", Working: c.lines(func(p JudgedPoint) bool { return p.DeviationDistDeg > rounding })})
}

// lines shows the points a finding stands on, four at most.
func (c *court) lines(of func(JudgedPoint) bool) []string {
	out := []string{}
	for _, p := range c.out.Points {
		if of(p) && p.MinDistDeg != nil && len(out) < 4 {
			out = append(out, fmt.Sprintf("At %s, %s: %.1f distributor degrees, allowed %.1f to %.1f.", both(p.KPa), p.Direction, p.MeasuredDistDeg, *p.MinDistDeg, *p.MaxDistDeg))
		}
	}
	return out
}
