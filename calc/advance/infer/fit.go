package infer

import (
	"math"
	"math/rand/v2"
	"slices"
)

// GrowthSpread is one deviation of what is believed of a governor's growth
// before it is read, per distributor degree.
const GrowthSpread = growthSpread

// Fitted is what readings say of the governor behind them, the book unopened.
type Fitted struct {
	Likeliest Governor
	Samples   []Governor // drawn from the posterior, all alike likely
	Slips     []float64  // how likely each reading is a slip
}

// How any governor is looked for (chosen: the ends of a 90 % interval then
// repeat within a tenth of its width from seed to seed).
const (
	fitStarts = 4000
	fitSwarm  = 800
	fitSweeps = 6
	climbers  = 48
	climbs    = 120
	// readingsFirst is how much more the readings count than what is believed
	// beforehand where one line is drawn through them (chosen: belief then only
	// decides what they leave open).
	readingsFirst = 10
)

// fitWider: without a book to hold them, start and friction are believed so
// many times wider, so that the interval holds units that start late or drag
// (chosen on the simulator with other physics). Both have their mean at 0.
var fitWider = []struct {
	at    int
	times float64
}{{startAt, 1.6}, {frictionAt, 1.5}}

// FitGovernor finds the governor behind readings of advance without base: the
// belief beforehand is that of any unit, the likelihood that of Infer, slips
// and misfit in it. Base, place and book are not looked at. Where asRead, the
// likeliest is one without friction, because readings of one direction cannot
// tell friction from another tension; the samples keep it.
func FitGovernor(readings []Reading, asRead bool, seed uint64) Fitted {
	p := Problem{Seed: seed}
	for _, r := range readings {
		r.WithBase, r.Bench = false, false
		p.Readings = append(p.Readings, r)
	}
	q := prepare(p)
	rng := streamOf(31, seed)
	t, s := q.anyGovernor(false), &swarm{}
	unit := Governor{}
	for len(s.at) < fitStarts {
		var x point
		drawUnit(&x, 0, rng)
		for _, w := range fitWider {
			x[w.at] *= w.times
		}
		x[spreadAt] = spreadSpread * rng.NormFloat64()
		if governorOf(&x, 0, &unit) {
			s.at = append(s.at, x)
		}
	}
	t.fill(s)
	t.anneal(s, fitSwarm, fitSweeps, math.Inf(-1), rng)
	f := Fitted{Slips: q.slipsUnder(s)}
	for i := range s.at {
		governorOf(&s.at[i], 0, &unit)
		f.Samples = append(f.Samples, unit)
	}
	x := q.anyGovernor(asRead).climb(s, rng)
	governorOf(&x, 0, &f.Likeliest)
	if asRead {
		f.Likeliest.Drag = 0
	}
	return f
}

// anyGovernor is the target of a fit.
func (q *prepared) anyGovernor(frictionless bool) target {
	most := q.mostLikely()
	for i := range q.readings { // a level reading may be hit more closely than by the misfit
		most += ln(misfit / min(misfit, q.errors[q.readings[i].errorAt]/2))
	}
	unit := Governor{}
	return target{active: q.active, most: most, prior: func(x *point) float64 {
		if !governorOf(x, 0, &unit) {
			return math.Inf(-1)
		}
		z := x[spreadAt] / spreadSpread
		sum := unitLog(x, 0) + q.bookLog(x, &unit) - z*z/2
		for _, w := range fitWider {
			own := (x[w.at] - unitPrior[w.at][0]) / unitPrior[w.at][1]
			sum += own * own / 2 * (1 - 1/w.times/w.times)
		}
		return sum
	}, like: func(x *point) (float64, float64) {
		g := unit
		if frictionless {
			g.Drag = 0
		}
		like := q.curveLikelihood(&g, exp(x[spreadAt]))
		return like, like
	}}
}

// curveLikelihood is the logarithm of how likely the readings are of one
// governor. At rest and at the stop its curve is level whatever springs and
// levers are, so there the misfit of the model is left out.
func (q *prepared) curveLikelihood(g *Governor, spread float64) float64 {
	sum, product := 0.0, 1.0
	for i := range q.readings {
		r := &q.readings[i]
		a := g.reads(r.u, r.falling)
		e, off := q.errors[r.errorAt]*spread, 0.0
		if a > 0 && a < g.Limit {
			off = misfit
		}
		product *= normalOrSlip(r.deg-a, math.Sqrt(e*e+off*off))
		if i%8 == 7 { // as in likelihood
			sum, product = sum+ln(product), 1
		}
	}
	return sum + ln(product)
}

// slipsUnder is how likely each reading is a slip, over a swarm.
func (q *prepared) slipsUnder(s *swarm) []float64 {
	slips := make([]float64, len(q.readings))
	unit := Governor{}
	for i := range s.at {
		governorOf(&s.at[i], 0, &unit)
		for k := range q.readings {
			r := &q.readings[k]
			d := r.deg - unit.reads(r.u, r.falling)
			slips[k] += slipChance(d, q.errors[r.errorAt], exp(s.at[i][spreadAt]), 1) / float64(len(s.at))
		}
	}
	return slips
}

// climb takes the best of a swarm to the likeliest place, the readings first.
// What a reading scatters is held at the swarm's middle, so that the line is
// not drawn through few points by calling them exact. Each climber tries the
// difference of two others added on its way to the best (R. Storn, K. Price,
// Differential evolution, J. Global Optimization 11 (1997) 341).
func (t target) climb(s *swarm, rng *rand.Rand) point {
	all := t.climbersFrom(s)
	for range climbs {
		for i := range all {
			j, k := rng.IntN(len(all)), rng.IntN(len(all))
			x, f, toBest := all[i].at, 0.3+0.6*rng.Float64(), 0.5*rng.Float64()
			for _, at := range t.active {
				x[at] += toBest*(all[0].at[at]-x[at]) + f*(all[j].at[at]-all[k].at[at])
			}
			if h := t.height(&x); h > all[i].height {
				all[i] = climber{x, h}
			}
			if all[i].height > all[0].height {
				all[0], all[i] = all[i], all[0]
			}
		}
	}
	return all[0].at
}

// climber is a point with how high it stands.
type climber struct {
	at     point
	height float64
}

func (t target) height(x *point) float64 {
	log := t.prior(x)
	if math.IsInf(log, -1) {
		return log
	}
	like, _ := t.like(x)
	return log + readingsFirst*like
}

// climbersFrom is the highest of a swarm, the highest first.
func (t target) climbersFrom(s *swarm) []climber {
	spread := 0.0
	for i := range s.at {
		spread += s.at[i][spreadAt] / float64(len(s.at))
	}
	all := make([]climber, len(s.at))
	for i, x := range s.at {
		x[spreadAt] = spread
		all[i] = climber{x, t.height(&x)}
	}
	slices.SortFunc(all, func(a, b climber) int {
		switch {
		case a.height > b.height:
			return -1
		case a.height < b.height:
			return 1
		}
		return 0
	})
	return all[:min(climbers, len(all))]
}
