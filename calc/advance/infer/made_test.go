package infer

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Problems made of this room's own governors: what is tested here is the
// sampling and the bookkeeping, not whether the model is true.

func drawnGovernor(rng *rand.Rand) (g Governor) {
	for {
		var x point
		drawUnit(&x, 0, rng)
		if !governorOf(&x, 0, &g) {
			continue
		}
		if g.Limit > 6 && g.Limit < 18 && g.At(400) < g.Limit/2 && g.At(2500) == g.Limit && g.K2/g.K1 < 10 {
			return g
		}
	}
}

// bookFor prints rows of a degree either way about a governor.
func bookFor(g Governor, half float64, speeds ...float64) Book {
	b := Book{Base: 4}
	for _, rpm := range speeds {
		a := g.At(rpm)
		b.Rows = append(b.Rows, Row{rpm, math.Max(0, a-half), a + half})
	}
	return b
}

var usualSpeeds = []float64{300, 500, 800, 1100, 1500, 2000, 2500}

// readAt reads a governor as it stands, a quarter of a degree of noise.
func readAt(g Governor, rng *rand.Rand, base float64, car bool, speeds ...float64) (all []Reading) {
	for _, rpm := range speeds {
		r := Reading{DistRPM: rpm, Deg: g.Reads(rpm, false) + 0.25*rng.NormFloat64(), Bench: !car,
			WithBase: car, Error: 0.5}
		if car {
			r.Deg += base
		}
		all = append(all, r)
	}
	return all
}

// madeProblem has a fault, or none, in the body, a spring or the stop.
func madeProblem(rng *rand.Rand) Problem {
	g := drawnGovernor(rng)
	p := Problem{Book: bookFor(g, 1, usualSpeeds...), Pipe: PipeOff}
	base, car := p.Book.Base, rng.IntN(2) == 0
	switch rng.IntN(6) {
	case 0:
		g.U0, g.K1 = g.U0*0.6, g.K1*0.6
	case 1:
		g.U0, g.K1 = g.U0*1.7, g.K1*1.7
	case 2:
		g.K2 *= 2
	case 3:
		g.Limit += 2.5
	case 4:
		base += 3
	}
	p.Readings = readAt(g, rng, base, car, append(slices.Clone(usualSpeeds), 400, 650, 1300, 2800)...)
	return p
}

// named are the elements that hold three quarters or more.
func (r *Result) named() (out []string) {
	for id := range r.Shares {
		for _, e := range Elements(id) {
			if r.Element(e) >= 0.75 && !slices.Contains(out, e) {
				out = append(out, e)
			}
		}
	}
	slices.Sort(out)
	return out
}
