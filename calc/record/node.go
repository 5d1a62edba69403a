package record

import "math"

// A node is one choice of every size; given it all is Gaussian.
type node struct {
	logShare                 float64
	slopeMean, slopeVar      float64
	wanderVar, forget        float64
	bedMean, bedVar, bedding float64 // bedding: length of bedding-in, 0 for none
	isFirstNew               bool
	errorVar                 float64
}

// nodes lists every choice of sizes that is believed in.
func (b belief) nodes(h history) []node {
	list := []node{{}}
	if !b.isFree() {
		list = b.wearNodes(h)
	}
	var all []node
	for _, n := range list {
		for _, e := range b.errors {
			n := n
			n.logShare += math.Log(e.share)
			n.errorVar = e.size * e.size
			all = append(all, n)
		}
	}
	return all
}

// wearNodes are the choices of rate, wander and bedding-in. By dates all of
// them hang on the miles of a year.
func (b belief) wearNodes(h history) (list []node) {
	perX := []weighted{{1, 1}}
	if h.axis == byDate {
		perX = yearly
	}
	for _, year := range perX {
		for _, s := range b.slopes {
			for _, w := range b.wander {
				spread := w.size * s.scale * year.size
				n := node{logShare: math.Log(year.share * s.share * w.share), slopeMean: s.mean * year.size,
					slopeVar: square(s.spread * year.size), wanderVar: spread * spread, forget: b.forget / year.size}
				list = append(list, b.bedNodes(h, n, year.size)...)
			}
		}
	}
	return list
}

// bedNodes are the choices of bedding-in: whether there was any, and its length.
func (b belief) bedNodes(h history, n node, perX float64) (list []node) {
	with := func(n node, share float64, isFirstNew bool) {
		for _, l := range b.bedLengths {
			n := n
			n.logShare += math.Log(share * l.share)
			n.bedMean, n.bedVar, n.bedding = b.bedMean, square(b.bedSpread), l.size/perX
			n.isFirstNew = isFirstNew
			list = append(list, n)
		}
	}
	switch {
	case h.heels[0].age == heelNew:
		with(n, 1, true)
	case len(h.heels) > 1:
		with(n, 1-b.newShare, false)
		with(n, b.newShare, true)
	default:
		with(n, b.newShare, true)
		n.logShare += math.Log(1 - b.newShare)
		list = append(list, n)
	}
	return list
}

func square(x float64) float64 { return x * x }

// beds tells whether a heel beds in under this choice.
func (n node) beds(h history, heel int) bool {
	return n.bedding > 0 && (heel > 0 || n.isFirstNew)
}

// bedded is the part of bedding-in that is done at x.
func (n node) bedded(h history, heel int, x float64) float64 {
	if !n.beds(h, heel) {
		return 0
	}
	return 1 - math.Exp(-(x-h.heels[heel].from)/n.bedding)
}

// wandered is the covariance of what the wander has added at s and at t since
// x = 0. The rate's deviation is a stationary Ornstein–Uhlenbeck process u of
// variance v and length ℓ, and for its integral
//
//	cov = v [2ℓ min(s,t) + ℓ² (e^(−s/ℓ) + e^(−t/ℓ) − e^(−|t−s|/ℓ) − 1)]
func (n node) wandered(s, t float64) float64 {
	if n.wanderVar == 0 {
		return 0
	}
	l := n.forget
	return n.wanderVar * (2*l*min(s, t) + l*l*(math.Exp(-s/l)+math.Exp(-t/l)-math.Exp(-math.Abs(t-s)/l)-1))
}

// wanderTo is the covariance of the deviation at the last x with what the
// wander has added at x: v ℓ (e^(−(last−x)/ℓ) − e^(−last/ℓ)).
func (n node) wanderTo(last, x float64) float64 {
	if n.wanderVar == 0 {
		return 0
	}
	return n.wanderVar * n.forget * (math.Exp(-(last-x)/n.forget) - math.Exp(-last/n.forget))
}

// wanderAhead is what the deviation of now adds over t, for one of it, and the
// variance of what comes new, for one of v:
//
//	ℓ (1 − E),  ℓ² (2t/ℓ − 3 + 4E − E²)  with E = e^(−t/ℓ)
func (n node) wanderAhead(t float64) (of, fresh float64) {
	l := n.forget
	if l == 0 {
		return 0, 0
	}
	e := math.Exp(-t / l)
	return l * (1 - e), max(0, l*l*(2*t/l-3+4*e-e*e))
}

// What is asked of a node: the last reading's error, the rate for good, the
// deviation at the last reading, bedding-in of the heel now in use, and the
// mean rate over the readings.
const (
	lastError = iota
	rateForGood
	deviation
	bedding
	rateSoFar
	asked
)

type vector [asked]float64
type matrix [asked][asked]float64

// prior gives mean and covariance of what is asked, and its covariance with
// every reading.
func (n node) prior(h history) (mean vector, cov matrix, with [][asked]float64) {
	k := len(h.x) - 1
	last, heel := h.x[k], h.heel[k]
	mean[rateForGood], mean[rateSoFar] = n.slopeMean, n.slopeMean
	cov[lastError][lastError] = n.errorVar
	cov[rateForGood][rateForGood], cov[deviation][deviation] = n.slopeVar, n.wanderVar
	cov[rateSoFar][rateSoFar] = n.slopeVar + n.wandered(last, last)/(last*last)
	cov[rateForGood][rateSoFar], cov[rateSoFar][rateForGood] = n.slopeVar, n.slopeVar
	both := n.wanderTo(last, last) / last
	cov[deviation][rateSoFar], cov[rateSoFar][deviation] = both, both
	if n.beds(h, heel) {
		mean[bedding], cov[bedding][bedding] = n.bedMean, n.bedVar
	}
	with = make([][asked]float64, k+1)
	for i, x := range h.x {
		with[i][rateForGood] = n.slopeVar * x
		with[i][deviation] = n.wanderTo(last, x)
		with[i][rateSoFar] = n.slopeVar*x + n.wandered(last, x)/last
		if h.heel[i] == heel {
			with[i][bedding] = cov[bedding][bedding] * n.bedded(h, heel, x)
		}
	}
	with[k][lastError] = n.errorVar
	return mean, cov, with
}

// readings gives what the readings leave over the expected, and their
// covariance, row by row.
func (n node) readings(h history) (rest, cov []float64) {
	k := len(h.x)
	rest, cov = make([]float64, k), make([]float64, k*k)
	for i, x := range h.x {
		done := n.bedded(h, h.heel[i], x)
		rest[i] = h.y[i] - h.y[0] - n.slopeMean*x - n.bedMean*done
		for j := range i + 1 {
			c := n.slopeVar*x*h.x[j] + n.wandered(x, h.x[j])
			if h.heel[i] == h.heel[j] {
				c += n.bedVar * done * n.bedded(h, h.heel[j], h.x[j])
			}
			cov[i*k+j], cov[j*k+i] = c, c
		}
		cov[i*k+i] += n.errorVar
	}
	return rest, cov
}
