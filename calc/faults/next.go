package faults

import (
	"cmp"
	"math"
	"slices"
)

// leastGain: a test expected to tell less is not named (chosen).
const leastGain = 0.005

// handling is what every test takes besides its own minutes: to fetch the tool,
// get at the place and put down what was seen (judgement; hunts measured with 2 to 8
// differ little).
const handling = 5

// nearly: gains a minute that differ by less than a tenth count as the same
// (chosen).
const nearly = 1.1

// mostNamed: how many tests are named unless said otherwise (chosen).
const mostNamed = 8

// next gives the tests still worth doing.
func (h *hunt) next() []NextTest {
	all := h.worth()
	most := h.in.MostTests
	if most == 0 {
		most = mostNamed
	}
	named := []NextTest{}
	for _, w := range all[:min(most, len(all))] {
		named = append(named, h.named(w))
	}
	return named
}

// worth is what one test is worth now.
type worth struct {
	test            int
	gain, perMinute float64
	engine          int // how little it asks of the engine
	minutes         float64
}

// worth lists the tests that may be asked, the one to do first.
func (h *hunt) worth() []worth {
	var all []worth
	for i, t := range h.k.tests {
		if !h.mayAsk(i) {
			continue
		}
		if gain := h.k.net.nodes[i].gain(h.now); gain >= leastGain {
			all = append(all, worth{test: i, gain: gain, perMinute: gain / (t.Minutes + handling), minutes: t.Minutes,
				engine: slices.Index([]string{"off", "cranking", "running", "road"}, t.Engine)})
		}
	}
	slices.SortStableFunc(all, byWorth)
	return all
}

// byWorth puts the most bits a minute first, in steps of a tenth; within a
// step the engine off, then the shorter.
func byWorth(a, b worth) int {
	step := func(w worth) float64 { return math.Floor(math.Log(w.perMinute) / math.Log(nearly)) }
	return cmp.Or(cmp.Compare(step(b), step(a)), cmp.Compare(a.engine, b.engine), cmp.Compare(a.minutes, b.minutes),
		cmp.Compare(b.perMinute, a.perMinute))
}

// mayAsk tells whether a test can be asked now: not answered, not refused, the
// car has the part, and the engine and ignition may be used so.
func (h *hunt) mayAsk(i int) bool {
	t := h.k.tests[i]
	runs := h.in.Car.Runs == "yes" || h.in.Car.Runs == "" && !h.dead()
	switch {
	case t.Minutes == 0, h.done[i], h.in.Car.lacks(t.Needs):
		return false
	case t.Engine != "off" && h.in.NoStart:
		return false
	case (t.Engine == "running" || t.Engine == "road") && !runs:
		return false
	}
	return !(h.in.NoIgnition && (t.Ignition || t.Engine == "running" || t.Engine == "road"))
}

// dead tells whether a symptom says that the engine does not run.
func (h *hunt) dead() bool {
	for _, e := range h.all {
		if at, is := h.k.symAt[e.id]; is && h.k.symptoms[at].Engine == "dead" {
			return true
		}
	}
	return false
}

func (h *hunt) named(w worth) NextTest {
	t, nd := h.k.tests[w.test], h.k.net.nodes[w.test]
	n := NextTest{ID: t.ID, Name: t.Name, Minutes: t.Minutes, Gain: w.gain, PerMinute: w.perMinute,
		Expected: t.expected(h.in.Car, h.g), How: t.How, Engine: t.Engine, Cautions: t.Cautions, Basis: t.Basis,
		NeedsPower: t.Ignition, Unit: t.unit()}
	chances, _ := nd.chances(h.now)
	for o, one := range t.Outcomes {
		n.Answers = append(n.Answers, Answer{ID: one.ID, Says: one.Says, Result: resultOf(o), Chance: chances[o]})
	}
	return n
}
