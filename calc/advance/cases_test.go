package advance

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// engine is one invented car: the governor its book means, and the style its
// book is printed in.
type engine struct {
	name   string
	sound  Model
	base   float64
	speeds []float64 // the book's speeds, distributor rpm
	half   float64   // half width of the band, distributor degrees
	style  func(e engine) Spec
}

var engines = []engine{
	{"four", Model{250, 0.09, 0.55, 7, 13, 0.2, 0.015}, 8, []float64{300, 450, 700, 1000, 1500, 2000, 2500}, 1, distTable},
	{"six", Model{280, 0.1, 0.35, 7.5, 13.5, 0.1, 0.01}, 6, []float64{400, 500, 750, 1000, 1500, 2000}, 1, totalTable},
	{"eight", Model{330, 0.055, 0.2, 8, 14, 0.2, 0.02}, 10, []float64{350, 500, 750, 1100, 1600, 2100}, 1.25, crankTable},
}

// distTable prints distributor degrees at distributor rpm, base left out.
func distTable(e engine) Spec {
	s := Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded", BaseCrankDeg: &e.base}
	for _, rpm := range e.speeds {
		a := e.sound.at(rpm)
		s.Points = append(s.Points, SpecPoint{rpm, max(0, a-e.half), a + e.half})
	}
	return s
}

// totalTable prints totals in crank degrees at engine rpm, base held.
func totalTable(e engine) Spec {
	s := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: &e.base}
	for _, rpm := range e.speeds {
		a := 2*e.sound.at(rpm) + e.base
		s.Points = append(s.Points, SpecPoint{2 * rpm, a - 2*e.half, a + 2*e.half})
	}
	return s
}

// crankTable prints crank degrees at engine rpm, base left out, from high
// speed to low, with "none below".
func crankTable(e engine) Spec {
	s := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded", BaseCrankDeg: &e.base, NoAdvanceBelowRPM: ptr(2 * (e.sound.StartDistRPM - 60))}
	for _, rpm := range e.speeds {
		a := 2 * e.sound.at(rpm)
		s.Points = append(s.Points, SpecPoint{2 * rpm, max(0, a-2*e.half), a + 2*e.half})
	}
	slices.Reverse(s.Points)
	return s
}

// trialRun is one judged case: the governor as it stands, the base as it
// stands, and how it was read.
type trialRun struct {
	e          engine
	m          Model
	base       float64
	bench, car bool
	falling    bool
	edit       func(spec *Spec, sets []Set, rng *rand.Rand) // a slip of the pen, or the pipe left on
}

// read takes the readings with noise spread evenly over ±1 crank degree.
func (tr trialRun) read(rng *rand.Rand) (Spec, []Set) {
	spec := tr.e.style(tr.e)
	var sets []Set
	noise := func() float64 { return 2*rng.Float64() - 1 }
	if tr.bench {
		s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
		for _, dir := range directions(tr.falling) {
			for _, rpm := range tr.e.speeds {
				s.Points = append(s.Points, ReadingPoint{rpm, max(0, tr.m.reads(rpm, dir == "falling")+noise()/2), dir})
			}
		}
		sets = append(sets, s)
	}
	if tr.car {
		s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
		for _, dir := range directions(tr.falling) {
			for _, rpm := range []float64{800, 1250, 1500, 2000, 2500, 3200, 4200} {
				s.Points = append(s.Points, ReadingPoint{rpm, tr.base + 2*tr.m.reads(rpm/2, dir == "falling") + noise(), dir})
			}
		}
		sets = append(sets, s)
	}
	if tr.edit != nil {
		tr.edit(&spec, sets, rng)
	}
	return spec, sets
}

func directions(falling bool) []string {
	if falling {
		return []string{"rising", "falling"}
	}
	return []string{"rising"}
}

// kind is one kind of case and what finding it means.
type kind struct {
	name  string
	run   func(e engine) trialRun
	found func(out JudgeOut) bool
}

// says: a finding of this code points at this part, or one of two accounts
// that fit alike does (the car alone cannot tell a moved base from a curve).
func says(code, part string) func(JudgeOut) bool {
	return func(out JudgeOut) bool {
		for _, f := range out.Findings {
			if strings.HasSuffix(f.Code, code) && strings.Contains(f.Part, part) {
				return true
			}
		}
		return false
	}
}

func suspects(name string) func(JudgeOut) bool {
	return func(out JudgeOut) bool { return out.Suspicion == name && len(out.Ask) > 0 }
}

func passes(out JudgeOut) bool {
	return out.Shape == "in-band" && out.Suspicion == "none" && (out.Verdict == "pass" || out.Verdict == "watch")
}

func (e engine) with(c Change) Model { return c.applied(e.sound) }

func (e engine) bench(m Model) trialRun { return trialRun{e: e, m: m, base: e.base, bench: true} }
func (e engine) car(m Model) trialRun   { return trialRun{e: e, m: m, base: e.base, car: true} }

// faults of the curve, each judged from the bench, from the car alone, and
// from both.
var faults = []struct {
	name  string
	make  func(e engine) Model
	code  string
	part  string
	shape string
}{
	{"primary spring weak", func(e engine) Model { return e.with(Change{PrimarySpring: ptr(0.4)}) }, "curve-early", "primary", "early"},
	{"primary post slack, spring stretched", func(e engine) Model { return e.with(Change{PrimaryPreload: ptr(0.1), PrimarySpring: ptr(0.6)}) }, "curve-early", "primary", "early"},
	{"secondary takes up late", func(e engine) Model { return e.with(Change{SlackDistDeg: ptr(4.0)}) }, "curve-early", "", "early"},
	{"primary spring too strong", func(e engine) Model { return e.with(Change{PrimarySpring: ptr(2.2)}) }, "curve-late", "primary", "late"},
	{"primary post bent out too far", func(e engine) Model { return e.with(Change{PrimaryPreload: ptr(6.0)}) }, "curve-late", "primary", "late"},
	{"secondary spring too strong", func(e engine) Model { return e.with(Change{SecondarySpring: ptr(3.0)}) }, "curve-late", "", "late"},
	{"weights seized", func(e engine) Model { return e.with(Change{PrimarySpring: ptr(10.0), PrimaryPreload: ptr(900.0)}) }, "curve-stuck", "weights", "stuck"},
	{"stop worn, over its number", func(e engine) Model {
		m := e.with(Change{SecondarySpring: ptr(0.9)})
		m.LimitDistDeg += 4
		m.SecondaryRate *= 0.7
		return m
	}, "limit-over", "stop", "over-limit"},
	{"limit plate too small", func(e engine) Model { m := e.sound; m.LimitDistDeg -= 3.5; return m }, "limit-under", "stop", "under-limit"},
}

func kinds() []kind {
	var all []kind
	for _, f := range faults {
		from := func(place string, run func(e engine) trialRun) {
			all = append(all, kind{f.name + ", " + place, run, func(out JudgeOut) bool {
				return out.Verdict == "fail" && (says(f.code, f.part)(out) || out.Shape == f.shape && find(out, f.code) != nil)
			}})
		}
		from("bench", func(e engine) trialRun { return e.bench(f.make(e)) })
		from("car", func(e engine) trialRun { return e.car(f.make(e)) })
		from("bench and car, base moved", func(e engine) trialRun {
			return trialRun{e: e, m: f.make(e), base: e.base - 7, bench: true, car: true, falling: true}
		})
	}
	return append(append(all, baseKinds()...), trapKinds()...)
}

func baseKinds() []kind {
	moved := func(by float64) func(e engine) trialRun {
		return func(e engine) trialRun { tr := e.car(e.sound); tr.base += by; return tr }
	}
	return []kind{
		{"base early by 4", moved(4.5), func(out JudgeOut) bool { return out.Shape == "base-only" && *out.BaseOffsetCrankDeg > 2 }},
		{"base late by 4", moved(-4.5), func(out JudgeOut) bool { return out.Shape == "base-only" && *out.BaseOffsetCrankDeg < -2 }},
		{"late base behind an early curve, bench and car", func(e engine) trialRun {
			m := e.with(Change{PrimarySpring: ptr(0.35), PrimaryPreload: ptr(0.3)})
			return trialRun{e: e, m: m, base: e.base - 2*m.reads(400, false), bench: true, car: true}
		}, func(out JudgeOut) bool {
			return find(out, "base-hidden") != nil && find(out, "curve-early") != nil
		}},
		{"base set to the book's number by strobe at idle", func(e engine) trialRun {
			tr := e.car(e.sound)
			tr.edit = func(_ *Spec, sets []Set, _ *rand.Rand) {
				sets[0].Points = []ReadingPoint{{2*e.sound.speedAt(1.6) + 10, e.base, "rising"}}
			}
			return tr
		}, func(out JudgeOut) bool { return find(out, "idle-holds-advance") != nil && *out.BaseOffsetCrankDeg < -1 }},
		{"static figure proves the base right under an early curve", func(e engine) trialRun {
			tr := e.car(e.with(Change{PrimarySpring: ptr(0.4)}))
			tr.edit = func(_ *Spec, sets []Set, _ *rand.Rand) { sets[0].StaticCrankDeg = &e.base }
			return tr
		}, func(out JudgeOut) bool {
			return out.Shape == "early" && *out.BaseOffsetCrankDeg == 0 && find(out, "curve-early").Sureness == "sure"
		}},
		{"advance sticks on the way down, bench", func(e engine) trialRun {
			tr := e.bench(e.sound)
			tr.m.FrictionDistDeg, tr.falling = 0, true
			tr.edit = func(_ *Spec, sets []Set, rng *rand.Rand) { hang(sets, e.sound, 1, rng) }
			return tr
		}, says("sticking", "weights")},
		{"advance sticks on the way down, car", func(e engine) trialRun {
			tr := e.car(e.sound)
			tr.falling = true
			tr.edit = func(_ *Spec, sets []Set, rng *rand.Rand) { hang(sets, e.sound, 2, rng) }
			return tr
		}, says("sticking", "weights")},
	}
}

// hang raises the falling readings by four distributor degrees, short of the
// stop.
func hang(sets []Set, m Model, unit float64, rng *rand.Rand) {
	for i, p := range sets[0].Points {
		if p.Direction == "falling" {
			rpm := p.RPM / unit
			sets[0].Points[i].Deg += unit * (min(m.LimitDistDeg, m.at(rpm)+4) - m.at(rpm))
		}
	}
}

func trapKinds() []kind {
	slip := func(run func(e engine) trialRun, edit func(spec *Spec, s *Set)) func(e engine) trialRun {
		return func(e engine) trialRun {
			tr := run(e)
			tr.edit = func(spec *Spec, sets []Set, _ *rand.Rand) { edit(spec, &sets[0]) }
			return tr
		}
	}
	bench := func(e engine) trialRun { return e.bench(e.sound) }
	car := func(e engine) trialRun { return e.car(e.sound) }
	each := func(s *Set, f func(p *ReadingPoint)) {
		for i := range s.Points {
			f(&s.Points[i])
		}
	}
	return []kind{
		{"bench degrees marked as crank", slip(bench, func(_ *Spec, s *Set) { s.AngleUnit = "crank" }), suspects("angle-halved")},
		{"crank degrees marked as distributor", slip(bench, func(_ *Spec, s *Set) { each(s, func(p *ReadingPoint) { p.Deg *= 2 }) }), suspects("angle-doubled")},
		{"distributor rpm marked as engine", slip(bench, func(_ *Spec, s *Set) { s.SpeedUnit = "engine" }), suspects("speed-halved")},
		{"engine rpm marked as distributor", slip(car, func(_ *Spec, s *Set) { s.SpeedUnit = "distributor" }), suspects("speed-doubled")},
		{"table that holds the base taken as without", slip(car, func(spec *Spec, _ *Set) { addBase(spec, -1) }), suspects("base-missing")},
		{"base added to readings that hold it", slip(car, func(spec *Spec, s *Set) { each(s, func(p *ReadingPoint) { p.Deg += *spec.BaseCrankDeg }) }), suspects("base-twice")},
		{"advance alone marked as with base", slip(car, func(spec *Spec, s *Set) { each(s, func(p *ReadingPoint) { p.Deg -= *spec.BaseCrankDeg }) }), suspects("base-missing")},
		{"pipe left on manifold vacuum", slip(car, func(_ *Spec, s *Set) { each(s, func(p *ReadingPoint) { p.Deg += 18 }) }), suspects("vacuum-connected")},
		{"pipe left on a port above the throttle", slip(car, func(_ *Spec, s *Set) {
			each(s, func(p *ReadingPoint) {
				if p.RPM > 1000 {
					p.Deg += 15
				}
			})
		}), suspects("vacuum-connected")},
		{"vacuum stated as connected", slip(car, func(_ *Spec, s *Set) { s.Vacuum = "connected" }), func(out JudgeOut) bool {
			return out.Verdict == "unknown" && find(out, "vacuum-connected-stated") != nil
		}},
		{"one wild reading, bench", slip(bench, func(_ *Spec, s *Set) { s.Points[2].Deg += 6 }), func(out JudgeOut) bool { return find(out, "wild-reading") != nil && out.Verdict == "watch" }},
		{"one wild reading, car", slip(car, func(_ *Spec, s *Set) { s.Points[3].Deg -= 9 }), func(out JudgeOut) bool { return find(out, "wild-reading") != nil && out.Verdict == "watch" }},
		{"rising copied into falling", func(e engine) trialRun {
			tr := e.bench(e.sound)
			tr.edit = func(_ *Spec, sets []Set, _ *rand.Rand) {
				for _, p := range sets[0].Points {
					sets[0].Points = append(sets[0].Points, ReadingPoint{p.RPM, p.Deg, "falling"})
				}
			}
			return tr
		}, func(out JudgeOut) bool { return strings.Contains(strings.Join(out.Ask, " "), "copied") }},
		{"table read while falling, rising readings only", slip(bench, func(spec *Spec, _ *Set) { spec.ListedWhile = "falling" }), func(out JudgeOut) bool { return strings.Contains(strings.Join(out.Ask, " "), "falling") }},
		{"distributor driven at crank speed", func(e engine) trialRun {
			tr := e.bench(e.sound)
			tr.edit = func(spec *Spec, sets []Set, _ *rand.Rand) { spec.DriveRatio = ptr(1.0); oneToOne(spec, &sets[0]) }
			return tr
		}, passes},
		{"healthy, bench", bench, passes},
		{"healthy, car", car, passes},
		{"healthy, both ways, bench and car", func(e engine) trialRun {
			return trialRun{e: e, m: e.sound, base: e.base, bench: true, car: true, falling: true}
		}, passes},
	}
}

// addBase moves a table's figures by its base and swaps what it says of it.
func addBase(spec *Spec, sign float64) {
	if spec.Base == "excluded" { // print it as totals, but leave it marked as without
		for i := range spec.Points {
			spec.Points[i].MinDeg += *spec.BaseCrankDeg / spec.angleFactor()
			spec.Points[i].MaxDeg += *spec.BaseCrankDeg / spec.angleFactor()
		}
		spec.NoAdvanceBelowRPM = nil
		return
	}
	spec.Base = "excluded"
}

// oneToOne rewrites a case for a distributor that turns with the crank: the
// book and the bench then speak of the same shaft.
func oneToOne(spec *Spec, s *Set) {
	if spec.AngleUnit == "crank" {
		for i := range s.Points {
			s.Points[i].Deg *= 2
		}
	}
	if spec.SpeedUnit == "engine" {
		for i := range s.Points {
			s.Points[i].RPM *= 2
		}
	}
}

// TestKindsOfCaseAreFound judges every kind on the three engines with ten
// draws of noise each and prints the share found.
func TestKindsOfCaseAreFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 13))
	all := kinds()
	if len(all) < 40 {
		t.Fatalf("%d kinds of case, want at least 40", len(all))
	}
	found, judged := 0, 0
	for _, k := range all {
		n, of := 0, 0
		var missed []string
		for _, e := range engines {
			for range 10 {
				spec, sets := k.run(e).read(rng)
				out, err := Judge(JudgeIn{Spec: spec, Readings: sets})
				if err != nil {
					t.Fatalf("%s, %s: %v", k.name, e.name, err)
				}
				of++
				if k.found(out) {
					n++
				} else if len(missed) < 3 {
					missed = append(missed, e.name+": "+out.Verdict+" "+out.Shape+" "+out.Suspicion+" "+strings.Join(codes(out), ","))
				}
			}
		}
		t.Logf("%3d of %d  %s", n, of, k.name)
		for _, m := range missed {
			t.Logf("             missed %s", m)
		}
		found, judged = found+n, judged+of
	}
	share := 100 * float64(found) / float64(judged)
	t.Logf("%d kinds, %.1f %% of %d cases found", len(all), share, judged)
	if share < 95 {
		t.Errorf("%.1f %% of cases found, want at least 95", share)
	}
}

// TestCleanCurvesRaiseNoAlarm judges 1,000 sound governors, each somewhere in
// its band, with noise, and counts every fail, wrong shape or suspicion.
func TestCleanCurvesRaiseNoAlarm(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 19))
	alarms := 0
	const draws = 1000
	for i := range draws {
		e := engines[i%3]
		tr := trialRun{e: e, m: e.sound, base: e.base + rng.Float64() - 0.5, bench: i%2 == 0, car: i%2 == 1 || i%5 == 0, falling: i%4 < 2}
		tr.m.StartDistRPM *= 0.97 + 0.06*rng.Float64()
		tr.m.PrimaryRate *= 0.95 + 0.1*rng.Float64()
		tr.m.SecondaryRate *= 0.95 + 0.1*rng.Float64()
		tr.m.LimitDistDeg += rng.Float64() - 0.5
		spec, sets := tr.read(rng)
		out, err := Judge(JudgeIn{Spec: spec, Readings: sets})
		if err != nil {
			t.Fatal(err)
		}
		if out.Verdict == "fail" || out.Shape != "in-band" || out.Suspicion != "none" || find(out, "falling-below-rising") != nil {
			alarms++
			if alarms <= 5 {
				t.Logf("%s: %s %s %s %v", e.name, out.Verdict, out.Shape, out.Suspicion, codes(out))
			}
		}
	}
	t.Logf("%d false alarms in %d clean noisy curves (%.1f %%)", alarms, draws, 100*float64(alarms)/draws)
	if alarms > 3*draws/100 {
		t.Errorf("%d false alarms, want at most 30", alarms)
	}
}
