package scatter

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/finding"
)

const (
	// designLeast is how far apart the two halves of an engine that fires
	// unevenly by design stand at least, distributor degrees: designs known
	// differ by 12 crank degrees and more (from memory); chosen a third under it.
	designLeast = 4
	// levelWithin is how wide one half may scatter and still be one half (chosen:
	// the ±0.5 a ring is read to, and a little for the parts).
	levelWithin = 1.4
)

// ask puts the questions on which the pattern hangs.
func (p *pattern) ask() {
	p.out.Ask = []string{}
	if verdict(p.out.WorstDistDeg) == finding.Pass {
		return
	}
	if p.in.Firing == nil {
		p.out.Ask = append(p.out.Ask,
			"How does the engine fire: at even intervals, or unevenly by design (some V engines "+
				"and twins)? "+
				"Give the crank degrees from each firing to the next. Until then even firing is taken.")
	}
	if p.in.Points == "" || p.in.Points == "unknown" {
		p.out.Ask = append(p.out.Ask,
			"Are there two sets of points, each firing every other cylinder? Look under the cap. "+
				"Two sets out of step look like a worn cam.")
	}
	if p.unclear {
		p.out.Ask = append(p.out.Ask, "What were the errors read against: an even ring, or each cylinder's own mark?")
	}
}

// halves tells whether the errors stand in two even groups clearly apart, as
// an engine does that fires unevenly by design.
func (p *pattern) halves() bool {
	n := len(p.mean)
	if n%2 != 0 {
		return false
	}
	sorted := slices.Sorted(slices.Values(p.mean))
	return sorted[n/2]-sorted[n/2-1] >= designLeast-levelWithin && mid(sorted[n/2:])-mid(sorted[:n/2]) >= designLeast &&
		sorted[n/2-1]-sorted[0] <= levelWithin && sorted[n-1]-sorted[n/2] <= levelWithin
}

func mid(sorted []float64) float64 { return (sorted[0] + sorted[len(sorted)-1]) / 2 }

// maybeDesign: how the engine fires was not said, and it could account for this.
func (p *pattern) maybeDesign() bool { return p.in.Firing == nil && p.halves() }

// maybeTwin: the points may be twin, each set firing every other cylinder.
func (p *pattern) maybeTwin() bool {
	return p.in.Points != "single" && len(p.mean)%2 == 0 && p.alternating >= lobeShare &&
		2*p.out.AlternatingDistDeg >= good
}

// settled: what was said leaves neither the design nor a second set of points.
func (p *pattern) settled() bool { return p.in.Firing != nil && p.in.Points == "single" && !p.unclear }

// accountFindings puts what else can make this pattern beside shaft and cam.
func (p *pattern) accountFindings() {
	if p.maybeDesign() {
		p.add(finding.Finding{Code: "uneven-design", Title: "It may fire unevenly by design",
			Part: "the engine's own " +
				"firing", Sureness: "possible", Verdict: finding.Unknown,
			Text: fmt.Sprintf(
				"Half of the flashes come about %.1f distributor degrees after the other half. An engine whose "+
					"firing is uneven by design shows just this on an even ring, and nothing is worn.",
				p.apart()),
			DisprovedBy: "the engine's book: firing at even intervals"})
	}
	if p.maybeTwin() {
		p.add(p.twinFinding())
	}
}

// apart is how far the two halves stand from one another.
func (p *pattern) apart() float64 {
	sorted := slices.Sorted(slices.Values(p.mean))
	return mid(sorted[len(sorted)/2:]) - mid(sorted[:len(sorted)/2])
}

func (p *pattern) twinFinding() finding.Finding {
	by := 2 * p.out.AlternatingDistDeg
	first, late := "first, third and so on", "second set"
	if p.early < 0 {
		first, late = "second, fourth and so on", "first set"
	}
	if len(p.mean) == 2 {
		first = map[bool]string{true: "second", false: "first"}[p.early < 0]
	}
	f := finding.Finding{Code: "twin-out-of-step", Title: "Two sets of points out of step", Part: "the second set of " +
		"points", Sureness: "possible",
		Direction: fmt.Sprintf("the %s late by %.1f distributor degrees", late, by),
		Text: fmt.Sprintf(
			"Early and late come by turns: the %s flash %.1f distributor degrees (%.1f at the crank) before "+
				"the others. Twin points do this when one set opens late. "+
				"Set gap and dwell of both sets alike first, then move the second set on its plate until both halves agree.",
			first, by, by*p.ratio),
		Caution:     "Ignition off before a tool goes to the points.",
		DisprovedBy: "the same pattern after the second set was moved, or only one set of points under the cap",
		Working: []string{fmt.Sprintf("Early and late by turns: ±%.2f distributor degrees, %.0f %% of the unevenness.",
			p.out.AlternatingDistDeg, 100*p.alternating)}}
	if p.in.Points == "twin" {
		f.Verdict = verdict(p.out.WorstDistDeg)
		if p.alternating >= waveShare {
			f.Sureness = "likely"
		}
	}
	return f
}

// firingFindings says what the design that was given does to the figures.
func (p *pattern) firingFindings() {
	switch {
	case p.turned:
		p.out.Ask = append(p.out.Ask,
			"Do the intervals begin at No. 1, are the errors read against an even ring, and is "+
				"early not taken for late?")
		p.add(finding.Finding{Code: "firing-turned", Title: "Errors and firing intervals do not belong together",
			Part: "the figures as entered", Direction: "check before touching anything",
			Sureness: "likely", Verdict: finding.Unknown,
			Text: "As entered the flashes are far out; with the intervals begun at another cylinder, or read against " +
				"each cylinder's own mark, they are good. Nothing is judged until that is settled.",
			DisprovedBy: "the intervals read again from the book, beginning at No. 1"})
	case p.in.uneven() && p.out.Against == "even":
		most := slices.Max(p.design) - slices.Min(p.design)
		p.add(finding.Finding{Code: "uneven-design", Title: "It fires unevenly by design; that is taken off",
			Part: "the engine's own firing", Sureness: "sure",
			Text: "The errors against an even ring hold what the design puts there. Only what is left is judged.",
			Working: []string{fmt.Sprintf(
				"By design the flashes stand up to %.1f distributor degrees apart from an even "+
					"ring.", most)}})
	}
}

// said puts how firing and points were taken among the working.
func (p *pattern) said() []string {
	line := "How the engine fires was not said: even firing is taken."
	switch {
	case p.in.uneven() && p.out.Against == "own":
		line = "Firing uneven by design; the errors are taken as read against each cylinder's own place."
	case p.in.uneven():
		line = "Firing uneven by design; the errors are taken as read against an even ring, and the design is taken off."
	case p.in.Firing != nil:
		line = "Firing at even intervals, as said."
	}
	points := map[string]string{"single": "One set of points, as said.", "twin": "Two sets of points, as " +
		"said."}[p.in.Points]
	if points == "" {
		points = "Whether there are two sets of points was not said."
	}
	return []string{line, points}
}

// alternate finds early and late by turns: its height and its share.
func (p *pattern) alternate(all float64) {
	if len(p.mean)%2 != 0 {
		return
	}
	for i, f := range p.out.Flashes {
		left := f.ResidualDistDeg
		if len(p.mean) == 2 { // two flashes: wave and turns are one and the same
			left = f.ErrorDistDeg - p.out.MeanDistDeg
		}
		p.early += left * float64(1-2*(i%2)) / float64(len(p.mean))
	}
	p.out.AlternatingDistDeg = math.Abs(p.early)
	if all > rounding {
		p.alternating = float64(len(p.mean)) * p.early * p.early / all
	}
}
