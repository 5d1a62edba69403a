package advance

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// The ensemble: walkers, the random starts they are picked from, steps thrown
// away and steps kept. Chosen so that the ends of a 90 % interval repeat
// within a tenth of its width from seed to seed.
const (
	walkerCount = 32
	startCount  = 1500
	burnSteps   = 300
	keepSteps   = 400
	keepEvery   = 4
	stretch     = 2.0 // a of the stretch move; 2 is the authors' choice
)

// search finds the likeliest places, best first: the best of many random
// corners, each of the best few walked downhill (Nelder and Mead).
func (p *fitProblem) search() []theta {
	rng := rand.New(rand.NewPCG(1, 2)) // a fixed seed: the same readings, the same answer
	type placed struct {
		th  theta
		log float64
	}
	var all []placed
	for range startCount {
		th := p.draw(rng)
		if l := p.logPosterior(th); !math.IsInf(l, -1) {
			all = append(all, placed{th, l})
		}
	}
	slices.SortFunc(all, func(a, b placed) int {
		switch {
		case a.log > b.log:
			return -1
		case a.log < b.log:
			return 1
		}
		return 0
	})
	var best []theta
	for _, s := range all[:min(4, len(all))] {
		best = append(best, p.downhill(s.th))
	}
	slices.SortFunc(best, func(a, b theta) int {
		if p.logPosterior(a) > p.logPosterior(b) {
			return -1
		}
		return 1
	})
	return best
}

// downhill walks one start to the nearest likeliest place.
func (p *fitProblem) downhill(th theta) theta {
	problem := optimize.Problem{Func: func(x []float64) float64 {
		l := p.logPosterior(p.unscaled(x))
		if math.IsInf(l, -1) {
			return 1e9
		}
		return -l
	}}
	result, err := optimize.Minimize(problem, p.scaled(th), &optimize.Settings{FuncEvaluations: 1500,
		Converger: &optimize.FunctionConverge{Absolute: 1e-6, Iterations: 80}}, &optimize.NelderMead{SimplexSize: 0.1})
	if result == nil || err != nil && result.X == nil {
		return th
	}
	return p.unscaled(result.X)
}

// scale brings every parameter to the size of one for the search.
func (p *fitProblem) scale() theta {
	return theta{p.topRPM, p.topRPM, p.topDeg + 1, p.topRPM, p.topDeg + 1, 0.05, 1, 1}
}

func (p *fitProblem) scaled(th theta) []float64 {
	x := make([]float64, dims)
	for i, s := range p.scale() {
		if i < dims {
			x[i] = th[i] / s
		}
	}
	return x
}

func (p *fitProblem) unscaled(x []float64) theta {
	var th theta
	for i, s := range p.scale() {
		if i < dims {
			th[i] = x[i] * s
		}
	}
	return th
}

// around scatters the walkers about the best places, in proportion to none:
// the burn-in finds the right shares.
func (p *fitProblem) around(best []theta) []theta {
	rng := rand.New(rand.NewPCG(5, 6))
	scale := p.scale()
	var out []theta
	for len(out) < walkerCount {
		th := best[len(out)%len(best)*(len(out)%2)] // half about the very best, half about the others
		size := 0.03
		for tries := 0; ; tries++ {
			moved := th
			for i := range dims {
				moved[i] += size * scale[i] * rng.NormFloat64()
			}
			moved[friction], moved[growth] = abs(moved[friction]), abs(moved[growth])
			if !math.IsInf(p.logPosterior(moved), -1) {
				out = append(out, moved)
				break
			}
			size *= 0.9
			if tries > 200 {
				out = append(out, th)
				break
			}
		}
	}
	return out
}

// sample runs the stretch move and keeps the later half of the steps.
func (p *fitProblem) sample(walkers []theta) []theta {
	rng := rand.New(rand.NewPCG(3, 4))
	logs := make([]float64, len(walkers))
	for i, w := range walkers {
		logs[i] = p.logPosterior(w)
	}
	kept := make([]theta, 0, keepSteps/keepEvery*len(walkers))
	for step := range burnSteps + keepSteps {
		for i := range walkers {
			p.move(walkers, logs, i, rng)
		}
		if step >= burnSteps && step%keepEvery == 0 {
			kept = append(kept, walkers...)
		}
	}
	return kept
}

// move stretches walker i along the line to a walker of the other half.
func (p *fitProblem) move(walkers []theta, logs []float64, i int, rng *rand.Rand) {
	half := len(walkers) / 2
	j := rng.IntN(half)
	if i < half {
		j += half
	}
	z := math.Pow((stretch-1)*rng.Float64()+1, 2) / stretch
	var moved theta
	for k := range dims {
		moved[k] = walkers[j][k] + z*(walkers[i][k]-walkers[j][k])
	}
	l := p.logPosterior(moved)
	if math.Log(rng.Float64()) < float64(dims-1)*math.Log(z)+l-logs[i] {
		walkers[i], logs[i] = moved, l
	}
}
