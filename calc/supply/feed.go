package supply

import (
	"fmt"

	"pointsmith/calc/finding"
)

// feed judges the volts at the coil: with and without ballast, cranking and
// points closed.
func (c *court) feed() {
	v, measured := c.volts[index("coilFeed")]
	if !measured {
		return
	}
	drop := c.volts[0] - v
	c.out.FeedV, c.out.FeedDropV = &v, &drop
	switch {
	case c.idle, c.guiltyBefore("coilFeed"):
	case c.in.State == "cranking":
		c.crankingFeed(v, drop)
	case c.in.Ballasted:
		c.ballastFeed(v, drop)
	case c.in.NominalV == 6 && v < 5.7 && drop > feedLimit:
		c.short("feed-low", fmt.Sprintf("Only %.2f V reach the coil, of a 6 V battery", v),
			fmt.Sprintf("Battery %.3g V, coil %.3g V; at least 5.7 V.", c.volts[0], v),
			"5.7 V at the coil of a 6 V car: common practice", verdictOf(drop, feedLimit, c.err))
	case drop > feedLimit+c.err:
		c.short("feed-drop", fmt.Sprintf("%.2g V lost between battery and coil", drop),
			fmt.Sprintf("Battery %.3g V less coil %.3g V: %.3g V; at most %.1f V without a ballast.", c.volts[0], v,
				drop, feedLimit), feedSource, verdictOf(drop, feedLimit, c.err))
	}
}

// guiltyBefore: a stretch on the way there is convicted already.
func (c *court) guiltyBefore(id string) bool {
	return c.out.Guilty != "" && index(c.out.Guilty) < index(id) && !c.in.Ballasted
}

func (c *court) short(code, title, line, source, verdict string) {
	c.find(verdict, finding.Finding{Code: code, Title: title, Part: "feed from battery to coil", Direction: "too low",
		Sureness: "sure", Working: []string{line}, Sources: []string{source},
		Text:        "Measure along the way: battery post, switch in, switch out, coil. The stretch that loses most is the faulty one. A resistance wire in the loom of a car with a plain coil does the same. Then enter it as a ballast.",
		DisprovedBy: "the same two readings with the points seen closed"})
}

// ballastFeed: battery to coil 4.5 to 6.9 V lost on a 12 V car. For a 6 V car
// with a ballast no published figure was seen.
func (c *court) ballastFeed(v, drop float64) {
	line := fmt.Sprintf("Battery %.3g V less coil feed %.3g V: %.3g V lost; 4.5 to 6.9 V is right with a ballast.",
		c.volts[0], v, drop)
	c.say("%s", line)
	sources := []string{"drop at most 6.9 V, under 4.5 V a shorted resistor: US Navy NAVEDTRA 14329, fig 6-48 view A",
		"about 7 V at the coil running: common practice"}
	if c.in.NominalV == 6 {
		c.out.Ask = append(c.out.Ask,
			"A 6 V car has no ballast unless its own manual shows one. Does it? What volts does it give at the coil?")
		return
	}
	f := finding.Finding{Part: "ballast", Sureness: "likely", Working: []string{line}, Sources: sources,
		DisprovedBy: "the ballast's ohms, cold and disconnected, and the coil's"}
	switch {
	case drop > 6.9+c.err:
		f.Code, f.Direction, f.Title = "ballast-high", "too much resistance", "Too much is lost before the coil"
		f.Text = "The ballast is of the wrong value or corroded, a joint before it is bad, or the coil has too few ohms for it. Measure each stretch; then ballast and coil by ohms."
		c.find(finding.Fail, f)
	case drop < 1:
		f.Code, f.Direction, f.Title = "bypass-stuck", "no resistance", "The coil gets battery volts with the key on"
		f.Text = "The starting bypass is stuck on, or the ballast is bridged or left out: points wear out early and the coil runs hot. Pull the bypass wire off the coil: if the volts fall to about 7, the starter's contact is stuck."
		f.Caution = "Do not leave the ignition on: a coil made for a ballast overheats in a minute or two on full volts."
		c.find(finding.Fail, f)
	case drop < 4.5-c.err:
		f.Code, f.Direction, f.Title = "ballast-low", "too little resistance", "The ballast takes too few volts"
		f.Text = "A shorted or wrong ballast, a coil with too many ohms for it (a plain coil kept behind a ballast), or a current that does not fully flow. Measure ballast and coil by ohms: each about 1.5 Ω in a matched pair."
		c.find(finding.Watch, f)
	}
}

// crankingFeed: the bypass may lose 0.1 V; the coil wants 9 V.
func (c *court) crankingFeed(v, drop float64) {
	line := fmt.Sprintf("Cranking: battery %.3g V less coil feed %.3g V: %.3g V lost.", c.volts[0], v, drop)
	c.say("%s", line)
	if c.in.Ballasted && drop > 0.1+c.err {
		f := finding.Finding{Code: "bypass-drop", Title: fmt.Sprintf("The starting bypass loses %.2g V", drop),
			Part: "starting bypass", Direction: "too much resistance", Sureness: "likely", Working: []string{line},
			Text:        "The bypass should give the coil the whole battery while cranking. Look at the wire from starter or relay to the coil, and at its contact. Dead altogether, the engine fires only as the key is let go.",
			DisprovedBy: "the meter straight from battery to coil feed while cranking: 0.1 V or less",
			Sources:     []string{"0.1 V: US Navy NAVEDTRA 14329, fig 6-48 view B"}}
		verdict := finding.Watch
		if drop > 1 {
			f.Title, verdict = "The starting bypass does not work: the coil is fed through the ballast", finding.Fail
		}
		c.find(verdict, f)
		return
	}
	if !c.in.Ballasted && drop > feedLimit+c.err {
		c.short("feed-drop-cranking", fmt.Sprintf("%.2g V lost between battery and coil while cranking", drop), line,
			feedSource, verdictOf(drop, feedLimit, c.err))
	}
	if least := 9.0 * c.in.NominalV / 12; v < least && drop <= feedLimit+c.err {
		c.find(finding.Watch, finding.Finding{Code: "coil-low-cranking",
			Title: fmt.Sprintf("Only %.2g V at the coil while cranking", v), Part: "battery and heavy leads",
			Direction: "too low", Sureness: "likely",
			Working:     []string{fmt.Sprintf("%.3g V, at least %.3g V.", v, least)},
			Text:        "Little is lost on the way: the battery itself falls too far under the starter.",
			DisprovedBy: "the same with a charged battery",
			Sources:     []string{"9 V at the coil while cranking: a maker's workshop manual; half of it on 6 V is a guess"}})
	}
}
