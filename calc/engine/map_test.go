package engine

import (
	"math"
	"testing"

	"pointsmith/calc/schema"
)

// fine is the map of the figure: 20 speeds by 15 vacuums.
func fine(coarse bool) MapIn {
	in := MapIn{Engine: ridgeway, Fuel: ron(98), Coarse: coarse}
	for i := range 20 {
		in.EngineRPM = append(in.EngineRPM, 700+float64(i)*200)
	}
	for i := range 15 {
		in.VacuumKPa = append(in.VacuumKPa, float64(i)*4.5)
	}
	return in
}

func TestMapAgainstBest(t *testing.T) {
	for _, coarse := range []bool{false, true} {
		in := fine(coarse)
		out, err := Map(in)
		if err != nil {
			t.Fatal(err)
		}
		worst := [4]float64{}
		for n := range 12 {
			i, j := n*7%15, n*11%20
			one := best(t, BestIn{Engine: in.Engine, Fuel: in.Fuel, EngineRPM: in.EngineRPM[j],
				Load: Load{VacuumKPa: &in.VacuumKPa[i]}})
			r := out.Rows[i]
			for k, pair := range [][2]float64{{r.MBT[j], one.MBTCrankDeg}, {r.MBTLow[j], one.MBTLowCrankDeg},
				{r.KnockLimit[j], one.KnockLimitCrankDeg}, {r.KnockLow[j], one.KnockLimitLowCrankDeg}} {
				worst[k] = max(worst[k], math.Abs(pair[0]-pair[1]))
			}
		}
		t.Logf("coarse %v: map against combustion.best at 12 points: best timing within %.2f, its low end %.2f, knock limit %.2f, its low end %.2f",
			coarse, worst[0], worst[1], worst[2], worst[3])
		if !coarse && (worst[0] > 1.5 || worst[1] > 3 || worst[2] > 2 || worst[3] > 3.5) {
			t.Errorf("off by %v", worst)
		}
	}
}

// Over the map best timing rises with speed and falls with load, and no advice lies
// beyond the low end of the limit.
func TestMapIsMonotone(t *testing.T) {
	out, err := Map(fine(false))
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range out.Rows {
		for j := range r.MBT {
			if j > 0 && r.MBT[j] <= r.MBT[j-1] && r.MBT[j] < 75 {
				t.Errorf("%v kPa: best timing %v at %v rpm, %v before", r.VacuumKPa, r.MBT[j], out.EngineRPM[j],
					r.MBT[j-1])
			}
			if i > 0 && r.MBT[j] <= out.Rows[i-1].MBT[j] && r.MBT[j] < 75 {
				t.Errorf("%v rpm: best timing %v at %v kPa, %v at less", out.EngineRPM[j], r.MBT[j], r.VacuumKPa,
					out.Rows[i-1].MBT[j])
			}
			if r.Advice[j] > r.KnockLow[j] || r.MBTLow[j] > r.MBT[j] || r.MBT[j] > r.MBTHigh[j] ||
				r.KnockLow[j] > r.KnockHigh[j] {
				t.Errorf("row %v, speed %v: %+v", i, j, r)
			}
		}
	}
}

func TestMapHoldsWhatWasHeard(t *testing.T) {
	in := fine(false)
	in.Records.Knock = []KnockRecord{knockAt(3100, 30, "trace")}
	out, err := Map(in)
	if err != nil {
		t.Fatal(err)
	}
	for j, rpm := range in.EngineRPM {
		if rpm <= 3100 && (out.Rows[0].KnockHigh[j] > 30 || out.Rows[0].Advice[j] > 28) {
			t.Errorf("heard at 30 at 3100 rpm; at %v rpm limit to %v, advice %v", rpm, out.Rows[0].KnockHigh[j],
				out.Rows[0].Advice[j])
		}
	}
}

// What no engine or air has is refused, with the field, its limit and what to do.
func TestRefusals(t *testing.T) {
	const engine = `"engine":{"boreMm":88,"strokeMm":71,"compressionRatio":8.8,"chamber":"wedge"},`
	const fuel = `"fuel":{"octane":95,"scale":"RON"},`
	for name, c := range map[string][2]string{
		"compression 30": {`{"engine":{"boreMm":88,"strokeMm":71,"compressionRatio":30,"chamber":"wedge"},` + fuel +
			`"engineRPM":2000,"load":1}`, "engine.compressionRatio"},
		"octane 20": {`{` + engine + `"fuel":{"octane":20,"scale":"RON"},"engineRPM":2000,"load":1}`,
			"fuel.octane"},
		"octane unsaid": {`{` + engine + `"fuel":{"scale":"RON"},"engineRPM":2000,"load":1}`,
			"fuel.octane"},
		"scale unsaid": {`{` + engine + `"fuel":{"octane":95},"engineRPM":2000,"load":1}`,
			"fuel.scale"},
		"speed 0":                        {`{` + engine + fuel + `"engineRPM":0,"load":1}`, "engineRPM"},
		"vacuum above the air at 3000 m": {`{` + engine + fuel + `"air":{"altitudeM":3000},"engineRPM":2000,"vacuumKPa":75}`, "vacuumKPa"},
		"load twice":                     {`{` + engine + fuel + `"engineRPM":2000,"vacuumKPa":20,"load":0.8}`, "load"},
		"no size": {`{"engine":{"compressionRatio":8.8,"chamber":"wedge"},` + fuel +
			`"engineRPM":2000,"load":1}`, "engine.boreMm"},
		"short rod":             {`{"engine":{"boreMm":88,"strokeMm":71,"rodMm":70,"compressionRatio":8.8,"chamber":"wedge"},` + fuel + `"engineRPM":2000,"load":1}`, "engine.rodMm"},
		"record beyond the air": {`{` + engine + fuel + `"engineRPM":2000,"load":1,"records":{"knock":[{"engineRPM":2000,"vacuumKPa":99.9,"air":{"altitudeM":2000},"crankDeg":30,"heard":"trace",` + fuel[:len(fuel)-1] + `}]}}`, "records.knock[0].vacuumKPa"},
	} {
		in, err := schema.Decode[BestIn]([]byte(c[0]))
		if err == nil {
			_, err = Best(in)
		}
		bad := refusal(err)
		if bad == nil || bad.Field != c[1] || bad.Limit == "" || bad.Do == "" {
			t.Errorf("%s: %v, want %s refused", name, err, c[1])
		}
	}
	unsorted := fine(true)
	unsorted.EngineRPM[3] = 100
	if _, err := Map(unsorted); err == nil {
		t.Error("speeds that do not rise are taken")
	}
}

func BenchmarkCycleAtOneSpark(b *testing.B) {
	y := bodyOf(b, ridgeway).cylinder(conditionOf(3000, 1, ron(98), Air{}), middle)
	for b.Loop() {
		y.run(32)
	}
}

func BenchmarkBestTimingOfOneDraw(b *testing.B) {
	engine, c := bodyOf(b, ridgeway), conditionOf(3000, 1, ron(98), Air{})
	for b.Loop() {
		engine.profile(c, middle)
	}
}

func BenchmarkBestWithRange(b *testing.B) {
	in := ask(3000)
	for b.Loop() {
		best(b, in)
	}
}

func BenchmarkBestWithRecords(b *testing.B) {
	in := ask(2300, knockAt(3000, 38, "trace"), knockAt(1600, 24, "trace"))
	for b.Loop() {
		best(b, in)
	}
}

func benchmarkMap(b *testing.B, coarse bool) {
	in := fine(coarse)
	for b.Loop() {
		if _, err := Map(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMap20By15(b *testing.B)       { benchmarkMap(b, false) }
func BenchmarkMap20By15Coarse(b *testing.B) { benchmarkMap(b, true) }
