package advance

import (
	"math/rand/v2"
	"slices"
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
	{"four", Model{250, 0.09, 0.55, 7, 13, 0.2, 0.015}, 8, []float64{300, 450, 700, 1000, 1500, 2000, 2500},
		1, distTable},
	{"six", Model{280, 0.1, 0.35, 7.5, 13.5, 0.1, 0.01}, 6, []float64{400, 500, 750, 1000, 1500, 2000}, 1, totalTable},
	{"eight", Model{330, 0.055, 0.2, 8, 14, 0.2, 0.02}, 10, []float64{350, 500, 750, 1100, 1600, 2100},
		1.25, crankTable},
}

// distTable prints distributor degrees at distributor rpm, base left out.
func distTable(e engine) Spec {
	s := Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded", BaseCrankDeg: &e.base}
	for _, rpm := range e.speeds {
		a := e.sound.at(rpm)
		s.Points = append(s.Points, SpecPoint{RPM: rpm, MinDeg: ptr(max(0, a-e.half)), MaxDeg: ptr(a + e.half)})
	}
	return s
}

// totalTable prints totals in crank degrees at engine rpm, base held.
func totalTable(e engine) Spec {
	s := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: &e.base}
	for _, rpm := range e.speeds {
		a := 2*e.sound.at(rpm) + e.base
		s.Points = append(s.Points, SpecPoint{RPM: 2 * rpm, MinDeg: ptr(a - 2*e.half), MaxDeg: ptr(a + 2*e.half)})
	}
	return s
}

// crankTable prints crank degrees at engine rpm, base left out, from high
// speed to low, with "none below".
func crankTable(e engine) Spec {
	s := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded", BaseCrankDeg: &e.base,
		NoAdvanceBelowRPM: ptr(2 * (e.sound.StartDistRPM - 60))}
	for _, rpm := range e.speeds {
		a := 2 * e.sound.at(rpm)
		s.Points = append(s.Points, SpecPoint{RPM: 2 * rpm, MinDeg: ptr(max(0, a-2*e.half)), MaxDeg: ptr(a + 2*e.half)})
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
				s.Points = append(s.Points,
					ReadingPoint{rpm, tr.base + 2*tr.m.reads(rpm/2, dir == "falling") + noise(), dir})
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

func (e engine) with(c Change) Model { return c.applied(e.sound) }

func (e engine) bench(m Model) trialRun { return trialRun{e: e, m: m, base: e.base, bench: true} }
func (e engine) car(m Model) trialRun   { return trialRun{e: e, m: m, base: e.base, car: true} }
