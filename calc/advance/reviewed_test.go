package advance

import (
	"strings"
	"testing"
)

// The cases of a review by strangers, each as it was found wrong.

// linnetUnit is a governor in the middle of the invented four's book.
var linnetUnit = Model{250, 0.09, 0.55, 7, 13, 0.2, 0.015}

// readBench reads a governor at distributor speeds, to a half degree as a ring is.
func readBench(m Model, falling bool, rpm ...float64) Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, v := range rpm {
		s.Points = append(s.Points,
			ReadingPoint{v, halves(m.reads(v, falling)), directions(true)[map[bool]int{true: 1}[falling]]})
	}
	return s
}

func halves(x float64) float64 { return float64(int(2*x+0.5)) / 2 }

// readCar reads it on the car, engine speeds, to a whole crank degree.
func readCar(m Model, base float64, rpm ...float64) Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, v := range rpm {
		s.Points = append(s.Points, ReadingPoint{v, float64(int(base + 2*m.reads(v/2, false) + 0.5)), "rising"})
	}
	return s
}

var benchSpeeds = []float64{300, 400, 500, 700, 850, 1000, 1250, 1500, 1800, 2000, 2300, 2600}

// inside lists the parts inside that are named, with their sureness.
func namedInside(out JudgeOut) []string {
	var all []string
	for _, f := range out.Findings {
		for _, e := range known {
			if e.kind == kindInside && e.code == f.Code && f.Sureness != "possible" {
				all = append(all, f.Code+" "+f.Part+" "+f.Sureness)
				break
			}
		}
	}
	return all
}

// T1: figures that cannot be are answered or refused, and nothing panics.
func TestFiguresThatCannotBeAreAnswered(t *testing.T) {
	bench := readBench(linnetUnit, false, benchSpeeds...)
	for name, edit := range map[string]func(p *ReadingPoint, i int){
		"one of 45": func(p *ReadingPoint, i int) {
			if i == 3 {
				p.Deg = 45
			}
		},
		"in thousands":    func(p *ReadingPoint, _ int) { p.RPM /= 1000 },
		"crank as dist":   func(p *ReadingPoint, _ int) { p.Deg *= 2 },
		"all of 100":      func(p *ReadingPoint, _ int) { p.Deg = 100 },
		"falling with it": func(p *ReadingPoint, i int) { p.Deg = float64(12 - i) },
	} {
		set := bench
		set.Points = append([]ReadingPoint{}, bench.Points...)
		for i := range set.Points {
			edit(&set.Points[i], i)
		}
		out := judge(t, linnet(), set)
		if out.Verdict == "pass" {
			t.Errorf("%s passes", name)
		}
		spec := linnet()
		if _, err := Fit(FitIn{Spec: &spec, Readings: Sets{set}}); err != nil &&
			!strings.Contains(err.Error(), "readings") {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := Prescribe(PrescribeIn{Spec: spec, Readings: Sets{set}}); err != nil &&
			!strings.Contains(err.Error(), "readings") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// T2: a sound unit under a book of three rows, two, or one is never accused.
func TestASoundUnitUnderASparseBook(t *testing.T) {
	full := linnet().Points
	for name, rows := range map[string][]int{"three": {0, 3, 6}, "two": {1, 6}, "one": {6}} {
		spec := linnet()
		spec.Points = nil
		for _, i := range rows {
			spec.Points = append(spec.Points, full[i])
		}
		out := judge(t, spec, readBench(linnetUnit, false, benchSpeeds...))
		if len(namedInside(out)) > 0 || out.Verdict == "fail" {
			t.Errorf("%s: %s %v", name, out.Verdict, codes(out))
		}
		if p := mend(t, spec, readBench(linnetUnit, false, benchSpeeds...)); len(p.Options) > 0 {
			t.Errorf("%s: a repair is offered: %s", name, p.Summary)
		}
	}
}

// T3: a stop that lets two degrees more through is said, and falling and car
// readings that confirm it are heard.
func TestAWornStopIsNoStrayReading(t *testing.T) {
	worn := linnetUnit
	worn.LimitDistDeg += 2.5
	bench := readBench(worn, false, 300, 450, 700, 1000, 1500, 2000, 2500, 2800)
	bench.Points = append(bench.Points, readBench(worn, true, 2800, 2500, 1500, 1000, 700, 450).Points...)
	out := judge(t, linnet(), bench, readCar(worn, 8, 700, 1500, 2000, 3000, 4000, 5000, 5600))
	if f := find(out, "limit-over"); f == nil || f.Sureness == "possible" || out.Verdict != "fail" ||
		find(out, "wild-reading") != nil {
		t.Errorf("%s %v", out.Verdict, codes(out))
	}
}

// T4: a table that ends before the stop says nothing of what comes after, and
// judge and prescribe do not disagree there.
func TestATableThatEndsBeforeTheStop(t *testing.T) {
	for _, plate := range []*float64{nil, ptr(13.0), ptr(14.0)} {
		spec := linnet()
		spec.Points, spec.LimitDistDeg = spec.Points[:5], plate
		set := readBench(linnetUnit, false, benchSpeeds...)
		out := judge(t, spec, set)
		if f := find(out, "limit-over"); out.Verdict == "fail" || f != nil && f.Sureness != "possible" {
			t.Errorf("%s %v", out.Verdict, codes(out))
		}
		if p := mend(t, spec, set); len(p.Options) > 0 || p.Verdict == "fail" {
			t.Errorf("judged %s, prescribed %s: %s", out.Verdict, p.Verdict, p.Summary)
		}
	}
}

// T5: a secondary that takes up too soon is not called the primary.
func TestASecondaryThatTakesUpTooSoon(t *testing.T) {
	m := linnetUnit
	m.KneeDistDeg -= 4
	set := readBench(m, false, benchSpeeds...)
	set.Points = append(set.Points, readBench(m, true, benchSpeeds...).Points...)
	out := judge(t, linnet(), set)
	for _, said := range namedInside(out) {
		if strings.Contains(said, partPrimary) {
			t.Errorf("%v", said)
		}
	}
	if f := find(out, "curve-late"); f == nil || f.Part != partSecondary {
		t.Errorf("%v", codes(out))
	}
}

// T6: a slip of the key gives no part and no repair; advance does not fall.
func TestASlipOfTheKeyGivesNoRepair(t *testing.T) {
	for name, edit := range map[string]func(points []ReadingPoint){
		"last a tenth":     func(p []ReadingPoint) { p[len(p)-1].Deg /= 10 },
		"one speed × 10":   func(p []ReadingPoint) { p[2].RPM *= 10 },
		"one speed a 10th": func(p []ReadingPoint) { p[7].RPM /= 10 },
		"falls 12 to 2": func(p []ReadingPoint) {
			for i := range p {
				p[i].Deg = 12 - float64(i)*10/float64(len(p)-1)
			}
		},
	} {
		set := readBench(linnetUnit, false, benchSpeeds...)
		edit(set.Points)
		out := judge(t, linnet(), set)
		for _, said := range namedInside(out) {
			if strings.HasSuffix(said, " sure") {
				t.Errorf("%s: %s", name, said)
			}
		}
		if p := mend(t, linnet(), set); len(p.Options) > 0 {
			t.Errorf("%s: a repair is offered: %s (%v)", name, p.Summary, codes(out))
		}
	}
}

// T9: the bench before a repair, the car after it: no part is sure, and no base
// is made up from the two.
func TestBenchBeforeAndCarAfterARepair(t *testing.T) {
	before := linnetUnit
	before.StartDistRPM, before.PrimaryRate = 150, 0.03
	sets := []Set{readBench(before, false, benchSpeeds...),
		readCar(linnetUnit, 8, 600, 900, 1400, 2000, 3000, 4000, 5000)}
	out := judge(t, linnet(), sets...)
	for _, said := range namedInside(out) {
		if strings.HasSuffix(said, " sure") {
			t.Errorf("%v %v", said, codes(out))
		}
	}
	if f := find(out, "base-moved"); f != nil && f.Sureness == "sure" {
		t.Errorf("a base from two curves: %+v", f.Title)
	}
	after, err := Judge(JudgeIn{Spec: linnet(), Readings: sets,
		Work: []Work{{At: 1, Part: "primary spring", What: "replaced"}}})
	if err != nil || after.Verdict != "pass" && after.Verdict != "watch" || len(namedInside(after)) > 0 {
		t.Errorf("with the work said: %v %s %v", err, after.Verdict, codes(after))
	}
}

// T10: right at both ends and high in the middle is no moved ring.
func TestHighInTheMiddleIsNoMovedRing(t *testing.T) {
	spec := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: ptr(9.0),
		Points: table([3]float64{600, 8, 10}, [3]float64{1000, 11, 15}, [3]float64{1600, 18, 22},
			[3]float64{2400, 24, 28}, [3]float64{3200, 28, 32})}
	out := judge(t, spec, benchSet([2]float64{300, 0.5}, [2]float64{500, 4.5}, [2]float64{800, 8}, [2]float64{1200, 9},
		[2]float64{1600, 11}))
	if f := find(out, "bench-zero-moved"); f != nil && f.Sureness != "possible" {
		t.Errorf("%s %v", f.Title, codes(out))
	}
}

// T11: "most 11 at 1800": only a most is known there.
func TestARowWithOnlyAMost(t *testing.T) {
	spec := linnet()
	spec.Points = append(spec.Points[:4:4], SpecPoint{RPM: 1800, MaxDeg: ptr(12.0)})
	m := linnetUnit
	m.LimitDistDeg = 11.5
	if out := judge(t, spec, readBench(m, false, benchSpeeds...)); out.Verdict == "fail" || len(namedInside(out)) > 0 {
		t.Errorf("%s %v", out.Verdict, codes(out))
	}
	m.LimitDistDeg = 15
	m.SecondaryRate = 0.3
	if out := judge(t, spec, readBench(m, false, benchSpeeds...)); out.Verdict == "pass" {
		t.Errorf("15 where the most is 12: %s %v", out.Verdict, codes(out))
	}
	spec.Points[4].MaxDeg = nil
	if _, err := Judge(JudgeIn{Spec: spec, Readings: Sets{readBench(m, false, 300, 700)}}); err == nil ||
		!strings.Contains(err.Error(), "neither a least nor a most") {
		t.Errorf("a row that says nothing: %v", err)
	}
}

// T12: the pipe unsaid and on, the ring read as 90 less the advance, the
// tachometer out by 15 in a hundred: no part inside is sure, no repair is offered.
func TestWhatLooksLikeASpringAndIsNone(t *testing.T) {
	speeds := []float64{600, 900, 1400, 2000, 3000, 4000, 5000}
	pipe := readCar(linnetUnit, 8, speeds...)
	pipe.Vacuum = ""
	for i := 1; i < len(pipe.Points); i++ {
		pipe.Points[i].Deg += 14
	}
	ring := readBench(linnetUnit, false, benchSpeeds...)
	for i := range ring.Points {
		ring.Points[i].Deg = 90 - ring.Points[i].Deg
	}
	tach := readCar(linnetUnit, 8, speeds...)
	for i := range tach.Points {
		tach.Points[i].RPM *= 1.15
	}
	for name, set := range map[string]Set{"pipe": pipe, "ring": ring, "tachometer": tach} {
		out := judge(t, linnet(), set)
		for _, said := range namedInside(out) {
			if strings.HasSuffix(said, " sure") {
				t.Errorf("%s: %s %v", name, said, codes(out))
			}
		}
		if p := mend(t, linnet(), set); name != "tachometer" && len(p.Options) > 0 {
			t.Errorf("%s: a repair is offered: %s", name, p.Summary)
		}
	}
}
