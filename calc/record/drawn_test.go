package record

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A drawn history: the beliefs of belief.go drawn one after the other and let
// run in small steps, weighted by how well they give the readings. Nothing of
// the algebra of node.go and weigh.go is in it: the wander is walked, a slip is
// a slip. What it must agree on is what the algebra makes of the same beliefs.
type drawn struct {
	weight, rate, met float64
}

// walk lets one choice of beliefs run over the readings and on to the horizon.
func walk(rng *rand.Rand, b belief, h history, limit float64) drawn {
	pick := func(sizes []weighted) float64 {
		u := rng.Float64()
		for _, s := range sizes {
			if u -= s.share; u < 0 {
				return s.size
			}
		}
		return sizes[len(sizes)-1].size
	}
	s := b.slopes[0]
	if u := rng.Float64(); u > b.slopes[0].share {
		s = b.slopes[1]
		if u > b.slopes[0].share+b.slopes[1].share {
			s = b.slopes[2]
		}
	}
	rate := s.mean + s.spread*rng.NormFloat64()
	spread := pick(b.wander) * s.scale
	amount, length := b.bedMean+b.bedSpread*rng.NormFloat64(), pick(b.bedLengths)
	if h.heels[0].age != heelNew && rng.Float64() >= b.newShare {
		amount = 0
	}
	wander, errorSize := spread*rng.NormFloat64(), pick(b.errors)
	const step = 0.01 // thousand miles
	added, x := 0.0, 0.0
	on := func(to float64) {
		for x < to-1e-9 {
			added += wander * step / 2
			wander += -wander*step/b.forget + spread*math.Sqrt(2*step/b.forget)*rng.NormFloat64()
			added += wander * step / 2
			x += step
		}
	}
	value := func() float64 { return rate*x + added + amount*(1-math.Exp(-x/length)) }
	d := drawn{}
	// one line only: its height is free, so what counts is the scatter about the
	// weighted mean, and the height is drawn about that
	var rests, weights []float64
	for i, to := range h.x {
		on(to)
		variance := errorSize * errorSize
		if rng.Float64() < b.slipShare {
			variance += b.slipSpread * b.slipSpread
		}
		rests, weights = append(rests, h.y[i]-value()), append(weights, 1/variance)
	}
	d.rate = rate + added/x
	sum, mean := 0.0, 0.0
	for i, w := range weights {
		sum, mean = sum+w, mean+w*rests[i]
	}
	mean /= sum
	logWeight := -math.Log(sum) / 2
	for i, w := range weights {
		logWeight += math.Log(w)/2 - w*square(rests[i]-mean)/2
	}
	// what weighs little is mostly dropped, and counts the more where it is kept
	const light = 5
	if d.weight = math.Exp(logWeight); rng.Float64() > d.weight/light {
		return drawn{}
	}
	d.weight = max(d.weight, light)
	height, end := mean+rng.NormFloat64()/math.Sqrt(sum), x
	for d.met = 0; height+value() < limit && x < end+h.horizon(); d.met = x - end {
		on(x + step)
	}
	if height+value() < limit {
		d.met = math.Inf(1)
	}
	return d
}

func TestTheAlgebraIsWhatDrawingGives(t *testing.T) {
	in := DriftIn{What: "dwell", Limit: &Limit{Max: num(62)}}
	for i, value := range []float64{58.5, 59.5, 59.5, 60.5} {
		in.Points = append(in.Points, Point{Miles: num([]float64{0, 600, 1500, 3000}[i]), Value: value})
	}
	h, _ := readHistory(in)
	b := beliefOf(in, h)
	m, _ := weigh(h, b)
	r, f := m.rates(), m.due(in)
	rng := rand.New(rand.NewPCG(11, 13))
	var kept []drawn
	sum, squares := 0.0, 0.0
	for range walks {
		if d := walk(rng, b, h, *in.Limit.Max); d.weight > 0 {
			kept = append(kept, d)
			sum, squares = sum+d.weight, squares+d.weight*d.weight
		}
	}
	worth := sum * sum / squares // so many draws of one weight tell as much
	below := func(of func(drawn) float64, at float64) (share float64) {
		for _, d := range kept {
			if of(d) < at {
				share += d.weight / sum
			}
		}
		return share
	}
	rate, met := func(d drawn) float64 { return d.rate }, func(d drawn) float64 { return d.met }
	t.Logf("%d draws kept, worth %.0f", len(kept), worth)
	// the share of draws below each end, to three standard deviations of chance
	// and a hundredth for steps, what was dropped, and what comes back inside
	for what, c := range map[string]struct {
		of      func(drawn) float64
		at, ask float64
	}{"rate low": {rate, r.low, tail}, "rate middle": {rate, r.middle, 0.5}, "rate high": {rate, r.high, 1 - tail},
		"due low": {met, f.low, tail}, "due high": {met, f.high, 1 - tail}} {
		share := below(c.of, c.at)
		slack := 0.01 + 3*math.Sqrt(c.ask*(1-c.ask)/worth)
		if math.Abs(share-c.ask) > slack {
			t.Errorf("%s at %.3g: %.3f of the draws lie below, want %.3f ± %.3f", what, c.at, share, c.ask, slack)
		}
		t.Logf("%s at %.3g: %.3f of the draws below", what, c.at, share)
	}
}
