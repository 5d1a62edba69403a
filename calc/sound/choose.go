package sound

import (
	"fmt"
	"math"
	"slices"
)

// Thresholds, chosen on made sounds.
const (
	noiseClarity = 0.018 // under it nothing repeats; the most that noise reached was 0.0135
	combClarity  = 0.015 // the same for the second ear at that rate; noise reached 0.0114
	sureClarity  = 0.045
	fullClarity  = 0.2  // clean, even firing; clarity is shown as a share of it
	rival        = 0.6  // another speed that reaches this share of the clarity cannot be told apart
	worthSaying  = 0.45 // and one that reaches this is named
	partOf       = 0.8  // a half or quarter of the period that reaches this is taken instead
	step         = 1.003
	mostRepeats  = 12
	spanSeconds  = 0.4 // repeats are followed this far
)

// guess is a firing period and how clearly the sound repeats with it.
type guess struct{ period, clarity float64 }

// choose looks through every period in the range, and asks the second ear
// about half and double.
func (e *ear) choose(in RPMIn, second *ear) (best guess, others []guess) {
	shortest, longest := period(in.HighEngineRPM, in.Cylinders), period(in.LowEngineRPM, in.Cylinders)
	var all []guess
	for p := shortest; p <= longest; p *= step {
		all = append(all, guess{p, e.clarity(p)})
	}
	for _, g := range all {
		if g.clarity > best.clarity {
			best = g
		}
	}
	if best.period == 0 {
		return best, nil
	}
	best = e.settle(second, e.refine(best), in.Cylinders, shortest, longest)
	for _, ratio := range []float64{0.5, 2, 1.0 / 3, 3, 2.0 / 3, 1.5, 0.25, 4} {
		near := guess{}
		for _, g := range all {
			if math.Abs(g.period/(best.period*ratio)-1) < 0.02 && g.clarity > near.clarity {
				near = g
			}
		}
		if near.clarity >= worthSaying*best.clarity && near.clarity >= noiseClarity {
			others = append(others, e.refine(near))
		}
	}
	slices.SortFunc(others, func(a, b guess) int {
		if a.clarity > b.clarity {
			return -1
		}
		return 1
	})
	return best, others
}

// settle asks both ears about the period found, its half, quarter and double.
// A half or quarter is taken where the sound repeats nearly as well after it:
// with a cylinder that misses, two firings or a whole cycle repeat best, but
// the engine fires more often. The double is taken only where it is clearly
// better.
func (e *ear) settle(second *ear, found guess, cylinders int, shortest, longest float64) guess {
	both := func(g guess) float64 { return g.clarity + second.clarity(g.period) }
	for _, d := range []float64{2, 4, 0.5} {
		part := found.period / d
		if part < shortest || part > longest || d > 1 && cylinders%int(d) != 0 {
			continue
		}
		share := partOf
		if d < 1 {
			share = 1 / partOf
		}
		if g := e.refine(guess{part, e.clarity(part)}); both(g) > share*both(found) {
			return g
		}
	}
	return found
}

func period(engineRPM float64, cylinders int) float64 { return 120 / (engineRPM * float64(cylinders)) }

// clarity is how well the sound repeats after one, two, three ... periods,
// less how well it repeats at the halves, thirds or fifths between them. A
// period twice too long repeats between as well; one that is half too short
// does not repeat at odd multiples, so those count twice, and likewise those
// that are no multiple of three.
func (e *ear) clarity(period float64) float64 {
	n := min(mostRepeats, max(3, int(spanSeconds/period)))
	all := e.comb(period, n, 0, 1, 0)
	on := math.Min((all+e.comb(period, n, 0, 1, 2))/2, (all+e.comb(period, n, 0, 1, 3))/2)
	between := 0.0
	for _, m := range []int{2, 3, 5} {
		mean := 0.0
		for j := 1; j < m; j++ {
			mean += e.comb(period, n+1, float64(j)/float64(m), 2, 0) / float64(m-1)
		}
		between = math.Max(between, mean)
	}
	return on - between
}

// comb is the mean of repeat at lags of from to n periods, shift of a period
// before each, leaving out multiples of skip. Near lags, which wander least,
// weigh more.
func (e *ear) comb(period float64, n int, shift float64, from, skip int) float64 {
	sum, weight := 0.0, 0.0
	for k := from; k <= n; k++ {
		if skip > 0 && k%skip == 0 {
			continue
		}
		w := 1 / math.Sqrt(float64(k))
		sum += w * e.at((float64(k)-shift)*period)
		weight += w
	}
	return sum / weight
}

// refine moves a guess to the top of its peak.
func (e *ear) refine(g guess) guess {
	for width := 0.003; width > 2e-5; width /= 2 {
		for _, p := range []float64{g.period * (1 - width), g.period * (1 + width)} {
			if c := e.clarity(p); c > g.clarity {
				g = guess{p, c}
			}
		}
	}
	return g
}

func (in RPMIn) report(heard clip, best guess, others []guess) RPMOut {
	rpm := func(g guess) float64 { return 120 / (g.period * float64(in.Cylinders)) }
	out := RPMOut{EngineRPM: rpm(best), FiringHz: 1 / best.period, Clarity: shown(best), Sureness: "likely", Alternatives: []Alternative{}, HeardSeconds: heard.seconds()}
	if best.clarity >= sureClarity && len(others) == 0 {
		out.Sureness = "sure"
	}
	for _, g := range others {
		if g.clarity >= rival*best.clarity {
			out.Sureness = "possible"
		}
		out.Alternatives = append(out.Alternatives, Alternative{EngineRPM: rpm(g), Clarity: shown(g), Why: why(rpm(g) / rpm(best))})
	}
	out.Working = []string{
		fmt.Sprintf("The sound repeats every %.2f ms: %.2f firings a second.", 1000*best.period, out.FiringHz),
		fmt.Sprintf("A four-stroke of %d cylinders fires %g times a turn: 120 × %.2f / %d = %.0f engine rpm.", in.Cylinders, float64(in.Cylinders)/2, out.FiringHz, in.Cylinders, out.EngineRPM),
		fmt.Sprintf("Clarity %.2f; noise stays under %.2g.", out.Clarity, noiseClarity/fullClarity),
	}
	out.Sources = []string{"firing rate: arithmetic of the four-stroke", "thresholds: chosen on made sounds"}
	return out
}

func shown(g guess) float64 { return math.Min(1, g.clarity/fullClarity) }

// why says how two speeds can be taken for one another.
func why(ratio float64) string {
	switch {
	case math.Abs(ratio-0.5) < 0.02:
		return "half the speed: if every second firing sounds alike but neighbours do not (two pipes, two carburettors), the ear takes one firing for two"
	case math.Abs(ratio-2) < 0.05:
		return "double the speed: if each firing sounds twice (an echo, an intake heard with the exhaust), the ear takes two for one"
	}
	return fmt.Sprintf("%.2g times the speed: some firings sound alike and others do not, as with a cylinder that misses", ratio)
}
