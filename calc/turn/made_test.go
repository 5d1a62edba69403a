package turn

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/advance"
	"pointsmith/calc/coil"
	"pointsmith/calc/vacuum"
)

func num(x float64) *float64 { return &x }

// saloon is an invented four-cylinder of which everything is known.
func saloon() In {
	row := func(rpm, low, high float64) advance.SpecPoint {
		return advance.SpecPoint{RPM: rpm, MinDeg: num(low), MaxDeg: num(high)}
	}
	return In{EngineRPM: 3000, VacuumKPa: num(35), Cylinders: number(4), FiringOrder: []int{1, 3, 4, 2},
		Engine: Engine{BoreMm: num(76.2), StrokeMm: num(80), RodMm: num(146), CompressionRatio: num(8.3),
			Chamber: "bathtub"},
		Spec: &advance.Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded", BaseCrankDeg: num(8),
			BaseToleranceCrankDeg: 1,
			Points: []advance.SpecPoint{row(300, 0, 1), row(700, 4, 6), row(1500, 9, 11),
				row(2500, 12, 14)}},
		Capsule: &vacuum.Capsule{Kind: "advance", StartKPa: num(13.5), FullKPa: num(40.6), MaxDistDeg: num(7)},
		SupplyV: num(13.8), Points: Points{DwellDistDeg: num(60)},
		Coil: coil.Coil{PrimaryOhm: num(3.1), CondenserMicroF: num(0.2)}, Plug: coil.Plug{GapMm: num(0.6)},
		SparkMs: num(1.2)}
}

// anyCar draws a car of which everything is known, within what is met on old cars and a little beyond.
func anyCar(t *rapid.T) In {
	u := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	in := saloon()
	n := rapid.IntRange(1, 12).Draw(t, "cylinders")
	in.Cylinders, in.FiringOrder = &n, nil
	for i := range n {
		in.FiringOrder = append(in.FiringOrder, i+1)
	}
	in.DriveRatio = num(float64(rapid.IntRange(1, 2).Draw(t, "driveRatio")))
	in.EngineRPM, in.VacuumKPa = u("rpm", 300, 7000), num(u("vacuum", 0, 75))
	in.Engine.StrokeMm = num(u("stroke", 50, 120))
	in.Engine.RodMm, in.Engine.CompressionRatio = num(*in.Engine.StrokeMm*u("rod", 1.4, 2.4)), num(u("ratio", 5, 12))
	in.Spec.BaseCrankDeg = num(u("base", -5, 20))
	in.Capsule.MaxDistDeg, in.Capsule.Kind = num(u("capsule", 1, 12)),
		rapid.SampledFrom([]string{"advance", "retard"}).Draw(t, "kind")
	in.Points = Points{DwellPercent: num(u("dwell", 25, 85))}
	in.SupplyV = num(u("volts", 5.5, 15))
	in.Coil.PrimaryOhm, in.Coil.InductanceMilliH = num(u("ohm", 0.8, 4)), num(u("milliH", 3, 12))
	in.Coil.CondenserMicroF = num(u("microF", 0.1, 0.4))
	return in
}

func turn(t testing.TB, in In) Out {
	t.Helper()
	out, err := Turn(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// event gives the one event of that name of No. 1.
func (o Out) event(t fataler, name string) Event {
	var found []Event
	for _, e := range o.Events {
		if e.Name == name && e.Place == 1 {
			found = append(found, e)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d events %q of No. 1 in %+v", len(found), name, o.Events)
	}
	return found[0]
}

// at is the place of an angle in the series.
func (o Out) at(t fataler, deg float64) int {
	for i, x := range o.Series.CrankDeg {
		if math.Abs(x-deg) < 1e-9 {
			return i
		}
	}
	t.Fatalf("no angle of the series stands at %v", deg)
	return 0
}

type fataler interface{ Fatalf(string, ...any) }

// near holds two figures to be one to so many parts of the larger.
func near(t fataler, what string, got, want, part float64) {
	if !(math.Abs(got-want) <= part*(1e-3+max(math.Abs(got), math.Abs(want)))) {
		t.Fatalf("%s: %.12g, want %.12g", what, got, want)
	}
}
