package turn

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pointsmith/calc/advance"
	"pointsmith/calc/vacuum"
)

// TestSparksFollowTheFiringOrder: 1 3 4 2 of a four fires every 180 degrees (common knowledge of the trade), place by
// place; where the order is not known the place still is.
func TestSparksFollowTheFiringOrder(t *testing.T) {
	in := saloon()
	sparks := func(out Out) (all []Event) {
		first := slices.IndexFunc(out.Events, func(e Event) bool { return e.Name == Spark && e.Place == 1 })
		for i := range out.Events {
			if e := out.Events[(first+i)%len(out.Events)]; e.Name == Spark {
				all = append(all, e)
			}
		}
		return all
	}
	got := sparks(turn(t, in))
	if len(got) != 4 {
		t.Fatalf("%d sparks", len(got))
	}
	for i, e := range got {
		if e.Place != i+1 || e.Cylinder == nil || *e.Cylinder != in.FiringOrder[i] {
			t.Errorf("spark %d is of %+v", i, e)
		}
		near(t, "angle", e.CrankDeg, onto(got[0].CrankDeg+180*float64(i)), 1e-9)
	}
	in.FiringOrder = nil
	out := turn(t, in)
	if got = sparks(out); len(got) != 4 || got[2].Place != 3 || got[2].Cylinder != nil || *got[0].Cylinder != 1 {
		t.Errorf("without an order: %+v", got)
	}
	if !out.leaves("cylinders by number", "firingOrder") {
		t.Errorf("the missing order is not said: %+v", out.LeftOut)
	}
}

// TestALobeOnTheCrankshaftWastesASpark: one lobe turning with the crankshaft opens the points once a turn, so every
// second spark falls on the overlap.
func TestALobeOnTheCrankshaftWastesASpark(t *testing.T) {
	in := saloon()
	in.Cylinders, in.FiringOrder, in.DriveRatio, in.SparkCrankDeg = number(1), nil, num(1), num(25)
	in.Points = Points{DwellPercent: num(40)}
	out := turn(t, in)
	near(t, "spark", out.event(t, Spark).CrankDeg, -25, 1e-12)
	near(t, "wasted spark", out.event(t, WastedSpark).CrankDeg, 335, 1e-12)
	if out.Series.Closed[out.at(t, 335)] {
		t.Error("the points are closed at the wasted spark")
	}
}

func (o Out) leaves(what, field string) bool {
	return slices.ContainsFunc(o.LeftOut, func(l LeftOut) bool {
		return l.What == what && l.Field == field && l.Because != "" && l.Limit != "" && l.Do != ""
	})
}

// TestWhatIsMissingIsLeftOutAlone takes figures away one by one: what hangs on them is empty and said, the rest stays.
func TestWhatIsMissingIsLeftOutAlone(t *testing.T) {
	for name, c := range map[string]struct {
		take        func(*In)
		what, field string
		gone        string // which of the lists are empty
	}{
		"stroke": {func(in *In) { in.Engine.StrokeMm = nil }, "piston", "engine.strokeMm", "piston burnt pressure"},
		"bore":   {func(in *In) { in.Engine.BoreMm = nil }, "burning", "engine.boreMm", "burnt pressure"},
		"compression": {func(in *In) { in.Engine.CompressionRatio = nil }, "burning", "engine.compressionRatio",
			"burnt pressure"},
		"chamber":    {func(in *In) { in.Engine.Chamber = "" }, "burning", "engine.chamber", "burnt pressure"},
		"the engine": {func(in *In) { in.Engine = Engine{} }, "burning", "engine.strokeMm", "piston burnt pressure"},
		"vacuum":     {func(in *In) { in.VacuumKPa = nil }, "burning", "vacuumKPa", "burnt pressure"},
		"curve":      {func(in *In) { in.Spec = nil }, "timing", "spec", "rotor closed amps volts kV burnt pressure"},
		"base": {func(in *In) { in.Spec.BaseCrankDeg = nil }, "timing", "baseCrankDeg",
			"rotor closed amps volts kV burnt pressure"},
		"cylinders": {func(in *In) { in.Cylinders, in.FiringOrder = nil, nil }, "points", "cylinders",
			"closed amps volts kV"},
		"dwell":   {func(in *In) { in.Points = Points{} }, "points", "points.dwellDistDeg", "closed amps volts kV"},
		"volts":   {func(in *In) { in.SupplyV = nil }, "coil", "supplyV", "amps volts kV"},
		"capsule": {func(in *In) { in.Capsule = nil }, "capsule", "capsule", ""},
		"most":    {func(in *In) { in.Capsule.MaxDistDeg = nil }, "capsule", "capsule.startKPa", ""},
		"spark":   {func(in *In) { in.SparkMs = nil }, "spark ends", "sparkMs", ""},
		"starter": {func(in *In) { in.EngineRPM = 150 }, "burning", "engineRPM", "burnt pressure"},
		"overrun": {func(in *In) { in.VacuumKPa = num(85) }, "burning", "vacuumKPa", "burnt pressure"},
		"a thin charge": {func(in *In) {
			in.Engine.CompressionRatio, in.VacuumKPa, in.SparkCrankDeg = num(13), num(0), num(0)
		}, "plug's need", "engine.compressionRatio", ""},
		"nothing": {func(in *In) { *in = In{EngineRPM: 3000} }, "timing", "spec",
			"piston rotor closed amps volts kV burnt pressure"},
	} {
		in := saloon()
		c.take(&in)
		out := turn(t, in)
		if !out.leaves(c.what, c.field) {
			t.Errorf("without %s: not said; %+v", name, out.LeftOut)
		}
		s := out.Series
		for list, n := range map[string]int{"piston": len(s.PistonMm), "rotor": len(s.RotorDistDeg),
			"closed": len(s.Closed), "amps": len(s.PrimaryA), "volts": len(s.PrimaryV), "kV": len(s.SecondaryKV),
			"burnt": len(s.Burnt), "pressure": len(s.PressureKPa)} {
			want := len(s.CrankDeg)
			if slices.Contains(strings.Fields(c.gone), list) {
				want = 0
			}
			if n != want || len(s.CrankDeg) < 100 {
				t.Errorf("without %s: %s has %d figures, want %d", name, list, n, want)
			}
		}
	}
	if whole := turn(t, saloon()); len(whole.LeftOut) != 0 {
		t.Errorf("with everything: %+v", whole.LeftOut)
	}
}

// TestWhatIsTakenIsSaid: nothing from common practice goes in unsaid.
func TestWhatIsTakenIsSaid(t *testing.T) {
	in := saloon()
	in.Engine.RodMm, in.Coil.PrimaryOhm = nil, nil
	all := strings.Join(turn(t, in).Assumed, "\n")
	for _, said := range []string{"engine.rodMm not given: 1.75", "coil.primaryOhm not given: 3", "pipeKPa not given",
		"turnsRatio not given: 65", "for the plug's need, chargeC", "for the burning, cam not given"} {
		if !strings.Contains(all, said) {
			t.Errorf("%q is not said in\n%s", said, all)
		}
	}
	if strings.Contains(all, "stoppedV") || strings.Contains(all, "primaryOhm not given: 3.1") {
		t.Errorf("said without being taken:\n%s", all)
	}
	in = saloon()
	in.EngineRPM = 400
	all = strings.Join(turn(t, in).Assumed, "\n")
	if !strings.Contains(all, "the book gives no figure below its first speed") {
		t.Errorf("that the book is silent is not said:\n%s", all)
	}
}

// TestTheRoadsToTheTiming: the governor that was measured, a table that holds its base, a base that was set, and the
// timing as read.
func TestTheRoadsToTheTiming(t *testing.T) {
	row := func(rpm, deg float64) advance.SpecPoint {
		return advance.SpecPoint{RPM: rpm, MinDeg: num(deg), MaxDeg: num(deg)}
	}
	totals := &advance.Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: num(6),
		Points: []advance.SpecPoint{row(1000, 10), row(3000, 30)}}
	model := &advance.Model{StartDistRPM: 400, PrimaryRate: 0.1, KneeDistDeg: 30, LimitDistDeg: 30}
	unsaid := *totals
	unsaid.BaseCrankDeg = nil
	table := &vacuum.Capsule{Kind: "advance", Table: []vacuum.TablePoint{{KPa: 20, MinDistDeg: 0, MaxDistDeg: 0},
		{KPa: 40, MinDistDeg: 4, MaxDistDeg: 6}}}
	for name, c := range map[string]struct {
		set                  func(*In)
		spark                float64
		base, weights, moved *float64
	}{
		"table with its base": {func(in *In) { in.Spec = totals }, 20, num(6), num(14), nil},
		"another base set":    {func(in *In) { in.Spec, in.BaseCrankDeg = totals, num(9) }, 23, num(9), num(14), nil},
		// Between 700 and 1500 distributor rpm the middle of the table goes from 5 to 10 degrees: 6.875 at 1000.
		"base added to the table": {func(in *In) { in.BaseCrankDeg = num(11) }, 24.75, num(11), num(13.75), nil},
		// (U − U0) / k1 = (1 − 0.16) / 0.1 = 8.4 distributor degrees
		"governor": {func(in *In) { in.Model, in.BaseCrankDeg = model, num(10) }, 26.8, num(10), num(16.8),
			nil},
		"timing as read":           {func(in *In) { in.SparkCrankDeg = num(31) }, 31, nil, nil, nil},
		"table with an unsaid one": {func(in *In) { in.Spec = &unsaid }, 20, nil, nil, nil},
		"a base set for it": {func(in *In) { in.Spec, in.BaseCrankDeg = &unsaid, num(8) }, 20, num(8), num(12),
			nil},
		"a ported pipe shut": {func(in *In) { in.Spec, in.PipeKPa, in.Capsule = totals, num(0), saloon().Capsule },
			20, num(6), num(14), num(0)},
		"a capsule in full": {func(in *In) { in.Spec, in.VacuumKPa, in.Capsule = totals, num(60), saloon().Capsule },
			34, num(6), num(14), num(14)},
		"a table of the capsule": {func(in *In) { in.Spec, in.VacuumKPa, in.Capsule = totals, num(30), table },
			25, num(6), num(14), num(5)},
	} {
		in := saloon()
		in.EngineRPM, in.Capsule = 2000, nil
		c.set(&in)
		timing := turn(t, in).Timing
		near(t, name, timing.SparkCrankDeg, c.spark, 1e-12)
		for part, pair := range map[string][2]*float64{"base": {timing.BaseCrankDeg, c.base},
			"weights": {timing.CentrifugalCrankDeg, c.weights}, "capsule": {timing.VacuumCrankDeg, c.moved}} {
			if (pair[0] == nil) != (pair[1] == nil) {
				t.Errorf("%s: %s is %v, want %v", name, part, pair[0], pair[1])
			} else if pair[0] != nil {
				near(t, name+": "+part, *pair[0], *pair[1], 1e-9)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*In)
		field string
	}{
		"drive ratio":  {func(in *In) { in.DriveRatio = num(1.5) }, "driveRatio"},
		"two ratios":   {func(in *In) { in.Spec.DriveRatio = num(1) }, "spec.driveRatio"},
		"vacuum":       {func(in *In) { in.VacuumKPa = num(101.9) }, "vacuumKPa"},
		"rod":          {func(in *In) { in.Engine.StrokeMm, in.Engine.RodMm = num(180), num(80) }, "engine.rodMm"},
		"dwell":        {func(in *In) { in.Points.DwellDistDeg = num(90) }, "points.dwellDistDeg"},
		"two dwells":   {func(in *In) { in.Points.DwellPercent = num(60) }, "points.dwellDistDeg"},
		"bounce":       {func(in *In) { in.Points.BounceDistDeg = num(60) }, "points.bounceDistDeg"},
		"firing order": {func(in *In) { in.FiringOrder = []int{1, 3, 3, 2} }, "firingOrder[2]"},
		"coil":         {func(in *In) { in.Coil.TotalOhm = num(3) }, "coil.totalOhm"},
		"curve":        {func(in *In) { in.Spec.Points[1].RPM = 300 }, "spec.points[1].rpm"},
		"capsule":      {func(in *In) { in.Capsule.StartKPa = num(50) }, "capsule.startKPa"},
		"total":        {func(in *In) { in.BaseCrankDeg, in.VacuumKPa = num(60), num(60) }, "baseCrankDeg"},
		"model": {func(in *In) { in.Model = &advance.Model{StartDistRPM: 300, LimitDistDeg: 10} },
			"model.primaryRate"},
	} {
		in := saloon()
		c.spoil(&in)
		_, err := Turn(in)
		if err == nil || !strings.HasPrefix(err.Error(), c.field+": ") || !strings.Contains(err.Error(), "; do: ") {
			t.Errorf("%s: %v, want a refusal of %s", name, err, c.field)
		}
	}
}

// TestInletAndExhaust: level pressure on both, burnt gas out and fresh charge in.
func TestInletAndExhaust(t *testing.T) {
	out := turn(t, saloon())
	s := out.Series
	for i, deg := range s.CrankDeg {
		switch {
		case deg < -180 && (s.PressureKPa[i] != out.Gas.StartKPa || s.Burnt[i] != 0):
			t.Fatalf("on the inlet stroke at %v: %v kPa, %v burnt", deg, s.PressureKPa[i], s.Burnt[i])
		case deg > 180 && (math.Abs(s.PressureKPa[i]-1.03*101.325) > 1e-9 || s.Burnt[i] < 0.99):
			t.Fatalf("on the exhaust stroke at %v: %v kPa, %v burnt", deg, s.PressureKPa[i], s.Burnt[i])
		}
	}
}

// TestAFireThatOutlivesItsStroke: where the exhaust valve opens before nine tenths are burnt, there is no such event,
// and it is said.
func TestAFireThatOutlivesItsStroke(t *testing.T) {
	in := saloon()
	in.EngineRPM, in.VacuumKPa, in.BaseCrankDeg = 7500, num(80), num(-40)
	in.Model = &advance.Model{StartDistRPM: 6000, PrimaryRate: 1, LimitDistDeg: 10} // at rest
	in.Capsule.Kind, in.Capsule.MaxDistDeg = "retard", num(9.9)
	out := turn(t, in)
	if !out.leaves(NinetyBurnt, "vacuumKPa") || slices.ContainsFunc(out.Events, func(e Event) bool {
		return e.Name == NinetyBurnt || e.CrankDeg > 360
	}) {
		t.Errorf("%+v\n%+v", out.LeftOut, out.Events)
	}
	if out = turn(t, saloon()); out.leaves(NinetyBurnt, "vacuumKPa") || out.event(t, NinetyBurnt).CrankDeg > 60 {
		t.Errorf("%+v", out.LeftOut)
	}
}

// TestAnswerFitsAPhone: less than 150 kB of JSON at most angles (chosen: a tenth of the engine itself).
func TestAnswerFitsAPhone(t *testing.T) {
	in := saloon()
	in.Cylinders, in.FiringOrder, in.Points = number(12), nil, Points{DwellPercent: num(60)}
	in.EngineRPM = 700
	out := turn(t, in)
	text, err := json.Marshal(out)
	if err != nil || len(text) > 150_000 || len(out.Series.CrankDeg) > 500 || len(out.Series.CrankDeg) < 400 {
		t.Errorf("%d bytes, %d angles, %v", len(text), len(out.Series.CrankDeg), err)
	}
}

func BenchmarkTurn(b *testing.B) {
	in := saloon()
	for b.Loop() {
		if _, err := Turn(in); err != nil {
			b.Fatal(err)
		}
	}
}
