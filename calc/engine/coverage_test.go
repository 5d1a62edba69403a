package engine

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// TestCoverage draws cars from the stated spreads, lets them be heard at 0, 1 and 3
// records by ears as the model believes them to be, and asks whether the true limit
// elsewhere lies in the stated range, nine times in ten: 90 ± 4 %, held in full
// (ENGINE_FULL=1, 600 cars each); of the few cars of an ordinary run no less than
// what chance leaves them. The cars have the model's own physics: this proves the
// arithmetic of the ranges, not the physics.
func TestCoverage(t *testing.T) {
	n := 20
	if os.Getenv("ENGINE_FULL") == "1" {
		n = 600
	}
	width := map[int]float64{}
	for _, records := range []int{0, 1, 3} {
		rng := rand.New(rand.NewPCG(13, uint64(100+records)))
		in, asked, wide := 0, 0, 0.0
		for asked < n {
			hit, w, found := covered(t, rng, records)
			if !found {
				continue
			}
			asked++
			wide += w
			if hit {
				in++
			}
		}
		share := float64(in) / float64(asked)
		width[records] = wide / float64(asked)
		t.Logf("%d records: the true limit lies in the range in %.1f %% of %d cars; the range is %.1f degrees wide",
			records, 100*share, asked, width[records])
		// Chance alone moves a share of 0.9 by this, two standard deviations.
		within := max(0.04, 2*math.Sqrt(0.09/float64(asked)))
		near(t, "coverage", share, 0.9, within)
	}
	if width[1] > 0.7*width[0] || width[3] > width[1] {
		t.Errorf("the range does not narrow: %v", width)
	}
}

// covered makes one car, lets it be heard, and looks. found is false where its limit
// is beyond reach, so that there is nothing to be heard.
func covered(t *testing.T, rng *rand.Rand, records int) (hit bool, width float64, found bool) {
	b := bodyOf(t, []Engine{stour, ridgeway}[rng.IntN(2)])
	var truth one
	for i := range inputs {
		truth.z[i] = rng.NormFloat64()
	}
	at := func(rpm float64) (condition, profile) {
		c := conditionOf(rpm, 1, ron(95), Air{})
		return c, b.profile(c, truth)
	}
	c, true1 := at(2500)
	if !true1.limitPresent {
		return false, 0, false
	}
	var heard []listened
	for _, rpm := range []float64{1700, 3200, 2000}[:records] {
		c, p := at(rpm)
		if !p.limitPresent {
			return false, 0, false
		}
		heard = append(heard, listened{c, p.limit + pastTrace*math.Abs(rng.NormFloat64()), true, pastTrace})
	}
	f := b.sample(c, b.posterior(draws(tries), heard, nil)).figures(heard, c)
	low, high := f.KnockLimitLowCrankDeg, f.KnockLimitHighCrankDeg
	return true1.limit >= low && true1.limit <= high, high - low, true
}
