package record

import (
	"math"
	"slices"
)

// interval of a rate, and how wide it was before any reading.
type interval struct{ low, middle, high, usual float64 }

// tiny keeps a variance that rounding has eaten from dividing by nothing.
const tiny = 1e-300

// normal is the share of a normal spread that lies below z.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// rates gives the mean rate over the readings.
func (m mixture) rates() interval {
	bells := make([]bell, len(m.parts))
	for i, p := range m.parts {
		bells[i] = bell{p.weight, p.mean[rateSoFar], math.Sqrt(max(tiny, p.cov[rateSoFar][rateSoFar]))}
	}
	r := intervalOf(bells)
	r.usual = m.usual.high - m.usual.low
	return r
}

// usual is the rate as believed before any reading.
func (b belief) usual(h history) interval {
	var bells []bell
	for _, n := range b.wearNodes(h) {
		bells = append(bells, bell{math.Exp(n.logShare), n.slopeMean, math.Sqrt(n.slopeVar)})
	}
	return intervalOf(bells)
}

// A bell is a normal spread with its share.
type bell struct{ share, mean, spread float64 }

func intervalOf(bells []bell) interval {
	return interval{low: quantile(bells, tail), middle: quantile(bells, 0.5), high: quantile(bells, 1-tail)}
}

// quantile is where a share q of the bells lies below, found by halving.
func quantile(bells []bell, q float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range bells {
		low, high = min(low, b.mean-10*b.spread), max(high, b.mean+10*b.spread)
	}
	for range 200 { // ends at the last bit
		middle := low + (high-low)/2
		if middle == low || middle == high {
			break
		}
		below := 0.0
		for _, b := range bells {
			below += b.share * normal((middle-b.mean)/b.spread)
		}
		if below < q {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// How far ahead anybody looks: points are renewed at 12,000 miles at most
// (common practice), so 30,000 miles or 20 years are for good. Judgement.
const (
	horizonMiles = 30
	horizonYears = 20
)

func (h history) horizon() float64 {
	if h.axis == byDate {
		return horizonYears
	}
	return horizonMiles
}

// forecast is when the limit is met, from the last reading on, in units of x.
type forecast struct {
	state     string
	low, high float64 // high is infinite where it may stay away
	out       float64 // how likely it is outside now
	isBelow   bool    // the lower end is the one that is met
}

// due looks for the limit. The share of belief that has the value outside at t
// is taken for the share that has met the limit by then; what has met it and
// come back is left out, which makes it late by a trifle.
func (m mixture) due(in DriftIn) forecast {
	f := forecast{state: "unknown", high: math.Inf(1)}
	if in.Limit == nil {
		return f
	}
	share := func(t float64) float64 { below, above := m.outside(*in.Limit, t); return below + above }
	look := m.lookAhead(share)
	f.out = look.shares[0]
	f.low, f.high = look.met(tail), look.met(1-tail)
	f.state = "ahead"
	at := f.low
	if math.IsInf(f.low, 1) {
		f.state, at = "no-limit-ahead", look.end()
	}
	if f.out >= 0.5 {
		f.state = "due"
	}
	if half := look.met(0.5); !math.IsInf(half, 1) {
		at = half
	}
	below, above := m.outside(*in.Limit, at)
	f.isBelow = below > above
	return f
}

// A look ahead: places from now to the horizon, and the share outside at each.
type look struct {
	share  func(float64) float64
	places []float64
	shares []float64
}

// lookAhead takes steps that grow by a tenth, from a thousandth of the way
// (judgement: finer than any interval is wide).
func (m mixture) lookAhead(share func(float64) float64) look {
	l := look{share: share, places: []float64{m.h.now}, shares: []float64{share(m.h.now)}}
	end := m.h.now + m.h.horizon()
	for step := m.h.horizon() / 1000; l.end() < end; step *= 1.1 {
		t := min(l.end()+step, end)
		l.places, l.shares = append(l.places, t), append(l.shares, share(t))
	}
	return l
}

func (l look) end() float64 { return l.places[len(l.places)-1] }

// met is the first place at which the share reaches q; infinite where it does not.
func (l look) met(q float64) float64 {
	at := slices.IndexFunc(l.shares, func(s float64) bool { return s >= q })
	switch at {
	case -1:
		return math.Inf(1)
	case 0:
		return l.places[0]
	}
	low, high := l.places[at-1], l.places[at]
	for range 20 { // a step to a part in a million
		if middle := (low + high) / 2; l.share(middle) < q {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// outside is the share of belief that has the true value below the limit and
// above it, t after the last reading.
func (m mixture) outside(l Limit, t float64) (below, above float64) {
	last := m.h.y[len(m.h.y)-1]
	var w way
	for i, p := range m.parts {
		if i == 0 || p.node.shape() != m.parts[i-1].node.shape() {
			w = p.node.way(m.h, t)
		}
		mean, spread := p.ahead(w)
		if l.Min != nil {
			below += p.weight * normal((*l.Min-last-mean)/spread)
		}
		if l.Max != nil {
			above += p.weight * normal((last+mean-*l.Max)/spread)
		}
	}
	return below, above
}

// A way is what t after the last reading makes of what is asked: what was read
// there less its error, the rate for good over t, what the wander of now still
// adds, and what is left of bedding-in; and what wander comes new, for one of
// its variance.
type way struct {
	of    vector
	fresh float64
}

func (n node) way(h history, t float64) way {
	k := len(h.x) - 1
	of, fresh := n.wanderAhead(t)
	more := n.bedded(h, h.heel[k], h.x[k]+t) - n.bedded(h, h.heel[k], h.x[k])
	return way{vector{lastError: -1, rateForGood: t, deviation: of, bedding: more}, fresh}
}

// shape is all of a node that its way hangs on.
func (n node) shape() [3]float64 {
	if n.isFirstNew {
		return [3]float64{n.forget, n.bedding, 1}
	}
	return [3]float64{n.forget, n.bedding, 0}
}

// ahead is how far the true value lies from the last reading, that way on.
func (p *part) ahead(w way) (mean, spread float64) {
	variance := w.fresh * p.node.wanderVar
	for i := range rateSoFar {
		mean += w.of[i] * p.mean[i]
		variance += w.of[i] * w.of[i] * p.cov[i][i]
		for j := range i {
			variance += 2 * w.of[i] * w.of[j] * p.cov[i][j]
		}
	}
	return mean, math.Sqrt(max(tiny, variance))
}
