package advance

import (
	"math"
	"slices"

	"pointsmith/calc/advance/infer"
)

// repair is a judgement with the governors that a repair is reckoned on: those
// drawn under the accounts that hold the named parts.
type repair struct {
	*judgement
	allow     Allow
	book      infer.Book
	parts     []string // elements inside that are named, from low to top
	wrongUnit bool
	units     []infer.Standing
	total     float64 // their shares together
	ways      infer.Ways
}

// fromLowToTop is the order in which parts inside are put right.
var fromLowToTop = []string{"primary-early", "primary-late", "secondary-early", "secondary-late",
	"stop-short", "stop-long"}

func newRepair(j *judgement, allow Allow) *repair {
	r := &repair{judgement: j, allow: allow, book: j.band.book(j.spec)}
	named := j.named()
	for _, e := range fromLowToTop {
		if slices.Contains(named, e) {
			r.parts = append(r.parts, e)
		}
	}
	r.wrongUnit = slices.Contains(named, "wrong-unit")
	r.units = j.result.Standings(func(id string) bool {
		return !slices.ContainsFunc(r.parts, func(e string) bool { return !holds(id, e) })
	})
	for _, u := range r.units {
		r.total += u.Share
	}
	for _, p := range j.usable {
		r.ways.Rising, r.ways.Falling = r.ways.Rising || !p.falling, r.ways.Falling || p.falling
	}
	return r
}

// drags: what keeps rising and falling apart is more than normal, and is
// cleaned before anything else.
func (r *repair) drags() bool {
	return r.element("drag") >= likelyShare || r.lag != nil && r.lag.distDeg > hysteresisFail ||
		r.lag != nil && r.lag.distDeg > hysteresisWatch && len(r.parts) == 0 && r.baseNamed() == ""
}

// model is the governor as found: of the drawn ones that whose curve lies
// nearest the middle of all, at even speeds up to the fastest.
func (r *repair) model() Model {
	const steps = 12
	units := r.units
	if len(units) == 0 {
		units = r.result.Standings(func(string) bool { return true })
	}
	if len(units) == 0 {
		return Model{StartDistRPM: 300, PrimaryRate: 0.1, LimitDistDeg: 1}
	}
	top, best, nearest := r.topDistRPM(), math.Inf(1), 0
	middle := make([]float64, steps)
	total := 0.0
	for _, u := range units {
		total += u.Share
		for i := range middle {
			middle[i] += u.Share * u.Is.Taut().At(top*float64(i+1)/steps)
		}
	}
	for k, u := range units {
		off := 0.0
		for i := range middle {
			d := u.Is.Taut().At(top*float64(i+1)/steps) - middle[i]/total
			off += d * d
		}
		if off < best {
			best, nearest = off, k
		}
	}
	return modelOf(units[nearest].Is.Taut())
}

// topDistRPM is the fastest speed of book and readings, distributor rpm.
func (r *repair) topDistRPM() float64 {
	top := 0.0
	for _, p := range r.points {
		top = max(top, p.EngineRPM)
	}
	for _, row := range r.band.printedTable {
		top = max(top, row.rpm)
	}
	return top / r.band.ratio
}
