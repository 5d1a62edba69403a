package turn

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/advance"
	"pointsmith/calc/coil"
	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/marks"
	"pointsmith/calc/points"
	"pointsmith/calc/spark"
	"pointsmith/calc/vacuum"
)

// TestTimesOfATurn: 80, 40 and 20 ms a turn is arithmetic; that a charge burns in 2 to 3 ms, and so over the degrees
// here, is common practice. The spark that burns so long ends there.
func TestTimesOfATurn(t *testing.T) {
	for _, c := range []struct{ rpm, revMs, lowDeg, highDeg float64 }{
		{750, 80, 9, 13.5}, {1500, 40, 18, 27}, {3000, 20, 36, 54},
	} {
		for ms, want := range map[float64]float64{2: c.lowDeg, 3: c.highDeg} {
			in := saloon()
			in.EngineRPM, in.SparkMs = c.rpm, num(ms)
			out := turn(t, in)
			near(t, "a turn, ms", out.RevMs, c.revMs, 1e-12)
			near(t, "degrees of so many ms", out.event(t, SparkEnds).CrankDeg-out.event(t, Spark).CrankDeg, want, 1e-12)
			near(t, "the same by the rate", ms*out.DegPerMs, want, 1e-12)
		}
	}
}

// TestBurningInTheTradesTime: at full throttle the burning after its delay takes about 2 to 3 ms at ordinary speeds
// (common practice); a third either way is allowed, for no two speak of the same beginning and end.
func TestBurningInTheTradesTime(t *testing.T) {
	for _, rpm := range []float64{1500, 2000, 3000} {
		in := saloon()
		in.EngineRPM, in.VacuumKPa = rpm, num(0)
		g := turn(t, in).Gas
		if ms := g.BurnMs - g.DelayMs; ms < 2*2/3.0 || ms > 3*4/3.0 {
			t.Errorf("at %v engine rpm the charge burns for %.2f ms", rpm, ms)
		}
	}
}

func TestShapeOfTheSeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		in.EngineRPM = rapid.Float64Range(20, 12000).Draw(t, "any rpm")
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		s := out.Series
		n := len(s.CrankDeg)
		if n < 145 || n > 500 || s.CrankDeg[0] != -360 || s.CrankDeg[n-1] != 360 {
			t.Fatalf("%d angles from %v to %v", n, s.CrankDeg[0], s.CrankDeg[n-1])
		}
		for i := 1; i < n; i++ {
			if step := s.CrankDeg[i] - s.CrankDeg[i-1]; step <= 0 || step > 5.001 {
				t.Fatalf("from %v to %v", s.CrankDeg[i-1], s.CrankDeg[i])
			}
		}
		lists := map[string][]float64{"pistonMm": s.PistonMm, "shaft": s.ShaftDistDeg, "rotor": s.RotorDistDeg,
			"primaryA": s.PrimaryA, "primaryV": s.PrimaryV, "secondaryKV": s.SecondaryKV}
		if out.Gas != nil {
			lists["burnt"], lists["pressure"] = s.Burnt, s.PressureKPa
		}
		for name, list := range lists {
			if len(list) != n || len(s.Closed) != n {
				t.Fatalf("%s has %d figures for %d angles", name, len(list), n)
			}
			for i, x := range list {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%s is %v at %v", name, x, s.CrankDeg[i])
				}
			}
		}
	})
}

// TestPointsOpenAtTheSparks: closed for the dwell's share, less what bounces, and open from every spark on.
func TestPointsOpenAtTheSparks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		bounce := rapid.SampledFrom([]float64{0, 0.5, 3}).Draw(t, "bounce")
		in.Points.BounceDistDeg = &bounce
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		s := out.Series
		closed, flips := 0.0, 0
		for i := range s.CrankDeg[1:] {
			if s.Closed[i] {
				closed += s.CrankDeg[i+1] - s.CrankDeg[i]
			}
			if s.Closed[i] && !s.Closed[i+1] {
				flips++
			}
		}
		pitch := points.Pitch(*in.Cylinders)
		near(t, "share closed", closed/720, *in.Points.DwellPercent/100-bounce/pitch, 1e-9)
		sparks := 0
		for _, e := range out.Events {
			if e.Name != Spark && e.Name != WastedSpark {
				continue
			}
			sparks++
			i := out.at(t, e.CrankDeg)
			if i > 0 && (s.Closed[i] || !s.Closed[i-1]) {
				t.Fatalf("at the spark at %v the points go from %v to %v", e.CrankDeg, s.Closed[i-1], s.Closed[i])
			}
		}
		if want := 2 * *in.Cylinders / int(*in.DriveRatio); sparks != want || flips != want {
			t.Fatalf("%d sparks, %d openings, want %d", sparks, flips, want)
		}
		if out.event(t, PointsOpen).CrankDeg != out.event(t, Spark).CrankDeg {
			t.Fatalf("points open beside the spark: %+v", out.Events)
		}
		if i := out.at(t, out.event(t, PointsClose).CrankDeg); !s.Closed[i] || i > 0 && s.Closed[i-1] {
			t.Fatalf("at %v the points do not close", s.CrankDeg[i])
		}
		if bounce > 0 {
			apart := out.event(t, PointsClose).CrankDeg - out.event(t, PointsBounce).CrankDeg
			if apart < 0 {
				apart += 720
			}
			near(t, "bounce, crank degrees", apart, bounce**in.DriveRatio, 1e-9)
		}
	})
}

// TestCoilIsThatOfItsOwnMethods: current, volts and kilovolts against coil.charge, coil.break and coil.sweep.
func TestCoilIsThatOfItsOwnMethods(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		s := out.Series
		pitch := points.Pitch(*in.Cylinders)
		dwell := pitch * *in.Points.DwellPercent / 100
		ohm := *in.Coil.PrimaryOhm + 0.1 // leads as coil.sweep takes them
		charge := coil.ChargeIn{SupplyV: *in.SupplyV, TotalOhm: ohm, InductanceMilliH: *in.Coil.InductanceMilliH,
			Cylinders: in.Cylinders, DwellDistDeg: &dwell, EngineRPM: &in.EngineRPM, DriveRatio: in.DriveRatio}
		charged, err := coil.Charge(charge)
		if err != nil {
			t.Fatal(err)
		}
		opens := out.at(t, out.event(t, Spark).CrankDeg)
		near(t, "current at the break", s.PrimaryA[opens], charged.CurrentA, 1e-9)
		broken, err := coil.Break(coil.BreakIn{SupplyV: *in.SupplyV, TotalOhm: ohm,
			InductanceMilliH: *in.Coil.InductanceMilliH, CurrentA: charged.CurrentA,
			CondenserMicroF: *in.Coil.CondenserMicroF, TurnsRatio: 65, SecondaryPicoF: 50})
		if err != nil {
			t.Fatal(err)
		}
		peak := onto(s.CrankDeg[opens] + broken.PeakAtMicroS/1000*out.DegPerMs)
		open := (pitch - dwell) * *in.DriveRatio
		if broken.PeakAtMicroS/1000*out.DegPerMs < open { // else they close before the top
			near(t, "peak of the primary", slices.Max(s.PrimaryV), broken.PeakPrimaryV, 1e-9)
			near(t, "peak of the secondary", slices.Max(s.SecondaryKV), broken.PeakSecondaryKV, 1e-9)
			near(t, "the peak at its angle", s.SecondaryKV[out.at(t, peak)], broken.PeakSecondaryKV, 1e-9)
		}
		again, err := coil.Break(*out.Asked.Break)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "coil.break as asked", again.PeakSecondaryKV, broken.PeakSecondaryKV, 1e-9)
		asked, err := coil.Charge(*out.Asked.Charge)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "coil.charge as asked", asked.CurrentA, charged.CurrentA, 1e-9)
		// Anywhere while closed: as coil.charge after that time; 0 volts.
		i := rapid.IntRange(0, len(s.CrankDeg)-1).Draw(t, "angle")
		since := math.Mod(s.CrankDeg[i]-s.CrankDeg[opens]+1440*pitch, pitch**in.DriveRatio) - open
		if s.Closed[i] && since > 1e-6 {
			charge = coil.ChargeIn{SupplyV: *in.SupplyV, TotalOhm: ohm, InductanceMilliH: *in.Coil.InductanceMilliH,
				ChargeMs: num(since / (6 * in.EngineRPM) * 1000)}
			now, err := coil.Charge(charge)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "current while closed", s.PrimaryA[i], now.CurrentA, 1e-7)
			near(t, "volts while closed", s.PrimaryV[i], 0, 0)
		}
	})
}

// TestRowAndNeedAreThoseOfTheOtherMethods holds the spark at this speed against coil.sweep and spark.required.
func TestRowAndNeedAreThoseOfTheOtherMethods(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		in.Engine.CompressionRatio = num(min(*in.Engine.CompressionRatio, 9)) // beyond it the laws of sparking end
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		manifold := 101.325 - *in.VacuumKPa // at the sea
		cylinder := spark.Cylinder{CompressionRatio: in.Engine.CompressionRatio, ManifoldKPa: &manifold,
			SparkCrankDeg: &out.Timing.SparkCrankDeg}
		swept, err := coil.Sweep(coil.SweepIn{SupplyV: *in.SupplyV, Cylinders: *in.Cylinders,
			EngineRPM: []float64{in.EngineRPM}, Coil: in.Coil, Plug: in.Plug,
			Points: coil.Points{DwellPercent: in.Points.DwellPercent}, Engine: coil.Engine{Cylinder: cylinder},
			DriveRatio: in.DriveRatio})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "available", out.Coil.AvailableKV, swept.Rows[0].AvailableKV, 1e-9)
		near(t, "what a real coil gives", out.Coil.RealLowKV, swept.Rows[0].RealLowKV, 1e-9)
		need, err := spark.Required(spark.RequiredIn{GapMm: *in.Plug.GapMm, Engine: &cylinder})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "the plug's need", out.Fires.HighKV, need.HighKV, 1e-12)
		near(t, "its lower end", out.Fires.LowKV, need.LowKV, 1e-12)
		if us := out.Fires.HighMicroS; (us != nil) != (out.Coil.AvailableKV >= need.HighKV) {
			t.Fatalf("fires after %v µs with %v kV for %v", us, out.Coil.AvailableKV, need.HighKV)
		}
	})
}

// TestBurningIsThatOfItsOwnMethod: burnt and pressure against combustion.cycle, asked for the same.
func TestBurningIsThatOfItsOwnMethod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		if out.Gas == nil {
			t.Fatalf("no burning: %+v", out.LeftOut)
		}
		c, err := cycle.Cycle(*out.Asked.Cycle)
		if err != nil {
			t.Fatal(err)
		}
		s := out.Series
		near(t, "highest pressure", slices.Max(s.PressureKPa), c.PMaxRatio*out.Gas.StartKPa, 1e-9)
		near(t, "its figure", out.Gas.PMaxKPa, c.PMaxRatio*out.Gas.StartKPa, 1e-12)
		i := out.at(t, c.PMaxCrankDeg)
		near(t, "at its angle", s.PressureKPa[i], c.PMaxRatio*out.Gas.StartKPa, 1e-9)
		near(t, "event of the peak", out.event(t, PeakPressure).CrankDeg, c.PMaxCrankDeg, 1e-12)
		near(t, "half burnt", out.event(t, HalfBurnt).CrankDeg, c.CA50CrankDeg, 1e-12)
		for name, part := range map[string]float64{TenBurnt: 0.1, HalfBurnt: 0.5, NinetyBurnt: 0.9} {
			if name == NinetyBurnt && out.leaves(NinetyBurnt, "vacuumKPa") {
				continue
			}
			near(t, name, s.Burnt[out.at(t, out.event(t, name).CrankDeg)], part, 1e-9)
		}
		near(t, "delay", out.Timing.SparkCrankDeg+out.Asked.Cycle.BurnStartCrankDeg, out.Gas.DelayCrankDeg, 1e-9)
		near(t, "as compression begins", s.PressureKPa[out.at(t, -180)], out.Gas.StartKPa, 1e-12)
		// The work of the loop by the trapezoid's rule over the series, of p dV: the same as the method's, to what
		// straight lines lose.
		work, r := 0.0, *in.Engine.CompressionRatio
		for j := out.at(t, -180); s.CrankDeg[j] < 180; j++ {
			work += (s.PressureKPa[j] + s.PressureKPa[j+1]) / 2 * (s.PistonMm[j+1] - s.PistonMm[j])
		}
		v1 := *in.Engine.StrokeMm * r / (r - 1)
		if got := work / v1 / out.Gas.StartKPa; math.Abs(got-c.WorkRatio) > 0.02*max(1, math.Abs(c.WorkRatio)) {
			t.Fatalf("work of the series %v, of combustion.cycle %v", got, c.WorkRatio)
		}
	})
}

// TestPistonIsASliderCrank: against J. B. Heywood, Internal Combustion Engine Fundamentals, eq. 2.5, s = a cos θ +
// √(l² − a² sin² θ) from the crank's axis to the pin (number from memory), and the triangle it solves, l² = a² + s² −
// 2 a s cos θ, the law of cosines; and marks.piston.
func TestPistonIsASliderCrank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		a, l := *in.Engine.StrokeMm/2, *in.Engine.RodMm
		for i, deg := range out.Series.CrankDeg {
			x := out.Series.PistonMm[i]
			sin, cos := math.Sincos(deg * math.Pi / 180)
			near(t, "eq. 2.5", x, l+a-(a*cos+math.Sqrt(l*l-a*a*sin*sin)), 1e-9)
			s := l + a - x
			near(t, "law of cosines", a*a+s*s-2*a*s*cos, l*l, 1e-9)
		}
		near(t, "travel", slices.Max(out.Series.PistonMm), *in.Engine.StrokeMm, 1e-12)
		near(t, "at the top", slices.Min(out.Series.PistonMm), 0, 1e-9)
		deg := math.Abs(out.event(t, HalfBurnt).CrankDeg)
		m, err := marks.Piston(marks.PistonIn{StrokeMm: 2 * a, RodMm: l, CrankDeg: &deg})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "marks.piston", out.Series.PistonMm[out.at(t, out.event(t, HalfBurnt).CrankDeg)], m.TravelMm, 1e-12)
	})
}

// TestSparkIsBaseWeightsAndCapsule: the middle of what the book prints (advance.expect, held to it by its own room's
// test and below), and the capsule's straight line.
func TestSparkIsBaseWeightsAndCapsule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyCar(t)
		ratio := *in.DriveRatio
		out, err := Turn(in)
		if err != nil {
			t.Fatal(err)
		}
		spec := *in.Spec
		spec.DriveRatio = &ratio
		band, err := advance.Printed(spec, in.EngineRPM)
		if err != nil {
			t.Fatal(err)
		}
		total := (band.MinCrankDeg + band.MaxCrankDeg) / 2
		c := in.Capsule
		moved := *c.MaxDistDeg * min(1, max(0, (*in.VacuumKPa-*c.StartKPa)/(*c.FullKPa-*c.StartKPa)))
		if c.Kind == "retard" {
			moved = -moved
		}
		near(t, "spark", out.Timing.SparkCrankDeg, total+ratio*moved, 1e-9)
		near(t, "plate", *out.Timing.PlateDistDeg, moved, 1e-9)
		near(t, "weights", *out.Timing.WeightsDistDeg, (total-*spec.BaseCrankDeg)/ratio, 1e-9)
		near(t, "event", out.event(t, Spark).CrankDeg, -out.Timing.SparkCrankDeg, 1e-9)
		i := out.at(t, out.event(t, Spark).CrankDeg)
		near(t, "rotor at the spark", out.Series.RotorDistDeg[i], -moved, 1e-9)
		near(t, "shaft at the spark", out.Series.ShaftDistDeg[i], -out.Timing.SparkCrankDeg/ratio, 1e-9)
	})
}

// TestTimingIsWithinWhatTheMethodsAllow: least, most and middle of advance.expect and of vacuum.judge, added up.
func TestTimingIsWithinWhatTheMethodsAllow(t *testing.T) {
	in := saloon()
	speeds := []float64{400, 800, 1700, 3000, 6000}
	band, err := advance.Expect(advance.ExpectIn{Spec: *in.Spec, EngineRPM: speeds})
	if err != nil {
		t.Fatal(err)
	}
	for i, kind := range []string{"advance", "retard", "advance", "retard", "advance"} {
		in.EngineRPM, in.VacuumKPa, in.Capsule.Kind = speeds[i], num(15*float64(i)), kind
		judged, err := vacuum.Judge(vacuum.JudgeIn{Capsule: *in.Capsule,
			Readings: []vacuum.Reading{{KPa: *in.VacuumKPa, DistDeg: num(1)}}})
		if err != nil {
			t.Fatal(err)
		}
		low, high := *judged.Points[0].MinDistDeg, *judged.Points[0].MaxDistDeg
		if kind == "retard" {
			low, high = -high, -low
		}
		timing, b := turn(t, in).Timing, band.Bands[i]
		near(t, "least", timing.LowCrankDeg, b.MinCrankDeg+2*low, 1e-9)
		near(t, "most", timing.HighCrankDeg, b.MaxCrankDeg+2*high, 1e-9)
		near(t, "without the capsule", timing.SparkCrankDeg-*timing.VacuumCrankDeg,
			(b.MinCrankDeg+b.MaxCrankDeg)/2, 1e-9)
	}
}
