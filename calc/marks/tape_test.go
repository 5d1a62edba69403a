package marks

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestTheRightSideOfZero bends the tape round a pulley, turns the pulley as
// the crank turns, and watches which line comes to the pointer when the crank
// is 10 degrees before TDC. Angles on the clock face: clockwise from the top,
// where the pointer is; a point to the right on the tape, seen from the
// front, is clockwise of the zero.
func TestTheRightSideOfZero(t *testing.T) {
	for _, rotation := range []string{"clockwise", "anticlockwise"} {
		for _, carrier := range []string{"pulley", "case"} {
			out, err := Tape(TapeIn{DiameterMm: 150, CrankRotation: rotation, Carrier: carrier, BeforeCrankDeg: 40,
				AfterCrankDeg: 20, PageLengthMm: 190})
			if err != nil {
				t.Fatal(err)
			}
			turn := 1.0
			if rotation == "anticlockwise" {
				turn = -1
			}
			crank := -10 * turn // where the zero (or notch) stands on the clock face, 10 degrees short of the top
			seen := math.NaN()
			for _, l := range out.Lines {
				onRim := l.XMm / 150 * 2 * 180 / math.Pi
				if carrier == "pulley" && math.Abs(crank+onRim) < 1e-6 || carrier == "case" &&
					math.Abs(onRim-crank) < 1e-6 {
					seen = l.CrankDeg
				}
			}
			if seen != 10 {
				t.Errorf("%s, tape on the %s: the strobe shows %v, the crank is at 10 before TDC", rotation,
					carrier, seen)
			}
		}
	}
	for rotation, side := range map[string]string{"clockwise": "right", "anticlockwise": "left"} {
		if out, _ := Tape(TapeIn{DiameterMm: 150, CrankRotation: rotation, BeforeCrankDeg: 40,
			PageLengthMm: 190}); out.BeforeSide != side {
			t.Errorf("%s: before TDC on the %s", rotation, out.BeforeSide)
		}
	}
}

func TestThirtyDegreesMeasure(t *testing.T) {
	out, err := Tape(TapeIn{DiameterMm: 150, CrankRotation: "clockwise", BeforeCrankDeg: 60, AfterCrankDeg: 20,
		PageLengthMm: 190})
	if err != nil {
		t.Fatal(err)
	}
	at := map[float64]float64{}
	for _, l := range out.Lines {
		at[l.CrankDeg] = l.XMm
	}
	near(t, "0 to 30", at[30]-at[0], 39.27, 0.005)
	near(t, "check", out.CheckMm, 39.27, 0.005)
	if len(out.Lines) != 81 || len(out.Pages) != 1 {
		t.Errorf("%d lines on %d pages", len(out.Lines), len(out.Pages))
	}
	thick, err := Tape(TapeIn{DiameterMm: 150, CrankRotation: "clockwise", BeforeCrankDeg: 60, PageLengthMm: 190,
		TapeThicknessMm: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "0 to 30 outside a tape of 0.3 mm", thick.CheckMm, 39.43, 0.005)
}

// TestPagesMakeTheWholeTape lays the pages out again with their overlap and
// wants every line where the whole tape has it.
func TestPagesMakeTheWholeTape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := TapeIn{DiameterMm: rapid.Float64Range(60, 400).Draw(t, "d"),
			CrankRotation:  rapid.SampledFrom([]string{"clockwise", "anticlockwise"}).Draw(t, "turns"),
			BeforeCrankDeg: rapid.Float64Range(1, 180).Draw(t, "before"), AfterCrankDeg: rapid.Float64Range(0,
				180).Draw(t, "after"), StepCrankDeg: rapid.SampledFrom([]float64{1, 2, 5}).Draw(t, "step"),
			PageLengthMm: rapid.Float64Range(60, 300).Draw(t, "page"), OverlapMm: rapid.Float64Range(0, 25).Draw(t,
				"overlap"), EndMm: rapid.Float64Range(0, 20).Draw(t, "end")}
		if in.BeforeCrankDeg+in.AfterCrankDeg < in.StepCrankDeg {
			return
		}
		out, err := Tape(in)
		if err != nil {
			t.Fatal(err)
		}
		found := map[string]float64{}
		for i, p := range out.Pages {
			if p.ToMm-p.FromMm > in.PageLengthMm+1e-9 {
				t.Fatalf("page %d is %v mm long", p.Number, p.ToMm-p.FromMm)
			}
			if i > 0 && math.Abs(out.Pages[i-1].ToMm-p.FromMm-in.OverlapMm) > 1e-6 {
				t.Fatalf("pages %d and %d share %v mm", i, i+1, out.Pages[i-1].ToMm-p.FromMm)
			}
			for _, l := range p.Lines {
				found[fmt.Sprint(l.CrankDeg)] = p.FromMm + l.XMm
			}
		}
		for i, l := range out.Lines {
			x, there := found[fmt.Sprint(l.CrankDeg)]
			if !there || math.Abs(x-l.XMm) > 1e-9 {
				t.Fatalf("the line of %v° is at %v on the pages (%v), at %v on the tape", l.CrankDeg, x, there, l.XMm)
			}
			if i > 0 && l.XMm <= out.Lines[i-1].XMm {
				t.Fatalf("lines do not run left to right at %v°", l.CrankDeg)
			}
		}
	})
}

func TestTapesThatCannotBe(t *testing.T) {
	good := TapeIn{DiameterMm: 150, CrankRotation: "clockwise", BeforeCrankDeg: 40, PageLengthMm: 190}
	for name, spoil := range map[string]func(*TapeIn){
		"more than the rim": func(in *TapeIn) { in.BeforeCrankDeg, in.AfterCrankDeg = 200, 200 },
		"no length":         func(in *TapeIn) { in.BeforeCrankDeg = 0 },
		"lines on lines":    func(in *TapeIn) { in.StepCrankDeg = 0.1 },
		"all overlap":       func(in *TapeIn) { in.PageLengthMm, in.OverlapMm = 60, 50 },
	} {
		in := good
		spoil(&in)
		if _, err := Tape(in); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}
