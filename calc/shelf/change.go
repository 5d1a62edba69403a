package shelf

import (
	"cmp"
	"math"
	"slices"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
)

// move is one thing that can be done inside, as advance.prescribe has it.
type move int

const (
	primarySpring move = iota // a spring comes before its post, which is then bent for it
	primaryPost
	secondarySpring
	secondaryPost
	stop
	moves
)

// Of each move: part, what is done, work, and the bounds of what can be had.
// The bounds are those of advance.prescribe: springs from a quarter to four times as stiff
// (one box of springs spans about that: common practice), a tension at rest
// from a tenth to twelve times, slack within ten distributor degrees, a stop
// from 2 to 20.
var kinds = [moves]struct {
	part, kind string
	effort     float64
	low, high  float64
	scale      float64 // an amount as large is one step of the search (chosen)
}{
	{"primary", "spring", advance.SpringEffort, math.Log(0.25), math.Log(4), 0.5},
	{"primary", "post", advance.PostEffort, math.Log(0.1), math.Log(12), 0.5},
	{"secondary", "spring", advance.SpringEffort, math.Log(0.25), math.Log(4), 0.5},
	{"secondary", "post", advance.PostEffort, -10, 10, 1.5},
	{"stop", "stop", advance.StopEffort, 2, 20, 1.5},
}

// figure is what an amount does: the ratio of a logarithm, else itself.
func (m move) figure(x float64) float64 {
	if m == secondaryPost || m == stop {
		return x
	}
	return infer.Exp(x)
}

// apply does a move by its figure: a ratio, degrees of slack, or the new limit.
func (m move) apply(g *infer.Governor, by float64) {
	switch m {
	case primaryPost:
		g.U0 *= by
	case primarySpring:
		g.U0, g.K1 = g.U0*by, g.K1*by
	case secondaryPost:
		g.Knee = max(0, g.Knee+by)
	case secondarySpring:
		g.K2 *= by
	case stop:
		g.Limit = by
	}
}

// say puts a move into the form advance.whatif takes.
func (m move) say(c *advance.MendChange, x float64) {
	ratio := math.Exp(x)
	switch m {
	case primaryPost:
		c.PrimaryPreload = &ratio
	case primarySpring:
		c.PrimarySpring = &ratio
	case secondaryPost:
		c.SlackDistDeg = &x
	case secondarySpring:
		c.SecondarySpring = &ratio
	case stop:
		c.LimitDistDeg = &x
	}
}

// way is moves that are done together, from low to top.
type way struct {
	moves []move
	set   int // of the moves, a bit each
	parts int
	least float64 // what it costs at least, as a share: see cost
}

// cost is what a change must bring to be worth its work, a share: the rule of
// advance.prescribe, but one part more has to bring twice as much. There it is
// weighed first which parts are sound; the quick posterior leaves them all in
// doubt, and would touch one more for good measure (chosen by comparing both).
func cost(effort float64, parts int) float64 {
	return advance.PerWork*effort + 2*advance.PerPart*float64(parts)
}

// bounds of the amounts, as what is allowed narrows them.
type bounds [moves][2]float64

// waysAllowed lists every way that may be gone, the least work first.
func waysAllowed(allow advance.Allow, plate float64) (all []way, b bounds) {
	for m := range moves {
		b[m] = [2]float64{kinds[m].low, kinds[m].high}
	}
	narrow := func(m move, ratios []float64) {
		if len(ratios) == 2 {
			b[m] = [2]float64{math.Log(min(ratios[0], ratios[1])), math.Log(max(ratios[0], ratios[1]))}
		}
	}
	narrow(primarySpring, allow.PrimarySpringRatio)
	narrow(secondarySpring, allow.SecondarySpringRatio)
	if plate > 0 {
		b[stop] = [2]float64{plate, plate}
	}
	may := [moves]*bool{allow.PrimarySpring, allow.PrimaryPost, allow.SecondarySpring, allow.SecondaryPost, allow.Stop}
	for set := 1; set < 1<<moves; set++ {
		w, effort, last, ok := way{set: set}, 0.0, "", true
		for m := range moves {
			if set>>m&1 == 0 {
				continue
			}
			ok = ok && (may[m] == nil || *may[m])
			w.moves, effort = append(w.moves, m), effort+kinds[m].effort
			if kinds[m].part != last {
				w.parts, last = w.parts+1, kinds[m].part
			}
		}
		if w.least = cost(effort, w.parts); ok {
			all = append(all, w)
		}
	}
	slices.SortStableFunc(all, func(a, b way) int { return cmp.Compare(a.least, b.least) })
	return all, b
}

// attempt is a way with its amounts.
type attempt struct {
	way
	x      [moves]float64 // amounts, by place in way.moves
	inBook float64
	effort float64
}

func (a *attempt) value() float64 { return a.inBook - cost(a.effort, a.parts) }

// after is a governor with the first n moves done.
func (a *attempt) after(g infer.Governor, n int) infer.Governor {
	for i, m := range a.moves[:n] {
		m.apply(&g, m.figure(a.x[i]))
	}
	return g
}

// reckon adds up the work: a larger amount is more of it (as advance.prescribe).
func (a *attempt) reckon() {
	a.effort = 0
	for i, m := range a.moves {
		a.effort += kinds[m].effort
		if m != stop {
			a.effort += 0.3 * math.Abs(a.x[i]) / kinds[m].high
		}
	}
}

// besideChanged is how far a unit that was changed lies beside what was reckoned,
// one deviation, distributor degrees: a governor that was fitted to another curve
// follows a change less well (chosen on a simulator with other physics).
const besideChanged = 0.3

// share is how likely a unit lies in the book once the attempt is made, by its
// heaviest draws, at most so many.
func (a *attempt) share(c *infer.Cloud, book *infer.Reach, draws int) float64 {
	sum, of, beside := 0.0, 0.0, infer.Misfit
	if len(a.moves) > 0 {
		beside = besideChanged
	}
	var by [moves]float64
	for i, m := range a.moves {
		by[i] = m.figure(a.x[i])
	}
	for k := range c.At[:min(draws, len(c.At))] {
		g := c.At[k]
		for i, m := range a.moves {
			m.apply(&g, by[i])
		}
		worst, _ := book.Worst(&g)
		sum, of = sum+c.Share[k]*infer.Holds(worst, advance.InBookWithin, beside), of+c.Share[k]
	}
	return min(1, sum/max(of, 1e-9))
}

// nothing is the attempt that leaves a unit as it is.
var nothing = attempt{}

// hopeless: where the likeliest governor still lies so far outside, distributor
// degrees, hardly any draw of it lies inside (chosen: six deviations of the misfit
// beyond what counts as in the book).
const hopeless = advance.InBookWithin + 0.9

// best is the change worth most, or nothing.
func (s *search) best(c *infer.Cloud, book *infer.Reach) (asItIs float64, chosen attempt) {
	chosen = nothing
	chosen.inBook = chosen.share(c, book, allDraws)
	asItIs = chosen.inBook
	if asItIs >= leaveAlone {
		return asItIs, chosen
	}
	dead, mustStop := s.deadEnds(c.Middle, book), s.stopTooLong(&c.Middle)
	for _, w := range s.ways {
		if mustStop && w.set>>stop&1 == 0 {
			continue
		}
		if chosen.value() >= 1-w.least {
			break // all that follow are more work still
		}
		if slices.ContainsFunc(dead, func(set int) bool { return w.set&^set == 0 }) {
			continue
		}
		a := attempt{way: w}
		worst := s.amounts(&a, c.Middle, book)
		a.reckon()
		hoped := min(1, infer.Holds(worst, advance.InBookWithin, besideChanged)+morePerhaps)
		if worst > hopeless || chosen.value() >= hoped-cost(a.effort, a.parts) {
			continue
		}
		if a.inBook = a.share(c, book, fewDraws); a.value() > chosen.value() {
			chosen = a
		}
	}
	chosen.inBook = chosen.share(c, book, allDraws)
	if chosen.value() <= asItIs {
		chosen = nothing
		chosen.inBook = asItIs
	}
	return asItIs, chosen
}

// leaveAlone: what lies in the book more likely than not is not opened but read
// again (chosen; on the simulators what is said to be even is so in seven of ten).
const leaveAlone = 0.5

// stopTooLong tells whether a governor goes over the most of the last row, which
// is also the book's maximum. Springs alone could bring it under there; past
// that row nothing would then show that the stop is still wrong (as in
// advance.prescribe).
func (s *search) stopTooLong(g *infer.Governor) bool {
	last := s.book.Rows[len(s.book.Rows)-1]
	most := last.Most
	if s.book.BaseInRows {
		most -= s.book.Base - s.book.Tolerance
	}
	may := s.in.Allow.Stop == nil || *s.in.Allow.Stop
	return may && !s.book.BaseUnknown && g.At(last.DistRPM) > most+advance.InBookWithin
}

// fewDraws are enough to choose among ways (chosen); what is said is by all.
const fewDraws, allDraws = 12, 1 << 20

// morePerhaps: a share is seldom so much more than what the likeliest governor
// alone would say (chosen).
const morePerhaps = 0.4

// deadEnds are sets of moves that do not bring a governor near the book however
// far they are gone, nor does any part of them: all that leave one part alone.
func (s *search) deadEnds(g infer.Governor, book *infer.Reach) (dead []int) {
	for _, w := range s.widest {
		a := attempt{way: w}
		if s.amounts(&a, g, book) > hopeless {
			dead = append(dead, w.set)
		}
	}
	return dead
}

// widestOf is, of the ways that leave primary, secondary or stop alone, each time
// the one with most moves.
func widestOf(ways []way) (widest []way) {
	for _, left := range []int{1<<primaryPost | 1<<primarySpring, 1<<secondaryPost | 1<<secondarySpring, 1 << stop} {
		best := way{}
		for _, w := range ways {
			if w.set&left == 0 && len(w.moves) > len(best.moves) {
				best = w
			}
		}
		if len(best.moves) > 1 {
			widest = append(widest, best)
		}
	}
	return widest
}
