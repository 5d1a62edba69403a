package advance

import (
	"math"
	"strings"
	"testing"
)

func carSet(points ...[2]float64) Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, p := range points {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	return s
}

func benchSet(points ...[2]float64) Set {
	s := carSet(points...)
	s.Place, s.AngleUnit, s.SpeedUnit, s.Base, s.Vacuum = "bench", "distributor", "distributor", "excluded", ""
	return s
}

// The six is sound and its book begins at 1000: what stands below is no fault.
func TestBelowTheFirstSpeedTheBookIsSilent(t *testing.T) {
	spec, _ := stour()
	for name, set := range map[string]Set{
		"bench from below the start": benchSet([2]float64{200, 0}, [2]float64{325, 0}, [2]float64{500, 2},
			[2]float64{750, 5.5}, [2]float64{1000, 8}, [2]float64{1500, 11}, [2]float64{2000, 13}),
		"car from its idle": carSet([2]float64{650, 6}, [2]float64{800, 6.5}, [2]float64{1000, 10},
			[2]float64{1500, 17}, [2]float64{2000, 22}, [2]float64{3000, 28}, [2]float64{4000, 32}),
		"car, idle within the errors": carSet([2]float64{650, 5.2}, [2]float64{1000, 10}, [2]float64{1500, 17},
			[2]float64{2000, 22}, [2]float64{3000, 28}),
	} {
		out := judge(t, spec, set)
		if out.Verdict != "pass" || out.Shape != "in-band" || len(out.Findings) > 0 {
			t.Errorf("%s: %s %s %v", name, out.Verdict, out.Shape, codes(out))
		}
		if p := out.Points[0]; !p.Silent || !p.Held || p.MaxCrankDeg > 12 || out.Points[len(out.Points)-1].Silent {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

// Of an idle below the table only what is possible is known.
func TestAnIdleWhereTheBookIsSilentProvesNothing(t *testing.T) {
	spec, _ := stour()
	spec.BaseToleranceCrankDeg = 1
	out := judge(t, spec, carSet([2]float64{650, 6}))
	if out.Verdict == "pass" || out.BaseCrankDeg != nil || len(out.Findings) > 0 ||
		!strings.Contains(out.Summary, "no figure") {
		t.Errorf("%s, base %v, %v: %s", out.Verdict, out.BaseCrankDeg, codes(out), out.Summary)
	}
	if p := out.Points[0]; p.Verdict != "pass" || p.MinCrankDeg > 5.1 || p.MaxCrankDeg > 12 {
		t.Errorf("%+v, want from base less tolerance to no more than the first row's most", p)
	}
	for _, wrong := range []float64{2, 20} {
		out := judge(t, spec, carSet([2]float64{650, wrong}))
		if out.Points[0].Verdict != "fail" || out.Verdict == "pass" {
			t.Errorf("%v at 650: %s, %s", wrong, out.Points[0].Verdict, out.Verdict)
		}
		for _, f := range out.Findings {
			if f.Sureness == "sure" {
				t.Errorf("%v at 650: %s is sure from one figure", wrong, f.Code)
			}
		}
	}
}

func TestABookOfOneRowDoesNotFailAGoodCurve(t *testing.T) {
	spec := linnet()
	spec.Points = table([3]float64{2500, 12, 14})
	good := [][2]float64{{300, .5}, {450, 1.5}, {700, 5}, {1000, 8}, {1500, 10}, {2000, 12}, {2500, 13}}
	if out := judge(t, spec, benchSet(good...)); out.Verdict == "fail" || out.Shape != "in-band" ||
		len(out.Findings) > 0 {
		t.Errorf("%s %s %v", out.Verdict, out.Shape, codes(out))
	}
	flat := make([][2]float64, len(good))
	for i, p := range good {
		flat[i] = [2]float64{p[0], 0}
	}
	if out := judge(t, spec, benchSet(flat...)); out.Shape != "stuck" || out.Verdict != "fail" {
		t.Errorf("seized: %s %s", out.Verdict, out.Shape)
	}
}

// More than the first row allows, before it: early, but never sure.
func TestNothingIsSureWhereTheBookIsSilent(t *testing.T) {
	spec, _ := stour()
	out := judge(t, spec, benchSet([2]float64{300, 4.5}, [2]float64{400, 4.5}, [2]float64{500, 3}, [2]float64{750, 5.5},
		[2]float64{1000, 8}, [2]float64{1500, 11}, [2]float64{2000, 13}))
	if out.Verdict == "pass" {
		t.Errorf("%s %s %+v", out.Verdict, out.Shape, out.Findings)
	}
	for _, f := range out.Findings {
		if f.Sureness == "sure" {
			t.Errorf("%s is sure", f.Code)
		}
	}
	out = judge(t, spec, carSet([2]float64{650, 1}, [2]float64{1000, 10}, [2]float64{1500, 17}, [2]float64{2000, 22},
		[2]float64{3000, 28}))
	if find(out, "wild-reading") == nil || find(out, "curve-late") != nil {
		t.Errorf("less than any spring can make it: %v", codes(out))
	}
}

// The contract: outside the given points the band holds the end value and says
// so. Beside it stands what is possible.
func TestExpectSaysThatTheBookIsSilent(t *testing.T) {
	spec, _ := stour()
	out, err := Expect(ExpectIn{Spec: spec, EngineRPM: []float64{650, 1000, 5000}})
	if err != nil {
		t.Fatal(err)
	}
	below, first, above := out.Bands[0], out.Bands[1], out.Bands[2]
	if !below.Held || !below.Silent || below.MinCrankDeg != 8 || below.MaxCrankDeg != 12 || below.Least == nil ||
		abs(*below.Least-6) > 0.5 || !strings.Contains(below.Note, "no figure") {
		t.Errorf("%+v", below)
	}
	if first.Silent || first.Held || above.Silent || !above.Held || above.Most == nil ||
		*above.Most < above.MaxCrankDeg-0.5 {
		t.Errorf("%+v, %+v", first, above)
	}
	spec.NoAdvanceBelowRPM = ptr(900.0)
	out, _ = Expect(ExpectIn{Spec: spec, EngineRPM: []float64{650}})
	if b := out.Bands[0]; b.Silent || b.MinCrankDeg != 6 || b.MaxCrankDeg != 6 {
		t.Errorf("no advance below 900: %+v", b)
	}
}

// Without a base a total below the table can only be too high.
func TestSilentWithoutABase(t *testing.T) {
	spec, _ := stour()
	spec.BaseCrankDeg = nil
	rest := [][2]float64{{1000, 10}, {1500, 17}, {2000, 22}, {3000, 28}}
	for deg, want := range map[float64]string{6: "pass", 15: "fail"} {
		out := judge(t, spec, carSet(append([][2]float64{{650, deg}}, rest...)...))
		if out.Points[0].Verdict != want {
			t.Errorf("%v at 650: %s, want %s", deg, out.Points[0].Verdict, want)
		}
	}
}

// "No advance below 300" and a row at 300: the row is as printed, and below it
// there is none.
func TestARowAtTheSpeedOfNoAdvanceStaysAsPrinted(t *testing.T) {
	spec := linnet()
	spec.NoAdvanceBelowRPM = ptr(300.0)
	out, err := Expect(ExpectIn{Spec: spec, EngineRPM: []float64{500, 600, 750, 900}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][2]float64{{8, 8}, {8, 10}, {8.5, 11.5}, {9, 13}} {
		if b := out.Bands[i]; math.Abs(b.MinCrankDeg-want[0]) > 1e-9 || math.Abs(b.MaxCrankDeg-want[1]) > 1e-9 {
			t.Errorf("%+v, want %v", b, want)
		}
	}
	if p := judge(t, spec, benchSet([2]float64{300, 1}, [2]float64{700, 5}, [2]float64{1500, 10},
		[2]float64{2500, 13})).Points[0]; p.Verdict != "pass" {
		t.Errorf("1 at 300, printed 0 to 1: %+v", p)
	}
}
