package turn

import (
	"fmt"

	"pointsmith/calc/advance"
	"pointsmith/calc/refuse"
	"pointsmith/calc/vacuum"
)

// The total timing that is still one, crank degrees before TDC. Chosen: past both ends no plug lights anything, so the
// figures are of another shaft or counted twice.
const (
	latestSpark   = -60
	earliestSpark = 90
)

// part is one share of the timing, crank degrees before TDC.
type part struct{ deg, low, high float64 }

func (p part) and(q part) part { return part{p.deg + q.deg, p.low + q.low, p.high + q.high} }

// timing adds up base, weights and capsule.
func (r *run) timing() *refuse.Error {
	moved, bad := r.plate()
	if bad != nil {
		return bad
	}
	t := &Timing{}
	if moved != nil {
		inDist := moved.deg / r.ratio
		t.VacuumCrankDeg, t.PlateDistDeg = &moved.deg, &inDist
	}
	var sum part
	if given := r.in.SparkCrankDeg; given != nil {
		sum = part{*given, *given, *given}
	} else {
		known := false
		if sum, known, bad = r.baseAndWeights(t); bad != nil || !known {
			return bad
		}
		if moved != nil {
			sum = sum.and(*moved)
		}
	}
	if sum.deg < latestSpark || sum.deg > earliestSpark {
		return refuse.Input("baseCrankDeg", fmt.Sprintf("base, weights and capsule together put the spark %.4g crank "+
			"degrees before TDC", sum.deg), fmt.Sprintf("%d to %d", latestSpark, earliestSpark),
			"check which shaft each figure belongs to, and that the base is not counted twice")
	}
	t.SparkCrankDeg, t.LowCrankDeg, t.HighCrankDeg = sum.deg, sum.low, sum.high
	r.out.Timing = t
	return nil
}

// baseAndWeights is the timing with the plate at rest.
func (r *run) baseAndWeights(t *Timing) (sum part, known bool, bad *refuse.Error) {
	var weights part
	switch {
	case r.in.Model != nil:
		sum, weights, bad = r.byModel()
	case r.in.Spec != nil:
		sum, weights, bad = r.byBook(t)
	default:
		r.missing("timing", "spec", "spec, model or sparkCrankDeg",
			"give the book's curve, the governor from advance.fit, or the timing read at this speed")
		return part{}, false, nil
	}
	if bad != nil {
		return part{}, false, bad
	}
	if base := r.base(); base != nil {
		deg := weights.deg / r.ratio
		t.BaseCrankDeg, t.CentrifugalCrankDeg, t.WeightsDistDeg = base, &weights.deg, &deg
	} else if r.in.Model != nil || r.in.Spec.Base == "excluded" {
		r.missing("timing", "baseCrankDeg", "crank degrees before TDC", "give the base as it is set, or the book's")
		return part{}, false, nil
	}
	return sum, true, nil
}

// base is the base as set, else the book's; nil where neither is known.
func (r *run) base() *float64 {
	if r.in.BaseCrankDeg == nil && r.in.Spec != nil {
		return r.in.Spec.BaseCrankDeg
	}
	return r.in.BaseCrankDeg
}

// byModel takes the weights from the governor that was measured.
func (r *run) byModel() (sum, weights part, bad *refuse.Error) {
	if r.in.Model.PrimaryRate <= 0 {
		return sum, weights, refuse.Input("model.primaryRate", "is not above zero", "more than 0",
			"take the model from advance.fit")
	}
	deg := r.ratio * r.in.Model.AdvanceAt(r.in.EngineRPM/r.ratio)
	weights = part{deg, deg, deg}
	if base := r.base(); base != nil {
		sum = weights.and(part{*base, *base, *base})
	}
	return sum, weights, nil
}

// byBook takes the weights from the book's band. A base that was set stands in for the book's.
func (r *run) byBook(t *Timing) (sum, weights part, bad *refuse.Error) {
	s := *r.in.Spec
	if s.DriveRatio != nil && *s.DriveRatio != r.ratio {
		return sum, weights, refuse.Input("spec.driveRatio", fmt.Sprintf("is %g, and driveRatio is %g", *s.DriveRatio,
			r.ratio), "one and the same", "correct one of the two")
	}
	s.DriveRatio = &r.ratio
	base, bookBase := r.base(), s.BaseCrankDeg
	if s.Base == "excluded" {
		if base == nil {
			return sum, weights, nil
		}
		if r.in.BaseCrankDeg != nil { // what was set has no tolerance
			s.BaseCrankDeg, s.BaseToleranceCrankDeg = base, 0
		}
		bookBase = base
	}
	p, err := advance.Printed(s, r.in.EngineRPM)
	if err != nil {
		return sum, weights, under("", err)
	}
	if p.Held {
		r.assume("timing: " + p.Note)
	}
	sum = part{(p.MinCrankDeg + p.MaxCrankDeg) / 2, p.MinCrankDeg, p.MaxCrankDeg}
	switch {
	case base == nil: // the table holds a base that is not known apart
		return sum, weights, nil
	case bookBase == nil:
		r.assume("spec.baseCrankDeg not given: the table is taken to hold the base that is set")
		bookBase = base
	}
	weights = sum.and(part{-*bookBase, -*bookBase, -*bookBase})
	return weights.and(part{*base, *base, *base}), weights, nil
}

// plate is what the capsule adds to the timing; nil where it is left out.
func (r *run) plate() (*part, *refuse.Error) {
	c, kPa := r.in.Capsule, r.in.PipeKPa
	if kPa == nil {
		kPa = r.in.VacuumKPa
	}
	switch {
	case c == nil:
		r.leave("capsule", refuse.Input("capsule", "is missing; the plate is taken at rest",
			"what the capsule should do", "give it, or leave it so where the distributor has none"))
		return nil, nil
	case kPa == nil:
		r.leave("capsule", refuse.Input("vacuumKPa", "is missing; the plate is taken at rest", "kPa below ambient",
			"give the vacuum the gauge shows; 0 is full throttle"))
		return nil, nil
	case r.in.PipeKPa == nil:
		r.assume("pipeKPa not given: the capsule is taken to have the manifold's vacuum")
	}
	m, known, asks, err := vacuum.Expect(*c, r.ratio, *kPa)
	if err != nil {
		return nil, under("", err)
	}
	r.out.Ask = append(r.out.Ask, asks...)
	if !known {
		r.leave("capsule", refuse.Input("capsule.startKPa", "start, full and most are not all known; the plate is taken "+
			"at rest", "startKPa, fullKPa and maxDistDeg, or a table", "give the book's figures for this capsule"))
		return nil, nil
	}
	p := part{r.ratio * m.DistDeg, r.ratio * m.MinDistDeg, r.ratio * m.MaxDistDeg}
	if c.Kind == "retard" {
		p = part{-p.deg, -p.high, -p.low}
	}
	return &p, nil
}
