package scatter

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func analyse(t *testing.T, in AnalyseIn) AnalyseOut {
	t.Helper()
	in.Cylinders = len(in.ErrorsDistDeg)
	out, err := Analyse(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.4g, want %g ± %g", what, got, want, tol)
	}
}

func codes(out AnalyseOut) string {
	var list []string
	for _, f := range out.Findings {
		list = append(list, f.Code)
	}
	return strings.Join(list, " ")
}

// TestBushOfTheSix: an invented six before its overhaul, computed apart; the
// tolerance is half the last digit.
func TestBushOfTheSix(t *testing.T) {
	out := analyse(t, AnalyseIn{ErrorsDistDeg: []float64{0, 1.6, 2.1, 0.4, -1.7, -1.9},
		FiringOrder: []int{1, 5, 3, 6, 2, 4}})
	near(t, "mean", out.MeanDistDeg, 0.08, 0.005)
	near(t, "first harmonic", out.FirstHarmonicDistDeg, 2.12, 0.005)
	near(t, "phase", out.PhaseDeg, 96.8, 0.05)
	near(t, "residual", out.ResidualMaxDistDeg, 0.18, 0.005)
	if out.Verdict != "fail" || codes(out) != "one-wave earliest" || out.Earliest.Cylinder != 3 {
		t.Errorf("%s: %s, earliest %+v", out.Verdict, codes(out), out.Earliest)
	}
	after := analyse(t, AnalyseIn{ErrorsDistDeg: []float64{0, .3, .1, -.2, .2, 0}})
	near(t, "first harmonic after overhaul", after.FirstHarmonicDistDeg, 0.09, 0.005)
	if after.Verdict != "pass" || codes(after) != "scatter-good" {
		t.Errorf("after overhaul %s: %s", after.Verdict, codes(after))
	}
}

// TestEarliestOfTheEight: an invented V8; the fourth flash, No. 3, fires 2.4
// crank degrees early, and eats the margins of 4 and 2.1 degrees.
func TestEarliestOfTheEight(t *testing.T) {
	in := AnalyseIn{ErrorsDistDeg: []float64{0, .4, -.3, 1.2, -.5, .2, -.9, .1},
		FiringOrder: []int{1, 8, 4, 3, 6, 5, 7, 2}, MarginCrankDeg: new(4.0)}
	out := analyse(t, in)
	if out.Earliest.Position != 4 || out.Earliest.Cylinder != 3 {
		t.Errorf("earliest %+v", out.Earliest)
	}
	near(t, "earlier than No. 1", out.Earliest.CrankDeg, 2.4, 1e-9)
	near(t, "margin left at 3000", *out.RealMarginCrankDeg, 1.6, 1e-9)
	near(t, "first harmonic", out.FirstHarmonicDistDeg, 0.38, 0.005)
	near(t, "residual", out.ResidualMaxDistDeg, 0.88, 0.005)
	if out.Verdict != "watch" || codes(out) != "lobes earliest" ||
		!strings.Contains(out.Findings[1].Title, "The fourth flash, No. 3, fires 2.4") {
		t.Errorf("%s: %+v", out.Verdict, out.Findings)
	}
	in.MarginCrankDeg = new(2.1)
	out = analyse(t, in)
	near(t, "margin left at 1600", *out.RealMarginCrankDeg, -0.3, 1e-9)
	if out.Verdict != "fail" {
		t.Error("a cylinder past the knock limit does not fail")
	}
	if out.Summary != "The fourth flash, No. 3, is 0.3 crank degrees past the knock limit at this total." ||
		out.Findings[0].Code != "earliest" || out.Findings[0].Verdict != "fail" {
		t.Errorf("the summary does not name what fails: %q %+v", out.Summary, out.Findings)
	}
	in.MarginCrankDeg = nil
	if out = analyse(t, in); out.Summary != "The worst flash stands 1.2 distributor degrees off the mean." {
		t.Errorf("%q", out.Summary)
	}
}

func TestDriveAndBushByRepeats(t *testing.T) {
	still := []float64{0, .2, -.1, .1}
	moved := func(by ...float64) []float64 {
		out := make([]float64, 4)
		for i := range out {
			out[i] = still[i] + by[i%len(by)]
		}
		return out
	}
	drive := analyse(t, AnalyseIn{ErrorsDistDeg: still, Repeats: [][]float64{moved(1.2), moved(-.8), moved(.5)},
		Place: "car"})
	if codes(drive) != "drive-play" || drive.Verdict != "fail" {
		t.Errorf("all together: %s: %s", drive.Verdict, codes(drive))
	}
	if bench := analyse(t, AnalyseIn{ErrorsDistDeg: still, Repeats: [][]float64{moved(1.2), moved(-.8)},
		Place: "bench"}); strings.Contains(codes(bench), "drive") {
		t.Errorf("a bench has no drive of the engine: %s", codes(bench))
	}
	bush := analyse(t, AnalyseIn{ErrorsDistDeg: still, Repeats: [][]float64{moved(.6, -.6), moved(-.6, .6)},
		Place: "car"})
	if !strings.Contains(codes(bush), "repeat-spread") {
		t.Errorf("each for itself: %s", codes(bush))
	}
}

// TestMadePatternsAreFound makes patterns out of a known wave and known lobes
// and wants them back.
func TestMadePatternsAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{4, 6, 8, 12}).Draw(t, "n")
		mean, height := rapid.Float64Range(-1, 1).Draw(t, "mean"), rapid.Float64Range(0, 3).Draw(t, "height")
		phase := rapid.Float64Range(0, 359).Draw(t, "phase")
		alternate := rapid.Float64Range(-.5, .5).Draw(t, "every other lobe")
		in := AnalyseIn{Cylinders: n}
		for i := range n {
			e := mean + height*math.Cos((360*float64(i)/float64(n)-phase)*math.Pi/180) + alternate*float64(1-2*(i%2))
			in.ErrorsDistDeg = append(in.ErrorsDistDeg, e)
		}
		out, err := Analyse(in)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(out.MeanDistDeg-mean) > 1e-9 || math.Abs(out.FirstHarmonicDistDeg-height) > 1e-9 ||
			math.Abs(out.ResidualMaxDistDeg-math.Abs(alternate)) > 1e-9 {
			t.Fatalf("mean %v, wave %v, residual %v", out.MeanDistDeg, out.FirstHarmonicDistDeg, out.ResidualMaxDistDeg)
		}
		if height > 0.01 && math.Abs(math.Remainder(out.PhaseDeg-phase, 360)) > 1e-6 {
			t.Fatalf("phase %v, made with %v", out.PhaseDeg, phase)
		}
		for _, f := range out.Flashes {
			if math.Abs(f.WaveDistDeg+f.ResidualDistDeg-f.ErrorDistDeg) > 1e-9 {
				t.Fatalf("the parts of flash %d do not make the whole", f.Position)
			}
		}
	})
}

func TestRefused(t *testing.T) {
	for name, in := range map[string]AnalyseIn{
		"too few errors":        {Cylinders: 4, ErrorsDistDeg: []float64{0, 1, 2}},
		"the angle, no error":   {Cylinders: 4, ErrorsDistDeg: []float64{0, 90, 180, 270}},
		"a run that is short":   {Cylinders: 4, ErrorsDistDeg: []float64{0, 1, 2, 1}, Repeats: [][]float64{{0, 1}}},
		"an order that is none": {Cylinders: 4, ErrorsDistDeg: []float64{0, 1, 2, 1}, FiringOrder: []int{1, 3, 4, 4}},
	} {
		if _, err := Analyse(in); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}
