package record

import (
	"cmp"
	"math"
	"slices"
)

// A part is one Gaussian of the posterior: a node, and which readings slipped.
type part struct {
	weight  float64 // its logarithm at first
	node    node
	slipped []int
	mean    vector
	cov     matrix
}

// mixture is the posterior.
type mixture struct {
	h     history
	b     belief
	parts []*part
	usual interval // the rate as believed before any reading
}

const (
	// maxSlips of one history: more than three misread readings are no history.
	// Judgement.
	maxSlips = 3
	// Parts lighter than this by logarithm are not looked at, one in 20,000; of the
	// rest the lightest are dropped as long as they come to less than one in a
	// thousand together. The ends of an interval lie at one in twenty. Judgement.
	negligible = 10
	dropped    = 0.001
)

// weigh gives the posterior, or says why there is none.
func weigh(h history, b belief) (mixture, string) {
	if why := b.learnError(h); why != "" {
		return mixture{}, why
	}
	m := mixture{h: h, b: b}
	for _, n := range b.nodes(h) {
		rest, cov := n.readings(h)
		s := state{h: h, b: b, node: n, fit: project(h, rest, cov, b.isFree()), lastVar: n.errorVar}
		s.logWeight = n.logShare + s.fit.logLike
		m.parts = append(m.parts, s.parts()...)
	}
	m.settle()
	if !b.isFree() {
		m.usual = b.usual(h)
	}
	return m, ""
}

// learnError fills in the sizes of a reading error that is not given, from the
// scatter about the free lines.
func (b *belief) learnError(h history) (why string) {
	if b.readError > 0 {
		return ""
	}
	left := len(h.x) - h.lines - 1
	if left < 1 {
		return "Too few readings to learn their error from. Give the reading error, or one reading more on a line."
	}
	one := node{errorVar: 1}
	rest, cov := one.readings(h)
	f := project(h, rest, cov, true)
	most := 0.0
	for _, y := range rest {
		most = max(most, math.Abs(y))
	}
	scatter := math.Sqrt(dot(f.pr, f.pr) / float64(left)) // with errors of 1, p × rest is what is left over
	if scatter <= 1e-9*most || most == 0 {                // the last bits of the arithmetic
		return "These readings lie on a line to the last digit, which tells nothing of their error. Give the reading error."
	}
	b.errors = errorsAbout(scatter, freeFrom, freeTo, freeStep, 0)
	return ""
}

// A state is a node with some readings taken as slips.
type state struct {
	h         history
	b         belief
	node      node
	fit       fit
	logWeight float64
	slipped   []int
	lastVar   float64 // variance of the last reading's error
}

// parts lists the node without slips, with every one, and on from the best:
// a slip at i adds d to the variance of reading i, which changes
//
//	P by −c p pᵀ,  p = P eᵢ,  c = d / (1 + d Pᵢᵢ)
func (s state) parts() []*part {
	mean, cov, with := s.node.prior(s.h)
	now := s.part(mean, cov, with)
	all := []*part{now}
	if s.b.slipShare == 0 {
		return all
	}
	d := square(s.b.slipSpread)
	odds := math.Log(s.b.slipShare / (1 - s.b.slipShare))
	for range maxSlips {
		best, bestWeight := -1, math.Inf(-1)
		before := s.logWeight
		for i := range s.fit.n {
			if slices.Contains(s.slipped, i) {
				continue
			}
			w := before + s.gain(i, d) + odds
			if w > bestWeight {
				best, bestWeight = i, w
			}
			switch {
			case w <= before-negligible:
			case i == s.fit.n-1: // the last reading's error is asked for, and is another one now
				t := s.slip(i, d)
				t.logWeight = w
				all = append(all, t.part(mean, cov, with))
			default:
				all = append(all, s.withSlip(now, with, i, d, w))
			}
		}
		// what is less than one in fifty has no pair worth looking at (judgement)
		if best < 0 || bestWeight < before-4 {
			break
		}
		s = s.slip(best, d)
		s.logWeight = bestWeight
		now = s.part(mean, cov, with)
	}
	return all
}

// gain is what the likelihood gains when reading i is a slip.
func (s state) gain(i int, d float64) float64 {
	pii := s.fit.p[i*s.fit.n+i]
	return -math.Log1p(d*pii)/2 + d*square(s.fit.pr[i])/(2*(1+d*pii))
}

// slip takes reading i for a slip.
func (s state) slip(i int, d float64) state {
	n := s.fit.n
	p := slices.Clone(s.fit.p[i*n : i*n+n])
	c := d / (1 + d*p[i])
	s.fit.p, s.fit.pr = slices.Clone(s.fit.p), slices.Clone(s.fit.pr)
	for j := range n {
		add(s.fit.p[j*n:j*n+n], -c*p[j], p)
	}
	add(s.fit.pr, -c*s.fit.pr[i], p)
	s.slipped = append(slices.Clone(s.slipped), i)
	if i == n-1 {
		s.lastVar += d
	}
	return s
}

// withSlip is the part with reading i a slip besides, from the part without:
//
//	mean − c q (P rest)ᵢ,  covariance + c q qᵀ,  q = withᵀ P eᵢ
func (s state) withSlip(now *part, with [][asked]float64, i int, d, weight float64) *part {
	n := s.fit.n
	p := s.fit.p[i*n : i*n+n]
	c := d / (1 + d*p[i])
	var q vector
	for j := range n {
		for a := range asked {
			q[a] += with[j][a] * p[j]
		}
	}
	if s.slipsLast() {
		q[lastError] *= s.lastVar / s.node.errorVar
	}
	t := *now
	t.weight, t.slipped = weight, append(slices.Clone(s.slipped), i)
	for a := range asked {
		t.mean[a] -= c * q[a] * s.fit.pr[i]
		for b := range asked {
			t.cov[a][b] += c * q[a] * q[b]
		}
	}
	return &t
}

// slipsLast: the last reading is taken for a slip.
func (s state) slipsLast() bool { return slices.Contains(s.slipped, s.fit.n-1) }

// part gives the posterior of what is asked from its prior.
func (s state) part(mean vector, cov matrix, with [][asked]float64) *part {
	n := s.fit.n
	if s.slipsLast() {
		with = slices.Clone(with)
	}
	cov[lastError][lastError], with[n-1][lastError] = s.lastVar, s.lastVar
	for j := range n {
		var pw vector // row j of P × with
		for k := range n {
			p := s.fit.p[j*n+k]
			for a := range asked {
				pw[a] += p * with[k][a]
			}
		}
		for a := range asked {
			mean[a] += with[j][a] * s.fit.pr[j]
			for b := range asked {
				cov[a][b] -= with[j][a] * pw[b]
			}
		}
	}
	if s.b.isFree() {
		s.freeSlope(&mean, &cov, with)
	}
	return &part{weight: s.logWeight, node: s.node, slipped: s.slipped, mean: mean, cov: cov}
}

// freeSlope puts in the slope of which nothing is known beforehand.
func (s state) freeSlope(mean *vector, cov *matrix, with [][asked]float64) {
	n := s.fit.n
	both := -s.fit.slopeWeights[n-1] * with[n-1][lastError]
	for _, a := range []int{rateForGood, rateSoFar} {
		mean[a] = s.fit.slope
		for _, b := range []int{rateForGood, rateSoFar} {
			cov[a][b] = s.fit.slopeVar
		}
		cov[a][lastError], cov[lastError][a] = both, both
	}
}

// settle turns logarithms into shares, the heaviest first, and drops the lightest.
func (m *mixture) settle() {
	slices.SortFunc(m.parts, func(a, b *part) int { return cmp.Compare(b.weight, a.weight) })
	best, sum := m.parts[0].weight, 0.0
	for i := range m.parts {
		m.parts[i].weight = math.Exp(m.parts[i].weight - best)
		sum += m.parts[i].weight
	}
	kept, light := len(m.parts), 0.0
	for !m.b.isFree() && kept > 1 && light+m.parts[kept-1].weight < dropped*sum {
		kept--
		light += m.parts[kept].weight
	}
	m.parts = m.parts[:kept]
	for i := range m.parts {
		m.parts[i].weight /= sum - light
	}
	// those that go the same way stand together, which spares their exponentials
	slices.SortStableFunc(m.parts, func(a, b *part) int {
		ours, theirs := a.node.shape(), b.node.shape()
		return slices.Compare(ours[:], theirs[:])
	})
}

// doubtful lists the readings more likely slips than not.
func (m mixture) doubtful(h history) []Doubtful {
	shares := make([]float64, len(h.x))
	for _, p := range m.parts {
		for _, i := range p.slipped {
			shares[i] += p.weight
		}
	}
	list := []Doubtful{}
	for i, share := range shares {
		if share >= 0.5 {
			list = append(list, Doubtful{Index: h.index[i], Share: min(1, share)})
		}
	}
	return list
}
