package advance

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// option puts an attempt into words and figures.
func (d *desk) option(rank int, a attempt) Option {
	o := Option{Rank: rank, Change: MendChange{Change: a.change}, Effort: a.effort, Verdict: "pass", Curve: a.model.curve(1.05 * d.topRPM())}
	switch {
	case d.friction():
		o.Steps = append(o.Steps, "Take the cam sleeve off, clean and oil sleeve, felt and weight pivots, and read again before bending or buying anything.")
		o.Effort += postEffort
	case 4*d.model.FrictionDistDeg > hysteresisWatch:
		o.Steps = append(o.Steps, "Two drops of engine oil on the felt under the rotor and a few on the weight pivots.")
	}
	for i, m := range a.moves {
		o.Steps = append(o.Steps, d.step(m.name, a, a.x[i]))
	}
	o.Steps = append(o.Steps, "Run it up and down through the book's speeds again and compare with the figures expected below.")
	if base := d.band.base; base != nil && (d.in.Allow.Base == nil || *d.in.Allow.Base) {
		o.Change.BaseCrankDeg = base
		o.Steps = append(o.Steps, fmt.Sprintf("Set the base to %s, static with the lamp, tighten the clamp, and prove it again by strobe at idle against the figure expected there.", before(*base)))
	}
	o.Expected = d.expected(a.model)
	for _, e := range o.Expected {
		o.Verdict = finding.Worse(o.Verdict, e.Verdict)
	}
	o.Why = d.why(a)
	return o
}

// startWords: below some sixty distributor rpm (chosen; an engine cranks
// faster) the weights have no tension to overcome at rest.
func startWords(distRPM float64) string {
	if distRPM < 60 {
		return "as soon as it turns"
	}
	return fmt.Sprintf("at %.0f", distRPM)
}

func (d *desk) topRPM() float64 { return d.grid[len(d.grid)-1].rpm }

// step says one move in the trade's words with this unit's figures.
func (d *desk) step(name string, a attempt, x float64) string {
	m, after := d.model, a.model
	switch name {
	case "primary post":
		return fmt.Sprintf("Bend the primary spring's post %s until the advance starts at about %.0f distributor rpm (it starts %s): another tension at rest, the same spring.", outIn(1+x), after.StartDistRPM, startWords(m.StartDistRPM))
	case "secondary post":
		if x < 0 {
			return fmt.Sprintf("Bend the secondary spring's post out by %.1f distributor degrees of slack, so that it takes up at %.1f instead of %.1f degrees; worn hooks or a stretched loop are the usual cause.", -4*x, after.KneeDistDeg, m.KneeDistDeg)
		}
		return fmt.Sprintf("Bend the secondary spring's post in by %.1f distributor degrees of slack, so that it takes up at %.1f instead of %.1f degrees.", 4*x, after.KneeDistDeg, m.KneeDistDeg)
	case "primary spring":
		return fmt.Sprintf("Fit a primary spring about %.2g times as stiff as the one in it (a sound one, if this one is stretched); the advance then starts %s.", *a.change.PrimarySpring, startWords(after.StartDistRPM))
	case "secondary spring":
		return fmt.Sprintf("Fit a secondary spring about %.2g times as stiff as the one in it.", *a.change.SecondarySpring)
	case "stop":
		return fmt.Sprintf("Change the stop from %.1f to %.1f distributor degrees: another limit plate, a thicker or thinner bush, or a restored slot.", m.LimitDistDeg, after.LimitDistDeg)
	}
	return fmt.Sprintf("Fit weights of %.2g times the mass.", *a.change.Weights)
}

// gist names an attempt in a few words.
func (a attempt) gist() string {
	if len(a.moves) == 0 {
		return "Clean and oil the cam sleeve and the weight pivots."
	}
	var parts []string
	for _, m := range a.moves {
		parts = append(parts, m.name)
	}
	return strings.Join(parts, ", then ") + "."
}

func (d *desk) why(a attempt) string {
	if len(a.moves) == 0 {
		return "The springs are right: the middle of rising and falling lies in the band, and only friction keeps the readings apart."
	}
	out, _ := d.misfit(a.model)
	changes := fmt.Sprintf("%d changes", len(a.moves))
	if len(a.moves) == 1 {
		changes = "One change"
	}
	why := fmt.Sprintf("%s, work %.1f on a scale where bending one post a little is 1.", changes, a.effort)
	switch {
	case d.loose:
		return why + " The curve then lies within reading error of the band, not everywhere inside it."
	case a.off < 0.2: // within half of the half width on the whole (chosen)
		return why + " The curve then runs near the middle of the band."
	case out == 0:
		return why + " The curve then lies inside the band, with little to spare in places."
	}
	return why + " The curve then lies inside the band at the book's speeds, close to its edge in places."
}

// expected lists what should be read at the book's own speeds.
func (d *desk) expected(m Model) []Expected {
	out := []Expected{}
	for _, t := range d.grid {
		if !t.book {
			continue
		}
		e := Expected{EngineRPM: t.rpm * d.band.ratio, DistRPM: t.rpm, DistDeg: m.at(t.rpm)}
		e.CrankDeg = e.DistDeg * d.band.ratio
		withBase := len(d.band.total) > 0
		e.MinCrankDeg, e.MaxCrankDeg, _ = d.band.at(e.EngineRPM, withBase)
		if withBase && d.band.base != nil {
			e.CrankDeg += *d.band.base
		}
		edge := finest * d.band.ratio
		e.Verdict = pointVerdict(outside(e.CrankDeg, e.MinCrankDeg-edge, e.MaxCrankDeg+edge), d.err*d.band.ratio)
		out = append(out, e)
	}
	return out
}

func (d *desk) working() []string {
	return []string{
		"Tried: each single change, then pairs, then threes, of primary post, secondary post, primary spring, secondary spring and stop, as allowed.",
		"Each was set to the amount that lies nearest the middle of the band with the least change; kept were those inside at the book's speeds and within half the reading error between them; where none was, those within half the reading error at the book's speeds too.",
		fmt.Sprintf("Work: bending a post %d, another spring %d, another stop %d, other weights %d, and more for a larger amount (chosen).", postEffort, springEffort, stopEffort, weightEffort),
	}
}
