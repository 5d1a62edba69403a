package advance

import (
	"strings"
	"testing"
)

// TestABaseAfterTDCTurnsTheWords: with the book's base 4 after TDC, a base
// counted twice lowers every reading, one left out raises it.
func TestABaseAfterTDCTurnsTheWords(t *testing.T) {
	spec := linnet()
	spec.BaseCrankDeg = ptr(-4.0)
	for _, c := range []struct {
		raised           float64
		name, high, side string
	}{{-16, "base-twice", "is low by", "much late"}, {-8, "base-missing", "is high by", "much early"}} {
		out := judge(t, spec, midCar(c.raised, nil)) // -12 is the middle of this book
		f := find(out, "suspect-"+c.name)
		if f == nil || !strings.Contains(f.Text, c.high) || !strings.Contains(f.Text, c.side) ||
			!strings.Contains(f.DisprovedBy, c.side) || strings.Contains(f.Text+f.DisprovedBy, "{") {
			t.Errorf("%+v: %s %+v", c, out.Suspicion, f)
		}
	}
	f := find(judge(t, linnet(), midCar(8, nil)), "suspect-base-twice")
	if f == nil || !strings.Contains(f.Text, "is high by") || !strings.Contains(f.DisprovedBy, "much early") {
		t.Errorf("%+v", f)
	}
}

// TestSwappedColumnsAreAskedFor: a unit with a degree and more of friction, its
// columns entered the wrong way about.
func TestSwappedColumnsAreAskedFor(t *testing.T) {
	for name, friction := range map[string]float64{"a degree": 1, "two degrees": 2} {
		m := Model{250, 0.09, 0.55, 7, 13, friction, 0.015}
		set := midBench(0)
		set.Points = nil
		for _, falling := range []bool{false, true} {
			for _, rpm := range []float64{300, 400, 500, 600, 700, 850, 1000, 1500, 2500} {
				set.Points = append(set.Points, ReadingPoint{rpm, m.reads(rpm, !falling),
					directions(true)[map[bool]int{false: 0, true: 1}[falling]]})
			}
		}
		out := judge(t, linnet(), set)
		if find(out, "suspect-columns-swapped") == nil || out.Verdict == "pass" ||
			!strings.Contains(strings.Join(out.Ask, " "), "swapped") || !strings.Contains(out.Summary, "swapped") {
			t.Errorf("%s: %s %v %s", name, out.Verdict, codes(out), out.Summary)
		}
	}
}

// TestARingReadTheWrongWayIsAskedFor: the middle curve with every sign turned,
// alone and beside a car in the band.
func TestARingReadTheWrongWayIsAskedFor(t *testing.T) {
	bench := midBench(0)
	for i := range bench.Points {
		bench.Points[i].Deg *= -1
	}
	for _, sets := range [][]Set{{bench}, {bench, midCar(0, nil)}} {
		out := judge(t, linnet(), sets...)
		if find(out, "suspect-angle-backwards") == nil || out.Verdict != "unknown" ||
			out.Suspicion != "angle-backwards" {
			t.Errorf("%s %s %v base %v: %s", out.Verdict, out.Suspicion, codes(out), out.BaseCrankDeg, out.Summary)
		}
	}
	for i := range bench.Points { // seized, the zero a little off: no turned sign
		bench.Points[i].Deg = -0.2
	}
	if out := judge(t, linnet(), bench); out.Shape != "stuck" || find(out, "curve-stuck") == nil {
		t.Errorf("%s %v", out.Shape, codes(out))
	}
}

// TestOneReadingHasNoShape: no part inside is named for it, nothing is sure, and
// the other speeds are asked for.
func TestOneReadingHasNoShape(t *testing.T) {
	one := func(set Set, i int, raised float64) Set {
		set.Points = []ReadingPoint{set.Points[i]}
		set.Points[0].Deg += raised
		return set
	}
	for name, c := range map[string]struct {
		set  Set
		pass bool // may be called right as far as it goes
	}{
		"car, in the band":          {one(midCar(0, nil), 4, 0), true},
		"car, out of it":            {one(midCar(0, nil), 4, 6), false},
		"car, out of it, lamp at 8": {one(midCar(0, ptr(8.0)), 4, 6), false},
		"bench, in the band":        {one(midBench(0), 4, 0), true},
		"bench, out of it":          {one(midBench(0), 4, 4), false},
		"idle, out of it":           {one(midCar(0, nil), 0, 9), false},
	} {
		out := judge(t, linnet(), c.set)
		if out.Verdict == "pass" && !c.pass {
			t.Errorf("%s: %s %v: %s", name, out.Verdict, codes(out), out.Summary)
		}
		if !strings.Contains(strings.Join(out.Ask, " "), "Only one speed was read") {
			t.Errorf("%s: %v", name, out.Ask)
		}
		for _, f := range out.Findings {
			if f.Sureness == "sure" {
				t.Errorf("%s: %s is sure", name, f.Code)
			}
		}
	}
}

// TestALampFigureIsDisprovedByTheLampAgain and not by what was put in.
func TestALampFigureIsDisprovedByTheLampAgain(t *testing.T) {
	f := find(judge(t, linnet(), midCar(5, ptr(13.0))), "base-moved")
	if f == nil || !strings.Contains(f.DisprovedBy, "proved again") {
		t.Errorf("%+v", f)
	}
}
