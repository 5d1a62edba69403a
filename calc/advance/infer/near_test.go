package infer

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestHoldsIsTheNormalLaw(t *testing.T) {
	for x := -4.0; x <= 4; x += 0.1 {
		want := 0.5 * (1 + math.Erf(x/math.Sqrt2))
		if got := Holds(-x*misfit, 0, misfit); math.Abs(got-want) > 0.01 {
			t.Errorf("at %.1f deviations: %.4f, the normal law has %.4f", x, got, want)
		}
	}
}

func BenchmarkNear(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 1))
	var runs [][]Reading
	for range 100 {
		runs = append(runs, readAt(drawnGovernor(rng), rng, 0, false,
			250, 300, 400, 500, 650, 800, 950, 1100, 1300, 1500, 1750, 2000, 2500, 2800))
	}
	n := 0
	for b.Loop() {
		Near(runs[n%100], nil)
		n++
	}
}

// The quick fit against the full one, and against the truth, at speeds between.
func TestNearLiesByTheFullFit(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	var near, full, ess, inside, of float64
	cases := 40
	for range cases {
		g := drawnGovernor(rng)
		run := readAt(g, rng, 0, false, 250, 300, 400, 500, 650, 800, 950, 1100, 1300, 1500, 1750, 2000, 2500)
		c := Near(run, nil)
		f := FitGovernor(run, true, 0)
		sq := 0.0
		for _, s := range c.Share {
			sq += s * s
		}
		ess += 1 / sq / float64(cases)
		for _, rpm := range []float64{350, 450, 580, 720, 880, 1030, 1200, 1400, 1620, 1870, 2200} {
			want := g.Reads(rpm, false)
			d, e := c.Middle.Reads(rpm, false)-want, f.Likeliest.Reads(rpm, false)-want
			near, full = near+d*d, full+e*e
			of++
			mean, spread := 0.0, 0.0
			for k := range c.At {
				a := c.At[k].Reads(rpm, false)
				mean, spread = mean+c.Share[k]*a, spread+c.Share[k]*a*a
			}
			spread = math.Sqrt(max(0, spread-mean*mean)) + 0.01
			if math.Abs(want-mean) <= 1.645*spread {
				inside++
			}
		}
	}
	near, full, inside = math.Sqrt(near/of), math.Sqrt(full/of), 100*inside/of
	t.Logf("rms of curve: near %.3f, full %.3f distributor degrees; draws that count %.0f of %d; 90 %% band holds %.0f %%",
		near, full, ess, nearDraws, inside)
	if near > 1.5*full || near > 0.4 || inside < 80 || ess < 8 {
		t.Error("the quick fit is worse than it was chosen to be")
	}
}
