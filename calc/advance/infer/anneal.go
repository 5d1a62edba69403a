package infer

import (
	"math"
	"math/rand/v2"
)

// target is what a swarm of points is drawn from: prior × likelihood.
type target struct {
	active []int
	prior  func(x *point) float64               // its logarithm; minus infinity where impossible
	like   func(x *point) (like, guide float64) // the same, of a point whose prior was asked just before
	most   float64                              // no likelihood is more than this
}

// swarm is points with their logarithms.
type swarm struct {
	at    []point
	prior []float64
	like  []float64
	guide []float64
}

func swarmOf(n int) *swarm {
	return &swarm{make([]point, n), make([]float64, n), make([]float64, n), make([]float64, n)}
}

// mix is how much of the likelihood and of its guide is at work.
type mix struct{ like, guide float64 }

// mixAt is the way from nothing to the likelihood: the guide leads at first.
func mixAt(beta float64) mix { return mix{beta * beta, beta * (1 - beta)} }

func (m mix) of(like, guide float64) float64 { return m.like*like + m.guide*guide }

// from is the step from an earlier mix.
func (m mix) from(e mix) mix { return mix{m.like - e.like, m.guide - e.guide} }

// How the annealing goes, chosen on the scatter of shares between seeds.
const (
	keepShare    = 0.5 // of the swarm that a step keeps in effect
	mostSteps    = 60
	nextHalvings = 12  // of the search for the length of a step: finer than it matters
	askedOf      = 300 // points are asked about the length of a step
	hopeShare    = 0.5 // see hope
	leapEvery    = 2   // one sweep in so many leaps, the others creep
)

// anneal takes points drawn from the prior to the posterior by tempering, and
// gives the logarithm of the evidence: the likelihood averaged over the prior.
//
// Sources: R. M. Neal, Annealed importance sampling, Statistics and Computing
// 11 (2001) 125; P. Del Moral, A. Doucet, A. Jasra, Sequential Monte Carlo
// samplers, J. R. Statist. Soc. B 68 (2006) 411; every place that a point
// passes through is kept: H.-D. Dau, N. Chopin, Waste-free sequential Monte
// Carlo, J. R. Statist. Soc. B 84 (2022) 114 (all named from memory).
//
// The swarm begins with many points; then keep of them make sweeps moves each.
// It is given up (minus infinity) as soon as the evidence cannot reach floor
// any more.
func (t target) anneal(s *swarm, keep, sweeps int, floor float64, rng *rand.Rand) (evidence float64) {
	weights := make([]float64, max(len(s.at), keep*sweeps))
	pool, now := swarmOf(keep*sweeps), swarmOf(keep)
	for beta, step := 0.0, 0; beta < 1; step++ {
		if evidence+s.hope(mixAt(1).from(mixAt(beta))) < floor {
			return math.Inf(-1)
		}
		weights = weights[:len(s.at)]
		next := 1.0
		if step < mostSteps {
			next = s.nextStep(beta, weights)
		}
		evidence += s.weigh(mixAt(next).from(mixAt(beta)), weights)
		beta = next
		s.resample(weights, now, rng)
		if step == 0 {
			*s = *pool
		}
		m := about(now, t.active, rng)
		for turn := range sweeps {
			if turn%leapEvery == 0 {
				t.leap(now, mixAt(beta), m, rng)
			} else {
				t.sweep(now, mixAt(beta), rng)
			}
			copy(s.at[turn*keep:], now.at)
			copy(s.prior[turn*keep:], now.prior)
			copy(s.like[turn*keep:], now.like)
			copy(s.guide[turn*keep:], now.guide)
		}
	}
	return evidence
}

// hope is more than the swarm is thought to gain on the rest of the way: its
// best so far, and half as much again as that lies above the middle.
func (s *swarm) hope(rest mix) float64 {
	best, sum, n := math.Inf(-1), 0.0, 0.0
	for i, l := range s.like {
		if !math.IsInf(l, -1) {
			l = rest.of(l, s.guide[i])
			best, sum, n = max(best, l), sum+l, n+1
		}
	}
	return best + hopeShare*(best-sum/max(n, 1)) + 3
}

// fill works out the logarithms of fresh points.
func (t target) fill(s *swarm) {
	n := len(s.at)
	s.prior, s.like, s.guide = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range s.at {
		s.prior[i], s.like[i], s.guide[i] = t.prior(&s.at[i]), math.Inf(-1), 0
		if !math.IsInf(s.prior[i], -1) {
			s.like[i], s.guide[i] = t.like(&s.at[i])
		}
	}
}

// nextStep is the furthest way on that keeps keepShare of the swarm in effect.
func (s *swarm) nextStep(beta float64, weights []float64) float64 {
	at := mixAt(beta)
	if s.inEffect(mixAt(1).from(at), weights) >= keepShare {
		return 1
	}
	low, high := beta, 1.0
	for range nextHalvings {
		mid := (low + high) / 2
		if s.inEffect(mixAt(mid).from(at), weights) >= keepShare {
			low = mid
		} else {
			high = mid
		}
	}
	return max(low, beta+(1-beta)*1e-4)
}

// inEffect is the share of the swarm that a step leaves in effect, asked of
// some of its points.
func (s *swarm) inEffect(step mix, weights []float64) float64 {
	every := max(1, len(s.at)/askedOf)
	n, top := 0, math.Inf(-1)
	for i := 0; i < len(s.at); i += every {
		weights[n] = math.Inf(-1)
		if !math.IsInf(s.like[i], -1) {
			weights[n] = step.of(s.like[i], s.guide[i])
		}
		top = max(top, weights[n])
		n++
	}
	if math.IsInf(top, -1) {
		return 1
	}
	sum, squares := 0.0, 0.0
	for _, l := range weights[:n] {
		w := exp(l - top)
		sum, squares = sum+w, squares+w*w
	}
	return sum * sum / squares / float64(n)
}

// weigh fills the weights of a step and gives the logarithm of their mean.
func (s *swarm) weigh(step mix, weights []float64) float64 {
	top := math.Inf(-1)
	for i, l := range s.like {
		weights[i] = step.of(l, s.guide[i])
		if math.IsInf(l, -1) {
			weights[i] = l
		}
		top = max(top, weights[i])
	}
	if math.IsInf(top, -1) {
		for i := range weights {
			weights[i] = 1
		}
		return math.Inf(-1)
	}
	sum := 0.0
	for i := range weights {
		weights[i] = exp(weights[i] - top)
		sum += weights[i]
	}
	return top + ln(sum/float64(len(weights)))
}

// resample copies points in proportion to their weights (systematic).
func (s *swarm) resample(weights []float64, spare *swarm, rng *rand.Rand) {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	step := sum / float64(len(spare.at))
	mark, held, j := rng.Float64()*step, weights[0], 0
	for i := range spare.at {
		for held < mark && j < len(weights)-1 {
			j++
			held += weights[j]
		}
		spare.at[i], spare.prior[i], spare.like[i], spare.guide[i] = s.at[j], s.prior[j], s.like[j], s.guide[j]
		mark += step
	}
}

// creep is the best length of a step along a difference of two points, times
// the root of twice the places: ter Braak, Statistics and Computing 16 (2006) 239.
const creep = 2.38

// sweep tries to move every point once, by the difference of two others.
func (t target) sweep(s *swarm, at mix, rng *rand.Rand) {
	half := len(s.at) / 2
	d := float64(len(t.active))
	var moved point
	for i := range s.at {
		other := 0
		if i < half {
			other = len(s.at) - half
		}
		j, l := other+rng.IntN(half), other+rng.IntN(half)
		moved = s.at[i]
		gate := s.prior[i] + at.of(s.like[i], s.guide[i]) - rng.ExpFloat64()
		g := creep / math.Sqrt(2*d) * (0.3 + 1.1*rng.Float64()) // now and then much shorter or longer (chosen)
		for _, k := range t.active {
			moved[k] += g * (s.at[j][k] - s.at[l][k])
		}
		prior := t.prior(&moved)
		if math.IsInf(prior, -1) || prior+(at.like+at.guide)*t.most < gate {
			continue
		}
		like, guide := t.like(&moved)
		if prior+at.of(like, guide) > gate {
			s.at[i], s.prior[i], s.like[i], s.guide[i] = moved, prior, like, guide
		}
	}
}
