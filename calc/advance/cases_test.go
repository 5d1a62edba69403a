package advance

import (
	"math/rand/v2"
	"strings"
	"testing"
)

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

// faults of the curve, each judged from the bench, from the car alone, and
// from both.
var faults = []struct {
	name  string
	make  func(e engine) Model
	code  string
	part  string
	shape string
}{
	{"primary spring weak", func(e engine) Model {
		return e.with(Change{PrimarySpring: ptr(0.4)})
	}, "curve-early", "primary", "early"},
	{"primary post slack, spring stretched", func(e engine) Model {
		return e.with(Change{PrimaryPreload: ptr(0.1), PrimarySpring: ptr(0.6)})
	}, "curve-early", "primary", "early"},
	{"secondary takes up late", func(e engine) Model {
		return e.with(Change{SlackDistDeg: ptr(4.0)})
	}, "curve-early", "", "early"},
	{"primary spring too strong", func(e engine) Model {
		return e.with(Change{PrimarySpring: ptr(2.2)})
	}, "curve-late", "primary", "late"},
	{"primary post bent out too far", func(e engine) Model {
		return e.with(Change{PrimaryPreload: ptr(6.0)})
	}, "curve-late", "primary", "late"},
	{"secondary spring too strong", func(e engine) Model {
		return e.with(Change{SecondarySpring: ptr(3.0)})
	}, "curve-late", "", "late"},
	{"weights seized", func(e engine) Model {
		return e.with(Change{PrimarySpring: ptr(10.0), PrimaryPreload: ptr(900.0)})
	}, "curve-stuck", "weights", "stuck"},
	{"stop worn, over its number", func(e engine) Model {
		m := e.with(Change{SecondarySpring: ptr(0.9)})
		m.LimitDistDeg += 4
		m.SecondaryRate *= 0.7
		return m
	}, "limit-over", "stop", "over-limit"},
	{"limit plate too small", func(e engine) Model {
		m := e.sound
		m.LimitDistDeg -= 3.5
		return m
	}, "limit-under", "stop", "under-limit"},
}

func kinds() []kind {
	var all []kind
	for _, f := range faults {
		from := func(place string, run func(e engine) trialRun) {
			all = append(all, kind{f.name + ", " + place, run, func(out JudgeOut) bool {
				return out.Verdict == "fail" &&
					(says(f.code, f.part)(out) || out.Shape == f.shape && find(out, f.code) != nil)
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
		{"base early by 4", moved(4.5), func(out JudgeOut) bool {
			return out.Shape == "base-only" && out.BaseOffsetCrankDeg != nil && *out.BaseOffsetCrankDeg > 2
		}},
		{"base late by 4", moved(-4.5), func(out JudgeOut) bool {
			return out.Shape == "base-only" && out.BaseOffsetCrankDeg != nil && *out.BaseOffsetCrankDeg < -2
		}},
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
		}, func(out JudgeOut) bool {
			// one speed holds base and advance in one sum
			return find(out, "idle-holds-advance") != nil && out.BaseCrankDeg == nil
		}},
		{"static figure proves the base right under an early curve", func(e engine) trialRun {
			tr := e.car(e.with(Change{PrimarySpring: ptr(0.4)}))
			tr.edit = func(_ *Spec, sets []Set, _ *rand.Rand) { sets[0].StaticCrankDeg = &e.base }
			return tr
		}, func(out JudgeOut) bool {
			return out.Shape == "early" && out.BaseOffsetCrankDeg != nil && abs(*out.BaseOffsetCrankDeg) < 1 &&
				find(out, "curve-early").Sureness == "sure"
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
		{"bench degrees marked as crank", slip(bench, func(_ *Spec, s *Set) { s.AngleUnit = "crank" }),
			suspects("angle-halved")},
		{"crank degrees marked as distributor", slip(bench, func(_ *Spec, s *Set) {
			each(s, func(p *ReadingPoint) { p.Deg *= 2 })
		}), suspects("angle-doubled")},
		{"distributor rpm marked as engine", slip(bench, func(_ *Spec, s *Set) {
			s.SpeedUnit = "engine"
		}), suspects("speed-halved")},
		{"engine rpm marked as distributor", slip(car, func(_ *Spec, s *Set) {
			s.SpeedUnit = "distributor"
		}), suspects("speed-doubled")},
		{"table that holds the base taken as without", slip(car, func(spec *Spec, _ *Set) { addBase(spec, -1) }),
			suspects("base-missing")},
		{"base added to readings that hold it", slip(car, func(spec *Spec, s *Set) {
			each(s, func(p *ReadingPoint) { p.Deg += *spec.BaseCrankDeg })
		}), suspects("base-twice")},
		{"advance alone marked as with base", slip(car, func(spec *Spec, s *Set) {
			each(s, func(p *ReadingPoint) { p.Deg -= *spec.BaseCrankDeg })
		}), suspects("base-missing")},
		{"pipe left on manifold vacuum", slip(car, func(_ *Spec, s *Set) {
			each(s, func(p *ReadingPoint) { p.Deg += 18 })
		}), suspects("vacuum-connected")},
		{"pipe left on a port above the throttle", slip(car, func(_ *Spec, s *Set) {
			each(s, func(p *ReadingPoint) {
				if p.RPM > 1000 {
					p.Deg += 15
				}
			})
		}), suspects("vacuum-connected")},
		{"vacuum stated as connected", slip(car, func(_ *Spec, s *Set) {
			s.Vacuum = "connected"
		}), func(out JudgeOut) bool {
			return out.Verdict == "unknown" && find(out, "vacuum-connected-stated") != nil
		}},
		{"one wild reading, bench", slip(bench, func(_ *Spec, s *Set) { s.Points[2].Deg += 6 }),
			func(out JudgeOut) bool {
				return find(out, "wild-reading") != nil && out.Verdict == "watch"
			}},
		{"one wild reading, car", slip(car, func(_ *Spec, s *Set) { s.Points[3].Deg -= 9 }), func(out JudgeOut) bool {
			return find(out, "wild-reading") != nil && out.Verdict == "watch"
		}},
		{"rising copied into falling", func(e engine) trialRun {
			tr := e.bench(e.sound)
			tr.edit = func(_ *Spec, sets []Set, _ *rand.Rand) {
				for _, p := range sets[0].Points {
					sets[0].Points = append(sets[0].Points, ReadingPoint{p.RPM, p.Deg, "falling"})
				}
			}
			return tr
		}, func(out JudgeOut) bool { return strings.Contains(strings.Join(out.Ask, " "), "copied") }},
		{"table read while falling, rising readings only", slip(bench, func(spec *Spec, _ *Set) {
			spec.ListedWhile = "falling"
		}), func(out JudgeOut) bool { return strings.Contains(strings.Join(out.Ask, " "), "falling") }},
		{"distributor driven at crank speed", func(e engine) trialRun {
			tr := e.bench(e.sound)
			tr.edit = func(spec *Spec, sets []Set, _ *rand.Rand) {
				spec.DriveRatio = ptr(1.0)
				oneToOne(spec, &sets[0])
			}
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
			*spec.Points[i].MinDeg += *spec.BaseCrankDeg / spec.angleFactor()
			*spec.Points[i].MaxDeg += *spec.BaseCrankDeg / spec.angleFactor()
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

// TestKindsOfCaseAreFound judges every kind on the three engines with some
// draws of noise each and prints the share found.
func TestKindsOfCaseAreFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 13))
	all := kinds()
	if len(all) < 40 {
		t.Fatalf("%d kinds of case, want at least 40", len(all))
	}
	type judgedCase struct {
		k      int
		e      engine
		spec   Spec
		sets   []Set
		missed string
	}
	var cases []judgedCase
	for k := range all {
		for _, e := range kindEngines(k) {
			for range kindDraws() {
				spec, sets := all[k].run(e).read(rng)
				cases = append(cases, judgedCase{k: k, e: e, spec: spec, sets: sets})
			}
		}
	}
	inParallel(len(cases), func(i int) {
		c := &cases[i]
		out, err := Judge(JudgeIn{Spec: c.spec, Readings: c.sets})
		if err != nil {
			c.missed = err.Error()
		} else if !all[c.k].found(out) {
			c.missed = out.Verdict + " " + out.Shape + " " + out.Suspicion + " " + strings.Join(codes(out), ",")
		}
	})
	found, judged := 0, len(cases)
	missed := make([]int, len(all))
	for _, c := range cases {
		if c.missed == "" {
			found++
			continue
		}
		missed[c.k]++
		t.Logf("missed: %s, %s: %s", all[c.k].name, c.e.name, c.missed)
	}
	for k := range all {
		t.Logf("%3d of %d missed: %s", missed[k], len(kindEngines(k))*kindDraws(), all[k].name)
	}
	share := 100 * float64(found) / float64(judged)
	t.Logf("%d kinds, %.1f %% of %d cases found", len(all), share, judged)
	if share < 95 {
		t.Errorf("%.1f %% of cases found, want at least 95", share)
	}
}
