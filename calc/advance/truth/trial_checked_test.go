package truth_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pointsmith/calc/advance"
)

// A sound unit is in its book: inside every printed row in the printed units,
// both as speed rises and as it falls, under its own base.
func TestSoundUnitsLieInTheirBook(t *testing.T) {
	styles, counts := map[string]int{}, map[int]int{}
	for i := range uint64(1000 / oneIn) {
		rng := random(1000 + i)
		rows := drawRowCount(rng)
		design := drawUnit(rng)
		b, s, ok := printed(rng, design, rows, i%5 == 0)
		if !ok {
			continue
		}
		counts[rows]++
		styles[b.spec.AngleUnit+" "+b.spec.SpeedUnit+" "+b.spec.Base]++
		for _, p := range b.spec.Points {
			for _, falling := range []bool{false, true} {
				rpm, deg := p.RPM, s.curve.at(p.RPM, falling)
				if b.spec.SpeedUnit == "engine" {
					deg = s.curve.at(rpm/2, falling)
				}
				if b.spec.AngleUnit == "crank" {
					deg *= 2
				}
				if b.spec.Base == "included" {
					deg += s.base
				}
				if deg > *p.MaxDeg+1e-9 || p.MinDeg != nil && deg < *p.MinDeg-1e-9 {
					t.Fatalf("%d: %.2f at %g lies outside the row (%+v)", i, deg, p.RPM, p)
				}
			}
		}
	}
	if n := len(styles); n != 6 {
		t.Errorf("%d styles of book, want 6: %v", n, styles)
	}
	total := 0
	for rows := 1; rows <= 8; rows++ {
		if counts[rows] == 0 && oneIn == 1 {
			t.Errorf("no book of %d rows", rows)
		}
		total += counts[rows]
	}
	if total < 900/oneIn {
		t.Errorf("only %d of books had a sound unit", total)
	}
	t.Log(total, counts, styles)
}

// The room takes every book that is printed here.
func TestBooksAreTaken(t *testing.T) {
	for i := range uint64(400 / oneIn) {
		tr := drawTrial(3, i)
		if _, err := advance.Expect(advance.ExpectIn{Spec: tr.spec, EngineRPM: []float64{1000}}); err != nil {
			t.Errorf("%s: %v", tr.name(), err)
		}
	}
}

func TestATrialFollowsFromSeedAndIndex(t *testing.T) {
	for i := range uint64(40 / oneIn) {
		a, b := drawTrial(9, i), drawTrial(9, i)
		if !reflect.DeepEqual(a.sets, b.sets) || !reflect.DeepEqual(a.spec, b.spec) || !slices.Equal(a.truth, b.truth) {
			t.Fatalf("index %d gave two cases", i)
		}
		if c := drawTrial(10, i); reflect.DeepEqual(a.sets, c.sets) {
			t.Fatalf("index %d is the same under another seed", i)
		}
	}
}

// What is called a fault is one, in the direction it is called.
func TestFaultsGoTheWayTheyAreCalled(t *testing.T) {
	seen := map[string]int{}
	for i := range uint64(800 / oneIn) {
		tr := drawTrial(4, i)
		if tr.sort != singleSort {
			continue
		}
		e := tr.truth[0]
		seen[e]++
		sum := 0.0
		for _, m := range tr.plan {
			if !m.falling {
				sum += m.crank(tr.is) - m.crank(tr.sound)
			}
		}
		early := slices.Contains([]string{"primary-early", "secondary-early", "stop-long", "base-early", "zero-early"},
			e)
		if e != "seized" && (sum > 0) != early {
			t.Errorf("%s: %s moved the rising readings by %.1f in all", tr.name(), e, sum)
		}
		if !tr.book.isLeft(tr.is, tr.evidence, tr.plan) || tr.book.isLeft(tr.sound, tr.evidence, tr.plan) {
			t.Errorf("%s: the faulty unit is in the book, or the sound one is not", tr.name())
		}
	}
	for _, f := range faults {
		if seen[f.element] < 5 && oneIn == 1 {
			t.Errorf("%s came up %d times", f.element, seen[f.element])
		}
	}
	t.Log(seen)
}

// Slips are where they are said to be, and nowhere else.
func TestSlipsArePlantedOnce(t *testing.T) {
	for i := range uint64(400 / oneIn) {
		tr := drawTrial(5, i)
		if tr.sort != slipSort {
			continue
		}
		for n, m := range tr.plan {
			set, point := tr.place(n)
			p := tr.sets[set].Points[point]
			unit, speed := 1.0, 2.0
			if !m.car {
				unit, speed = 2, 1
			}
			off := math.Abs(p.Deg*unit-m.crank(tr.is)) > 4.5 || p.RPM != m.distRPM*speed
			if off != slices.Contains(tr.slips, n) {
				t.Errorf("%s: reading %d is off %v, slips are %v", tr.name(), n, off, tr.slips)
			}
		}
	}
}
