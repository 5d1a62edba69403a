package infer

import (
	"math"
	"math/rand/v2"
	"testing"
)

// normalTarget has a standard normal prior in every place.
func normalTarget(places int, like func(x *point) float64) target {
	t := target{most: math.Inf(1)}
	for k := range places {
		t.active = append(t.active, k)
	}
	t.prior = func(x *point) float64 {
		sum := 0.0
		for _, k := range t.active {
			sum -= x[k] * x[k] / 2
		}
		return sum
	}
	t.like = func(x *point) (float64, float64) { l := like(x); return l, l }
	return t
}

func annealed(t target, n int, seed uint64) (float64, *swarm) {
	rng := rand.New(rand.NewPCG(seed, 3))
	s := &swarm{at: make([]point, n*startTimes)}
	for i := range s.at {
		for _, k := range t.active {
			s.at[i][k] = rng.NormFloat64()
		}
	}
	t.fill(s)
	return t.anneal(s, n, nextSweeps, math.Inf(-1), rng), s
}

func lnNormal(x, variance float64) float64 {
	return -x*x/2/variance - math.Log(2*math.Pi*variance)/2
}

// A normal prior and a normal likelihood about m of deviation s have evidence
// N(m; 0, 1 + s²) for each place, and posterior mean m / (1 + s²).
func TestAnnealFindsTheEvidenceOfNormalLaws(t *testing.T) {
	const s = 0.2
	for _, places := range []int{2, 4, 6} {
		want, got, middle, variance := 0.0, 0.0, 0.0, 0.0
		seeds := 8
		for seed := range seeds {
			want = 0
			like := func(x *point) float64 {
				sum := 0.0
				for k := range places {
					sum += lnNormal(x[k]-0.3*float64(k+1), s*s)
				}
				return sum
			}
			for k := range places {
				want += lnNormal(0.3*float64(k+1), 1+s*s)
			}
			e, sw := annealed(normalTarget(places, like), 160, uint64(seed))
			got += e / float64(seeds)
			for i := range sw.at {
				d := sw.at[i][1] - 0.6/(1+s*s)
				middle += d / float64(seeds*len(sw.at))
				variance += d * d / float64(seeds*len(sw.at))
			}
		}
		t.Logf("%d places: %.3f, in closed form %.3f; mean off by %.4f, variance %.4f", places, got, want,
			middle, variance)
		if math.Abs(got-want) > 0.15 {
			t.Errorf("%d places: evidence %.3f, in closed form %.3f", places, got, want)
		}
		if v := s * s / (1 + s*s); math.Abs(middle) > 0.03 || variance < 0.8*v || variance > 1.25*v {
			t.Errorf("%d places: mean off by %.3f, variance %.4f, want %.4f", places, middle, variance, v)
		}
	}
}

// Two bells of unequal weight far apart: evidence and the share of each are
// known.
func TestAnnealKeepsBothBells(t *testing.T) {
	const s, a, share = 0.15, 1.0, 0.7
	like := func(x *point) float64 {
		rest := lnNormal(x[1], s*s) + lnNormal(x[2], s*s)
		return rest + math.Log(share*math.Exp(lnNormal(x[0]-a, s*s))+(1-share)*math.Exp(lnNormal(x[0]+a, s*s))+1e-300)
	}
	want := lnNormal(a, 1+s*s) + 2*lnNormal(0, 1+s*s)
	got, above := 0.0, 0.0
	seeds := 10
	for seed := range seeds {
		e, sw := annealed(normalTarget(3, like), 160, uint64(seed))
		got += e / float64(seeds)
		for i := range sw.at {
			if sw.at[i][0] > 0 {
				above += 1 / float64(seeds*len(sw.at))
			}
		}
	}
	if math.Abs(got-want) > 0.15 || math.Abs(above-share) > 0.07 {
		t.Errorf("evidence %.3f, in closed form %.3f; %.2f in the larger bell, want %.2f", got, want, above, share)
	}
}

// The law that is leapt by is what it is weighed with: its density, weighed by
// its own draws, gives the integral of a normal law.
func TestLeapsAreWeighedRight(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	s := &swarm{at: make([]point, 200)}
	for i := range s.at {
		a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		s.at[i][0], s.at[i][1], s.at[i][2] = 1+a, 0.6*a+0.8*b, 0.3*c
	}
	active := []int{0, 1, 2}
	m := about(s, active, rng)
	sum, n := 0.0, 20000
	for range n {
		var x point
		w := m.draw(&x, rng)
		again := m.white(&x)
		for k := range active {
			if math.Abs(again[k]-w[k]) > 1e-6 {
				t.Fatalf("whitened %v, drawn %v", again[:3], w[:3])
			}
		}
		b := (x[1] - 0.6*(x[0]-1)) / 0.8
		sum += math.Exp(lnNormal(x[0]-1, 1)+lnNormal(b, 1)+lnNormal(x[2], 0.09)-m.log(&w)) / 0.8
	}
	if got := sum / float64(n); math.Abs(got-1) > 0.03 {
		t.Errorf("a law of one is weighed as %.3f", got)
	}
}

// What cannot reach the floor is given up, and what can is not.
func TestAnnealGivesUpBelowTheFloor(t *testing.T) {
	far := normalTarget(2, func(x *point) float64 { return -50 - x[0]*x[0] })
	rng := rand.New(rand.NewPCG(1, 1))
	for _, c := range []struct {
		floor float64
		ends  bool
	}{{-10, true}, {-80, false}} {
		s := &swarm{at: make([]point, 200)}
		for i := range s.at {
			s.at[i][0], s.at[i][1] = rng.NormFloat64(), rng.NormFloat64()
		}
		far.fill(s)
		if got := far.anneal(s, 50, 4, c.floor, rng); math.IsInf(got, -1) != c.ends {
			t.Errorf("floor %g: evidence %g", c.floor, got)
		}
	}
}
