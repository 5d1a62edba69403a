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
		if f == nil || !strings.Contains(f.Text, c.high) || !strings.Contains(f.Text, c.side) || !strings.Contains(f.DisprovedBy, c.side) || strings.Contains(f.Text+f.DisprovedBy, "{") {
			t.Errorf("%+v: %s %+v", c, out.Suspicion, f)
		}
	}
	f := find(judge(t, linnet(), midCar(8, nil)), "suspect-base-twice")
	if f == nil || !strings.Contains(f.Text, "is high by") || !strings.Contains(f.DisprovedBy, "much early") {
		t.Errorf("%+v", f)
	}
}

// TestIdleFiguresApartTellNoBase: 8 at 800 is late by the book's curve, 16 at
// 820 early.
func TestIdleFiguresApartTellNoBase(t *testing.T) {
	set := midCar(0, nil)
	set.Points = []ReadingPoint{{800, 8, "rising"}, {820, 16, "rising"}}
	out := judge(t, linnet(), set)
	if find(out, "idle-figures-differ") == nil || find(out, "idle-holds-advance") != nil || out.Verdict != "unknown" || out.BaseCrankDeg != nil || !strings.Contains(out.Summary, "do not agree") {
		t.Errorf("%s %v base %v: %s", out.Verdict, codes(out), out.BaseCrankDeg, out.Summary)
	}
	set.Points[1].Deg = 8.5
	if out := judge(t, linnet(), set); find(out, "idle-holds-advance") == nil || out.BaseOffsetCrankDeg == nil || *out.BaseOffsetCrankDeg > -1 {
		t.Errorf("alike: %v %s", codes(out), out.Summary)
	}
}

// TestSwappedColumnsAreAskedFor: a sound run whose falling column stands 1.5
// distributor degrees higher, entered the wrong way about.
func TestSwappedColumnsAreAskedFor(t *testing.T) {
	for name, lag := range map[string]float64{"rising in the band": -1.4, "falling in the band": -2.5} {
		rising, falling := midBench(0), midBench(lag)
		if lag < -2 {
			rising, falling = midBench(-lag), midBench(0)
		}
		set := rising
		for _, p := range falling.Points {
			set.Points = append(set.Points, ReadingPoint{p.RPM, p.Deg, "falling"})
		}
		out := judge(t, linnet(), set)
		if find(out, "falling-below-rising") == nil || out.Verdict == "pass" || !strings.Contains(strings.Join(out.Ask, " "), "swapped") || !strings.Contains(out.Summary, "swapped") {
			t.Errorf("%s: %s %v %s", name, out.Verdict, codes(out), out.Summary)
		}
		if m := mend(t, linnet(), set); len(m.Options) != 0 || !strings.Contains(m.Summary, "swapped") {
			t.Errorf("%s: %s", name, m.Summary)
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
		if len(out.Findings) != 1 || out.Findings[0].Code != "suspect-sign-turned" || out.Verdict != "unknown" || out.BaseCrankDeg != nil || len(out.Ask) != 1 || out.Suspicion != "none" {
			t.Errorf("%s %s %v base %v: %s", out.Verdict, out.Suspicion, codes(out), out.BaseCrankDeg, out.Summary)
		}
		if m := mend(t, linnet(), sets...); len(m.Options) != 0 || m.Verdict != "unknown" || !strings.Contains(m.Summary, "wrong way") {
			t.Errorf("%s %s", m.Verdict, m.Summary)
		}
	}
	for i := range bench.Points { // seized, the zero a little off: no turned sign
		bench.Points[i].Deg = -0.2
	}
	if out := judge(t, linnet(), bench); out.Shape != "stuck" || find(out, "curve-stuck") == nil {
		t.Errorf("%s %v", out.Shape, codes(out))
	}
}

// TestOneReadingHasNoShape: only the base it would mean can be said, and of a
// single one in words that agree.
func TestOneReadingHasNoShape(t *testing.T) {
	one := func(set Set, i int, raised float64) Set {
		set.Points = []ReadingPoint{set.Points[i]}
		set.Points[0].Deg += raised
		return set
	}
	for name, c := range map[string]struct {
		set           Set
		verdict, code string
		says          string
	}{
		"car, in the band":          {one(midCar(0, nil), 4, 0), "pass", "", "it means a base of 8.0°"},
		"car, out of it":            {one(midCar(0, nil), 4, 6), "fail", "base-moved", "it means a base of 14.0°"},
		"car, out of it, lamp at 8": {one(midCar(0, ptr(8.0)), 4, 6), "watch", "one-speed-out", "take the one at 3000"},
		"bench, in the band":        {one(midBench(0), 4, 0), "pass", "", "the one reading is in the band"},
		"bench, out of it":          {one(midBench(0), 4, 4), "watch", "one-speed-out", "take the one at 3000"},
		"idle, out of it":           {one(midCar(0, nil), 0, 9), "fail", "base-moved", "An idle figure alone"},
		"idle, lamp at 8":           {one(midCar(0, ptr(8.0)), 0, 9), "watch", "one-speed-out", "An idle figure alone"},
	} {
		out := judge(t, linnet(), c.set)
		said := out.Summary + strings.Join(out.Ask, " ")
		for _, f := range out.Findings {
			said += f.Title + f.Text
		}
		if out.Verdict != c.verdict || c.code != "" && find(out, c.code) == nil || !strings.Contains(out.Summary, c.says) || !strings.Contains(out.Summary, "says nothing about the curve") {
			t.Errorf("%s: %s %v: %s", name, out.Verdict, codes(out), out.Summary)
		}
		if !strings.Contains(said, "Only one speed was read") {
			t.Errorf("%s: %v", name, out.Ask)
		}
		for _, no := range []string{"Only 1 speeds", "book's shape", "curve comes in", "secondary spring", "not the curve"} {
			if strings.Contains(said, no) {
				t.Errorf("%s: %q in %s", name, no, said)
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
