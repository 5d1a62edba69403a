package truth_test

import (
	"math"
	"math/rand/v2"
	"testing"
)

func random(n uint64) *rand.Rand { return rand.New(rand.NewPCG(20, n)) }

func TestAdvanceNeverFallsAsSpeedRises(t *testing.T) {
	rng := random(1)
	for range 300 / oneIn {
		u := drawUnit(rng)
		if rng.IntN(2) == 0 {
			u = u.rubbing(rng)
		}
		c := u.curve()
		lastUp, lastDown := 0.0, 0.0
		for rpm := 50.0; rpm < 4000; rpm += 10 {
			up, down := c.at(rpm, false), c.at(rpm, true)
			if up < lastUp || down < lastDown || up > down+1e-9 || up < 0 || down > u.limit {
				t.Fatalf("at %.0f: rising %.3f after %.3f, falling %.3f after %.3f", rpm, up, lastUp, down, lastDown)
			}
			lastUp, lastDown = up, down
		}
		if lastUp != u.limit {
			t.Fatalf("the stop at %.2f is never met, only %.2f", u.limit, lastUp)
		}
	}
}

func TestFrictionParts(t *testing.T) {
	rng := random(2)
	for range 200 / oneIn {
		u := drawUnit(rng)
		middle := (u.startRPM() + u.kneeRPM()) / 2
		c := u.curve()
		gap := c.at(middle, true) - c.at(middle, false)
		if gap < 0.02 || gap > 1.6 {
			t.Fatalf("a sound unit's falling less rising is %.3f distributor degrees", gap)
		}
		dry := u
		dry.stiction, dry.rub = 0, 0
		d := dry.curve()
		for rpm := 100.0; rpm < 3000; rpm += 37 {
			if a, b := d.at(rpm, true), d.at(rpm, false); math.Abs(a-b) > 1e-6 {
				t.Fatalf("without friction %.4f falling and %.4f rising at %.0f", a, b, rpm)
			}
			if math.Abs(d.at(rpm, false)-c.free(rpm)) > 1e-6 {
				t.Fatal("the middle curve is not the one without friction")
			}
		}
		slow, fast := u.startRPM()*0.5, u.limitRPM()*1.3
		if c.at(slow, false) != 0 || c.at(fast, false) != u.limit || c.at(fast, true) != u.limit {
			t.Fatal("friction shows at rest or at the stop")
		}
	}
}

// The table against equilibrium found anew at one speed by bisection.
func TestTableIsTheEquilibrium(t *testing.T) {
	rng := random(3)
	for range 200 / oneIn {
		u := drawUnit(rng)
		c, rpm := u.curve(), 0.0
		for rpm < u.startRPM()*1.1 {
			rpm = between(rng, u.startRPM(), u.limitRPM())
		}
		square := math.Pow(perSecond(rpm), 2)
		low, high := 0.0, u.limit
		for range 60 {
			deg := (low + high) / 2
			if square*u.pullAt(deg)*(1-u.rub) > u.primary.torque(deg)+u.secondary.torque(deg)+u.stiction {
				low = deg
			} else {
				high = deg
			}
		}
		if got := c.at(rpm, false); math.Abs(got-low) > 0.01 {
			t.Fatalf("at %.0f the table says %.3f, equilibrium %.3f", rpm, got, low)
		}
	}
}

// Small angles, straight levers: weights of 50 g at 20 mm whose centre lies
// square to the pivot line at 10 mm, rolling one to one, against a spring of
// 1 N/mm with 4 N at rest on an arm of 10 mm square to it. By hand:
//
//	pull 2 × 0.05 × 20 × 10 / 1000 = 0.02 N mm per (rad/s)²
//	start ω² = 4 × 10 / 0.02 = 2000, so 427.0 rpm
//	2 degrees: (4 + 10 × 0.034907) × 10 / 0.02 = 2174.5, so 445.3 rpm
func TestSmallAnglesByHand(t *testing.T) {
	l := link{massKg: 0.05, pivot: 20, com: 10, comAngle: math.Pi / 2, rolls: true, rollRatio: 1}
	far := 1000.0 // a post so far away that the pull keeps its direction
	p := spring{rate: 1, post: far, arm: 10, angle: math.Pi / 2}
	p.free = p.length(0) - 4
	u := unit{link: l, pull: l.pullTable(), pullScale: 1, primary: p, limit: 10}
	c := u.curve()
	if got := u.startRPM(); math.Abs(got-427.05) > 0.1 {
		t.Errorf("start at %.2f, by hand 427.05", got)
	}
	if got := c.at(445.3, false); math.Abs(got-2) > 0.03 {
		t.Errorf("%.3f degrees at 445.3 rpm, by hand 2", got)
	}
	u.stiction = 2 // 2 N mm: a fifth of a newton on the arm, 100 (rad/s)²
	c = u.curve()
	if got := c.at(perMinute(math.Sqrt(2100)), false); got > 0.01 {
		t.Errorf("rising it has moved %.3f at the speed that friction still holds", got)
	}
	if got := c.at(perMinute(math.Sqrt(1905)), true); got <= 0 {
		t.Errorf("falling it is home at %.3f before friction lets go", got)
	}
}

func TestDrawnUnitsAreLikeRealOnes(t *testing.T) {
	rng := random(4)
	for range 500 / oneIn {
		u := drawUnit(rng)
		knee := u.secondary.takesUp() / u.limit
		if s := u.startRPM(); s < 179 || s > 601 {
			t.Fatalf("start %.0f", s)
		}
		if s := u.limitRPM(); s < 899 || s > 2601 || knee < 0.24 || knee > 0.76 || u.limit < 6 || u.limit > 16 {
			t.Fatalf("stop %.2f at %.0f, knee at %.2f of the travel", u.limit, s, knee)
		}
	}
}
