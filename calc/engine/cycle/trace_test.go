package cycle

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestTraceWithoutFireIsAdiabatic: without heat and loss the pressure is V^−γ, the adiabatic law of any book of
// thermodynamics.
func TestTraceWithoutFireIsAdiabatic(t *testing.T) {
	angles := []float64{-180, -97.3, -20, -19.999, 0, 1e-6, 33, 179, 180}
	in := CycleIn{CompressionRatio: 9, Gamma: 1.35, BurnStartCrankDeg: -20, BurnDurationCrankDeg: 50,
		RodRatio: num(3.6)}
	pressure, burned, err := Trace(in, angles)
	if err != nil {
		t.Fatal(err)
	}
	w := Wiebe{-20, 50, 5, 2, false}
	for i, deg := range angles {
		v, _ := Crank{9, 3.6}.Volume(deg)
		if want := math.Pow(v, -1.35); math.Abs(pressure[i]/want-1) > 1e-7 {
			t.Errorf("at %v: %v, V^−γ %v", deg, pressure[i], want)
		}
		if x, _ := w.Burned(deg); burned[i] != x {
			t.Errorf("at %v: burned %v, want %v", deg, burned[i], x)
		}
	}
}

// TestTraceIsThatOfCycle: the highest pressure of combustion.cycle stands in the trace at its angle and nowhere higher,
// and p dV along the trace is its work.
func TestTraceIsThatOfCycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := randomCase(func(name string, low, high float64) float64 {
			return rapid.Float64Range(low, high).Draw(t, name)
		})
		in.CutOff = rapid.Bool().Draw(t, "cut off")
		out, err := Cycle(in)
		if err != nil {
			t.Fatal(err)
		}
		if out.PMaxCrankDeg <= -180 || out.PMaxCrankDeg >= 180 {
			return
		}
		var angles []float64
		for deg := -180.0; deg < out.PMaxCrankDeg; deg += 0.5 {
			angles = append(angles, deg)
		}
		top := len(angles)
		for deg := out.PMaxCrankDeg; deg < 180; deg += 0.5 {
			angles = append(angles, deg)
		}
		angles = append(angles, 180)
		pressure, _, err := Trace(in, angles)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(pressure[top]/out.PMaxRatio-1) > 1e-12 {
			t.Fatalf("at %v: %.12g, combustion.cycle %.12g", out.PMaxCrankDeg, pressure[top], out.PMaxRatio)
		}
		work := 0.0
		crank := Crank{in.CompressionRatio, *in.RodRatio}
		for i := range angles[1:] {
			v, _ := crank.Volume(angles[i])
			next, _ := crank.Volume(angles[i+1])
			work += (pressure[i] + pressure[i+1]) / 2 * (next - v)
			if pressure[i] > out.PMaxRatio*(1+1e-9) {
				t.Fatalf("at %v: %v is above the highest, %v", angles[i], pressure[i], out.PMaxRatio)
			}
		}
		if math.Abs(work-out.WorkRatio) > 0.003*max(1, math.Abs(out.WorkRatio)) {
			t.Fatalf("work %v, combustion.cycle %v", work, out.WorkRatio)
		}
	})
}
