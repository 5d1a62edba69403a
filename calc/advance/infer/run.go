package infer

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Swarm sizes and sweeps: of the units the book allows, of the first look at
// every account, of the second at those that may matter, of the last at those
// that lie close to the best. Chosen: what a tenth of a second is enough for.
const (
	bookSwarm   = 400
	bookSweeps  = 6
	firstSwarm  = 48
	firstSweeps = 4
	nextSwarm   = 160
	nextSweeps  = 12
	lastSwarm   = 240
	startTimes  = 4 // a swarm begins with so many times its points
	worthwhile  = 4 // logarithm of the share below the best at which an account is not looked at twice
	closeBy     = 2 // the same of the last look
)

// Result is the whole of what was inferred.
type Result struct {
	Shares map[string]float64 // by id of account; they add up to 1 with "other"
	Slips  []float64          // how likely each reading is a slip
	Static []float64          // the same for each static figure
	drawn  []drawn
	q      *prepared
	book   *swarm
}

// drawn is an account with its swarm and its share.
type drawn struct {
	acc   *account
	s     *swarm
	log   float64
	share float64
}

// Infer weighs the accounts of one problem: it looks at every account, again
// and closer at those that may matter, and once more where some lie close to
// the best.
func Infer(p Problem) *Result {
	q := prepare(p)
	r := &Result{q: q}
	from := q.starts()
	r.book = from.book
	look := func(a *account, n, sweeps int, floor float64, stream uint64) drawn {
		start, log := from.of(q, a)
		d := q.look(a, start, from.free, n, sweeps, floor-log, stream)
		d.log += log
		return d
	}
	looks := []drawn{}
	best := math.Inf(-1)
	for i, a := range q.accounts() {
		looks = append(looks, look(a, firstSwarm, firstSweeps, best-2*worthwhile, uint64(i)))
		best = max(best, looks[i].log)
	}
	for _, i := range near(looks, worthwhile) {
		looks[i] = look(looks[i].acc, q.affordable(nextSwarm), nextSweeps, math.Inf(-1), uint64(1000+i))
	}
	if close := near(looks, closeBy); len(close) > 1 {
		for _, i := range close {
			last := look(looks[i].acc, q.affordable(lastSwarm), nextSweeps, math.Inf(-1), uint64(2000+i))
			looks[i] = together(looks[i], last)
		}
	}
	r.share(looks)
	return r
}

// starts are the swarms that accounts begin with: units the book allows, any
// unit, and units that the book allows if its rows hold the base.
type starts struct {
	book, free, total *swarm
	printed, held     float64 // how well any governor runs through the rows, read one way and the other
}

func (q *prepared) starts() *starts {
	s := &starts{}
	s.book, s.printed = q.bookSwarm(true)
	s.free, _ = q.bookSwarm(false)
	return s
}

// of gives the swarm an account begins with, and how much better governors run
// through the rows as it reads them: the book is evidence too.
func (s *starts) of(q *prepared, a *account) (*swarm, float64) {
	switch {
	case a.alone:
		return s.free, 0
	case a.total:
		if s.total == nil {
			s.total, s.held = q.holding().bookSwarm(true)
		}
		return s.total, s.held - s.printed
	}
	return s.book, 0
}

// holding is the same problem with a table that holds the base.
func (q *prepared) holding() *prepared {
	other := *q
	other.book.BaseInRows = true
	return &other
}

// near lists the looks that lie within a logarithm of the best.
func near(looks []drawn, within float64) (list []int) {
	best := math.Inf(-1)
	for _, l := range looks {
		best = max(best, l.log)
	}
	for i, l := range looks {
		if l.log > best-within {
			list = append(list, i)
		}
	}
	return list
}

// affordable is fewer points where there are many readings, so that the work
// stays the same; never fewer than leastSwarm.
func (q *prepared) affordable(n int) int {
	return max(leastSwarm, 2*int(float64(n)*min(1, float64(usualReadings)/float64(len(q.readings)+1))/2))
}

// What the sizes of the swarms are meant for (chosen).
const (
	usualReadings = 40
	leastSwarm    = 64
)

// together is two looks at one account taken together: the evidence of either by
// its number of points, and the points of the one with more.
func together(a, b drawn) drawn {
	x, y := float64(len(a.s.at)), float64(len(b.s.at))
	top := max(a.log, b.log)
	b.log = top + ln((x*exp(a.log-top)+y*exp(b.log-top))/(x+y))
	return b
}

// bookSwarm draws governors: those the book allows, or any.
func (q *prepared) bookSwarm(bound bool) (*swarm, float64) {
	rng := streamOf(11, q.seed)
	limited := *q
	if !bound {
		limited.book.Rows, limited.rows, limited.lastRPM, limited.book.NoAdvanceBelow, limited.book.Limit = nil, nil, 0,
			0, 0
	}
	s := &swarm{}
	active := []int{startAt, kneeAt, shareAt, limitAt, travelAt, growthAt, frictionAt}
	if q.book.baseFree() {
		active = append(active, bookBaseAt)
	}
	mean, spread := q.book.freeBase()
	unit := Governor{}
	for len(s.at) < bookSwarm*startTimes {
		var x point
		drawUnit(&x, 0, rng)
		if q.book.baseFree() {
			x[bookBaseAt] = mean + spread*rng.NormFloat64()
		}
		if governorOf(&x, 0, &unit) {
			s.at = append(s.at, x)
		}
	}
	t := target{active: active, most: 0, prior: func(x *point) float64 {
		if !governorOf(x, 0, &unit) {
			return math.Inf(-1)
		}
		return unitLog(x, 0)
	}, like: func(x *point) (float64, float64) { l := limited.bookLog(x, &unit); return l, l }}
	t.fill(s)
	return s, t.anneal(s, bookSwarm, bookSweeps, math.Inf(-1), rng)
}

func drawUnit(x *point, at int, rng *rand.Rand) {
	for i, p := range unitPrior {
		x[at+i] = p[0] + p[1]*rng.NormFloat64()
	}
}

// look draws one account's swarm and its evidence.
func (q *prepared) look(a *account, from, free *swarm, n, sweeps int, floor float64, number uint64) drawn {
	rng := streamOf(number+100, q.seed)
	t := q.targetOf(a)
	s := &swarm{at: make([]point, n*startTimes)}
	turn := rng.IntN(len(from.at))
	for i := range s.at {
		s.at[i] = from.at[(turn+i*7)%len(from.at)] // 7 shares no divisor with the swarm's size: all are taken in turn
		q.drawRest(a, &s.at[i], free, rng)
	}
	t.fill(s)
	evidence := t.anneal(s, n, sweeps, floor-ln(a.prior), rng)
	return drawn{acc: a, s: s, log: ln(a.prior) + evidence}
}

// drawRest draws what is not the unit from what is believed of it.
func (q *prepared) drawRest(a *account, x *point, free *swarm, rng *rand.Rand) {
	x[spreadAt] = spreadSpread * rng.NormFloat64()
	x[offsetAt] = q.soundOffset() * rng.NormFloat64()
	if a.free {
		x[offsetAt] = baseSize.draw(rng)
	}
	x[zeroAt] = zeroError * rng.NormFloat64()
	for i, s := range a.sizes {
		x[sizeAt+i] = s.draw(rng)
	}
	if a.other {
		other := free.at[rng.IntN(len(free.at))]
		copy(x[otherUnitAt:otherUnitAt+7], other[:7])
	}
}

func (s size) draw(rng *rand.Rand) float64 {
	for {
		spread := s.spread
		if rng.Float64() < s.far {
			spread *= farWide
		}
		if x := s.mean + spread*rng.NormFloat64(); s.least == 0 || math.Abs(x) >= s.least {
			return x
		}
	}
}

func (q *prepared) targetOf(a *account) target {
	t := target{active: slices.Clone(q.active), most: q.mostLikely()}
	for i := range a.sizes {
		t.active = append(t.active, sizeAt+i)
	}
	if a.other {
		for i := range 7 {
			t.active = append(t.active, otherUnitAt+i)
		}
	}
	bound := *q
	if a.total {
		bound = *q.holding()
	}
	if a.alone {
		bound.book.Rows, bound.rows, bound.lastRPM, bound.book.NoAdvanceBelow, bound.book.Limit = nil, nil, 0, 0, 0
	}
	n := len(q.errors)
	w := &work{inverse: make([]float64, n), lnInverse: make([]float64, n)}
	t.prior = func(x *point) float64 { return bound.priorLog(a, x, &w.unit, &w.view.other) }
	t.like = func(x *point) (like, guide float64) {
		w.view = q.viewFrom(x, &w.unit)
		a.make(q, x, &w.view)
		return q.likelihood(x, &w.view, w.inverse, w.lnInverse)
	}
	return t
}

// mostLikely is the likelihood of readings that all lie where they should.
func (q *prepared) mostLikely() float64 {
	n := float64(len(q.readings) + len(q.statics))
	// A tenth: degrees typed as a tenth are read ten times as finely.
	return n * ln(1/(rootTwoPi*min(0.1*misfit, driveSlack)))
}

// priorLog is what is believed of a point under an account, book included.
func (q *prepared) priorLog(a *account, x *point, unit, other *Governor) float64 {
	if !governorOf(x, 0, unit) {
		return math.Inf(-1)
	}
	sum := 0.0
	if q.withBase {
		if a.free {
			sum = baseSize.log(x[offsetAt])
		} else {
			z := x[offsetAt] / q.soundOffset()
			sum = -z * z / 2
		}
	}
	for i, s := range a.sizes {
		sum += s.log(x[sizeAt+i])
	}
	if math.IsInf(sum, -1) {
		return sum
	}
	z, n := x[spreadAt]/spreadSpread, x[zeroAt]/zeroError
	sum -= z * z / 2
	if q.bench {
		sum -= n * n / 2
	}
	if a.other {
		if !governorOf(x, otherUnitAt, other) {
			return math.Inf(-1)
		}
		sum += unitLog(x, otherUnitAt) + rateLog(other)
	}
	return sum + unitLog(x, 0) + q.bookLog(x, unit)
}

// work is the room of one target, used again so that nothing is allotted in the
// loop.
type work struct {
	unit               Governor
	view               view
	inverse, lnInverse []float64
}

// viewOf is how a point of an account says the readings come about.
func (q *prepared) viewOf(a *account, x *point) view {
	unit := Governor{}
	governorOf(x, 0, &unit)
	v := q.viewFrom(x, &unit)
	a.make(q, x, &v)
	return v
}

func (q *prepared) viewFrom(x *point, unit *Governor) view {
	return view{unit: *unit, speed2: 1, scale: 1, from: 0, to: -1, base: q.bookBase(x) + x[offsetAt], zero: x[zeroAt]}
}

// share turns evidence into shares, and counts the ids.
func (r *Result) share(looks []drawn) {
	logs := []float64{}
	for _, l := range looks {
		logs = append(logs, l.log)
	}
	logs = append(logs, ln(otherPrior)+r.q.otherEvidence())
	top := slices.Max(logs)
	sum := 0.0
	for _, l := range logs {
		sum += exp(l - top)
	}
	r.Shares = map[string]float64{"other": exp(logs[len(looks)]-top) / sum}
	for _, l := range looks {
		l.share = exp(l.log-top) / sum
		if l.share < leastShare {
			r.Shares["other"] += l.share
			continue
		}
		r.drawn = append(r.drawn, l)
		each := l.share / float64(len(l.s.at))
		for i := range l.s.at {
			r.Shares[l.acc.name(&l.s.at[i])] += each
		}
	}
	slices.SortFunc(r.drawn, func(a, b drawn) int {
		if a.share > b.share {
			return -1
		}
		return 1
	})
	r.findSlips()
}

// leastShare: what is held with less than one in five thousand is not kept.
const leastShare = 2e-4

// otherEvidence is the likelihood under none of the accounts: readings anywhere
// about the book's middle, five distributor degrees either way (chosen).
func (q *prepared) otherEvidence() float64 {
	const wide = 5.0
	sum := 0.0
	for i := range q.readings {
		r := &q.readings[i]
		d := r.deg - q.middleAt(r.u)
		if r.withBase && !q.book.BaseUnknown {
			d -= q.book.Base
		}
		sum += ln(normalOrSlip(d, wide))
	}
	for _, s := range q.statics {
		sum += ln(normalOrSlip(s.Deg-q.book.Base, wide))
	}
	return sum
}
