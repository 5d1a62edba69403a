package infer

import (
	"math"
	"slices"
)

// How the range of sound governors is looked for (chosen).
const (
	pushSwarm   = 96
	pushSweeps  = 2
	pushPerDeg  = 5.0 // how hard the swarm is pushed outward, per distributor degree
	insideRow   = 0.1 // a governor this near a row is still a sound one, distributor degrees
	mostPivots  = 12
	beyondTable = 1.35 // how far past the last row the range is looked for, of its speed
)

// Sound is the governors that a book allows, looked for once.
type Sound struct {
	q   *prepared
	all []soundUnit
}

// Sound looks for the sound governors of a book by pushing a swarm of them
// outward at speeds between the rows, so they are governors that exist and their
// range is not a bound that is proved.
func (b Book) Sound() *Sound {
	q := prepare(Problem{Book: b})
	q.lastRPM = 0 // a table may end before the stop: then nothing is known of what comes after
	found, _ := q.bookSwarm(true)
	all := q.inside(found)
	for _, pivot := range b.pivots() {
		for _, sign := range []float64{1, -1} {
			all = append(all, q.pushed(found, pivot, sign)...)
		}
	}
	return &Sound{q, all}
}

// Allowed is what sound governors can do at speeds: the least and the most
// advance, distributor degrees (the base in it where the rows hold it).
func (s *Sound) Allowed(distRPM []float64) (least, most []float64) {
	least, most = make([]float64, len(distRPM)), make([]float64, len(distRPM))
	for i, rpm := range distRPM {
		least[i], most[i] = math.Inf(1), math.Inf(-1)
		for k := range s.all {
			a := s.all[k].shown(s.q, rpm)
			least[i], most[i] = min(least[i], a), max(most[i], a)
		}
		if len(s.all) == 0 {
			least[i], most[i] = s.q.rowsAround(rpm)
		}
		s.q.widen(rpm, &least[i], &most[i])
	}
	return least, most
}

// soundUnit is a governor with the base that its table may hold.
type soundUnit struct {
	Governor
	base float64
}

func (s *soundUnit) shown(q *prepared, rpm float64) float64 {
	u := squared(rpm)
	if q.book.Listed != 0 {
		return s.reads(u, q.book.Listed < 0) + s.base
	}
	return s.at(u) + s.base
}

// inside picks the governors of a swarm that every row allows.
func (q *prepared) inside(s *swarm) []soundUnit {
	var all []soundUnit
	for i := range s.at {
		unit := soundUnit{}
		governorOf(&s.at[i], 0, &unit.Governor)
		if q.book.BaseInRows {
			unit.base = q.bookBase(&s.at[i])
		}
		if q.allows(&unit) {
			all = append(all, unit)
		}
	}
	return all
}

func (q *prepared) allows(s *soundUnit) bool {
	if b := q.book; b.baseFree() && !b.BaseUnknown && math.Abs(s.base-b.Base) > b.Tolerance {
		return false
	}
	for _, r := range q.book.Rows {
		a := s.shown(q, r.DistRPM)
		if a < r.Least-insideRow || a > r.Most+insideRow {
			return false
		}
	}
	if n := q.book.Limit; n > 0 && math.Abs(s.Limit-n) > 2*limitSpread {
		return false
	}
	// half a degree: what is read as none (chosen)
	return q.book.NoAdvanceBelow <= 0 || s.At(q.book.NoAdvanceBelow) < 0.5
}

// pivots are speeds between the rows, below the first and past the last.
func (b Book) pivots() []float64 {
	var all []float64
	before := 0.0
	for _, r := range b.Rows {
		if before == 0 {
			all = append(all, 0.7*r.DistRPM)
		} else {
			all = append(all, (before+r.DistRPM)/2)
		}
		before = r.DistRPM
	}
	if len(all) > mostPivots-1 { // of long tables every so many: between close rows there is little room
		step := float64(len(all)) / (mostPivots - 1)
		for i := range mostPivots - 1 {
			all[i] = all[int(float64(i)*step)]
		}
		all = all[:mostPivots-1]
	}
	return append(all, beyondTable*before)
}

// pushed moves a swarm outward at one speed and gives those still sound.
func (q *prepared) pushed(from *swarm, rpm, sign float64) []soundUnit {
	rng := streamOf(21, q.seed)
	s := &swarm{at: slices.Clone(from.at[:min(pushSwarm, len(from.at))])}
	u := squared(rpm)
	g := Governor{}
	t := target{active: q.active[:7], most: pushPerDeg * 2 * mostLimit, prior: func(x *point) float64 {
		if !governorOf(x, 0, &g) {
			return math.Inf(-1)
		}
		return unitLog(x, 0) + 4*q.bookLog(x, &g) // four times as sharp: the rows bound what may be called sound
	}, like: func(*point) (float64, float64) { l := sign * pushPerDeg * g.at(u); return l, l }}
	if q.book.baseFree() {
		t.active = append(slices.Clone(t.active), bookBaseAt)
	}
	t.fill(s)
	t.anneal(s, len(s.at), pushSweeps, math.Inf(-1), rng)
	return q.inside(s)
}

// rowsAround bounds a speed by the rows beside it, because advance does not
// fall: all that can be said of rows that no governor of this room runs through.
func (q *prepared) rowsAround(rpm float64) (least, most float64) {
	least, most = 0, math.Inf(1)
	for _, r := range q.book.Rows {
		if r.DistRPM <= rpm {
			least = max(least, r.Least)
		}
		if r.DistRPM >= rpm {
			most = min(most, r.Most)
		}
	}
	if math.IsInf(most, 1) {
		most = max(least, mostLimit)
	}
	return least, most
}

// widen takes the printed row where the speed is a row's: what is printed is
// allowed, whether or not a governor of the swarm stands at its edge.
func (q *prepared) widen(rpm float64, least, most *float64) {
	for _, r := range q.book.Rows {
		if math.Abs(r.DistRPM-rpm) > 0.5 { // half a turn a minute: the same speed (chosen)
			continue
		}
		if !math.IsInf(r.Least, -1) {
			*least = r.Least
		}
		if !math.IsInf(r.Most, 1) {
			*most = r.Most
		}
	}
	*least = min(*least, *most)
}
