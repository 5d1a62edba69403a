package advance

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// agrees asks of one case what must hold of any: no method panics, every number
// is finite, the three are refused together where figures are missing, and
// verdicts agree.
func agrees(t *testing.T, spec Spec, sets Sets) {
	t.Helper()
	out, err := Judge(JudgeIn{Spec: spec, Readings: sets})
	finite(t, out)
	fit, _ := Fit(FitIn{Readings: sets, Spec: &spec})
	finite(t, fit)
	mended, bad := Prescribe(PrescribeIn{Spec: spec, Readings: sets})
	finite(t, mended)
	if err != nil && bad == nil {
		t.Fatalf("judge is refused (%v), prescribe answers %s", err, mended.Verdict)
	}
	if err != nil || bad != nil {
		return
	}
	if (out.Verdict == "pass") != (mended.Verdict == "pass") || mended.Verdict == "fail" && out.Verdict != "fail" {
		t.Fatalf("judge says %s (%s), prescribe %s (%s)", out.Verdict, out.Summary, mended.Verdict, mended.Summary)
	}
	if (len(mended.Options) > 0) != (mended.Verdict == "watch") || mended.Summary == "" {
		t.Fatalf("%d options beside %q: %q", len(mended.Options), mended.Verdict, mended.Summary)
	}
	for _, o := range mended.Options {
		if len(o.Steps) == 0 || len(o.Expected) == 0 || o.InBookShare < 0 || o.InBookShare > 1+1e-9 {
			t.Fatalf("option %+v\n%s: %s\n%+v\n%+v", o, mended.Summary, out.Summary, spec, sets)
		}
	}
}

// finite: JSON has no word for a number that is none.
func finite(t *testing.T, out any) {
	t.Helper()
	if _, err := json.Marshal(out); err != nil {
		t.Fatalf("%v in %+v", err, out)
	}
}

// TestJudgeFitAndPrescribeAgree draws units, sound and faulty, and reads them
// with noise, slips and units of every kind.
func TestJudgeFitAndPrescribeAgree(t *testing.T) {
	draws, _ := coverageDraws()
	for i := range draws / 25 {
		rng := rand.New(rand.NewPCG(uint64(i), 83))
		e := engines[i%3]
		m := e.sound
		switch i % 5 {
		case 1:
			m = e.with(Change{PrimarySpring: ptr(0.3 + 2*rng.Float64())})
		case 2:
			m = e.with(Change{SlackDistDeg: ptr(8*rng.Float64() - 4)})
		case 3:
			m.LimitDistDeg += 8*rng.Float64() - 4
		case 4:
			m = trueGovernor(rng)
		}
		tr := trialRun{e: e, m: m, base: e.base + 4*rng.NormFloat64(), bench: i%2 == 0, car: i%2 == 1 || i%4 == 0,
			falling: i%7 == 0}
		spec, sets := tr.read(rng)
		if i%3 == 0 {
			p := sets[0].Points
			p[rng.IntN(len(p))].Deg += 20 * (rng.Float64() - 0.5)
		}
		agrees(t, spec, sets)
	}
}

// TestFiguresTypedWronglyArePassedThrough: readings of 32 degrees and more,
// speeds in thousands, crank degrees typed as the distributor's.
func TestFiguresTypedWronglyArePassedThrough(t *testing.T) {
	edit := func(do func(p *ReadingPoint)) Set {
		s := midBench(0)
		for i := range s.Points {
			do(&s.Points[i])
		}
		return s
	}
	slip := midBench(0)
	slip.Points[2].Deg = 45
	for name, set := range map[string]Set{
		"one slip of 45":                   slip,
		"every reading above 32":           edit(func(p *ReadingPoint) { p.Deg += 32 }),
		"speeds in thousands":              edit(func(p *ReadingPoint) { p.RPM /= 1000 }),
		"crank degrees as the distributor": edit(func(p *ReadingPoint) { p.Deg *= 2.4 }),
		"degrees of 120":                   edit(func(p *ReadingPoint) { p.Deg = 120 }),
		"speeds of one turn":               edit(func(p *ReadingPoint) { p.RPM = 1e-6 }),
	} {
		t.Run(name, func(t *testing.T) {
			agrees(t, linnet(), Sets{set})
			if name == "speeds in thousands" {
				if _, err := Fit(FitIn{Readings: Sets{set}}); err == nil {
					t.Error("a governor was fitted to speeds below 3 rpm")
				}
			}
		})
	}
	fit, err := Fit(FitIn{Readings: Sets{slip}})
	if err != nil || len(fit.Wild) != 1 || fit.Wild[0].Point != 2 || math.Abs(fit.Model.LimitDistDeg-13) > 0.7 {
		t.Errorf("one slip of 45: %v, limit %v, set aside %+v", err, fit.Model.LimitDistDeg, fit.Wild)
	}
}

// TestManyReadingsAreAnswered: 50 sets of 400 readings; how long it takes is
// logged, and measured by the benchmarks.
func TestManyReadingsAreAnswered(t *testing.T) {
	rng := rand.New(rand.NewPCG(89, 97))
	var sets Sets
	for range 50 {
		s := linnetBench()
		s.Points = nil
		for k := range 400 {
			rpm := 150 + 6*float64(k)
			s.Points = append(s.Points, ReadingPoint{rpm,
				engines[0].sound.reads(rpm, k%2 == 1) + 0.25*rng.NormFloat64(), directions(true)[k%2]})
		}
		sets = append(sets, s)
	}
	began := time.Now()
	fit, err := Fit(FitIn{Readings: sets})
	took := time.Since(began)
	if err != nil || math.Abs(fit.Model.LimitDistDeg-13) > 0.3 {
		t.Fatalf("%v, limit %v", err, fit.Model.LimitDistDeg)
	}
	began = time.Now()
	if _, err := Prescribe(PrescribeIn{Spec: linnet(), Readings: sets}); err != nil {
		t.Fatal(err)
	}
	t.Logf("20,000 readings: fit %v, prescribe %v", took, time.Since(began))
}

// FuzzJudgeFitPrescribe feeds all three the same figures, whatever they are.
func FuzzJudgeFitPrescribe(f *testing.F) {
	f.Add(uint8(0), 8.0, 300.0, 1.0, 700.0, 6.0, 2500.0, 13.0, 1.0, 3.0, 1.0)
	f.Add(uint8(3), -5.0, 0.3, 45.0, 0.7, 120.0, 2.5, -60.0, 0.0, 0.1, 12.0)
	f.Add(uint8(21), 0.0, 12000.0, 120.0, 1e-9, 0.0, 6000.0, 32.0, 10.0, 0.0, 90.0)
	f.Add(uint8(46), 20.0, 600.0, 2.0, 1400.0, 12.0, 5000.0, 26.0, 2.0, 2.0, 0.5)
	f.Fuzz(func(t *testing.T, kind uint8, base, r1, d1, r2, d2, r3, d3, stated, width, times float64) {
		bound := func(x, low, high float64) float64 {
			if math.IsNaN(x) {
				return low
			}
			return math.Min(high, math.Max(low, x))
		}
		spec := linnet()
		spec.BaseCrankDeg = ptr(bound(base, -30, 40))
		if kind&1 != 0 {
			spec.Base, spec.BaseToleranceCrankDeg = "included", bound(width, 0, 10)
		}
		if kind&2 != 0 {
			spec.Points = rows([][3]float64{{bound(r1, 1, 12000), bound(d1, -40, 45),
				bound(d1, -40, 45) + bound(width, 0, 10)}})
		}
		set := midBench(0)
		if kind&4 != 0 {
			set = midCar(bound(base, -20, 20), nil)
		}
		if kind&8 != 0 {
			set.AngleUnit, set.SpeedUnit = "crank", "engine"
		}
		if kind&16 != 0 {
			set.Points[3].Deg *= bound(times, -5, 3)
		}
		set.ReadingErrorCrankDeg = ptr(bound(stated, 0, 10))
		for i, p := range [][2]float64{{r1, d1}, {r2, d2}, {r3, d3}} {
			set.Points[2*i] = ReadingPoint{bound(p[0], 1e-9, 12000), bound(p[1], -60, 120),
				directions(true)[int(kind>>5)&1]}
		}
		agrees(t, spec, Sets{set})
	})
}
