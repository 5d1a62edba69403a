package advance

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// entryFindings are about the figures themselves: how they were taken and
// whether they are what they say they are.
func (c *court) entryFindings() {
	for i, set := range c.sets {
		if set.Vacuum == "connected" && len(set.Points) > 0 {
			c.add(finding.Finding{Code: "vacuum-connected-stated", Title: fmt.Sprintf("Set %d was read with the vacuum pipe connected", i+1),
				Text: "The book's centrifugal table holds with the vacuum pipe off and its end plugged. These readings hold the capsule's advance as well and are not judged. Take them again with the pipe off and plugged, and put the pipe on the restore list.",
				Part: "vacuum pipe", Direction: "take off and plug", Sureness: "sure", DisprovedBy: "the pipe was off after all: then mark the set so"})
		}
		if set.Place == "car" && set.Vacuum == "" && len(set.Points) > 0 {
			c.ask(fmt.Sprintf("Set %d: was the vacuum pipe off and its end plugged?", i+1))
		}
	}
	if c.suspect.name != "" {
		c.add(c.suspicionFinding())
	}
	if c.hysteresis != nil && c.hysteresis.copied {
		c.ask("Rising and falling are the same to the figure. Were both read, or was one column copied?")
	}
	if c.spec.ListedWhile == "falling" && len(pick(c.usable, func(r reading) bool { return r.falling })) == 0 && len(c.usable) > 0 {
		c.ask("The book's table is read while speed falls, but only rising readings are here. Rising readings of a sound unit lie up to a distributor degree lower. Can the falling ones be taken?")
	}
}

var suspicionTexts = map[string]struct{ title, text, ask, disproof string }{
	"angle-doubled": {"The degrees look like double what their unit should give",
		"Halved, they lie in the book's band. Crank degrees were probably entered as distributor degrees.",
		"Were these degrees read on the crank (pulley or flywheel) rather than on the distributor?", "the scale they were read from turns with the distributor shaft"},
	"angle-halved": {"The degrees look like half of what their unit should give",
		"Doubled, they lie in the book's band. Distributor degrees were probably entered as crank degrees.",
		"Were these degrees read on the distributor (bench ring) rather than on the crank?", "the scale they were read from turns with the crank"},
	"speed-doubled": {"The speeds look like double what their unit should give",
		"At half the speed, the readings lie in the book's band. Engine speeds were probably entered as distributor speeds.",
		"Was the tachometer showing engine rpm rather than distributor rpm?", "the tachometer shows the speed of the shaft stated"},
	"speed-halved": {"The speeds look like half of what their unit should give",
		"At double the speed, the readings lie in the book's band. Distributor speeds were probably entered as engine speeds.",
		"Was the tachometer showing distributor rpm rather than engine rpm?", "the tachometer shows the speed of the shaft stated"},
	signTurned: {"The degrees look read the wrong way round the ring",
		"None of these figures is above zero, and they go down as the speed goes up. Weights only ever move the spark earlier: the ring was read against the running direction, the bench ran the other way, or a minus sign was entered.",
		"Which way did the bench turn, and were these degrees read in its running direction?", "turned the way it runs on its engine, the flash does move later, with the direction of rotation, as the speed rises"},
	"base-twice": {"The base looks counted twice",
		"Every reading is {high} by just the book's base. Either the readings hold the base although they are marked as without it, or a dial-back lamp already had it taken off, or the body really stands that much {early}.",
		"Do these figures hold the base timing already?", "static timing proved with the lamp, engine stopped: if it is that much {early}, the body was moved"},
	"base-missing": {"The base looks left out",
		"Every reading is {high} by just the book's base. Either the readings are advance alone although they are marked as with base, or the book's table already holds the base and it was added again, or the body really stands that much {early}.",
		"Does the book's table already hold the base (total before TDC)? Or are the readings advance alone?", "static timing proved with the lamp, engine stopped: if it is that much {early}, the body was moved"},
	"vacuum-connected": {"The vacuum pipe looks left on",
		"The readings are high by much the same large amount to the very top, as a vacuum capsule adds on a free-revving engine. Springs do not do that: too light a spring is high at low speed and right at the top.",
		"Was the vacuum pipe off and its end plugged for these readings?", "the same readings with the pipe off and plugged"},
}

// sideWords are by the sign of the offset and not by the mistake: a base after
// TDC counted twice lowers every reading.
func sideWords(offset float64) *strings.Replacer {
	if offset < 0 {
		return strings.NewReplacer("{high}", "low", "{early}", "late")
	}
	return strings.NewReplacer("{high}", "high", "{early}", "early")
}

func (c *court) suspicionFinding() finding.Finding {
	t, side := suspicionTexts[c.suspect.name], sideWords(c.suspect.offset)
	f := finding.Finding{Code: "suspect-" + c.suspect.name, Title: t.title, Text: side.Replace(t.text), Part: "the figures as entered",
		Direction: "check before touching anything", Sureness: "likely", DisprovedBy: side.Replace(t.disproof)}
	if c.suspect.both {
		f.Text += " The speeds look off the same way: the whole set seems to belong to the other shaft."
	}
	if c.suspect.name == "vacuum-connected" {
		f.Part, f.Direction = "vacuum pipe", "take off and plug"
		if c.baseOut() {
			f.Text += fmt.Sprintf(" If the pipe was off after all, they mean a base of %s where the book has %s: prove that with the lamp before the body is turned.", before(c.base.value), before(*c.band.base))
		}
		f.Working = []string{fmt.Sprintf("Mean amount over the middle of the band, idle left out: %.1f crank degrees, that is %.1f distributor degrees of capsule travel.", c.suspect.offset, c.suspect.offset/c.band.ratio)}
	} else if c.suspect.offset != 0 {
		f.Sureness = "possible"
		f.Working = []string{fmt.Sprintf("Offset of all readings: %+.1f crank degrees. Book base: %.1f.", c.suspect.offset, *c.band.base)}
	} else {
		f.Working = c.ratioLines()
	}
	f.Sources = []string{"both shafts and both units are mixed up often enough to ask first: common practice"}
	c.ask(t.ask)
	return f
}

// ratioLines shows measured against the middle of the book for a few speeds.
func (c *court) ratioLines() []string {
	var lines []string
	for _, r := range pick(c.usable, func(r reading) bool { return r.set == c.suspect.set }) {
		low, high, _ := c.band.at(r.rpm, r.withBase)
		if mid := (low + high) / 2; abs(mid) > 1 && !c.band.silent(r.rpm) && len(lines) < 4 {
			lines = append(lines, fmt.Sprintf("At %.0f engine rpm as entered: measured %.1f, book %.1f to %.1f crank degrees: %.2f of its middle.", r.rpm, r.deg, low, high, r.deg/mid))
		}
	}
	return lines
}
