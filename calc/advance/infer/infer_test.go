package infer

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func shareSum(r *Result) (sum float64) {
	for _, s := range r.Shares {
		sum += s
	}
	return sum
}

func TestSharesAddUpToOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	for range 8 {
		r := Infer(madeProblem(rng))
		if sum := shareSum(r); math.Abs(sum-1) > 1e-9 {
			t.Errorf("shares add up to %g", sum)
		}
		sum := 0.0
		for _, u := range r.Units() {
			sum += u.Share
		}
		if want := 1 - r.Shares["other"]; math.Abs(sum-want) > 0.01 {
			t.Errorf("units hold %g of %g", sum, want)
		}
	}
}

// Large plain faults are named, in their direction.
func TestPlainFaultsAreNamed(t *testing.T) {
	sound := Governor{U0: .0625, K1: .09, K2: .55, Knee: 7, Limit: 13, Drag: .018, Growth: .015}
	for _, c := range []struct {
		name string
		car  bool
		base float64
		do   func(g *Governor)
	}{
		{"sound", false, 4, func(*Governor) {}},
		{"base-late", true, 0.5, func(*Governor) {}},
		{"stop-long", false, 4, func(g *Governor) { g.Limit += 3 }},
		{"stop-short", true, 4, func(g *Governor) { g.Limit -= 3 }},
		{"primary-early", false, 4, func(g *Governor) { g.U0, g.K1 = g.U0*0.5, g.K1*0.5 }},
		{"secondary-early", false, 4, func(g *Governor) { g.K2 *= 0.4 }},
	} {
		rng, g := rand.New(rand.NewPCG(3, 3)), sound
		c.do(&g)
		p := Problem{Book: bookFor(sound, 1, usualSpeeds...), Pipe: PipeOff}
		p.Readings = readAt(g, rng, c.base, c.car, append(slices.Clone(usualSpeeds), 400, 600, 950, 2800)...)
		if r := Infer(p); !slices.Equal(r.named(), []string{c.name}) {
			t.Errorf("%s: named %v of %v", c.name, r.named(), r.Shares)
		}
	}
}

// One figure wrong by four degrees is a slip, and no other is.
func TestSlipsAreFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 6 {
		g := drawnGovernor(rng)
		p := Problem{Book: bookFor(g, 1, usualSpeeds...), Pipe: PipeOff}
		p.Readings = readAt(g, rng, 4, false, append(slices.Clone(usualSpeeds), 650, 950, 1300, 1750)...)
		wrong := 1 + rng.IntN(len(p.Readings)-1)
		p.Readings[wrong].Deg += 4
		r := Infer(p)
		for i, s := range r.Slips {
			if (s > 0.5) != (i == wrong) {
				t.Errorf("reading %d is a slip by %.2f; wrong is %d", i, s, wrong)
			}
		}
	}
}

// Where two accounts expect the same a reading tells nothing; where they differ
// by much it tells which.
func TestNextReadingsTellWhereAccountsDiffer(t *testing.T) {
	a := Governor{U0: .0625, K1: .09, K2: .55, Knee: 7, Limit: 13, Drag: .018, Growth: .015}
	b := a
	b.Limit = 10
	group := func(id string, g Governor) believed {
		v := view{unit: g, speed2: 1, scale: 1, to: -1, base: 4}
		return believed{id: id, share: 0.5, views: []view{v, v}, sd: []float64{1, 1}}
	}
	groups := []believed{group("sound", a), group("stop-short", b)}
	if n := ask(groups, OnBench, 500, false, 0.5); n.Gain > 1e-3 {
		t.Errorf("at 500 both show %.1f and %.1f, yet it tells %g", a.Reads(500, false), b.Reads(500, false), n.Gain)
	}
	n := ask(groups, OnBench, 3000, false, 0.5)
	if n.Gain < 0.9 || math.Abs(n.Expects[0].Deg-13) > 1e-9 || math.Abs(n.Expects[1].Deg-10) > 1e-9 {
		t.Errorf("at 3000 %g is told, %+v", n.Gain, n.Expects)
	}
	if n := ask(groups, ByLamp, 0, false, 0.5); n.Gain > 1e-3 || n.Expects[0].Deg != 4 {
		t.Errorf("the lamp shows the same base under both, yet it tells %g", n.Gain)
	}
}

// Another seed hardly changes what is named. The aim is two cases in a hundred;
// what is reached is more, and the bound here only keeps it from getting worse.
func TestAnotherSeedNamesTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	changed, moved := 0, 0.0
	for range seedCases {
		p := madeProblem(rng)
		a := Infer(p)
		p.Seed = 1
		b := Infer(p)
		if !slices.Equal(a.named(), b.named()) {
			changed++
		}
		for id, s := range a.Shares {
			moved += math.Abs(s-b.Shares[id]) / seedCases
		}
	}
	t.Logf("named parts changed in %d of %d; shares moved by %.3f in all", changed, seedCases, moved)
	if changed > 1+seedCases/8 {
		t.Errorf("named parts changed in %d of %d", changed, seedCases)
	}
}
