package scatter

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/finding"
)

// Pattern rules (chosen): a pattern is looked for once a flash is out, or its
// height reaches half a distributor degree, what a ring is read to (common
// practice). A share of 0.8 of the variance in one wave is a wave, under 0.5
// it is not; chance alone puts 2/(N−1) of it there.
const (
	readable  = 0.5
	waveShare = 0.8
	lobeShare = 0.5
	// jitter of one flash while steady, crank degrees: pass to 1, watch to 3
	// (common practice)
	jitterGood = 1
	jitterFair = 3
)

func (p *pattern) conclude() {
	p.out.Verdict = verdict(p.out.WorstDistDeg)
	p.out.Summary = fmt.Sprintf("The worst flash stands %.2g distributor degrees off the mean.", p.out.WorstDistDeg)
	p.repeatFindingFirst()
	switch {
	case p.turned: // nothing is judged by these figures
	case verdict(p.out.WorstDistDeg) != finding.Pass:
		p.accountFindings()
		p.patternFindings()
		p.earliestFinding()
	default:
		p.earliestFinding()
	}
	p.out.Findings.Sort()
	if len(p.out.Findings) == 0 || len(p.out.Findings) == 1 && p.out.Findings.Has("uneven-design") && !p.hangs() {
		p.add(finding.Finding{Code: "scatter-good", Title: "The cylinders are evenly spaced", Sureness: "sure",
			Text: fmt.Sprintf("No flash is further than %.2g distributor degrees from the mean. Leave it alone.",
				p.out.WorstDistDeg)})
	}
}

// hangs: the verdict hangs on an answer that is not there.
func (p *pattern) hangs() bool { return p.turned || p.maybeDesign() }

// repeatFindingFirst puts the verdict that hangs on an answer, then what is
// judged without it.
func (p *pattern) repeatFindingFirst() {
	if p.hangs() {
		p.out.Verdict = finding.Unknown
		p.out.Summary = fmt.Sprintf(
			"The worst flash stands %.2g distributor degrees off the mean; whether that is a fault "+
				"hangs on how the engine fires.", p.out.WorstDistDeg)
	}
	p.repeatFinding()
	p.firingFindings()
}

// weigh makes a verdict the whole's where it is the heavier, and its reason
// the summary: the word and its reason go together.
func (p *pattern) weigh(verdict, reason string) {
	if finding.Worse(p.out.Verdict, verdict) == p.out.Verdict {
		return
	}
	p.out.Verdict, p.out.Summary = verdict, reason
}

func (p *pattern) add(f finding.Finding) { p.out.Findings.Add(f) }

// patternFindings tells wave from lobes.
func (p *pattern) patternFindings() {
	n := len(p.mean)
	switch {
	case n < 4:
		p.add(finding.Finding{Code: "too-few", Title: "Too few flashes to tell shaft from cam", Sureness: "sure",
			Text: "With fewer than four flashes a turn every pattern looks like a wave. Push the shaft sideways and read again: what changes is the bush, what stays is cam or shaft."})
	case p.wave >= waveShare:
		p.waveFindings()
	case p.wave < lobeShare:
		p.add(p.lobeFinding(p.sureOfLobes()))
	default:
		p.add(p.waveFinding("possible"))
		p.add(p.lobeFinding("possible"))
	}
	if n >= 5 && p.out.SecondHarmonicDistDeg >= readable && p.out.SecondHarmonicDistDeg > p.out.FirstHarmonicDistDeg {
		p.add(finding.Finding{Code: "two-waves", Title: "Two waves a turn: an oval path", Part: "bush, or paired lobes",
			Sureness:    "possible",
			Text:        "Early and late come twice in a turn. A bush worn oval does this, and so do lobes worn in opposite pairs.",
			DisprovedBy: "the same run with the shaft pushed to one side: an oval bush gives another pattern, worn lobes the same"})
	}
}

// sureness of a pattern: likely from one run, sure when repeats agree, and
// one step less with four flashes, where three figures have to be told from
// one left over.
func (p *pattern) sureness() string {
	steps := []string{"possible", "likely", "sure"}
	at := 1
	if p.out.RepeatSpreadDistDeg != nil && *p.out.RepeatSpreadDistDeg*p.ratio <= jitterGood {
		at = 2
	}
	if len(p.mean) < 5 {
		at--
	}
	return steps[at]
}

// waveFindings: a few neighbouring lobes worn look much like a wave, so what
// the wave leaves over decides whether the cam stays in question.
func (p *pattern) waveFindings() {
	sureness := p.sureness()
	if left := p.out.ResidualMaxDistDeg; left > readable || p.in.Firing == nil {
		sureness = atMost(sureness, "likely")
	}
	if p.maybeDesign() {
		sureness = "possible"
	}
	p.add(p.waveFinding(sureness))
	if p.out.ResidualMaxDistDeg > readable {
		p.add(p.lobeFinding("possible"))
	}
}

// sureOfLobes: the cam is not called sure while the firing or the points may
// account for the pattern, and no more than possible where one of them fits.
func (p *pattern) sureOfLobes() string {
	switch {
	case p.maybeDesign() || p.maybeTwin():
		return "possible"
	case !p.settled():
		return atMost(p.sureness(), "likely")
	}
	return p.sureness()
}

func atMost(sureness, most string) string {
	steps := []string{"possible", "likely", "sure"}
	return steps[min(slices.Index(steps, sureness), slices.Index(steps, most))]
}

func (p *pattern) waveFinding(sureness string) finding.Finding {
	return finding.Finding{Code: "one-wave", Title: "One wave a turn: shaft or bush, not the cam",
		Part: "shaft and bush", Sureness: sureness,
		Direction:   fmt.Sprintf("earliest %.0f° of distributor turn after No. 1", p.out.PhaseDeg),
		Text:        "The errors run round in one wave: early on one side of the turn, late on the other. The shaft runs out of true: a worn bush lets it, or it is bent. Measure side play and run-out before buying points or a cam.",
		DisprovedBy: "the same run while the shaft is pushed to one side: if the wave moves it is the bush, if it stays the shaft is bent or the cam sits askew; if side play and run-out are both nil, it is the cam after all",
		Working: []string{fmt.Sprintf("Height of the wave %.2f, the rest at most %.2f distributor degrees; the wave accounts for %.0f %% of the unevenness.",
			p.out.FirstHarmonicDistDeg, p.out.ResidualMaxDistDeg, 100*p.wave)}}
}

func (p *pattern) lobeFinding(sureness string) finding.Finding {
	worst := p.out.Flashes[0]
	for _, f := range p.out.Flashes {
		if math.Abs(f.ResidualDistDeg) > math.Abs(worst.ResidualDistDeg) {
			worst = f
		}
	}
	return finding.Finding{Code: "lobes", Title: "Each lobe has its own error: cam rather than shaft",
		Part: "cam lobes", Sureness: sureness,
		Direction:   fmt.Sprintf("most at %s", name(worst.Position, worst.Cylinder)),
		Text:        "The errors do not run round in a wave, so the shaft is not the reason. If they come again at the same lobes, the cam is worn or was made unevenly. No adjustment cures that; another cam does.",
		DisprovedBy: "the same run again: errors that wander from lobe to lobe are play or reading error, not the cam",
		Working: []string{fmt.Sprintf("One wave a turn has a height of only %.2f, the rest reaches %.2f distributor degrees; the wave accounts for %.0f %% of the unevenness.",
			p.out.FirstHarmonicDistDeg, p.out.ResidualMaxDistDeg, 100*p.wave)}}
}

// repeatFinding judges what does not come again.
func (p *pattern) repeatFinding() {
	if p.out.RepeatSpreadDistDeg == nil || *p.out.RepeatSpreadDistDeg*p.ratio <= jitterGood+rounding {
		return
	}
	crank := *p.out.RepeatSpreadDistDeg * p.ratio
	f := finding.Finding{Code: "repeat-spread", Part: "shaft in its bush", Sureness: "likely",
		Title:       "The same flash does not come again in the same place",
		Text:        "What changes from run to run is play. Each flash wanders for itself, so it lies in the distributor: shaft in its bush, points pivot, or the plate.",
		DisprovedBy: "the same runs on the bench: play of the engine's drive is not there",
		Working: []string{fmt.Sprintf("One flash spreads over %.2f distributor degrees = %.1f crank degrees; all together move %.2f distributor degrees.",
			*p.out.RepeatSpreadDistDeg, crank, p.together())}}
	if p.together() >= 0.6**p.out.RepeatSpreadDistDeg && p.in.Place != "bench" {
		f.Code, f.Part, f.Title = "drive-play", "drive: gear backlash, chain, end float",
			"All flashes wander together: the drive"
		f.Text = "All cylinders move together from run to run, so the play lies between crank and distributor: backlash of the gear, a slack chain, or end float of the shaft. Points and cam are not the reason."
	}
	f.Verdict = finding.Watch
	if crank > jitterFair {
		f.Verdict = finding.Fail
	}
	p.add(f)
	p.weigh(f.Verdict, fmt.Sprintf("%s: one spreads over %.1f crank degrees from run to run.", f.Title, crank))
}

// earliestFinding says what the scatter costs, once it is worth a degree.
func (p *pattern) earliestFinding() {
	e := p.out.Earliest
	if e.CrankDeg < 1 { // crank degrees; less is not read by strobe (common practice)
		return
	}
	f := finding.Finding{Code: "earliest",
		Title: fmt.Sprintf("%s fires %.1f crank degrees before its turn and decides the total",
			sentence(name(e.Position, e.Cylinder)), e.CrankDeg), Part: "total timing", Sureness: "sure",
		Text:    "It knocks first. The engine is timed on No. 1, so the total that may be set there is the knock limit less this figure. Cure the scatter, or give that much away.",
		Caution: "Over-advance on one cylinder can burn its piston while the others sound well.",
		Working: []string{fmt.Sprintf("%g × (%.2f − (%.2f)) = %.1f crank degrees earlier than No. 1.", p.ratio,
			p.mean[e.Position-1], p.mean[0], e.CrankDeg)}}
	if m := p.out.RealMarginCrankDeg; m != nil {
		f.Working = append(f.Working, fmt.Sprintf("Margin on No. 1 %.1f, on %s %.1f − %.1f = %.1f crank degrees.",
			*p.in.MarginCrankDeg, name(e.Position, e.Cylinder), *p.in.MarginCrankDeg, e.CrankDeg, *m))
		if *m < 0 {
			f.Text += " As it stands, this cylinder is past the knock limit."
			f.Verdict = finding.Fail
			p.weigh(f.Verdict, fmt.Sprintf("%s is %.1f crank degrees past the knock limit at this total.",
				sentence(name(e.Position, e.Cylinder)), -*m))
		}
	}
	p.add(f)
}

// name says a flash and its cylinder: "the fourth flash, No. 3".
func name(position, cylinder int) string {
	ordinals := []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
		"eleventh", "twelfth"}
	text := fmt.Sprintf("flash %d", position)
	if position <= len(ordinals) {
		text = "the " + ordinals[position-1] + " flash"
	}
	if cylinder > 0 {
		text += fmt.Sprintf(", No. %d,", cylinder)
	}
	return text
}

func sentence(s string) string { return string(s[0]-'a'+'A') + s[1:] }

func (p *pattern) explain() {
	o := &p.out
	o.Working = []string{
		fmt.Sprintf("Mean of %d flashes: %.2f distributor degrees.", len(p.mean), o.MeanDistDeg),
		fmt.Sprintf("One wave a turn: height %.2f, earliest %.1f° after No. 1; what is left is at most %.2f.",
			o.FirstHarmonicDistDeg, o.PhaseDeg, o.ResidualMaxDistDeg),
		fmt.Sprintf("Furthest from the mean: %.2f distributor degrees = %.1f crank degrees; pass to %d, watch to %d.",
			o.WorstDistDeg, p.ratio*o.WorstDistDeg, good, fair),
	}
	if o.RepeatSpreadDistDeg != nil {
		o.Working = append(o.Working, fmt.Sprintf("Over %d runs one flash spreads at most %.2f distributor degrees.",
			len(p.runs), *o.RepeatSpreadDistDeg))
	}
	o.Working = append(o.Working, p.said()...)
	o.Sources = []string{"limits ±1 and ±2 distributor degrees: common practice for points; ±2 at 300 distributor rpm in TM 5-4210-230-14&P-1 p. 556 for a trigger-wheel distributor",
		"division into waves: arithmetic; what each means: common practice"}
}
