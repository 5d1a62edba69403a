package infer

import (
	"math"
	"math/rand/v2"
)

// How a swarm is turned into a law to leap by, chosen on the scatter of shares
// between seeds.
const (
	mostKernels = 8
	kernelTail  = 7.0 // degrees of freedom of each kernel: tails thicker than any normal law's
	wideShare   = 0.1 // of the draws come from one wide kernel about the middle, so that no tail is missed
	wideBy      = 1.6
	tied        = 0.9 // of a correlation is believed: few points make correlations up
)

// mixture is a law to draw from and to weigh with: kernels about points of a
// swarm, all of the swarm's own shape.
//
// Sources: M. West, Approximating posterior distributions by mixture, J. R.
// Statist. Soc. B 55 (1993) 409; O. Cappé and others, Adaptive importance
// sampling in general mixture classes, Statistics and Computing 18 (2008) 447.
type mixture struct {
	active  []int
	root    [dims][dims]float64 // lower Cholesky root of the swarm's covariance
	inverse [dims]float64       // one over its diagonal
	middle  [dims]float64
	centres [][dims]float64 // whitened, about the middle
	band    float64         // width of a kernel, of the swarm's
	lnNorm  float64
	high    float64 // share of one kernel, by its height
	wide    float64 // the same of the wide one
}

// about makes the mixture of a swarm.
func about(s *swarm, active []int, rng *rand.Rand) *mixture {
	m := &mixture{active: active}
	m.shape(s)
	kernels, d := min(mostKernels, len(s.at)), float64(len(active))
	m.band = math.Pow(4/((d+2)*float64(kernels)), 1/(d+4)) // B. W. Silverman, Density estimation (1986), 4.14
	// centres drawn in, so that the mixture is as wide as the swarm
	draw := math.Sqrt(1 - m.band*m.band)
	from := rng.IntN(len(s.at))
	for i := range kernels {
		c := m.white(&s.at[(from+i*len(s.at)/kernels)%len(s.at)])
		for k := range active {
			c[k] *= draw
		}
		m.centres = append(m.centres, c)
	}
	top, _ := math.Lgamma((kernelTail + d) / 2)
	low, _ := math.Lgamma(kernelTail / 2)
	m.lnNorm = top - low - d/2*ln(kernelTail*math.Pi)
	for k := range active {
		m.lnNorm += ln(m.inverse[k])
	}
	m.high = (1 - wideShare) / float64(kernels) * math.Pow(m.band, -d)
	m.wide = wideShare * math.Pow(wideBy, -d)
	return m
}

// shape takes middle and covariance from a swarm.
func (m *mixture) shape(s *swarm) {
	n := float64(len(s.at))
	for i := range s.at {
		for k, a := range m.active {
			m.middle[k] += s.at[i][a] / n
		}
	}
	var cov [dims][dims]float64
	for i := range s.at {
		for k, a := range m.active {
			for l, b := range m.active[:k+1] {
				cov[k][l] += (s.at[i][a] - m.middle[k]) * (s.at[i][b] - m.middle[l]) / n
			}
		}
	}
	for k := range m.active {
		for l := range k {
			cov[k][l] *= tied
		}
		cov[k][k] += 1e-5 // so that a swarm that is flat in a place can leave it
	}
	m.factor(&cov, len(m.active))
}

// factor takes the lower root of a covariance (Cholesky).
func (m *mixture) factor(cov *[dims][dims]float64, d int) {
	for k := range d {
		for l := range k + 1 {
			sum := cov[k][l]
			for j := range l {
				sum -= m.root[k][j] * m.root[l][j]
			}
			if k == l {
				m.root[k][k] = math.Sqrt(max(sum, 1e-9))
				m.inverse[k] = 1 / m.root[k][k]
			} else {
				m.root[k][l] = sum * m.inverse[l]
			}
		}
	}
}

// white is a point seen from the middle in units of the swarm's shape.
func (m *mixture) white(x *point) (w [dims]float64) {
	for k, a := range m.active {
		sum, root := x[a]-m.middle[k], m.root[k][:k]
		for l, r := range root {
			sum -= r * w[l]
		}
		w[k] = sum * m.inverse[k]
	}
	return w
}

// draw puts a point drawn from the mixture into x and gives it whitened.
func (m *mixture) draw(x *point, rng *rand.Rand) (w [dims]float64) {
	d := len(m.active)
	square := 0.0
	for range int(kernelTail) {
		z := rng.NormFloat64()
		square += z * z
	}
	wide := math.Sqrt(kernelTail / square)
	if rng.Float64() < wideShare {
		wide *= wideBy
	} else {
		w = m.centres[rng.IntN(len(m.centres))]
		wide *= m.band
	}
	for k := range d {
		w[k] += wide * rng.NormFloat64()
	}
	for k := d - 1; k >= 0; k-- {
		sum, root := m.middle[k], m.root[k][:k+1]
		for l, r := range root {
			sum += r * w[l]
		}
		x[m.active[k]] = sum
	}
	return w
}

// log is the logarithm of the mixture's density at a whitened point.
func (m *mixture) log(w *[dims]float64) float64 {
	d := len(m.active)
	at := w[:d]
	sum, by := 0.0, 1/(kernelTail*m.band*m.band)
	for i := range m.centres {
		c, q := m.centres[i][:d], 0.0
		for k, a := range at {
			z := a - c[k]
			q += z * z
		}
		sum += halfPower(1+q*by, int(kernelTail)+d)
	}
	q := 0.0
	for _, a := range at {
		q += a * a
	}
	return m.lnNorm + ln(sum*m.high+m.wide*halfPower(1+q/(kernelTail*wideBy*wideBy), int(kernelTail)+d))
}

// halfPower is x to the power of −n/2.
func halfPower(x float64, n int) float64 {
	r := 1.0
	if n%2 == 1 {
		r = math.Sqrt(x)
	}
	for n /= 2; n > 0; n /= 2 {
		if n%2 == 1 {
			r *= x
		}
		x *= x
	}
	return 1 / r
}

// leap tries to move every point to a fresh one drawn from the mixture.
func (t target) leap(s *swarm, at mix, m *mixture, rng *rand.Rand) {
	var moved point
	for i := range s.at {
		moved = s.at[i]
		w := m.draw(&moved, rng)
		prior := t.prior(&moved)
		if math.IsInf(prior, -1) {
			continue
		}
		gate := s.prior[i] + at.of(s.like[i], s.guide[i]) - rng.ExpFloat64()
		now := m.white(&s.at[i])
		gate += m.log(&w) - m.log(&now)
		if prior+(at.like+at.guide)*t.most < gate {
			continue
		}
		like, guide := t.like(&moved)
		if prior+at.of(like, guide) > gate {
			s.at[i], s.prior[i], s.like[i], s.guide[i] = moved, prior, like, guide
		}
	}
}
