package advance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// pull is m ω² r of one weight in the units of the example: mass in pounds
// over g in in/s², or kilograms; radius in inches or metres.
func pull(mass, rpm, radius float64) float64 {
	w := 2 * math.Pi * rpm / 60
	return mass * w * w * radius
}

const inPerS2 = 32.2 * 12 // g as the British examples take it, in/s²

// TestPublishedGovernors puts printed two-speed examples through the same
// balance the curve model uses. In them "advance" is the balls' outward
// travel and weightGrowth one over the inner radius; forces come back by the
// scale m r (1000 rpm)², and the bell crank turns ball force F into spring
// force 2 F a/b. Bevan's Ex 5 keeps the balls' own weight in (it pulls them
// back by W (r2 − r1) about the pivot); a distributor's weights swing level
// and have no such term. Tolerances are those of the printed digits.
func TestPublishedGovernors(t *testing.T) {
	for _, c := range []struct {
		source                string
		mass, r1, rpm1        float64
		r2, rpm2              float64
		ball, sleeve          float64 // arms of the bell crank
		rate, rateTol         float64
		preload, preloadTol   float64
		midRadius, midRPM, mT float64
		ballWeight            float64
	}{
		{"T. Bevan, Theory of Machines, ch 13 Ex 3 p.466", 3 / inPerS2, 3, 300, 4.5, 318, 4, 2, 84.03, 0.1, 0, 0, 3.5,
			307.84, 0.2, 0},
		{"T. Bevan, Theory of Machines, ch 13 Ex 5 p.470", 3 / inPerS2, 2.5, 240, 2.5 + 0.5*4.5/2, 252, 4.5, 2, 59.3,
			0.05, 0, 0, 0, 0, 0, 3},
		{"B. K. Sarkar, Theory of Machines, ch 7 illus. 8 p.204 (exact pi)", 3, 0.2, 240, 0.2 + 0.004*0.11/0.15, 258,
			0.11, 0.15, 23980, 10, 555.86, 0.05, 0, 0, 0, 0},
	} {
		preload, rate := springThrough(c.rpm1, 0, c.rpm2, c.r2-c.r1, 1/c.r1)
		scale := pull(c.mass, 1000, c.r1)
		lever := 2 * c.ball / c.sleeve
		if got := (rate*scale - c.ballWeight/c.ball) * lever * c.ball / c.sleeve; math.Abs(got-c.rate) > c.rateTol {
			t.Errorf("%s: rate %.5g, printed %.5g", c.source, got, c.rate)
		}
		if got := preload * scale * lever; c.preload > 0 && math.Abs(got-c.preload) > c.preloadTol {
			t.Errorf("%s: preload %.6g, printed %.6g", c.source, got, c.preload)
		}
		if c.midRPM > 0 {
			m := Model{StartDistRPM: 1000 * math.Sqrt(preload), PrimaryRate: rate, LimitDistDeg: 10, KneeDistDeg: 10,
				WeightGrowth: 1 / c.r1}
			if got := m.speedAt(c.midRadius - c.r1); math.Abs(got-c.midRPM) > c.mT {
				t.Errorf("%s: speed at %.3g is %.5g, printed %.5g", c.source, c.midRadius, got, c.midRPM)
			}
		}
	}
}

// B. K. Sarkar, Theory of Machines, ch 7 illus. 7 p.203: preload 1212.8 N and
// top speed 327.97 rpm (exact pi; printed 1217.0 and 327.9 with pi 3.147).
func TestSarkarTopSpeedFromSpringRate(t *testing.T) {
	const mass, ball, sleeve, r1, rpm1, springRate, lift = 3.0, 0.12, 0.08, 0.12, 320.0, 20000.0, 0.015
	scale := pull(mass, 1000, r1)
	lever := 2 * ball / sleeve
	m := Model{StartDistRPM: rpm1, PrimaryRate: springRate * sleeve / ball / lever / scale, LimitDistDeg: 1,
		KneeDistDeg: 1, WeightGrowth: 1 / r1}
	if got := m.springForce(0) * scale * lever; math.Abs(got-1212.8) > 0.1 {
		t.Errorf("preload %.6g N, want 1212.8", got)
	}
	if got := m.speedAt(lift * ball / sleeve); math.Abs(got-327.97) > 0.01 {
		t.Errorf("top speed %.6g rpm, want 327.97", got)
	}
}

// T. Bevan, Theory of Machines, ch 13: a controlling force in proportion to
// radius makes the governor isochronous (data: 1100 N at 35 cm, 550 N at 20 cm
// apart, dom-nitk.vlabs.ac.in post-test): the weights then fly to the stop.
func TestNoSpringGradientFliesToTheStop(t *testing.T) {
	m := Model{StartDistRPM: 300, PrimaryRate: 0.0009, LimitDistDeg: 12, KneeDistDeg: 12, WeightGrowth: 0.01}
	if got := m.at(301); got != 12 {
		t.Errorf("just above the start the advance is %v, want the stop at 12", got)
	}
}

func TestSpeedAndAdvanceAreOneAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		a := rapid.Float64Range(0.01, 0.99).Draw(t, "share") * m.LimitDistDeg
		rpm := m.speedAt(a)
		if got := m.at(rpm); math.Abs(got-a) > 1e-6*(1+a) {
			t.Fatalf("%v needs %v rpm, which gives %v (%+v)", a, rpm, got, m)
		}
	})
}

func TestCurveNeverFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		last := -1.0
		for _, p := range m.curve(4000) {
			if p.DistDeg < last-1e-9 || p.DistDeg > m.LimitDistDeg {
				t.Fatalf("falls or passes the stop at %v rpm: %v after %v", p.DistRPM, p.DistDeg, last)
			}
			last = p.DistDeg
		}
	})
}

// drawModel draws a governor whose curve is stable (springs outrun the growth
// of the pull all the way).
func drawModel(t *rapid.T) Model {
	m := Model{
		StartDistRPM:  rapid.Float64Range(100, 600).Draw(t, "start"),
		PrimaryRate:   rapid.Float64Range(0.03, 0.3).Draw(t, "k1"),
		SecondaryRate: rapid.Float64Range(0, 0.6).Draw(t, "k2"), KneeDistDeg: rapid.Float64Range(1, 8).Draw(t, "knee"),
		LimitDistDeg: rapid.Float64Range(8, 16).Draw(t, "limit"),
		WeightGrowth: rapid.Float64Range(0, 0.03).Draw(t, "growth"),
	}
	for a := 0.0; a < m.LimitDistDeg; a += 0.1 {
		if m.speedAt(a+0.1) <= m.speedAt(a)+0.01 {
			m.WeightGrowth = 0
		}
	}
	return m
}

// springThrough finds the preload and rate of one spring that holds the
// weights at two advances at two speeds, growth g given:
//
//	U1 (1 + g a1) = U0 + k a1,   U2 (1 + g a2) = U0 + k a2
func springThrough(rpm1, a1, rpm2, a2, growth float64) (preload, rate float64) {
	f1, f2 := speedSquared(rpm1)*(1+growth*a1), speedSquared(rpm2)*(1+growth*a2)
	rate = (f2 - f1) / (a2 - a1)
	return f1 - rate*a1, rate
}
