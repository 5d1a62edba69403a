package marks

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.6g, want %g ± %g", what, got, want, tol)
	}
}

func TestArcAndChord(t *testing.T) {
	for _, c := range []struct{ d, deg, thick, arc, chord float64 }{
		{130, 30, 0, 34.03, -1}, {150, 30, 0, 39.27, 38.82}, {165, 12, 0, 17.28, -1}, {150, 30, 0.3, 39.43, -1},
		{120, 1, 0, 1.047, -1}, {180, 1, 0, 1.571, -1}, {150, 36, 0, math.Pi * 15, -1},
	} {
		out, err := Arc(ArcIn{DiameterMm: c.d, CrankDeg: &c.deg, TapeThicknessMm: c.thick})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "arc", out.ArcMm, c.arc, 0.005)
		if c.chord > 0 {
			near(t, "chord", out.ChordMm, c.chord, 0.005)
		}
		back, err := Arc(ArcIn{DiameterMm: c.d, ArcMm: &out.ArcMm, TapeThicknessMm: c.thick})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "angle back", back.CrankDeg, c.deg, 1e-9)
	}
	if _, err := Arc(ArcIn{DiameterMm: 150}); err == nil {
		t.Error("neither angle nor arc was accepted")
	}
	if _, err := Arc(ArcIn{DiameterMm: 150, ArcMm: new(600.0)}); err == nil {
		t.Error("an arc longer than the rim was accepted")
	}
}

func TestPistonTravel(t *testing.T) {
	for _, c := range []struct {
		stroke, rod, deg, want, tol float64
		source                      string
	}{
		{80, 150, 10, 0.77, 0.005, "arithmetic of the slider crank, computed apart"},
		{80, 150, 20, 3.04, 0.005, "the same"},
		{80, 150, 30, 6.70, 0.005, "the same"},
		{86.02, 172, 20, 3.2243, 0.002, "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex 16.1 p. 519, as re-worked in the FOSSEE companion: B = S = 8.60 cm, x = .32243 cm"},
	} {
		out, err := Piston(PistonIn{StrokeMm: c.stroke, RodMm: c.rod, CrankDeg: &c.deg})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "travel ("+c.source+")", out.TravelMm, c.want, c.tol)
	}
}

// TestGuptaWholeExample: 3 litres, six square cylinders, compression 9: bore
// 8.60 cm, clearance 62.5 cm³, volume 81.24 cm³ at 20 degrees after TDC
// (Gupta, Ex 16.1 p. 519).
func TestGuptaWholeExample(t *testing.T) {
	bore := math.Cbrt(4*500/math.Pi) * 10 // mm, from 500 cm³ a cylinder
	near(t, "bore", bore/10, 8.60, 0.005)
	out, err := Piston(PistonIn{StrokeMm: bore, RodMm: 172, CrankDeg: new(20.0)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume", 62.5+math.Pi/4*bore*bore*out.TravelMm/1000, 81.24, 0.01)
}

func TestPistonBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stroke := rapid.Float64Range(30, 150).Draw(t, "stroke")
		rod := stroke * rapid.Float64Range(0.9, 3).Draw(t, "ratio")
		deg := rapid.Float64Range(1, 179).Draw(t, "deg")
		there, err := Piston(PistonIn{StrokeMm: stroke, RodMm: rod, CrankDeg: &deg})
		if err != nil {
			t.Fatal(err)
		}
		back, err := Piston(PistonIn{StrokeMm: stroke, RodMm: rod, TravelMm: &there.TravelMm})
		if err != nil || math.Abs(back.CrankDeg-deg) > 1e-6 {
			t.Fatalf("%v° became %v° (%v)", deg, back.CrankDeg, err)
		}
	})
	if _, err := Piston(PistonIn{StrokeMm: 80, RodMm: 40, CrankDeg: new(10.0)}); err == nil {
		t.Error("a rod as short as the throw was accepted")
	}
}

func TestRingGear(t *testing.T) {
	out, err := Teeth(TeethIn{RingTeeth: 120, Teeth: new(4.0)})
	if err != nil || math.Abs(out.CrankDeg-12) > 1e-9 {
		t.Errorf("%v, %v", out.CrankDeg, err)
	}
	out, err = Teeth(TeethIn{RingTeeth: 135, CrankDeg: new(8.0)})
	if err != nil || math.Abs(out.Teeth-3) > 1e-9 {
		t.Errorf("%v, %v", out.Teeth, err)
	}
}

// TestTrueZero turns a crank with a known true TDC against a stop either side
// of it, reads the old marks there, and wants the known error back.
func TestTrueZero(t *testing.T) {
	out, err := TDC(TDCIn{-14, 10})
	if err != nil || out.TrueZeroCrankDeg != -2 {
		t.Fatalf("%v, %v", out.TrueZeroCrankDeg, err)
	}
	for _, words := range []string{"2.0° before the old zero mark", "more advance than there is",
		"10° before TDC on them is 8.0° before TDC in truth", "set 12.0° on the old marks"} {
		if !strings.Contains(out.Note, words) {
			t.Errorf("the note does not say %q: %s", words, out.Note)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		truth := rapid.Float64Range(-15, 15).Draw(t, "old mark reads this at true TDC")
		half := rapid.Float64Range(20, 60).Draw(t, "stop")
		out, err := TDC(TDCIn{truth - half, truth + half})
		if err != nil || math.Abs(out.TrueZeroCrankDeg-truth) > 1e-9 {
			t.Fatalf("%v for %v (%v)", out.TrueZeroCrankDeg, truth, err)
		}
		// The crank stands 10 degrees before true TDC: the old marks read truth − 10, that is 10 − truth before their
		// zero.
		if onOldMarks := 10 - truth; math.Abs(onOldMarks+out.CorrectionCrankDeg-10) > 1e-9 {
			t.Fatalf("%v on the old marks, corrected by %v", onOldMarks, out.CorrectionCrankDeg)
		}
	})
	for _, in := range []TDCIn{{14, 10}, {-3, 2}, {10, -14}} {
		if _, err := TDC(in); err == nil {
			t.Errorf("%+v was accepted", in)
		}
	}
}
