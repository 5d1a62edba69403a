package infer

import "math"

// accounts lists the stories that these readings can speak for or against.
func (q *prepared) accounts() []*account {
	all := []*account{{prior: soundPrior, name: fixedName("sound"), make: movesNothing}}
	add := func(list ...*account) { all = append(all, list...) }
	add(primarySpring.single(springPrior), primaryPost.single(postPrior), primaryLost.single(lostPrior),
		secondarySpring.single(secondPrior), secondarySlack.single(slackPrior), secondaryLost.single(gonePrior),
		stop.single(stopPrior), seized.single(seizedPrior), drag.single(q.dragBelief(dragPrior)))
	add(pair(primaryAny, secondaryAny, 3*pairPrior), pair(primaryAny, stop, 2*pairPrior),
		pair(secondaryAny, stop, 2*pairPrior), pair(drag, primaryAny, q.dragBelief(pairPrior)),
		pair(drag, stop, q.dragBelief(pairPrior)))
	if q.withBase {
		add(&account{prior: basePrior, free: true, name: baseName, make: movesNothing})
		add(withBase(primaryAny, 4*pairPrior), withBase(secondaryAny, 4*pairPrior), withBase(stop, 3*pairPrior),
			withBase(seized, pairPrior), withBase(drag, q.dragBelief(pairPrior)),
			hiding(pair(primaryAny, secondaryAny, triplePrior)))
	}
	if q.bench {
		add(zeroMoved.single(zeroPrior))
		add(pair(zeroMoved, primaryAny, pairPrior), pair(zeroMoved, secondaryAny, pairPrior),
			pair(zeroMoved, stop, pairPrior), pair(zeroMoved, seized, pairPrior),
			pair(zeroMoved, drag, q.dragBelief(pairPrior)))
	}
	add(&account{prior: unitPriorWrong, alone: true, name: fixedName("wrong-unit"), make: movesNothing})
	if !q.book.BaseInRows && math.Abs(q.book.Base) >= leastBase {
		add(&account{prior: basePriorWrong, total: true, name: fixedName("base-missing"), make: movesNothing})
	}
	if q.bench && q.withBase {
		add(withBase(zeroMoved, pairPrior))
	}
	if q.bench && q.car {
		for _, of := range []group{benchOnly, carOnly} {
			add(&account{prior: repairPrior, other: true, name: fixedName("repaired-between"),
				make: func(_ *prepared, x *point, v *view) {
					v.otherOf = of
					governorOf(x, otherUnitAt, &v.other)
				}})
		}
	}
	return append(append(append(all, q.entries()...), q.pipes()...), q.marks()...)
}

// movesNothing is for accounts that change no part of the distributor.
func movesNothing(*prepared, *point, *view) {}

// marks are the strobe against the lamp: where a lamp figure was taken, the
// car's readings may all stand off by one amount, because the mark has slipped,
// another mark was taken for it, or the strobe's lead is another cylinder's.
func (q *prepared) marks() []*account {
	if len(q.statics) == 0 || !q.car {
		return nil
	}
	off := change{func(*point, int) string { return "mark-off" }, []size{markSize}, func(x *point, at int, v *view) {
		v.of, v.added = carOnly, x[at]
	}}
	all := []*account{off.single(markPrior)}
	if q.bench {
		all = append(all, pair(off, zeroMoved, pairPrior))
	}
	for _, a := range all {
		a.mark = true
	}
	return all
}

// markPrior and markSize: judgement of the trade, no count is known; outer rings
// of dampers slip by 3 to 20 crank degrees (common practice).
const markPrior = 3

var markSize = size{0, 4, 1, 0}

// dragBelief is the prior of an account with drag. Speed rising only, drag looks
// like a stiffer primary spring; nobody who did not look for it, falling, is told
// of it unless nothing else will do (chosen: a quarter of the belief).
func (q *prepared) dragBelief(prior float64) float64 {
	if q.rising && q.falling {
		return prior
	}
	return prior / 4
}

// secondaryAny is a secondary spring with its post, as it goes into pairs.
var secondaryAny = change{func(x *point, at int) string {
	if x[at+1]/slackSize.spread-x[at]/secondarySize.spread > 0 {
		return "secondary-early"
	}
	return "secondary-late"
}, []size{{0, 0.8, 0, 0.15}, {0, 2.5, 0, 0}}, func(x *point, at int, v *view) {
	v.unit.K2 *= exp(x[at])
	v.unit.takeUp(x[at+1])
}}

// entries are mistakes of figures: of unit, of column, of instrument.
func (q *prepared) entries() []*account {
	var all []*account
	for _, of := range q.groups() {
		all = append(append(all, q.unitEntries(of)...), q.otherEntries(of)...)
	}
	return all
}

// entry is a mistake in the figures of one place.
func entry(of group, id string, prior float64, sizes []size, make func(x *point, v *view)) *account {
	a := &account{prior: prior, sizes: sizes, name: fixedName(id)}
	a.make = func(_ *prepared, x *point, v *view) {
		v.of = of
		make(x, v)
	}
	return a
}

// unitEntries are figures in another unit than was said.
func (q *prepared) unitEntries(of group) []*account {
	scaled := func(id string, prior, deg, speed float64) *account {
		return entry(of, id, prior, nil, func(_ *point, v *view) { v.scale, v.speed2 = deg, 1/(speed*speed) })
	}
	crank, engine := q.typedAs(of)
	likely := func(yes bool) float64 {
		if yes {
			return entryPrior
		}
		return entryPrior / otherShaft
	}
	return []*account{
		scaled("degrees-doubled", likely(!crank), 2, 1),
		scaled("degrees-halved", likely(crank), 0.5, 1),
		scaled("speeds-doubled", likely(!engine), 1, 2),
		scaled("speeds-halved", likely(engine), 1, 0.5),
		scaled("both-doubled", entryPrior, 2, 2), // or a distributor that turns as fast as the crank
		scaled("both-halved", entryPrior, 0.5, 0.5),
		scaled("degrees-tenfold", entryPrior/4, 10, 1),
		scaled("degrees-tenth", entryPrior/4, 0.1, 1),
		scaled("speeds-tenfold", entryPrior/4, 1, 10),
		scaled("speeds-tenth", entryPrior/4, 1, 0.1),
		scaled("speeds-in-thousands", entryPrior/4, 1, 0.001),
	}
}

// otherEntries are a tachometer out of scale, a ring read backwards, columns
// swapped, a base counted twice or left out.
func (q *prepared) otherEntries(of group) []*account {
	tach := entry(of, "", tachPrior, []size{tachSize}, func(x *point, v *view) { v.speed2 = exp(-2 * x[sizeAt]) })
	tach.name = either("tach-slow", "tach-fast")
	from := q.middleOf(of)
	all := []*account{tach,
		entry(of, "wheel-backwards", entryPrior/4, []size{{0, 3, 0, 0}}, func(x *point, v *view) {
			v.flip, v.flipFrom = true, from+x[sizeAt]
		}),
		entry(of, "wheel-backwards", entryPrior, []size{{0, 0.3, 0, 0}}, func(x *point, v *view) {
			v.flip, v.flipFrom = true, x[sizeAt]
		})}
	if q.rising && q.falling {
		all = append(all, entry(of, "columns-swapped", entryPrior, nil, func(_ *point, v *view) { v.swapped = true }))
	}
	if base := q.book.Base; math.Abs(base) >= leastBase && !q.book.BaseUnknown {
		all = append(all, entry(of, "base-twice", basePriorWrong, nil, func(_ *point, v *view) { v.added = base }),
			entry(of, "base-missing", basePriorWrong, nil, func(_ *point, v *view) { v.added = -base }))
	}
	return all
}

// otherShaft: figures of the engine written down as the distributor's come out
// doubled, the other way round halved; the reverse takes two slips (chosen: a hundred
// times as seldom).
const otherShaft = 100

// typedAs tells which units the figures of a place were typed in.
func (q *prepared) typedAs(of group) (crankDeg, engineRPM bool) {
	v := view{of: of}
	for i := range q.readings {
		if r := &q.readings[i]; v.applies(r) {
			return r.crankDeg, r.engine
		}
	}
	return false, false
}

// leastBase: a base below three crank degrees counted twice cannot be told from
// a moved one, distributor degrees (chosen).
const leastBase = 1.5

// groups are the places that were read, each by itself.
func (q *prepared) groups() []group {
	var all []group
	if q.bench {
		all = append(all, benchOnly)
	}
	if q.car {
		all = append(all, carOnly)
	}
	return all
}

// middleOf is about where a ring read backwards was zeroed: figure and middle
// of the book added up at their middle one.
func (q *prepared) middleOf(of group) float64 {
	v := view{of: of}
	sum, n := 0.0, 0.0
	for i := range q.readings {
		if r := &q.readings[i]; v.applies(r) {
			sum, n = sum+r.deg+q.middleAt(r.u), n+1
			if r.withBase {
				sum += q.book.Base
			}
		}
	}
	return sum / max(n, 1)
}

// middleAt is the middle of the book at a squared speed, on straight lines.
func (q *prepared) middleAt(u float64) float64 {
	middle := func(r preparedRow) float64 {
		switch {
		case math.IsInf(r.least, -1):
			return r.most
		case math.IsInf(r.most, 1):
			return r.least
		}
		return (r.least + r.most) / 2
	}
	rows := q.rows
	switch {
	case len(rows) == 0:
		return 0
	case u <= rows[0].u:
		return middle(rows[0]) * u / rows[0].u
	}
	for i := 1; i < len(rows); i++ {
		if u <= rows[i].u {
			share := (u - rows[i-1].u) / (rows[i].u - rows[i-1].u)
			return middle(rows[i-1])*(1-share) + middle(rows[i])*share
		}
	}
	return middle(rows[len(rows)-1])
}

// pipes are the vacuum pipe left on: to a port above the throttle, to the
// manifold, to a retard capsule.
func (q *prepared) pipes() []*account {
	if !q.car {
		return nil
	}
	prior := pipePrior * 1.0
	if q.pipe == PipeOff {
		prior /= saidOff
	}
	amount := capsuleSize
	if n := q.book.CapsuleMost; n > 0 {
		// on a free-revving engine a capsule gives most of its travel (common practice)
		amount = size{0.8 * n, 0.25 * n, 0, 0}
	}
	from := size{1.0, 0.6, 0, 0} // thousands of engine-half rpm: a port above the throttle opens just off idle (chosen)
	pull := func(sizes []size, sign float64, share float64, id string, open func(x *point, v *view)) *account {
		return &account{prior: prior * share, sizes: sizes, name: fixedName(id),
			make: func(_ *prepared, x *point, v *view) {
				v.capsule = sign * max(0, x[sizeAt])
				open(x, v)
			}}
	}
	whole := func(_ *point, v *view) { v.to = math.Inf(1) }
	return []*account{
		pull([]size{amount}, 1, 0.4, "pipe-advance", whole),
		pull([]size{amount, from}, 1, 0.5, "pipe-advance", func(x *point, v *view) {
			v.from, v.to = x[secondAt]*x[secondAt]/4, math.Inf(1)
		}),
		pull([]size{retardSize}, -1, 0.1, "pipe-retard", whole),
	}
}

// saidOff: of five who say the pipe was off, one is wrong (chosen: it is the
// slip met most).
const saidOff = 5
