package engine

import (
	"fmt"
	"math"
	"strings"

	"pointsmith/calc/finding"
)

// offBy are the errors of timing whose cost is given.
var offBy = []float64{-12, -10, -8, -6, -4, -2, 0, 2, 4, 6, 8}

// friction is what the engine itself takes, in bar of mean effective pressure:
// 0.97 + 0.15 n + 0.05 n², n in thousands of rpm (from memory, after Heywood's
// figure of many petrol engines); pumping against the vacuum comes to it.
func friction(c condition) float64 {
	n := c.rpm / 1000
	return 0.97 + 0.15*n + 0.05*n*n + (backFlow-c.load)*c.ambientKPa/100
}

// costs gives torque lost with a timing so far off the middle of best timing,
// against each draw's own best. Losses are of the work of the gas, the part
// lost of the torque at the flywheel is larger; where that is less than a fifth of
// the work, as at idle, it says nothing and the gas's own work is the measure.
func (s sample) costs(c condition, middle float64) []Cost {
	out := make([]Cost, len(offBy))
	for i, off := range offBy {
		r := spread(s.values(func(p profile) float64 { return p.lost(c, middle+off) }), s.list)
		what := "The middle of best timing"
		switch {
		case off < 0:
			what = finding.Degrees(-off, "crank") + " late"
		case off > 0:
			what = finding.Degrees(off, "crank") + " early"
		}
		out[i] = Cost{off, r.Low, r.High, fmt.Sprintf("%s at %.0f rpm costs %s of the torque", what, c.rpm,
			percents(r.Low, r.High))}
	}
	return out
}

// lost is the part of the torque, in percent, that a timing costs in this draw.
func (p profile) lost(c condition, spark float64) float64 {
	most := p.value(&p.work, p.best)
	gas := most * p.ratio / (p.ratio - 1) * p.kPa / 100 // bar
	wheel := max(gas-friction(c), gas/5)
	return max(0, 100*(most-p.value(&p.work, spark))/most*gas/wheel)
}

func percents(low, high float64) string {
	a, b := fmt.Sprintf("%.2g", low), fmt.Sprintf("%.2g", high)
	if high < 0.05 {
		return "less than 0.05 %"
	}
	if low < 0.05 {
		return "up to " + b + " %"
	}
	if a == b {
		return a + " %"
	}
	return a + " to " + b + " %"
}

// backOff is what is kept from a knock that was heard: two to three degrees
// (common practice).
const backOff = 2.0

// advise never goes beyond the low end of the knock limit, nor nearer than
// backOff to a knock that was heard, less the earliest cylinder of the distributor
// fitted.
func (out *BestOut) advise(earliest float64) {
	out.AdviceCrankDeg, out.LimitedBy = out.MBTCrankDeg, "best"
	if safe := min(out.KnockLimitLowCrankDeg, out.heardAt-backOff) - earliest; safe < out.AdviceCrankDeg {
		out.AdviceCrankDeg, out.LimitedBy = safe, "knock"
	}
}

const (
	// fewLeft: below this part of the draws the records and the engine as described
	// hardly go together (chosen: some ten of 128).
	fewLeft = 0.08
	// hardly: with a spark earlier than this no engine of the kind runs evenly (chosen).
	hardly = 60.0
	// mostBurned gas in the charge: engines stand 20 to 30 % (from memory).
	mostBurned = 0.25
	// farOff is how far, in standard deviations, readiness to knock may be moved by
	// what was heard before something is to be looked for (chosen, the usual two).
	farOff = 2.0
)

const estimate = "It is an estimate: the car's manual and a person who hears knock come first."

// say puts conclusions, working and sources.
func (out *BestOut) say(in BestIn, heard []listened, list []one, burnedGas float64) {
	text := fmt.Sprintf("Best torque lies at %.0f° before TDC (%.0f to %.0f), knock begins at %s. %s", out.MBTCrankDeg,
		out.MBTLowCrankDeg, out.MBTHighCrankDeg, out.limitWords(), estimate)
	title := "Best timing comes before knock"
	if out.LimitedBy == "knock" {
		title = "Knock comes before best timing"
		text = fmt.Sprintf("Set no more than %.1f°, by the knock limit%s: %s", math.Floor(10*out.AdviceCrankDeg)/10,
			lessEarliest(in), lowerFirst(text))
	}
	out.Findings.Add(finding.Finding{Code: "limited-by-" + out.LimitedBy, Title: title, Text: text,
		Sureness:    "possible",
		DisprovedBy: "a road test by the knock-safe method, two degrees at a time",
		Caution:     "Stop at the first trace of knock and go back two to three degrees; never repeat a pull that knocked.",
		Sources:     []string{"single-zone cycle with the knock integral; spreads chosen", "back off two to three: common practice"}})
	if out.WorthOfDraws < fewLeft {
		out.Findings.Add(finding.Finding{Code: "records-apart", Title: "The records hardly fit this engine",
			Verdict: finding.Watch, Sureness: "possible", Text: "What was heard or found lies far from what the engine as described could do. Check the timing mark, compression ratio, chamber, fuel and the figures as typed. What was heard is held all the same.",
			DisprovedBy: "the same record taken again with the mark proved",
			Sources:     []string{"weights of the draws; limit chosen"}})
	}
	if out.MBTCrankDeg > hardly || burnedGas > mostBurned {
		out.Findings.Add(finding.Finding{Code: "hardly-burns", Title: "The charge hardly burns here",
			Verdict:  finding.Watch,
			Sureness: "possible", Text: "So little fresh charge among so much burned gas burns slowly and not every time. The figures are a direction here, no setting; a capsule is held to less by surge.",
			DisprovedBy: "steady running at this vacuum", Sources: []string{"the model's own burning; limit chosen"}})
	}
	out.sayReadiness(heard, list)
	out.Working = []string{
		fmt.Sprintf("Load %.3g of the air's pressure, %.4g kPa in the manifold; octane asked with: %.4g (mean of RON and MON).",
			out.Load, out.Load*in.Air.kPa(), in.Fuel.road()),
		fmt.Sprintf("Half is burned %.3g° after TDC at best timing. Ranges hold nine of ten of %d engines drawn; the records leave as many as %.0f.",
			out.CA50CrankDeg, len(list), out.WorthOfDraws*float64(len(list))),
		"Best timing: " + out.MBTWidest.Text, "Knock limit: " + out.KnockWidest.Text,
	}
	out.Sources = sources
}

var sources = []string{"single zone with Wiebe burning: Ferguson & Kirkpatrick, Internal Combustion Engines, ch 2",
	"heat loss: G. Woschni, SAE 670931", "flame: Rhodes & Keck, SAE 850047; growth of burning: SAE 780232 (form, from memory)",
	"knock: Douaud & Eyzat, SAE 780080; Livengood & Wu", "chambers, filling, burned gas left, spreads: chosen, judgement"}

// sayReadiness says when what was heard sets this engine apart from its kind.
func (out *BestOut) sayReadiness(heard []listened, list []one) {
	mean, any := 0.0, false
	for _, o := range list {
		mean += o.weight * o.z[zKnock]
	}
	for _, l := range heard {
		any = any || l.heard
	}
	if !any || math.Abs(mean) < farOff {
		return
	}
	code, title, text := "knocks-late", "It knocks later than its kind",
		"What was heard is later than this engine as described should knock. Was it knock, and is the ratio as high as stated?"
	if mean < 0 {
		code, title, text = "knocks-early", "It knocks sooner than its kind",
			"It knocks sooner than this engine as described should. Look for carbon, hot plugs, a lean mixture, hot air, oil burned, or a mark that moved, before the curve is blamed."
	}
	out.Findings.Add(finding.Finding{Code: code, Title: title, Text: text, Verdict: finding.Watch, Sureness: "possible",
		DisprovedBy: "the same pull after those were put right", Sources: []string{"common practice; limit chosen"}})
}

func (out *BestOut) limitWords() string {
	low, middle, high := out.KnockLimitLowCrankDeg, out.KnockLimitCrankDeg, out.KnockLimitHighCrankDeg
	switch out.KnockAtLeast {
	case "low":
		return fmt.Sprintf("no timing worth setting (not before %.0f°)", low)
	case "middle":
		return fmt.Sprintf("%.0f° or later in most, if at all", low)
	case "high":
		return fmt.Sprintf("%.0f° (%.0f to %.0f or more)", middle, low, high)
	}
	return fmt.Sprintf("%.0f° (%.0f to %.0f)", middle, low, high)
}

func lessEarliest(in BestIn) string {
	if e := or(in.EarliestCrankDeg, 0); e > 0 {
		return fmt.Sprintf(" less %.3g° of the earliest cylinder", e)
	}
	return ""
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
