package truth_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"pointsmith/calc/advance"
)

// Sorts of case. A rubbing one is a single fault in a unit of which one spring
// has a bump of 12 to 20 % over a part of its travel.
const (
	soundSort   = "sound"
	singleSort  = "single"
	rubbingSort = "rubbing"
	doubleSort  = "double"
	slipSort    = "slip"
)

// sortsInTurn is the mix: a quarter sound, 35 in 100 single faults, and so on.
var sortsInTurn = []string{
	soundSort, singleSort, doubleSort, singleSort, slipSort, soundSort, singleSort, rubbingSort, doubleSort, singleSort,
	soundSort, singleSort, doubleSort, soundSort, slipSort, singleSort, soundSort, rubbingSort, doubleSort, singleSort,
}

// trial is one case: what was done, what is printed, what was read.
type trial struct {
	seed, index uint64
	sort        string
	design      unit
	book        book
	evidence    evidence
	plan        []moment
	sound, is   state
	faults      []fault
	truth       []string // elements that are true, sorted; none for a sound unit
	atRest      bool     // nothing moves at any speed read
	slips       []int    // planted slips, counted through all sets
	shown       float64  // crank degrees by which the worst row is missed, as this evidence sees it
	spec        advance.Spec
	sets        []advance.Set
}

func (tr trial) name() string {
	return fmt.Sprintf("%d/%d %s, %s, %d rows", tr.seed, tr.index, tr.sort, tr.evidence.name, len(tr.book.rows))
}

// fewRows: under one or two rows no part inside can be told from another that
// the book allows, so such cases are counted apart.
func (tr trial) fewRows() bool { return len(tr.book.rows) < 3 }

// drawTrial draws the case of an index; the same seed and index give the same
// case. Whatever a rule refuses is drawn again, engine and book too: a fault
// must move what is read by two crank degrees at two speeds (a stop: at one),
// and the unit must then break something the book says. Of two faults each
// must move it so on top of the other. Doubles have books of three rows and
// more.
func drawTrial(seed, index uint64) trial {
	rng := rand.New(rand.NewPCG(seed, index))
	tr := trial{seed: seed, index: index, sort: sortsInTurn[index%uint64(len(sortsInTurn))]}
	tr.evidence = evidences[rng.IntN(len(evidences))]
	if tr.evidence.name == "bench and car" && rng.IntN(2) == 0 {
		tr.evidence.falling = true
	}
	rows := drawRowCount(rng)
	for tr.sort == doubleSort && rows < 3 {
		rows = drawRowCount(rng)
	}
	for tries := 0; ; tries++ {
		if tries%200 == 0 { // what this evidence and number of rows cannot show gives way to another fault
			tr.drawWhat(rng)
		}
		if tr.draw(rng, rows) {
			break
		}
	}
	tr.atRest = !slices.ContainsFunc(tr.plan, func(m moment) bool {
		return tr.is.curve.at(m.distRPM, m.falling) > 0.25
	})
	tr.shown = tr.book.shows(tr.is, tr.evidence)
	tr.spec = tr.book.spec
	tr.sets = read(rng, tr.is, tr.evidence, tr.plan)
	if tr.sort == slipSort {
		tr.plantSlip(rng)
	}
	return tr
}

func (tr *trial) draw(rng *rand.Rand, rows int) (ok bool) {
	tr.design = drawUnit(rng)
	tr.book, tr.sound, ok = printed(rng, tr.design, rows, tr.sort == rubbingSort)
	if !ok {
		return false
	}
	tr.plan = planned(rng, tr.book, tr.evidence)
	if len(tr.faults) == 0 {
		tr.is = tr.sound
		return true
	}
	for range 12 {
		if tr.drawFaults(rng) && tr.book.isLeft(tr.is, tr.evidence, tr.plan) {
			return true
		}
	}
	return false
}

// drawWhat draws which parts are faulty: none in a sound unit, nor in every
// other one with a slip.
func (tr *trial) drawWhat(rng *rand.Rand) {
	tr.faults, tr.truth = nil, nil
	switch {
	case tr.sort == doubleSort:
		tr.faults = tr.drawPair(rng)
	case tr.sort == singleSort || tr.sort == rubbingSort || tr.sort == slipSort && tr.index/20%2 == 1:
		tr.faults = []fault{tr.drawFault(rng, nil)}
	}
	for _, f := range tr.faults {
		tr.truth = append(tr.truth, f.element)
	}
	slices.Sort(tr.truth)
}

// drawFaults does the faults, in a size drawn anew, to the sound unit.
func (tr *trial) drawFaults(rng *rand.Rand) bool {
	var done []change
	for _, f := range tr.faults {
		done = append(done, f.draw(rng))
	}
	var ok bool
	if tr.is, ok = tr.with(done...); !ok {
		return false
	}
	for i, f := range tr.faults {
		without, ok := tr.with(slices.Delete(slices.Clone(done), i, i+1)...)
		if !ok || !moves(without, tr.is, tr.plan, f.part) {
			return false
		}
	}
	return true
}

// with is the sound unit after these changes.
func (tr *trial) with(done ...change) (state, bool) {
	s := tr.sound
	for _, do := range done {
		if !do(&s) {
			return s, false
		}
	}
	return s, true
}

// drawFault draws a fault the evidence can show, every element alike often,
// of these parts where any are given.
func (tr *trial) drawFault(rng *rand.Rand, parts []string) fault {
	for {
		f := faults[rng.IntN(len(faults))]
		if tr.evidence.canSee(f) && (parts == nil || slices.Contains(parts, f.part)) {
			return f
		}
	}
}

// pairs that happen together.
var pairs = [][2][]string{
	{{"base"}, {"primary"}}, {{"base"}, {"secondary"}}, {{"base"}, {"stop"}},
	{{"primary"}, {"stop"}}, {{"primary"}, {"secondary"}}, {{"secondary"}, {"stop"}},
	{{"zero"}, {"primary", "secondary", "stop", "whole", "drag"}},
}

func (tr *trial) drawPair(rng *rand.Rand) []fault {
	for {
		p := pairs[rng.IntN(len(pairs))]
		if p[0][0] == "base" && !tr.evidence.car || p[0][0] == "zero" && !tr.evidence.bench {
			continue
		}
		return []fault{tr.drawFault(rng, p[0]), tr.drawFault(rng, p[1])}
	}
}

// plantSlip makes one figure wrong by 3 distributor degrees or more of what
// would be right at the speed that is written.
func (tr *trial) plantSlip(rng *rand.Rand) {
	for {
		n := rng.IntN(len(tr.plan))
		set, point := tr.place(n)
		m, p := tr.plan[n], tr.sets[set].Points[point]
		degree, limit := 1.0, 12000.0
		if !m.car {
			degree = 1.0 / ratio
		}
		sign := float64(1 - 2*rng.IntN(2))
		switch rng.IntN(4) {
		case 0:
			p.Deg += sign * math.Round(between(rng, 3, 10)*ratio*degree)
		case 1:
			p.Deg += sign * 10
		case 2:
			p.Deg *= 0.1
		default:
			p.RPM *= 10
			m.distRPM *= 10
		}
		if p.RPM > limit || p.Deg < -10 || math.Abs(p.Deg/degree-m.crank(tr.is)) < 3*ratio {
			continue
		}
		tr.sets[set].Points[point] = p
		tr.slips = []int{n}
		return
	}
}

// place is set and point of a reading counted through all sets.
func (tr *trial) place(n int) (set, point int) {
	for n >= len(tr.sets[set].Points) {
		n -= len(tr.sets[set].Points)
		set++
	}
	return set, n
}
