package infer

import "math"

// Reach is a book made ready to be held against many governors, as they are
// read in these ways.
type Reach struct {
	rows      []reachRow
	ways      Ways
	low, high float64 // bases that may stand under the rows, distributor degrees
	quiet     float64 // squared speed below which nothing moves; 0 when unsaid
	plate     float64 // number on the plate; 0 when unknown
}

const (
	// readAsNone: less advance than this is read as none, as in allows.
	readAsNone = 0.5
	// plateWithin: a stop this near the book's plate number passes, distributor
	// degrees: half a degree that plates are good to (common practice) and half
	// that a bench is read to. Rows bound it more closely where they reach it.
	plateWithin = 1.0
	// leastOfBases and mostOfBases: a base the book does not name lies between these,
	// distributor degrees: −2 to 20 of crank (common practice: static 0 to 15).
	leastOfBases, mostOfBases = -1.0, 10.0
)

// Reach makes the book ready. Where its rows hold a base, the body can be
// turned to whatever base it allows that suits the governor best.
func (b *Book) Reach(ways Ways) *Reach {
	if b.Listed != 0 {
		ways = Ways{b.Listed > 0, b.Listed < 0}
	}
	r := &Reach{ways: ways, plate: b.Limit}
	for _, row := range b.Rows {
		r.rows = append(r.rows, reachRow{u: squared(row.DistRPM), least: row.Least, most: row.Most,
			middle: (row.Least + row.Most) / 2, perHalf: 1 / max(0.5, (row.Most-row.Least)/2)})
	}
	if b.NoAdvanceBelow > 0 {
		r.quiet = squared(b.NoAdvanceBelow)
	}
	switch {
	case b.BaseInRows && b.BaseUnknown:
		r.low, r.high = leastOfBases, mostOfBases
	case b.BaseInRows:
		r.low, r.high = b.Base-b.Tolerance, b.Base+b.Tolerance
	}
	for i := range r.rows {
		row := &r.rows[i]
		least, most := row.least > r.low && !math.IsInf(row.least, -1), !math.IsInf(row.most, 1)
		switch {
		case least && most:
			row.kind = bothEdges
		case most:
			row.kind = mostAlone
		case least:
			row.kind = leastAlone
		}
	}
	return r
}

// edges a row has; noEdge is one that says nothing.
type edges int

const (
	noEdge edges = iota
	bothEdges
	mostAlone
	leastAlone
)

// reachRow is a row made ready; middle and one over half its width, where it
// has both edges.
type reachRow struct {
	u, least, most  float64
	middle, perHalf float64
	kind            edges
}

// Worst is how far a governor lies outside the book where it is worst,
// distributor degrees, below none inside; and the base under which it is least.
func (r *Reach) Worst(g *Governor) (worst, base float64) {
	under, over := math.Inf(-1), math.Inf(-1) // how far below the rows, how far above
	for i := range r.rows {
		row := &r.rows[i]
		low, high := g.shows(row.u, r.ways)
		if row.kind != mostAlone && row.least-low > under { // less than none cannot be read
			under = row.least - low
		}
		if high-row.most > over {
			over = high - row.most
		}
	}
	base = min(r.high, max(r.low, (under-over)/2))
	if math.IsNaN(base) || math.IsInf(under, -1) || math.IsInf(over, -1) { // rows of one edge alone
		base = (r.low + r.high) / 2
	}
	worst = max(under-base, over+base)
	if r.quiet > 0 {
		worst = max(worst, g.at(r.quiet)-readAsNone)
	}
	if r.plate > 0 {
		worst = max(worst, math.Abs(g.Limit-r.plate)-plateWithin)
	}
	return worst, base
}

// Misfit is how far a real unit lies beside this room's governor, one deviation,
// distributor degrees.
const Misfit = misfit

// Holds is how likely a unit whose governor misses its worst row by so much lies
// within within of the book, when it lies beside that governor by beside, one
// deviation; distributor degrees. The normal law's sum is reckoned as 1 / (1 + e^(−1.702 x)), which is it
// to a hundredth (well known; from memory, and a test holds it against math.Erf).
func Holds(worst, within, beside float64) float64 {
	x := (within - worst) / beside
	switch {
	case x > 4: // the rest is a thousandth
		return 1
	case x < -4:
		return 0
	}
	return 1 / (1 + exp(-1.702*x))
}

// Off fills in, for each row, how far a governor lies from the middle of the row
// in half widths (no less than half a degree), under the base of least worst.
// Rows with one edge, or whose least is none, count from half a degree inside
// their edge on.
func (r *Reach) Off(g *Governor, out []float64) {
	base := r.low
	if r.low != r.high {
		_, base = r.Worst(g)
	}
	for i := range r.rows {
		row := &r.rows[i]
		low, high := g.shows(row.u, r.ways)
		a := (low+high)/2 + base
		switch row.kind {
		case bothEdges:
			out[i] = (a - row.middle) * row.perHalf
		case mostAlone:
			out[i] = max(0, (a-row.most+0.5)/0.5)
		case leastAlone:
			out[i] = min(0, (a-row.least-0.5)/0.5)
		default:
			out[i] = 0
		}
	}
}

// OnShaft is the same governor in the degrees and speeds of a shaft that turns
// times as far: 2 over the drive ratio takes one at half engine speed to its own.
func (s Governor) OnShaft(times float64) Governor {
	s.U0 *= times * times
	s.K1, s.K2, s.Drag = s.K1*times, s.K2*times, s.Drag*times*times
	s.Knee, s.Limit, s.Growth = s.Knee*times, s.Limit*times, s.Growth/times
	return s
}
