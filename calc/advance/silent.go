package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

// spoken gives the readings at speeds of which the book says something.
func spoken(devs []dev) []dev {
	var out []dev
	for _, d := range devs {
		if !d.silent {
			out = append(out, d)
		}
	}
	return out
}

// onlySilentOut tells whether all that is out stands where the book is silent:
// what is possible there has been left, but no figure of the book's.
func (f *shapeFinding) onlySilentOut() bool {
	told := shapeFinding{devs: spoken(f.devs)}
	return f.count(+1)+f.count(-1) > 0 && told.count(+1)+told.count(-1) == 0
}

// belowRest: less than the weights at rest can give. No spring does that.
func (d dev) belowRest() bool { return d.silent && d.beyond < 0 }

// onlySilent tells whether the book is silent at every speed that was read.
func (c *court) onlySilent() bool {
	for _, r := range c.usable {
		if !c.band.silent(r.rpm) {
			return false
		}
	}
	return len(c.usable) > 0
}

// silentIdleFinding is about idle figures below the book's first speed that
// are less than the base or more than the first row allows.
func (c *court) silentIdleFinding(idle dev) {
	f := finding.Finding{Code: "base-moved", Part: partBody, Direction: direction(idle.beyond), Sureness: "possible",
		Title:       fmt.Sprintf("The base looks too late: %.1f at %.0f engine rpm", idle.deg, idle.rpm),
		Text:        fmt.Sprintf("The book is silent at this speed, but even with the weights home the strobe should show no less than %.1f.", idle.low),
		DisprovedBy: "static timing proved with the lamp, engine stopped, agrees with the book", Working: []string{devLine(idle, c.band.ratio)}}
	if idle.beyond > 0 {
		f.Title = fmt.Sprintf("The base looks too early, or the advance starts too soon: %.1f at %.0f engine rpm", idle.deg, idle.rpm)
		f.Text = fmt.Sprintf("The book is silent at this speed, but already its first speed, which is higher, allows no more than %.1f.", idle.high)
	}
	f.Text += " Prove the static timing with the lamp before the body is turned. One idle figure says nothing about the curve: read at the book's own speeds."
	c.add(f)
}

// silentWords: nothing of the curve is told where the book is silent, only
// whether what was read is possible.
func (c *court) silentWords() string {
	if c.out.Counts.AsRead.Outside > 0 {
		return "the book is silent at the speeds read, and even so a reading is more, or less, than is possible there"
	}
	return "the book is silent at the speeds read, so they say nothing about the curve"
}
