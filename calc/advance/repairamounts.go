package advance

import (
	"math"
	"slices"
	"strings"

	"pointsmith/calc/advance/infer"
)

// attempt is moves at their best amounts.
type attempt struct {
	moves  []move
	x      []float64
	inBook float64 // share of the governors that lie in the book afterwards
	score  float64
	effort float64
}

// after is a drawn unit with the first n moves done.
func (a attempt) after(u infer.Standing, n int) infer.Governor {
	g := u.Is
	for i, m := range a.moves[:n] {
		m.apply(&g, u.Sound, a.x[i])
	}
	return g.Taut()
}

// inBookWithin is how near a row counts as in the book, distributor degrees:
// half of what a bench ring is read to (±0.5, common practice).
const inBookWithin = 0.25

// weigh fills in what an attempt does for the units.
func (r *repair) score(a *attempt) {
	a.inBook, a.score = 0, 0
	for _, u := range r.units {
		worst, off := r.book.Beyond(a.after(u, len(a.moves)), u.Base, r.ways)
		share := u.Share / r.total
		if worst <= inBookWithin {
			a.inBook += share
		}
		miss := math.Max(0, worst)
		// Misses first, mid-band next; both bounded, so that odd governors do not pull (chosen).
		a.score += share * (miss*miss/(1+miss*miss) + math.Min(1, off/20))
	}
	a.inBook = math.Min(1, a.inBook)
	a.score = a.inBook - a.score
}

// best finds the amounts of moves one by one, in turns, on a grid that
// narrows.
func (r *repair) best(moves []move) attempt {
	a := attempt{moves: moves, x: make([]float64, len(moves))}
	for i, m := range moves {
		a.effort += m.effort
		switch {
		case m.only != nil:
			a.x[i] = *m.only
		case len(m.of) > 0:
			a.x[i] = m.of[0]
		case m.kind == "stop":
			a.x[i] = infer.RangeOfStandings(r.units, func(u *infer.Standing) float64 { return u.Is.Limit }).Middle
		}
	}
	r.score(&a)
	for round := range rounds {
		for i, m := range moves {
			if m.only == nil {
				r.search(&a, i, m, (m.high-m.low)/math.Pow(3, float64(round)))
			}
		}
	}
	for i, m := range moves {
		if m.kind != "stop" {
			a.effort += 0.3 * abs(a.x[i]) / math.Max(m.high, 1e-9) // a larger amount is more work (chosen)
		}
	}
	return a
}

// How finely amounts are looked for (chosen: to a hundredth of their range).
const (
	rounds    = 4
	gridSteps = 16
)

func (r *repair) search(a *attempt, i int, m move, width float64) {
	for _, x := range m.amounts(a.x[i], width) {
		try := *a
		try.x = slices.Clone(a.x)
		try.x[i] = x
		if r.score(&try); try.score > a.score {
			*a = try
		}
	}
}

// mostRatio is the ratio from which a spring is replaced and not reckoned:
// there is next to nothing left of the one in it (about four, chosen).
const mostRatio = 3.5

// replaced gives the moves with the book's own spring for every one that would
// have to be so much stiffer.
func (a attempt) replaced() (moves []move, ok bool) {
	moves = slices.Clone(a.moves)
	for i, m := range moves {
		if m.kind != "spring" || math.Exp(a.x[i]) < mostRatio {
			continue
		}
		ok, moves[i] = true, newPrimary
		if m.part == "secondary" {
			moves[i] = newSecondary
		}
	}
	return moves, ok
}

// perWork: one more of work has to bring so large a share of the governors into
// the book to come first (chosen).
const perWork = 0.02

// perPart: touching one part more has to bring so large a share of the
// governors into the book to come first (chosen: fewest changes first).
const perPart = 0.1

func (a attempt) value() float64 {
	parts := map[string]bool{}
	for _, m := range a.moves {
		parts[m.part] = true
	}
	return a.inBook - perWork*a.effort - perPart*float64(len(parts))
}

// enough of the governors in the book for a way to be taken without looking
// for more work (chosen: half).
const enough = 0.5

// attempts works out every way for the named parts, at most two for each, and
// for one of two alone where that is enough. A stop that is named is never left:
// past the book's last row nothing else would show that it is still wrong.
func (r *repair) attempts() []attempt {
	all := r.waysTogether(r.parts)
	if len(r.parts) > 1 {
		last := r.parts[len(r.parts)-1]
		for _, part := range r.parts {
			if strings.HasPrefix(last, "stop") && part != last {
				continue
			}
			for _, a := range r.waysTogether([]string{part}) {
				if a.inBook >= enough {
					all = append(all, a)
				}
			}
		}
	} else if len(all) == 2 && max(all[0].inBook, all[1].inBook) < enough {
		all = append(all, r.whereNeitherDoes(all[0].moves[0], all[1].moves[0])...)
	}
	if fresh := r.freshSprings(); len(fresh) > 1 {
		all = append(all, r.best(fresh))
	}
	slices.SortStableFunc(all, func(a, b attempt) int {
		switch d := a.value() - b.value(); {
		case d > 0:
			return -1
		case d < 0:
			return 1
		}
		return 0
	})
	return all
}

// freshSprings is the book's own spring for each spring that is named, where
// they may be fitted: right whatever is left of those in it.
func (r *repair) freshSprings() []move {
	may := func(allowed *bool) bool { return allowed == nil || *allowed }
	var all []move
	for _, part := range r.parts {
		switch {
		case strings.HasPrefix(part, "primary") && may(r.allow.PrimarySpring):
			all = append(all, asTheBook(newPrimary))
		case strings.HasPrefix(part, "secondary") && may(r.allow.SecondarySpring):
			all = append(all, asTheBook(newSecondary))
		default:
			return nil
		}
	}
	return all
}

// asTheBook is a new spring with its post set so that it starts, or takes up,
// where the book's own does.
func asTheBook(m move) move {
	m.apply = func(u *infer.Governor, sound infer.Governor, _ float64) {
		if m.part == "primary" {
			u.U0, u.K1 = sound.U0, sound.K1
		} else {
			u.K2, u.Knee = sound.K2, sound.Knee
		}
	}
	return m
}

// waysTogether is every choice of one way for each of these parts.
func (r *repair) waysTogether(parts []string) []attempt {
	all := []attempt{{}}
	for _, part := range parts {
		var next []attempt
		for _, a := range all {
			for _, way := range r.waysFor(part) {
				next = append(next, attempt{moves: append(slices.Clone(a.moves), way...)})
			}
		}
		all = next
	}
	for i := range all {
		all[i] = r.best(all[i].moves)
		if moves, ok := all[i].replaced(); ok {
			all[i] = r.best(moves)
		}
	}
	return all
}

// whereNeitherDoes: how far spring and post are off is too little known for
// either amount. The book's own spring is right whatever is left of this one;
// or spring and post both are put right, the spring first.
func (r *repair) whereNeitherDoes(post, spring move) []attempt {
	fresh := newPrimary
	if spring.part == "secondary" {
		fresh = newSecondary
	}
	out := []attempt{r.best([]move{fresh})}
	if spring.kind == "spring" {
		out = append(out, r.best([]move{spring, post}))
	}
	return out
}
