package knock

import (
	"math"
	"testing"

	"pointsmith/calc/engine/cycle"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within*want) {
		t.Errorf("%s is %.6g, want %.6g", what, got, want)
	}
}

// The law is Douaud & Eyzat's, SAE 780080, with digits from memory; no example of
// it was found in print. These were worked by another hand.
func TestDelay(t *testing.T) {
	for in, want := range map[DelayIn]float64{{100, 1, 1000}: 790.32, {100, 20, 800}: 12.550, {90, 30, 850}: 3.3286,
		{95, 40, 900}: 1.9137, {80, 40, 800}: 1.8080} {
		out, err := Delay(in)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "delay", out.DelayMs, want, 5e-5)
	}
	near(t, "ON 90 against 95, whatever the constants", OfOctane(95)/OfOctane(90), 0.8320, 1e-4)
}

func TestConstantState(t *testing.T) {
	got := Integral(90, 3000, 0, 59.91, 2, func(float64) (float64, float64) { return 30, 850 })
	near(t, "integral after 59.91 degrees", got, 1, 1e-4)
}

// A motored end gas, worked by another hand: r 9, 1 atm and 350 K, polytrope 1.32,
// rod 3.5 cranks, 2000 rpm, from bottom to top.
func TestRamp(t *testing.T) {
	crank := cycle.Crank{Compression: 9, RodRatio: 3.5}
	state := func(deg float64) (atm, kelvin float64) {
		v, _ := crank.Volume(deg)
		return math.Pow(v, -1.32), 350 * math.Pow(v, -0.32)
	}
	for octane, want := range map[float64]float64{70: 0.17874, 80: 0.11348, 90: 0.07602, 100: 0.05312} {
		near(t, "ramp", Integral(octane, 2000, -180, 0, 720, state), want, 1e-4)
	}
	atm, kelvin := state(0)
	near(t, "pressure at TDC", atm, 18.180, 1e-4)
	near(t, "temperature at TDC", kelvin, 707.01, 1e-5)
}
