package faults

import (
	"cmp"
	"math"
	"slices"
)

// leastGain: a test expected to tell less is not named (chosen).
const leastGain = 0.005

// nearly: gains a minute that differ by less than a tenth count as the same
// (the issue: cheap and engine off first on near ties).
const nearly = 1.1

// mostNamed: how many tests are named unless said otherwise (chosen).
const mostNamed = 8

// next gives the tests still worth doing.
func (h *hunt) next() []NextTest {
	all := []NextTest{}
	for i, t := range h.k.tests {
		if !h.mayAsk(i) {
			continue
		}
		nd := h.k.net.nodes[i]
		gain, _ := nd.gain(h.now)
		if gain < leastGain {
			continue
		}
		all = append(all, h.named(t, nd, gain))
	}
	slices.SortStableFunc(all, byWorth)
	most := h.in.MostTests
	if most == 0 {
		most = mostNamed
	}
	return all[:min(most, len(all))]
}

// byWorth puts the most bits a minute first, in steps of a tenth; within a
// step the engine off, then the shorter.
func byWorth(a, b NextTest) int {
	step := func(t NextTest) float64 { return math.Floor(math.Log(t.PerMinute) / math.Log(nearly)) }
	off := func(t NextTest) int { return slices.Index([]string{"off", "cranking", "running", "road"}, t.Engine) }
	return cmp.Or(cmp.Compare(step(b), step(a)), cmp.Compare(off(a), off(b)), cmp.Compare(a.Minutes, b.Minutes),
		cmp.Compare(b.PerMinute, a.PerMinute))
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

func (h *hunt) named(t test, nd node, gain float64) NextTest {
	n := NextTest{ID: t.ID, Name: t.Name, Minutes: t.Minutes, Gain: gain, PerMinute: gain / t.Minutes,
		Expected: t.expected(h.in.Car, h.g), How: t.How, Engine: t.Engine, Cautions: t.Cautions, Basis: t.Basis,
		NeedsPower: t.Ignition}
	if t.Figure != nil {
		n.Unit = t.Figure.Unit
	}
	for o, one := range t.Outcomes {
		a := Answer{ID: one.ID, Says: one.Says, Result: "not"}
		if o == 0 {
			a.Result = "expected"
		}
		for i, share := range h.now {
			a.Chance += share * nd.says[o][i]
		}
		n.Answers = append(n.Answers, a)
	}
	return n
}
