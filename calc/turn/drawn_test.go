package turn

import (
	"math"
	"testing"

	"pointsmith/calc/coil"
	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/marks"
)

// TestStraightLinesDrawIt: whoever joins the angles by straight lines is nowhere far off: in the middle between two of
// them, current and the first swing to 3 % of their tops, pressure to 1 %, the part burnt to half a hundredth, the
// piston to a tenth of a millimetre. That is less than a line's breadth on a phone (chosen).
func TestStraightLinesDrawIt(t *testing.T) {
	for _, rpm := range []float64{150, 400, 800, 2000, 4000, 6500} {
		for _, cylinders := range []int{1, 4, 8} {
			in := saloon()
			in.EngineRPM, in.Cylinders, in.FiringOrder = rpm, number(cylinders), nil
			in.Points = Points{DwellPercent: num(60)}
			out := turn(t, in)
			s := out.Series
			amps, kV := 0.0, 0.0
			opened := onto(-out.Timing.SparkCrankDeg)
			c := followed(t, in, out)
			pitch := 720 / float64(cylinders)
			open := 0.4 * pitch
			var mids, drawn, burnt []float64
			for i := range s.CrankDeg[1:] {
				from, to := s.CrankDeg[i], s.CrankDeg[i+1]
				mid := (from + to) / 2
				mean := func(list []float64) float64 { return (list[i] + list[i+1]) / 2 }
				if exact := marks.Travel(80, 146, mid); math.Abs(mean(s.PistonMm)-exact) > 0.1 {
					t.Errorf("at %v the piston is drawn at %v mm, is at %v", mid, mean(s.PistonMm), exact)
				}
				if out.Gas != nil && mid > -180 && mid < 180 {
					mids, drawn = append(mids, mid), append(drawn, mean(s.PressureKPa))
					burnt = append(burnt, mean(s.Burnt))
				}
				since := math.Mod(mid-opened+1440, pitch)
				switch {
				case to-from < 1.1*before: // the edge of a sudden change
				case since > open:
					amps = max(amps, math.Abs(mean(s.PrimaryA)-c.ClosedA((since-open)/out.DegPerMs)))
				case since < out.DegPerMs*(c.PeakMs()+c.HalfSwingMs()):
					_, _, exact := c.Open(since / out.DegPerMs)
					kV = max(kV, math.Abs(mean(s.SecondaryKV)-exact))
				}
			}
			if out.Gas != nil {
				gasDrawn(t, out, mids, drawn, burnt)
			}
			if amps > 0.03*out.Coil.CurrentA || kV > 0.03*out.Coil.AvailableKV {
				t.Errorf("%v rpm, %d cylinders, %d angles: current off by %.2f of %.2f A, swing by %.1f of %.1f kV", rpm,
					cylinders, len(s.CrankDeg), amps, out.Coil.CurrentA, kV, out.Coil.AvailableKV)
			}
		}
	}
}

// gasDrawn holds pressures and parts burnt that were drawn against the cycle.
func gasDrawn(t *testing.T, out Out, mids, drawn, burnt []float64) {
	t.Helper()
	exact, burned, err := cycle.Trace(*out.Asked.Cycle, mids)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range exact {
		if math.Abs(burnt[i]-burned[i]) > 0.005 {
			t.Errorf("at %v the part burnt is drawn as %v, is %v", mids[i], burnt[i], burned[i])
		}
		if p *= out.Gas.StartKPa; math.Abs(drawn[i]-p) > 0.01*out.Gas.PMaxKPa {
			t.Errorf("at %v the pressure is drawn as %v kPa, is %v", mids[i], drawn[i], p)
		}
	}
}

// followed is the coil's course, asked of its own room.
func followed(t *testing.T, in In, out Out) coil.Course {
	t.Helper()
	c, err := coil.Follow(coil.SweepIn{SupplyV: *in.SupplyV, Cylinders: *in.Cylinders,
		EngineRPM: []float64{in.EngineRPM}, Coil: in.Coil, Plug: in.Plug,
		Points: coil.Points{DwellPercent: in.Points.DwellPercent}})
	if err != nil {
		t.Fatal(err)
	}
	if c.Row.CurrentA != out.Coil.CurrentA {
		t.Fatalf("%v A, of its own room %v A", out.Coil.CurrentA, c.Row.CurrentA)
	}
	return c
}

// TestTheRodAndTheBoreThatAreNotGiven: 1.75 strokes, and the bore that makes the displacement.
func TestTheRodAndTheBoreThatAreNotGiven(t *testing.T) {
	in := saloon()
	whole := turn(t, in)
	in.Engine.BoreMm = nil
	in.Engine.DisplacementCc = num(math.Pi / 4 * 7.62 * 7.62 * 8 * 4) // cm
	near(t, "highest pressure", turn(t, in).Gas.PMaxKPa, whole.Gas.PMaxKPa, 1e-9)
	in.Engine.RodMm = nil
	s := turn(t, in).Series
	for i, deg := range s.CrankDeg {
		near(t, "piston", s.PistonMm[i], marks.Travel(80, 140, deg), 1e-12)
	}
}
