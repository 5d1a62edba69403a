package faults

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

// A rule chooses the next test of a hunt, or none.
type rule func(h *hunt, r *rand.Rand) int

// byGain is the room's own rule: the first of next.
func byGain(h *hunt, _ *rand.Rand) int {
	if all := h.worth(); len(all) > 0 {
		return all[0].test
	}
	return none
}

func (h *hunt) mayBeAsked() []int {
	var all []int
	for i := range h.k.tests {
		if h.mayAsk(i) {
			all = append(all, i)
		}
	}
	return all
}

// byCost asks the shortest first, whatever is known.
func byCost(h *hunt, _ *rand.Rand) int {
	all := h.mayBeAsked()
	if len(all) == 0 {
		return none
	}
	return slices.MinFunc(all, func(a, b int) int {
		return cmp.Or(cmp.Compare(h.k.tests[a].Minutes, h.k.tests[b].Minutes), cmp.Compare(a, b))
	})
}

func byChance(h *hunt, r *rand.Rand) int {
	all := h.mayBeAsked()
	if len(all) == 0 {
		return none
	}
	return all[r.IntN(len(all))]
}

// byCostOverProbability looks at each cause with its own test, the cheapest
// that is decisive for it, least minutes over probability first; it knows the
// same probabilities as byGain does.
func byCostOverProbability(h *hunt, _ *rand.Rand) int {
	shares := h.k.net.marginals(h.now)
	best, least := none, 0.0
	may := map[int]bool{}
	for _, t := range h.mayBeAsked() {
		may[t] = true
	}
	for c, p := range shares {
		own := none
		for _, t := range ownTests[c] {
			if may[t] && (own == none || h.k.tests[t].Minutes < h.k.tests[own].Minutes) {
				own = t
			}
		}
		if own == none {
			continue
		}
		if ratio := h.k.tests[own].Minutes / max(p, 1e-12); best == none || ratio < least {
			best, least = own, ratio
		}
	}
	return best
}

// ownTests are, by cause, the tests it is decisive for; those it supports
// where there are none.
var ownTests = func() [][]int {
	k := known()
	out := make([][]int, len(k.causes))
	var tables [][][]float64
	for _, one := range k.tests {
		tables = append(tables, k.table(one).byCause)
	}
	for c := range out {
		for _, hit := range []float64{decisive - 1e-9, supporting - 1e-9, 0.2} {
			for t, one := range k.tests {
				if one.Minutes > 0 && slices.Max(tables[t][c][1:]) >= hit {
					out[c] = append(out[c], t)
				}
			}
			if len(out[c]) > 0 {
				break
			}
		}
	}
	return out
}()

// ended is how a hunt came out.
type ended struct {
	tests     int
	minutes   float64
	rank      int // place of the true cause, from 1; with two the later one
	first     float64
	firstTrue bool
	shares    []float64
}

// follow hunts until one cause has the share enough, or most tests are done.
func follow(p patient, causes []int, choose rule, r *rand.Rand, enough float64, most int) ended {
	h, bad := newHunt(In{Symptoms: p.tells()})
	if bad != nil {
		panic(bad)
	}
	e := ended{}
	for e.tests < most {
		e.shares, _ = h.shares(h.now)
		if slices.Max(e.shares) >= enough {
			break
		}
		t := choose(h, r)
		if t == none {
			break
		}
		h.done[t] = true
		h.now.times(h.k.net.nodes[t].seen(h.k.tests[t].only(p.shows(t)), make([]float64, len(h.now))))
		e.tests++
		e.minutes += h.k.tests[t].Minutes
	}
	e.shares, _ = h.shares(h.now)
	for _, c := range causes {
		place := 1
		for d, p := range e.shares {
			if d != c && p > e.shares[c] {
				place++
			}
		}
		e.rank = max(e.rank, place)
	}
	at := 0
	for c, p := range e.shares {
		if p > e.shares[at] {
			at = c
		}
	}
	e.first, e.firstTrue = e.shares[at], slices.Contains(causes, at)
	return e
}

// followBoth hunts for two faults: it does not stop at the first.
func followBoth(p patient, causes []int, r *rand.Rand, most int) ended {
	return follow(p, causes, byGain, r, 2, most)
}

// tally adds hunts up.
type tally struct {
	n, first, three, four int
	minutes               float64
	tests                 int
	decided, right        int
}

func (t *tally) add(e ended, enough float64) {
	t.n++
	t.minutes += e.minutes
	t.tests += e.tests
	if e.firstTrue && e.rank >= 1 {
		t.first++
	}
	if e.rank <= 3 {
		t.three++
	}
	if e.rank <= 4 {
		t.four++
	}
	if e.first >= enough {
		t.decided++
		if e.firstTrue {
			t.right++
		}
	}
}

func (t tally) share(n int) float64 { return 100 * float64(n) / float64(max(t.n, 1)) }

func (t tally) say(tb testing.TB, name string) {
	tb.Logf("%-46s n %6d  first %5.1f %%  top three %5.1f %%  top four %5.1f %%  tests %5.2f  minutes %6.2f  decided %5.1f %% of which right %5.1f %%",
		name, t.n, t.share(t.first), t.share(t.three), t.share(t.four), float64(t.tests)/float64(t.n),
		t.minutes/float64(t.n), t.share(t.decided), 100*float64(t.right)/float64(max(t.decided, 1)))
}
