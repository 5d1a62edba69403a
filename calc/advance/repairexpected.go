package advance

import (
	"fmt"
	"slices"

	"pointsmith/calc/finding"
)

// mostExpected is how many speeds are listed (chosen for a phone).
const mostExpected = 24

// expected lists what should be read with the first n moves done: at the
// book's own speeds, and at those that were read.
func (r *repair) expected(a attempt, n int, base float64) []Expected {
	out := []Expected{}
	for _, k := range r.targets() {
		dist := k.rpm / r.band.ratio
		e := Expected{EngineRPM: k.rpm, DistRPM: dist, DistDeg: r.shows(a, n, dist), MinCrankDeg: k.low,
			MaxCrankDeg: k.high}
		e.CrankDeg = e.DistDeg * r.band.ratio
		if len(r.band.total) > 0 && r.band.base != nil {
			e.CrankDeg += base
		}
		edge := finest * r.band.ratio
		e.Verdict = pointVerdict(outside(e.CrankDeg, e.MinCrankDeg-edge, e.MaxCrankDeg+edge), r.readError())
		out = append(out, e)
	}
	return out
}

// finest is how near an edge counts as inside when a repair is reckoned,
// distributor degrees: a fifth of what a bench ring is read to (±0.5, common
// practice).
const finest = 0.1

// readError is the largest stated error of the readings, crank degrees.
func (r *repair) readError() float64 {
	e := 0.0
	for _, p := range r.usable {
		e = max(e, p.err)
	}
	return e
}

// targets is what the book allows, crank degrees, base in it where the book's is
// known: its own rows, and the speeds read, by the range of sound governors.
func (r *repair) targets() []knot {
	known := len(r.band.total) > 0 && r.band.base != nil
	out := slices.Clone(r.band.knots(known))
	for i, p := range r.points {
		near := func(k knot) bool { return abs(k.rpm-p.EngineRPM) < 1 }
		if p.Verdict == "unknown" || slices.ContainsFunc(out, near) || len(out) >= mostExpected {
			continue
		}
		k := knot{p.EngineRPM, r.points[i].MinCrankDeg, r.points[i].MaxCrankDeg}
		if known && p.Base == "excluded" {
			low, high := *r.band.base-r.band.tolerance, *r.band.base+r.band.tolerance
			if r.band.inTable { // the table's own width holds the base's already
				low, high = *r.band.base+r.band.tolerance, *r.band.base-r.band.tolerance
			}
			k.low, k.high = k.low+low, max(k.low+low, k.high+high)
		}
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b knot) int {
		if a.rpm < b.rpm {
			return -1
		}
		return 1
	})
	return out
}

// baseFirst: the curve is right and stands off by one amount. The body is
// turned, everything is read again, and nothing inside is touched.
func (r *repair) baseFirst(out *PrescribeOut) {
	if r.allow.Base != nil && !*r.allow.Base {
		out.Verdict = "fail"
		out.Summary = "The curve is right and stands off by one amount: only the base can cure it, and that may not " +
			"be touched."
		return
	}
	base, found := *r.band.base, r.base.value
	o := Option{Rank: 1, Change: MendChange{BaseCrankDeg: r.band.base}, Effort: postEffort, BodyOnly: true,
		Verdict: "pass",
		Curve:   r.model().curve(1.05 * r.topDistRPM()), InBookShare: r.inBookNow(), Stages: []Stage{}}
	o.Expected = r.readAgain(found - base)
	r.bodySteps(&o)
	for _, e := range o.Expected {
		if e.Doubtful {
			o.Verdict = finding.Worse(o.Verdict, "watch") // the one that fails is the one to take again
			continue
		}
		o.Verdict = finding.Worse(o.Verdict, e.Verdict)
	}
	if o.Verdict == "fail" {
		// the base is named whatever single readings do; what stays out is seen when it is read again
		o.Verdict = "watch"
	}
	o.Why = "That is the body, not a spring; what is inside is not judged before the readings have been taken again."
	out.Options, out.Verdict, out.Cautions = []Option{o}, "watch", bodyCautions
	out.Summary = "Set the base " + turnWords(found-base) + ", from " + before(found) + " to " + before(base) +
		", then read again: " + r.counts.words() + "."
	out.Working = append(r.working(), "Expected: each reading less the base as found, the book's put on.")
}

// readAgain is what the same readings should show with the base moved back.
func (r *repair) readAgain(taken float64) []Expected {
	out := []Expected{}
	for _, p := range r.points {
		if p.Base != "included" || p.Verdict == "unknown" {
			continue
		}
		e := Expected{EngineRPM: p.EngineRPM, Direction: p.Direction, DistRPM: p.EngineRPM / r.band.ratio,
			CrankDeg:    p.MeasuredCrankDeg - taken,
			MinCrankDeg: p.MinCrankDeg, MaxCrankDeg: p.MaxCrankDeg, Doubtful: p.Alone}
		e.DistDeg = (e.CrankDeg - *r.band.base) / r.band.ratio
		e.Verdict = pointVerdict(outside(e.CrankDeg, e.MinCrankDeg, e.MaxCrankDeg), p.ReadingErrorCrankDeg)
		out = append(out, e)
	}
	return out
}

func turnWords(offset float64) string {
	if offset < 0 {
		return fmt.Sprintf("%.1f° earlier", -offset)
	}
	return fmt.Sprintf("%.1f° later", offset)
}

func (r *repair) bodySteps(o *Option) {
	base, found := *r.band.base, r.base.value
	o.Steps = []string{
		fmt.Sprintf("Turn the body until the base is %s, static with the test lamp: %s than the %s it is now. Tighten the "+
			"clamp and prove it again after tightening.",
			before(base), turnWords(found-base), before(found)),
		"Then read again through the same speeds, up and down, and compare with the figures expected below.",
	}
	if len(r.outliers) > 0 {
		o.Steps = append(o.Steps, fmt.Sprintf("Take the reading at %s, with the speed settled 3 to 5 seconds: it "+
			"stood alone. Until it has been repeated, touch no spring, post or stop.",
			r.points[r.outliers[0]].name()))
		return
	}
	o.Steps = append(o.Steps, "Touch no spring, post or stop unless the new readings ask for it.")
}
