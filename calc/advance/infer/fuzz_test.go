package infer

import (
	"math"
	"math/rand/v2"
	"testing"
)

// oddProblem makes small problems of every kind, absurd figures among them.
func oddProblem(seed uint64) Problem {
	rng := rand.New(rand.NewPCG(seed, 31))
	p := Problem{Seed: seed, Pipe: Pipe(rng.IntN(2))}
	deg := func() float64 {
		return []float64{0, -5, 3, 12.5, 40, 1e6, -1e6}[rng.IntN(7)] + rng.Float64()
	}
	speed := func() float64 { return []float64{0, 1, 300, 900, 2500, 1e4, 1e6}[rng.IntN(7)] + 50*rng.Float64() }
	rpm := 0.0
	for range rng.IntN(5) {
		rpm += 1 + 900*rng.Float64()
		r := Row{rpm, float64(rng.IntN(12)), math.Inf(1)}
		if rng.IntN(3) > 0 {
			r.Most = r.Least + 3*rng.Float64()
		} else if rng.IntN(2) == 0 {
			r.Least, r.Most = math.Inf(-1), r.Least
		}
		p.Book.Rows = append(p.Book.Rows, r)
	}
	p.Book.Base, p.Book.Tolerance = float64(rng.IntN(9)), float64(rng.IntN(3))
	p.Book.BaseInRows = rng.IntN(3) == 0
	p.Book.BaseUnknown = p.Book.BaseInRows && rng.IntN(2) == 0
	p.Book.Listed = rng.IntN(3) - 1
	if rng.IntN(3) == 0 {
		p.Book.Limit, p.Book.NoAdvanceBelow = float64(rng.IntN(20)), float64(rng.IntN(800))
	}
	for range []int{0, 1, 3, 12, 72}[rng.IntN(5)] {
		bench := rng.IntN(2) == 0
		p.Readings = append(p.Readings, Reading{DistRPM: speed(), Deg: deg(), Falling: rng.IntN(3) == 0, Bench: bench,
			WithBase: !bench, Error: rng.Float64(), CrankDeg: rng.IntN(2) == 0, EngineRPM: rng.IntN(2) == 0})
	}
	if rng.IntN(3) == 0 {
		p.Statics = append(p.Statics, Static{deg(), rng.Float64()})
	}
	return p
}

func checkOdd(t *testing.T, p Problem) {
	t.Helper()
	r := Infer(p)
	for id, s := range r.Shares {
		if math.IsNaN(s) || s < 0 || s > 1+1e-9 {
			t.Fatalf("%s holds %g: %+v", id, s, p)
		}
	}
	if sum := shareSum(r); math.Abs(sum-1) > 1e-6 {
		t.Fatalf("shares add up to %g: %+v", sum, p)
	}
	for i, s := range r.Slips {
		if math.IsNaN(s) || s < 0 || s > 1+1e-6 {
			t.Fatalf("slip %d %g: %+v", i, s, p)
		}
	}
	for _, u := range r.Units() {
		if g := u.Governor; math.IsNaN(u.Share + g.U0 + g.K1 + g.K2 + g.Knee + g.Limit + u.Base + u.Zero) {
			t.Fatalf("%+v", u)
		}
	}
	for _, n := range r.NextReadings([]float64{0, 400, 2000}, 0.5, 1) {
		if math.IsNaN(n.Gain) || math.IsInf(n.Gain, 0) {
			t.Fatalf("%+v: %+v", n, p)
		}
	}
}

func FuzzInfer(f *testing.F) {
	for seed := range uint64(6) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) { checkOdd(t, oddProblem(seed)) })
}
