package turn

import (
	"encoding/json"
	"errors"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/coil"
	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

// TestExtremesAreAnswered draws every number over the whole of what its field allows, there or not: the answer is
// finite and rises, or a refusal that says what to do.
func TestExtremesAreAnswered(t *testing.T) {
	answered, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := saloon()
		draw := func(name string, to **float64, low, high float64) {
			switch rapid.SampledFrom([]string{"as it is", "none", "low", "high", "between"}).Draw(t, name) {
			case "none":
				*to = nil
			case "low":
				*to = &low
			case "high":
				*to = &high
			case "between":
				*to = num(rapid.Float64Range(low, high).Draw(t, name+" of"))
			}
		}
		in.EngineRPM = rapid.Float64Range(20, 12000).Draw(t, "rpm")
		draw("vacuum", &in.VacuumKPa, 0, 102)
		draw("pipe", &in.PipeKPa, 0, 102)
		n := rapid.IntRange(1, 16).Draw(t, "cylinders")
		in.Cylinders, in.FiringOrder = &n, nil
		in.DriveRatio = num(float64(rapid.IntRange(1, 2).Draw(t, "ratio")))
		draw("bore", &in.Engine.BoreMm, 40, 150)
		draw("stroke", &in.Engine.StrokeMm, 40, 180)
		draw("rod", &in.Engine.RodMm, 60, 400)
		draw("cc", &in.Engine.DisplacementCc, 50, 12000)
		draw("compression", &in.Engine.CompressionRatio, 4, 14)
		draw("base", &in.BaseCrankDeg, -40, 60)
		draw("spark", &in.SparkCrankDeg, -40, 80)
		draw("altitude", &in.Air.AltitudeM, -400, 5000)
		draw("mixture", &in.Mixture, 0.75, 1.4)
		draw("volts", &in.SupplyV, 3, 30)
		in.Points.DwellDistDeg = nil
		draw("dwell", &in.Points.DwellPercent, 0.001, 99.999)
		draw("bounce", &in.Points.BounceDistDeg, 0, 90)
		in.Coil = coil.Coil{}
		draw("ohm", &in.Coil.PrimaryOhm, 0.1, 20)
		draw("milliH", &in.Coil.InductanceMilliH, 0.1, 100)
		draw("turns", &in.Coil.TurnsRatio, 10, 300)
		draw("microF", &in.Coil.CondenserMicroF, 0.01, 5)
		draw("picoF", &in.Coil.SecondaryPicoF, 1, 1000)
		draw("gap", &in.Plug.GapMm, 0.2, 2)
		draw("burns", &in.SparkMs, 1e-6, 10)
		out, err := Turn(in)
		var bad *refuse.Error
		if errors.As(err, &bad) && bad.Do != "" && bad.Limit != "" && bad.Field != "" {
			refused++
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		answered++
		if _, err := json.Marshal(schema.Whole(out)); err != nil {
			t.Fatal(err)
		}
		if len(out.Series.CrankDeg) > mostAngles {
			t.Fatalf("%d angles", len(out.Series.CrankDeg))
		}
		for i, deg := range out.Series.CrankDeg[1:] {
			if deg <= out.Series.CrankDeg[i] {
				t.Fatalf("after %v comes %v", out.Series.CrankDeg[i], deg)
			}
		}
		for i, e := range out.Events {
			if e.CrankDeg < -360 || e.CrankDeg >= 360 || i > 0 && e.CrankDeg < out.Events[i-1].CrankDeg {
				t.Fatalf("%+v", out.Events)
			}
		}
	})
	t.Logf("%d answered, %d refused", answered, refused)
	if answered < 5 || refused < 5 {
		t.Errorf("%d answered, %d refused: that proves nothing", answered, refused)
	}
}
