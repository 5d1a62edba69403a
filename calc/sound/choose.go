package sound

import "math"

// Chosen on made sounds.
const (
	partOf      = 0.8 // a half or quarter of the period that reaches this is taken instead
	step        = 1.003
	mostRepeats = 12
	spanSeconds = 0.4 // repeats are followed this far
)

// guess is a firing period and how clearly the sound repeats with it.
type guess struct{ period, clarity float64 }

// choose looks through every period in the range, and asks the second ear
// about half and double.
func (e *ear) choose(in RPMIn, second *ear) guess {
	shortest, longest := period(in.HighEngineRPM, in.Cylinders), period(in.LowEngineRPM, in.Cylinders)
	best := guess{}
	for p := shortest; p <= longest; p *= step {
		if g := (guess{p, e.clarity(p)}); g.clarity > best.clarity {
			best = g
		}
	}
	if best.period == 0 {
		return best
	}
	return e.settle(second, e.refine(best), in.Cylinders, shortest, longest)
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

// period is the time from one firing to the next of a four-stroke that fires
// evenly, seconds.
func period(engineRPM float64, cylinders int) float64 { return 120 / (engineRPM * float64(cylinders)) }
