package engine

import (
	"fmt"
	"math"
	"slices"
)

// Range is a figure over the draws.
type Range struct {
	Low    float64 `json:"low" help:"one in twenty lies below"`
	Middle float64 `json:"middle" help:"half lies below"`
	High   float64 `json:"high" help:"one in twenty lies above"`
}

// Widest is the input that widens a range most.
type Widest struct {
	Input    string  `json:"input" help:"what it is"`
	CrankDeg float64 `json:"crankDeg" unit:"crank degrees" help:"how far it alone moves the figure either way, nine times in ten"`
	Share    float64 `json:"share" min:"0" max:"1" help:"its part of the spread, as a square"`
	Text     string  `json:"text" help:"the same in words, with why it is uncertain"`
}

// spread gives the range of weighted values: 5, 50 and 95 in a hundred.
func spread(values []float64, list []one) Range {
	type pair struct{ x, w float64 }
	pairs := make([]pair, len(values))
	for i, v := range values {
		pairs[i] = pair{v, list[i].weight}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	at := func(q float64) float64 {
		sum := 0.0
		for i, p := range pairs {
			// Each value stands in the middle of its weight; between two a straight line.
			if here := sum + p.w/2; here >= q {
				if i == 0 {
					return p.x
				}
				before := sum - pairs[i-1].w/2
				return pairs[i-1].x + (p.x-pairs[i-1].x)*(q-before)/(here-before)
			}
			sum += p.w
		}
		return pairs[len(pairs)-1].x
	}
	return Range{at(0.05), at(0.5), at(0.95)}
}

// widest finds the input that goes most with the value, among the first n.
func widest(values []float64, list []one, n int) Widest {
	var best Widest
	mean := 0.0
	for i, v := range values {
		mean += list[i].weight * v
	}
	for k := range n {
		middle := 0.0
		for _, o := range list {
			middle += o.weight * o.z[k]
		}
		var both, own, all float64
		for i, o := range list {
			dz, dv := o.z[k]-middle, values[i]-mean
			both += o.weight * dz * dv
			own += o.weight * dz * dz
			all += o.weight * dv * dv
		}
		if own < 1e-9 || all < 1e-12 {
			continue
		}
		if share := both * both / own / all; share > best.Share {
			best = Widest{Input: uncertain[k].name, Share: share, CrankDeg: ninety * math.Abs(both) / math.Sqrt(own),
				Text: uncertain[k].why}
		}
	}
	best.Text = fmt.Sprintf("%s moves it by %.1f° either way: %s.", best.Input, best.CrankDeg, best.Text)
	return best
}

// byEar takes the place of the inputs where what was heard has settled them.
func (w *Widest) byEar(r Range) {
	if w.Share >= littleShare {
		return
	}
	by := (r.High - r.Low) / 2
	*w = Widest{Input: "how far past its beginning the knock was heard", CrankDeg: by, Share: 1 - w.Share,
		Text: fmt.Sprintf("How far past its beginning the knock was heard moves it by %.1f° either way: timing is tried in steps, and ears differ.", by)}
}

// littleShare: below it no single input explains the spread (chosen).
const littleShare = 0.2

const ninety = 1.6449 // standard deviations of a normal law that hold nine in ten
