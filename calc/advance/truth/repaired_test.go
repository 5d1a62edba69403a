package truth_test

import (
	"math"
	"slices"
	"testing"

	"pointsmith/calc/advance"
)

func given(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}

// applied does a repair to the simulator's own unit: another primary spring
// has rate and tension by the ratio, a bent primary post the tension alone,
// another secondary spring its rate by the ratio on the same loop; the loop
// and the stop go by degrees, the body to the base that is given. A spring
// replaced is that of the sound unit, put on the post as it stands now.
func applied(s state, sound unit, c advance.MendChange) state {
	u := &s.unit
	if slices.Contains(c.Replace, "primary") {
		u.primary.rate, u.primary.free = sound.primary.rate, sound.primary.free
	}
	if slices.Contains(c.Replace, "secondary") {
		u.secondary.rate, u.secondary.free = sound.secondary.rate, sound.secondary.free
	}
	u.primary = u.primary.stiffer(given(c.PrimarySpring, 1)).withTension(given(c.PrimaryPreload, 1))
	u.secondary.rate *= given(c.SecondarySpring, 1)
	if c.SlackDistDeg != nil {
		u.secondary = u.secondary.takingUpAt(math.Max(0, u.secondary.takesUp()+*c.SlackDistDeg))
	}
	u.limit = math.Min(given(c.LimitDistDeg, u.limit), mostDeg-1)
	u.pullScale *= given(c.Weights, 1)
	s.base = given(c.BaseCrankDeg, s.base)
	s.curve = u.curve()
	return s
}

// inBook tells whether a unit lies in every row of the book within so many
// crank degrees, as this evidence reads it; the bench's wheel is set right.
func (b book) inBook(s state, e evidence, within float64) bool {
	s.benchZeroBy = 0
	return b.shows(s, e) <= within
}

func ptr(x float64) *float64 { return &x }

// A repair does to the simulator what its figure says, reckoned by hand: a
// ratio of springs and of tension is the ratio of the start speeds squared.
func TestRepairsDoWhatTheirFiguresSay(t *testing.T) {
	rng := random(6)
	for range 200 / oneIn {
		s := state{unit: drawUnit(rng), base: 8}
		s.curve = s.unit.curve()
		u, x := s.unit, ratioBetween(rng, 0.5, 2)
		change := func(c advance.Change) unit { return applied(s, s.unit, advance.MendChange{Change: c}).unit }
		near := func(what string, got, want, within float64) {
			t.Helper()
			if math.Abs(got-want) > within {
				t.Fatalf("%s: %.4f, by hand %.4f", what, got, want)
			}
		}
		stiffer := change(advance.Change{PrimarySpring: &x})
		near("start after a spring", stiffer.startRPM(), u.startRPM()*math.Sqrt(x), 0.01)
		tighter := change(advance.Change{PrimaryPreload: &x})
		near("start after a post", tighter.startRPM(), u.startRPM()*math.Sqrt(x), 0.01)
		rise := func(u unit) float64 {
			return u.primary.torque(3)/u.primary.lever(3) - u.primary.torque(0)/u.primary.lever(0)
		}
		near("rate after a post", rise(tighter), rise(u), 1e-6)
		near("rate after a spring", rise(stiffer), x*rise(u), 1e-6)
		later := change(advance.Change{SlackDistDeg: ptr(1.5)})
		near("take-up", later.secondary.takesUp(), u.secondary.takesUp()+1.5, 1e-6)
		second := change(advance.Change{SecondarySpring: &x})
		near("secondary", second.secondary.torque(u.limit), x*u.secondary.torque(u.limit), 1e-6)
		near("stop", change(advance.Change{LimitDistDeg: ptr(9)}).limit, 9, 0)
		near("base", applied(s, s.unit, advance.MendChange{BaseCrankDeg: ptr(4)}).base, 4, 0)
	}
}

// The repair that undoes a fault brings the unit back into its book.
func TestTheUndoneFaultIsInTheBook(t *testing.T) {
	undone := 0
	for i := range uint64(600 / oneIn) {
		tr := drawTrial(7, i)
		if tr.sort != singleSort {
			continue
		}
		was, is := tr.sound.unit, tr.is.unit
		var c advance.MendChange
		switch tr.faults[0].part {
		case "primary":
			if is.primary.rate == 0 {
				continue // a lost spring is replaced, no ratio brings it back
			}
			c.PrimarySpring = ptr(was.primary.rate / is.primary.rate)
			c.PrimaryPreload = ptr(was.primary.torque(0) / is.primary.torque(0) / *c.PrimarySpring)
		case "secondary":
			if is.secondary.rate == 0 {
				continue
			}
			c.SecondarySpring = ptr(was.secondary.rate / is.secondary.rate)
			c.SlackDistDeg = ptr(was.secondary.takesUp() - is.secondary.takesUp())
		case "stop":
			c.LimitDistDeg = &was.limit
		case "base":
			c.BaseCrankDeg = &tr.sound.base
		default:
			continue
		}
		undone++
		if after := applied(tr.is, tr.sound.unit, c); !tr.book.inBook(after, tr.evidence, 0.5) {
			missed := tr.book.shows(after, tr.evidence)
			t.Errorf("%s, %v: undone, a row is still missed by %.2f crank degrees", tr.name(), tr.truth, missed)
		}
		rowsAlone := tr.faults[0].part != "base" && tr.book.plate == 0 && tr.book.quietRPM == 0
		if rowsAlone && tr.book.inBook(tr.is, tr.evidence, 0) {
			t.Errorf("%s, %v: the unit was in the book already", tr.name(), tr.truth)
		}
	}
	if undone < 60/oneIn {
		t.Errorf("only %d faults undone", undone)
	}
	t.Logf("%d faults undone", undone)
}
