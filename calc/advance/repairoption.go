package advance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// mostOptions is how many ways are offered (chosen: the first, and others where
// its part cannot be had).
const mostOptions = 4

// fill finds the options for what is named inside and says the whole in one
// sentence.
func (r *repair) fill(out *PrescribeOut) {
	out.Working = r.working()
	if r.drags() {
		out.Options = []Option{r.cleaning()}
		out.Verdict, out.Summary = "watch", "Clean and oil the cam sleeve and the weight pivots, then read again, up "+
			"and down. No spring is touched before."
		return
	}
	if r.wrongUnit && len(r.parts) == 0 {
		out.Verdict = "fail"
		out.Summary = "No single spring, post or stop is at fault: the unit looks wrong for this car, or the table is " +
			"another unit's. Check its number first."
		return
	}
	for _, a := range r.attempts() {
		o := r.option(len(out.Options)+1, a)
		if o.Verdict != "fail" && len(out.Options) < mostOptions { // no repair is offered that is expected to fail
			out.Options = append(out.Options, o)
		}
	}
	if len(out.Options) == 0 {
		out.Verdict = "fail"
		out.Summary = fmt.Sprintf("What is off is the %s, and nothing that may be done to it brings the curve "+
			"into the book. "+
			"If it may not be touched, another unit is needed; if it may, this unit looks wrong for this car.",
			r.partWords())
		if a := r.allow; len(a.PrimarySprings)+len(a.SecondarySprings)+len(a.StopsDistDeg) > 0 {
			out.Summary = fmt.Sprintf("What is off is the %s, and none of the parts at hand brings the curve into the "+
				"book. Take the list away to see which would.", r.partWords())
		}
		return
	}
	out.Verdict = "watch"
	out.Summary = upperFirst(r.gist(out.Options[0])) + "."
	if n := len(out.Options); n > 1 {
		out.Summary = fmt.Sprintf("%d ways were found; first: %s.", n, r.gist(out.Options[0]))
	}
}

func (r *repair) partWords() string {
	var all []string
	for _, e := range r.parts {
		all = append(all, known[e].part)
	}
	return strings.Join(all, ", and the ")
}

// gist names an option in a few words.
func (r *repair) gist(o Option) string {
	var parts []string
	c := o.Change
	for _, one := range []struct {
		is   bool
		what string
	}{{slices.Contains(c.Replace, "primary"), "fit a new primary spring"},
		{c.PrimarySpring != nil, "fit another " +
			"primary spring"}, {c.PrimaryPreload != nil, "bend the primary spring's post"},
		{slices.Contains(c.Replace, "secondary"), "fit a new secondary spring"},
		{c.SecondarySpring != nil, "fit another secondary spring"},
		{c.SlackDistDeg != nil, "bend the secondary spring's post"},
		{c.LimitDistDeg != nil, "change the stop"},
		{c.BaseCrankDeg != nil && r.baseNamed() != "", "set the base last"}} {
		if one.is {
			parts = append(parts, one.what)
		}
	}
	return strings.Join(parts, ", read again, then ") + ", and read again"
}

// cleaning is the one thing to do where weights or sleeve drag.
func (r *repair) cleaning() Option {
	o := Option{Rank: 1, Effort: postEffort, Verdict: "watch", InBookShare: r.inBookNow(), Stages: []Stage{},
		Curve: r.model().curve(1.05 * r.topDistRPM())}
	o.Steps = []string{
		"Take the cam sleeve off, clean and oil sleeve, felt and weight pivots. The rotor, twisted in its running " +
			"direction and let go, must spring back fully.",
		"Then read again, up and down, at the same speeds: falling may lie above rising by one distributor degree at " +
			"most. Bend and buy nothing before.",
	}
	o.Expected = r.expected(attempt{}, 0, r.baseBefore())
	o.Why = "What drags reads late going up and late coming back; a spring judged through it is judged wrongly."
	return o
}

// inBookNow is the share of the governors that lie in the book as they stand,
// friction left aside.
func (r *repair) inBookNow() float64 {
	a := attempt{}
	r.score(&a)
	return a.inBook
}

// option puts an attempt into words and figures.
func (r *repair) option(rank int, a attempt) Option {
	o := Option{Rank: rank, Effort: a.effort, Verdict: "pass", InBookShare: a.inBook, Stages: []Stage{}}
	m := r.model()
	if r.lag != nil && r.lag.distDeg > hysteresisWatch/2.0 {
		o.Steps = append(o.Steps, "Two drops of engine oil on the felt under the rotor and a few on the weight pivots.")
	}
	base := r.baseBefore()
	for i, done := range a.moves {
		done.change(&o.Change, r.amount(done, a.x[i], m))
		s := Stage{Step: r.step(a, i), Change: o.Change, Read: r.readWords(a, i+1, base, "bench", "car"),
			Expected: r.expected(a, i+1, base), Curve: r.curveAfter(a, i+1)}
		o.Stages = append(o.Stages, s)
		o.Steps = append(o.Steps, s.Step+" "+s.Read)
	}
	o.Curve, o.Scale = r.curveAfter(a, len(a.moves)), scaleWords(o.Change)
	r.baseStep(&o, a)
	for _, e := range o.Expected {
		o.Verdict = finding.Worse(o.Verdict, e.Verdict)
	}
	o.Why = r.why(a)
	return o
}

// amount is an amount as a change says it: slack added, not below none.
func (r *repair) amount(done move, x float64, m Model) float64 {
	if done.kind == "post" && done.part == "secondary" {
		return math.Max(-m.KneeDistDeg, x)
	}
	return x
}

// baseStep is about the base last, because a distributor that was opened has
// lost it: set where it was off or is not known, proved where it was right.
func (r *repair) baseStep(o *Option, a attempt) {
	n, base, was := len(a.moves), r.band.base, r.baseBefore()
	if base == nil || r.allow.Base != nil && !*r.allow.Base {
		o.Expected = r.expected(a, n, was)
		return
	}
	step := BaseWords(*base)
	switch {
	case r.baseNamed() == "" && r.baseSeen() && abs(was-*base) <= r.band.tolerance+setWithin:
		o.Steps = append(o.Steps, fmt.Sprintf("Put the body back to its mark. The base was right, about %s: "+
			"prove it, %s", before(was), proveBase))
		o.Expected = r.expected(a, n, was)
		return
	case r.baseNamed() != "" && r.base.known():
		step = fmt.Sprintf("Last the base: it stood at %s. %s", before(was), step)
	}
	o.Change.BaseCrankDeg = base
	o.Expected = r.expected(a, n, *base)
	if r.hasCar() {
		read := r.readWords(a, n, *base, "car")
		o.Stages = append(o.Stages, Stage{Step: step, Change: o.Change, Read: read, Expected: o.Expected,
			Curve: o.Curve})
		step += " " + read
	}
	o.Steps = append(o.Steps, step)
}

// proveBase is how a base is set.
const proveBase = "static with the test lamp, tighten the clamp, and prove it again after tightening."

// setWithin is how near the book's base counts as set, crank degrees (common
// practice: it is set to a degree).
const setWithin = 1

// baseSeen: the car's readings tell where the base stands.
func (r *repair) baseSeen() bool { return r.hasCar() && r.base.known() }

// baseBefore is the base that car figures hold until it is set, crank degrees:
// as found, else the book's.
func (r *repair) baseBefore() float64 {
	switch {
	case r.baseSeen():
		return r.base.value
	case r.band.base != nil:
		return *r.band.base
	}
	return 0
}

func (r *repair) curveAfter(a attempt, n int) []CurvePoint {
	m := r.median(a, n)
	return m.curve(1.05 * r.topDistRPM())
}

// median is the middle governor with the first n moves done: the one whose
// curve all figures of a step are taken from.
func (r *repair) median(a attempt, n int) Model {
	done := *r
	done.units = slices.Clone(r.units)
	for i, u := range r.units {
		done.units[i].Is = a.after(u, n)
	}
	return done.model()
}

// of is the middle of a quantity over the governors with the first n moves done.
func (r *repair) of(a attempt, n int, quantity func(infer.Governor) float64) float64 {
	return infer.RangeOfStandings(r.units, func(u *infer.Standing) float64 { return quantity(a.after(*u, n)) }).Middle
}

func (r *repair) why(a attempt) string {
	changes := "One change"
	if len(a.moves) > 1 {
		changes = fmt.Sprintf("%d changes, one at a time", len(a.moves))
	}
	return fmt.Sprintf("%s, work %.1f on a scale where bending one post a little is 1. In %.0f of 100 governors "+
		"that fit these readings the curve then lies in the book's rows.",
		changes, a.effort, 100*a.inBook)
}

func (r *repair) working() []string {
	lines := []string{fmt.Sprintf("Reckoned on %d governors drawn from those that fit the readings under the "+
		"accounts named.", len(r.units))}
	for _, e := range r.parts {
		lines = append(lines, fmt.Sprintf("Share of all accounts under which %s: "+
			"%.0f in 100.", known[e].short, 100*r.element(e)))
	}
	return append(lines, "Amount: the one under which most of them lie within a quarter of a distributor degree of "+
		"the book's rows, nearest the middle where that leaves a choice.")
}
