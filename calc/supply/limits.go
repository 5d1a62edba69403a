package supply

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// limits holds each stretch against its limit and names the guilty one.
func (c *court) limits() {
	for _, s := range c.out.Stretches {
		if s.DropV < -2*c.err {
			c.rises(s)
			return // none of these readings can convict a connection
		}
	}
	worst, times := -1, 1.0
	for i := range c.out.Stretches {
		s := &c.out.Stretches[i]
		if c.in.State == "cranking" && index(s.To) >= index("coilFeed") {
			continue // the points open and close: a meter shows only a mean
		}
		if s.LimitV == nil {
			continue
		}
		s.Verdict = verdictOf(s.DropV, *s.LimitV, c.err)
		if over := s.DropV / *s.LimitV; s.Verdict != "pass" && over > times {
			worst, times = i, over
		}
	}
	if worst < 0 {
		return
	}
	c.out.Guilty = c.out.Stretches[worst].From
	c.convict(c.out.Stretches[worst], true)
	for i, s := range c.out.Stretches {
		if i != worst && (s.Verdict == "watch" || s.Verdict == "fail") {
			c.convict(s, false)
		}
	}
}

func verdictOf(drop, limit, meter float64) string {
	switch {
	case drop <= limit+meter:
		return "pass"
	case drop <= 2*limit+meter:
		return "watch"
	}
	return "fail"
}

func (c *court) convict(s Stretch, first bool) {
	_, _, _, cures := stretchOf(index(s.From), index(s.To))
	f := finding.Finding{Code: "drop-" + s.From, Title: fmt.Sprintf("%.2g V lost in: %s", s.DropV, s.Name),
		Part: s.Name, Direction: "too much resistance", Sureness: "likely",
		Text:        strings.Join(unique(cures), " "),
		DisprovedBy: "the meter put straight across this stretch, same state: within the limit",
		Working:     []string{fmt.Sprintf("%.3g V lost%s; at most %.3g V.", s.DropV, ohms(s.Ohm), *s.LimitV)},
		Sources:     []string{s.Source}}
	if first {
		f.Text = "The faulty one: it is furthest over its limit. " + f.Text
		f.Sureness = "sure"
		if strings.Contains(s.Name, ",") {
			f.Text += " Measure the places between to find which of them it is."
			f.Sureness = "likely"
		}
	}
	c.find(s.Verdict, f)
}

// rises asks about volts that go up along the way; of its three causes none is
// the surer.
func (c *court) rises(s Stretch) {
	from, to := way[index(s.From)].name, way[index(s.To)].name
	c.out.Ask = append(c.out.Ask, fmt.Sprintf("The volts rise from “%s” to “%s”, which they cannot while the current flows one way. Were both taken in the same state, one after the other?", from, to))
	c.find(finding.Unknown, finding.Finding{Code: "volts-rise", Title: "Volts rise along the way", Part: "the readings",
		Sureness: "possible", Text: "Take both readings again without changing anything between them; a battery recovers after cranking, and a lead on the wrong terminal does the same.",
		DisprovedBy: "the same rise twice: then a second feed comes in there (a bypass that is stuck on)",
		Working:     []string{fmt.Sprintf("“%s” to “%s”: %+.3g V.", from, to, -s.DropV)}})
}

// battery judges the standing or cranking volts.
func (c *court) battery() {
	v, least, what := c.volts[0], 12.2, "with the ignition on"
	if c.in.State == "cranking" {
		least, what = 9.6, "cranking"
	}
	least *= c.in.NominalV / 12
	line := fmt.Sprintf("Battery %s: %.3g V, at least %.3g V for a %g V car.", what, v, least, c.in.NominalV)
	c.say("%s", line)
	if most := mostVolts(c.in.NominalV); v > most {
		c.tooMany(v, most)
		return
	}
	if v >= least-1e-9 {
		return
	}
	verdict, text := finding.Watch,
		"Charge it before judging anything else: a spark that is short of volts looks like a bad coil."
	if c.in.State == "cranking" {
		verdict, text = finding.Fail, "Battery, clamps, strap or a dragging starter: the ignition gets what is left. Charge and test the battery, clean both ends of both heavy leads, and measure again."
	}
	c.find(verdict, finding.Finding{Code: "battery-low", Title: fmt.Sprintf("Battery low %s: %.1f V", what, v),
		Part: "battery", Direction: "too low", Sureness: "likely", Text: text,
		Caution:     "Battery gas burns and its acid too: ignition off, earth lead off first and on last, no sparks near it.",
		DisprovedBy: "the same reading after a night on charge", Working: []string{line},
		Sources: []string{"12.4 V standing and 9.6 V cranking, half of that on 6 V: common practice; 0.2 V less with the coil drawing: a guess"}})
}

// mostVolts is what a battery can show with no engine running, fresh off a
// charger: 15.5 V, and 8 V on 6 V. Chosen.
func mostVolts(nominal float64) float64 {
	if nominal == 6 {
		return 8
	}
	return 15.5
}

func (c *court) tooMany(v, most float64) {
	c.out.Ask = append(c.out.Ask,
		fmt.Sprintf("%.3g V at the battery of a %g V car: is the meter on another range, or another battery in it?", v,
			c.in.NominalV))
	c.find(finding.Unknown, finding.Finding{Code: "battery-high",
		Title: fmt.Sprintf("%.3g V are more than a %g V battery has", v, c.in.NominalV), Part: "the readings",
		Sureness:    "likely",
		Text:        "Nothing is passed on such readings. Look at the meter's range and lead, and at the battery; then take them again, or correct the system voltage under Facts.",
		DisprovedBy: "a second meter that shows the same",
		Working:     []string{fmt.Sprintf("%.3g V, at most %.3g V.", v, most)},
		Sources:     []string{"15.5 V, and 8 V on 6 V: chosen"}})
}

func (c *court) conclude() {
	c.out.Findings.Sort()
	c.out.Sources = append(c.out.Sources, "drop = volts before less volts after; resistance = drop / current",
		"limits stand with each stretch and finding")
	c.out.Summary = "No wire or joint loses more than it may."
	if c.out.Verdict != finding.Pass {
		c.out.Summary = c.out.Findings[0].Title + "."
	}
	if len(c.order) < 4 && c.out.Verdict == finding.Pass {
		c.out.Verdict = finding.Unknown
		c.out.Summary = "Nothing measured so far loses too much; most of the way is still to be measured."
	}
}
