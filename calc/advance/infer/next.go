package infer

import (
	"math"
	"slices"
)

// Place is where a reading may be taken.
type Place int

// Places of a reading.
const (
	OnBench Place = iota
	OnCar
	ByLamp
)

// Next is a reading that would tell accounts apart.
type Next struct {
	Place   Place
	DistRPM float64 // 0 by the lamp
	Falling bool
	Gain    float64 // bits: how much it is expected to tell which account is right
	Expects []Expect
}

// Expect is what one account expects it to show.
type Expect struct {
	ID        string
	Deg       float64 // distributor degrees; with base on the car and by the lamp
	Low, High float64 // nine times in ten, scatter of the reading in it
}

// Which accounts and how fine (chosen).
const (
	tellApart  = 5    // accounts, the largest first
	leastTold  = 0.01 // bits below which a reading tells nothing
	tellPoints = 48   // points of each account that are asked
	tellBins   = 60
)

// believed is one account as it is asked what it expects.
type believed struct {
	id    string
	share float64
	views []view
	sd    []float64 // spread factor of each
}

// NextReadings ranks readings not yet taken by how much they are expected to
// tell which account is right: the mutual information of account and reading,
// each account's expectation taken as a normal law.
func (r *Result) NextReadings(speeds []float64, statedBench, statedCar float64) []Next {
	groups := r.believed()
	if len(groups) < 2 {
		return nil
	}
	var all []Next
	try := func(place Place, rpm float64, falling bool, stated float64) {
		if n := ask(groups, place, rpm, falling, stated); n.Gain >= leastTold {
			all = append(all, n)
		}
	}
	for _, falling := range []bool{false, true} {
		for _, rpm := range speeds {
			try(OnBench, rpm, falling, statedBench)
			if r.q.car || r.q.withBase {
				try(OnCar, rpm, falling, statedCar)
			}
		}
	}
	if r.q.withBase && len(r.q.statics) == 0 {
		try(ByLamp, 0, false, statedCar)
	}
	slices.SortStableFunc(all, func(a, b Next) int {
		switch {
		case a.Gain > b.Gain:
			return -1
		case a.Gain < b.Gain:
			return 1
		}
		return 0
	})
	return all
}

// believed gathers the points of the leading accounts by id.
func (r *Result) believed() []believed {
	var groups []believed
	for _, d := range r.drawn {
		each := d.share / float64(len(d.s.at))
		for i := range d.s.at {
			x := &d.s.at[i]
			id := d.acc.name(x)
			k := slices.IndexFunc(groups, func(g believed) bool { return g.id == id })
			if k < 0 {
				k, groups = len(groups), append(groups, believed{id: id})
			}
			g := &groups[k]
			g.share += each
			if len(g.views) < tellPoints {
				v := r.q.viewOf(d.acc, x)
				if !r.q.bench {
					v.zero = 0
				}
				g.views, g.sd = append(g.views, v), append(g.sd, exp(x[spreadAt]))
			}
		}
	}
	slices.SortFunc(groups, func(a, b believed) int {
		switch {
		case a.share > b.share:
			return -1
		case a.share < b.share:
			return 1
		}
		return 0
	})
	groups = groups[:min(len(groups), tellApart)]
	// one in a hundred is not worth a reading (chosen)
	return slices.DeleteFunc(groups, func(g believed) bool { return g.share < 0.01 })
}

func ask(groups []believed, place Place, rpm float64, falling bool, stated float64) Next {
	n := Next{Place: place, DistRPM: rpm, Falling: falling}
	h := heard{u: squared(rpm), falling: falling, bench: place == OnBench, car: place != OnBench,
		withBase: place != OnBench}
	var shares, means, spreads []float64
	for _, g := range groups {
		mean, square, noise := 0.0, 0.0, 0.0
		for i := range g.views {
			deg := g.views[i].base
			if place != ByLamp {
				deg, _ = g.views[i].expected(&h)
			}
			e := stated / 2 * g.sd[i]
			mean, square, noise = mean+deg, square+deg*deg, noise+e*e+misfit*misfit
		}
		k := float64(len(g.views))
		mean /= k
		sd := math.Sqrt(max(0, square/k-mean*mean) + noise/k)
		shares, means, spreads = append(shares, g.share), append(means, mean), append(spreads, sd)
		// 1.645: 90 % of a normal law
		n.Expects = append(n.Expects, Expect{g.id, mean, mean - 1.645*sd, mean + 1.645*sd})
	}
	n.Gain = told(shares, means, spreads)
	return n
}

// told is the mutual information of which and what, in bits.
func told(shares, means, spreads []float64) float64 {
	low, high, total := math.Inf(1), math.Inf(-1), 0.0
	for i := range means {
		low, high = min(low, means[i]-4*spreads[i]), max(high, means[i]+4*spreads[i])
		total += shares[i]
	}
	step, sum := (high-low)/tellBins, 0.0
	each := make([]float64, len(means))
	for b := range tellBins {
		x, all := low+(float64(b)+0.5)*step, 0.0
		for i := range means {
			z := (x - means[i]) / spreads[i]
			each[i] = exp(-z*z/2) / (rootTwoPi * spreads[i])
			all += shares[i] / total * each[i]
		}
		for i := range means {
			if each[i] > 1e-12 && all > 0 {
				sum += shares[i] / total * each[i] * math.Log2(each[i]/all) * step
			}
		}
	}
	return max(0, sum)
}
