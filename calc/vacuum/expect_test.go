package vacuum

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestExpectLiesInTheBandOfJudge: what is expected at a vacuum lies in what Judge allows there, and least and most are
// Judge's.
func TestExpectLiesInTheBandOfJudge(t *testing.T) {
	f := func(x float64) *float64 { return &x }
	rng := rand.New(rand.NewPCG(13, 22))
	u := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	for i := range 8 {
		c := Capsule{Kind: "advance", StartKPa: f(u(5, 20)), FullKPa: f(u(25, 60)), MaxDistDeg: f(u(2, 12))}
		if i%2 == 1 {
			c = Capsule{Kind: "advance", Table: []TablePoint{{40, u(2, 4), u(5, 7)}, {15, 0, 0}}}
		}
		in := JudgeIn{Capsule: c}
		for range 20 {
			in.Readings = append(in.Readings, Reading{KPa: u(0, 80), DistDeg: f(1)})
		}
		judged, err := Judge(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range judged.Points {
			m, known, _, err := Expect(c, 2, p.KPa)
			if err != nil || !known || m.MinDistDeg != *p.MinDistDeg || m.MaxDistDeg != *p.MaxDistDeg ||
				m.DistDeg < m.MinDistDeg-1e-12 || m.DistDeg > m.MaxDistDeg+1e-12 {
				t.Fatalf("%+v %v %v, judged by %v to %v", m, known, err, *p.MinDistDeg, *p.MaxDistDeg)
			}
		}
	}
}

// TestExpectedMovement: the rule of Judge worked by hand, a code in crank degrees at its drive ratio, a table in its
// middle, and figures that are not known.
func TestExpectedMovement(t *testing.T) {
	f := func(x float64) *float64 { return &x }
	line := Capsule{Kind: "advance", StartKPa: f(10), FullKPa: f(30), MaxDistDeg: f(8)}
	code := Capsule{Kind: "advance", Code: &Code{Text: "10-30-16", Meaning: []string{"start", "full", "max"},
		VacuumUnit: "kPa", AngleUnit: "crank"}}
	table := Capsule{Kind: "retard", Table: []TablePoint{{20, 2, 4}, {40, 6, 6}}}
	for _, c := range []struct {
		capsule    Capsule
		kPa, moved float64
	}{{line, 5, 0}, {line, 10, 0}, {line, 15, 2}, {line, 30, 8}, {line, 90, 8}, {code, 15, 2}, {table, 0, 0},
		{table, 10, 1.5}, {table, 20, 3}, {table, 30, 4.5}, {table, 70, 6}} {
		m, known, _, err := Expect(c.capsule, 2, c.kPa)
		if err != nil || !known || math.Abs(m.DistDeg-c.moved) > 1e-12 {
			t.Errorf("%+v at %v kPa: %+v %v %v, want %v", c.capsule, c.kPa, m, known, err, c.moved)
		}
	}
	line.FullKPa = nil
	if _, known, asks, err := Expect(line, 2, 20); known || err != nil || len(asks) == 0 {
		t.Errorf("without full: known %v, asks %v, %v", known, asks, err)
	}
	line.FullKPa = f(9)
	if _, _, _, err := Expect(line, 2, 20); err == nil {
		t.Error("full below start is taken")
	}
}
