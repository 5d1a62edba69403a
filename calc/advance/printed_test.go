package advance

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestPrintedIsWhatExpectPrints, at any speed, for a table with and without its base.
func TestPrintedIsWhatExpectPrints(t *testing.T) {
	f := func(x float64) *float64 { return &x }
	rng := rand.New(rand.NewPCG(13, 23))
	for i := range 4 {
		s := Spec{AngleUnit: "crank", SpeedUnit: "distributor", Base: []string{"included", "excluded"}[i%2],
			BaseCrankDeg: f(7), BaseToleranceCrankDeg: 1.5,
			Points: []SpecPoint{{500, f(8), f(10)}, {1000, f(15), f(19)}, {2000, f(24), f(24)}}}
		if i > 1 {
			s.NoAdvanceBelowRPM = f(300)
		}
		in := ExpectIn{Spec: s}
		for range 60 {
			in.EngineRPM = append(in.EngineRPM, 100+5900*rng.Float64())
		}
		out, err := Expect(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range out.Bands {
			want.Least, want.Most = nil, nil
			if p, err := Printed(s, want.EngineRPM); err != nil || p != want {
				t.Fatalf("%+v %v, expected %+v", p, err, want)
			}
		}
	}
	if _, err := Printed(Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded",
		Points: []SpecPoint{{500, f(8), f(10)}}}, 1000); err == nil {
		t.Error("a total without a base is printed")
	}
}

// TestAdvanceAtIsTheCurveOfWhatIf.
func TestAdvanceAtIsTheCurveOfWhatIf(t *testing.T) {
	m := Model{StartDistRPM: 250, PrimaryRate: 0.09, SecondaryRate: 0.5, KneeDistDeg: 7, LimitDistDeg: 13,
		WeightGrowth: 0.015}
	out, err := WhatIf(WhatIfIn{Model: m})
	if err != nil || len(out.Curve) < 20 {
		t.Fatal(err, len(out.Curve))
	}
	for _, p := range out.Curve {
		if got := m.AdvanceAt(p.DistRPM); math.Abs(got-p.DistDeg) > 1e-9 {
			t.Errorf("at %v: %v, curve %v", p.DistRPM, got, p.DistDeg)
		}
	}
}
