package vacuum

import (
	"fmt"

	"pointsmith/calc/finding"
)

// short says that it moves too little: late on its spring, or stopped early.
func (c *court) short(sureness, verdict string, late bool) {
	f := finding.Finding{Code: "short", Part: partCapsule, Direction: "too little", Sureness: sureness,
		Title: "It moves too little, going up and coming down",
		Text: "It falls short both ways, so friction is not the reason: its travel is stopped early, the link is " +
			"bent, or this is another capsule than the book means.",
		DisprovedBy: "the code on the unit, and the gauge checked against another", Sources: []string{armyPlate},
		Working: c.lines(func(p JudgedPoint) bool {
			return p.DeviationDistDeg < -rounding
		})}
	if late {
		f.Text = "It needs more vacuum than it should: the spring inside is too strong, its adjustment is set too high, or " +
			"this is another capsule than the book means."
	}
	if len(c.runs["falling"]) == 0 {
		f.Title = "It moves too little going up"
		f.Text += " Read it coming down as well: if it is over there, the plate sticks."
	}
	c.add(verdict, f)
}

func (c *court) early(sureness, verdict string) {
	c.add(verdict, finding.Finding{Code: "early-start", Part: partCapsule, Direction: "too early", Sureness: sureness,
		Title: "It moves too soon",
		Text: "It is ahead of its figures on the way and right at the end: the spring inside is weak, its preload is " +
			"set too low, or this is another capsule than the book means.",
		DisprovedBy: "the code on the unit, and the gauge checked against another",
		Working:     c.lines(func(p JudgedPoint) bool { return p.DeviationDistDeg > rounding })})
}

func (c *court) tooMuch(sureness, verdict string) {
	c.add(verdict, finding.Finding{Code: "too-much", Part: "travel of the capsule", Direction: "too much",
		Sureness: sureness, Title: "It moves too far",
		Text:        "The whole travel is more than allowed. At light throttle the spark comes too early: the engine surges or knocks lightly as the throttle opens. Reduce the travel of the link, or fit the right capsule. Do not retard the base for it: that is wrong at every other speed.",
		DisprovedBy: "the figures of the book for this very number, and the unit of the degrees as typed",
		Working:     c.lines(func(p JudgedPoint) bool { return p.DeviationDistDeg > rounding })})
}

// erratic: no usual fault and no usual slip makes these readings.
func (c *court) erratic(sureness string) {
	c.add(finding.Watch, finding.Finding{Code: "erratic", Part: partPlate, Direction: "both", Sureness: sureness,
		Title:       "It fits none of the usual faults",
		Text:        "Read again, up and down, and look for a plate that binds. It may be another capsule than the book means.",
		DisprovedBy: "a second set of readings", Sources: []string{armyPlate},
		Working: c.lines(func(p JudgedPoint) bool {
			return p.DeviationDistDeg < -rounding ||
				p.DeviationDistDeg > rounding
		})})
}

// lines shows the points a finding stands on, four at most.
func (c *court) lines(of func(JudgedPoint) bool) []string {
	out := []string{}
	for _, p := range c.out.Points {
		if of(p) && p.MinDistDeg != nil && len(out) < 4 {
			out = append(out, fmt.Sprintf("At %s, %s: %.1f distributor degrees, allowed %.1f to %.1f.", both(p.KPa),
				p.Direction, p.MeasuredDistDeg, *p.MinDistDeg, *p.MaxDistDeg))
		}
	}
	return out
}
