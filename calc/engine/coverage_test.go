package engine

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCoverage draws cars from the stated spreads, lets them be heard at 0, 1 and 3
// records by ears as the model believes them to be, and asks whether the true limit
// elsewhere lies in the stated range, nine times in ten: 90 ± 4 %, held in full
// (ENGINE_FULL=1, 600 cars each); of the few cars of an ordinary run no less than
// what chance leaves them. The cars have the model's own physics: this proves the
// arithmetic of the ranges, not the physics.
func TestCoverage(t *testing.T) {
	n := count(12, 600)
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

// poor is a fuel on which nearly every car of the spreads knocks within reach, so
// that the cars are not picked by what is asked of them.
const poor = 88

// covered makes one car, lets it be heard, and looks. found is false where its limit
// is beyond reach, so that there is nothing to be heard.
func covered(t *testing.T, rng *rand.Rand, records int) (hit bool, width float64, found bool) {
	b := bodyOf(t, []Engine{stour, ridgeway}[rng.IntN(2)])
	var truth one
	for i := range inputs {
		truth.z[i] = rng.NormFloat64()
	}
	at := func(rpm float64) (condition, profile) {
		c := conditionOf(rpm, 1, ron(poor), Air{})
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
	c = c.away(heard)
	true1 = b.profile(c, truth)
	f := b.sample(c, b.posterior(draws(tries), heard, nil)).figures(heard, c)
	low, high := f.KnockLimitLowCrankDeg, f.KnockLimitHighCrankDeg
	return true1.limit >= low && true1.limit <= high, high - low, true
}

// TestCoverageOfOtherPhysics asks the same of cars whose physics is not the model's:
// another shape of burning, other exponents of knock, another end gas, worked out
// along the road of run_test.go. Nothing promises nine in ten there; it is printed
// as found, and held to no less than two in three after records.
func TestCoverageOfOtherPhysics(t *testing.T) {
	n := count(3, 200)
	for _, records := range []int{0, 1, 3} {
		rng := rand.New(rand.NewPCG(13, uint64(200+records)))
		in, wide, low := 0, 0.0, 0
		for range n {
			car := strange(t, rng)
			c, truth := car.limit(2500)
			var heard []listened
			for _, rpm := range []float64{1700, 3200, 2000}[:records] {
				c, limit := car.limit(rpm)
				heard = append(heard, listened{c, limit + pastTrace*math.Abs(rng.NormFloat64()), true, pastTrace})
			}
			c = c.away(heard)
			f := car.sample(c, car.posterior(draws(tries), heard, nil)).figures(heard, c)
			wide += (f.KnockLimitHighCrankDeg - f.KnockLimitLowCrankDeg) / float64(n)
			if truth >= f.KnockLimitLowCrankDeg {
				low++
			}
			// Where the high end is a least only, all beyond it is in the range.
			if truth >= f.KnockLimitLowCrankDeg && (truth <= f.KnockLimitHighCrankDeg || f.KnockAtLeast != "") {
				in++
			}
		}
		t.Logf("other physics, %d records: in the range %.1f %% of %d cars, above its low end %.1f %%; %.1f degrees wide",
			records, 100*float64(in)/float64(n), n, 100*float64(low)/float64(n), wide)
		if float64(in) < float64(n)*2/3-1 {
			t.Errorf("%d records: only %d of %d", records, in, n)
		}
	}
}

// stranger is a car of other physics.
type stranger struct {
	body
	physics
	truth one
}

func strange(t *testing.T, rng *rand.Rand) stranger {
	pick := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	car := stranger{body: bodyOf(t, []Engine{stour, ridgeway}[rng.IntN(2)]),
		physics: physics{a: pick(4.5, 6.5), m: pick(1.5, 2.5), fall: gammaFall * pick(0.85, 1.1),
			squeeze: pick(1.30, 1.34),
			ofPress: pick(1.4, 1.9), ofHeat: pick(3300, 4400), burnt: pick(0.85, 0.95)}}
	for i := range inputs {
		car.truth.z[i] = rng.NormFloat64()
	}
	return car
}

// limit is where this car's knock truly begins at full throttle on 95 RON.
func (car stranger) limit(rpm float64) (condition, float64) {
	c := conditionOf(rpm, 1, ron(95), Air{})
	y := car.cylinder(c, car.truth)
	low, high := -25.0, 65.0
	for high-low > 0.1 {
		mid := (low + high) / 2
		_, ln := slowBy(car.physics, 0.25, car.body, &y, c, car.truth.factor(zHeat), mid)
		if ln < car.truth.stands(c) {
			low = mid
		} else {
			high = mid
		}
	}
	return c, low
}
