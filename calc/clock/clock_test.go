package clock

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestBurningTime holds the times of a turn and of burning. One turn is
// arithmetic; that the charge takes 2 to 3 ms to burn is common practice.
func TestBurningTime(t *testing.T) {
	for _, c := range []struct{ rpm, revMs, lowDeg, highDeg float64 }{
		{750, 80, 9, 13.5}, {1500, 40, 18, 27}, {3000, 20, 36, 54},
	} {
		low, high := ask(t, c.rpm, 2), ask(t, c.rpm, 3)
		if math.Abs(low.RevMs-c.revMs) > 1e-9 || math.Abs(low.CrankDeg-c.lowDeg) > 1e-9 ||
			math.Abs(high.CrankDeg-c.highDeg) > 1e-9 {
			t.Errorf("at %v engine rpm: turn %v ms, 2 ms = %v°, 3 ms = %v°; want %v", c.rpm, low.RevMs, low.CrankDeg,
				high.CrankDeg, c)
		}
	}
}

// TestPublishedRate: 36 000 crank degrees a second at 6000 rpm (an amateur engineer's page on
// ignition page).
func TestPublishedRate(t *testing.T) {
	if out := ask(t, 6000, 1000); math.Abs(out.CrankDeg-36000) > 1e-6 {
		t.Errorf("6000 rpm turns %v degrees a second, want 36000", out.CrankDeg)
	}
}

func TestTimeAndAngleAreOneAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rpm := rapid.Float64Range(1, 20000).Draw(t, "rpm")
		ms := rapid.Float64Range(0, 1000).Draw(t, "ms")
		there, err := Crank(CrankIn{EngineRPM: rpm, Ms: &ms})
		if err != nil {
			t.Fatal(err)
		}
		back, err := Crank(CrankIn{EngineRPM: rpm, CrankDeg: &there.CrankDeg})
		if err != nil || math.Abs(back.Ms-ms) > 1e-9*(1+ms) {
			t.Fatalf("%v ms became %v ms (%v)", ms, back.Ms, err)
		}
	})
}

func TestBothGivenIsRefused(t *testing.T) {
	one := 1.0
	if _, err := Crank(CrankIn{EngineRPM: 1000, Ms: &one, CrankDeg: &one}); err == nil {
		t.Error("ms and crankDeg together were accepted")
	}
}

func ask(t *testing.T, rpm, ms float64) CrankOut {
	t.Helper()
	out, err := Crank(CrankIn{EngineRPM: rpm, Ms: &ms})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
