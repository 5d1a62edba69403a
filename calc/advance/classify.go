package advance

import "math"

// dev is one reading as a deviation from the book, after a supposed base
// offset has been taken off.
type dev struct {
	reading
	low, high float64
	beyond    float64 // outside the band, signed; 0 inside
	silent    bool    // below the book's first speed: low and high are only what is possible
	offMid    float64 // measured less the middle of the band; where the book is silent, beyond
	taken     float64 // the base offset that was taken off, crank degrees
	q         float64 // how far up the book's curve this speed is, 0 at rest, 1 at the maximum
}

// Where a speed stands on the book's curve, as a share of its whole advance.
// Below lowPart the primary spring alone is at work on most units; above
// topPart the stop is what counts (chosen; springs commonly hand over between
// a third and two thirds of the travel: common practice).
const (
	lowPart = 0.5
	topPart = 0.85
)

// region of the curve in which a fault shows.
type region int

const (
	nowhere region = iota
	lowRegion
	midRegion
	topRegion
)

func (d dev) region() region {
	switch {
	case d.q < lowPart:
		return lowRegion
	case d.q < topPart:
		return midRegion
	}
	return topRegion
}

func (d dev) out() bool { return abs(d.beyond) > d.err+rounding }

// shapeFinding is what one run of deviations looks like.
type shapeFinding struct {
	shape   string
	first   region  // where it first leaves the band
	worst   dev     // the reading furthest out
	offset  float64 // base offset taken off, or found (base-only)
	low     float64 // the offset is hardly less than this (base-only)
	high    float64 // nor more than this
	topToo  bool    // early at the bottom and still over at the top
	flat    bool    // the measured top is level while the book still rises
	wild    *dev    // one reading standing alone, set aside
	devs    []dev
	covered float64 // share of the book's curve the readings span
}

// deviations holds readings against the band after taking off an offset.
func (c *court) deviations(readings []reading, offset float64) []dev {
	var out []dev
	for _, r := range readings {
		low, high, _ := c.band.at(r.rpm, r.withBase)
		m := r.deg - offset
		d := dev{reading: r, low: low, high: high, beyond: outside(m, low, high), taken: offset, silent: c.band.silent(r.rpm),
			offMid: m - (low+high)/2, q: c.band.share(r.rpm)}
		if d.silent { // the middle of what is possible is no figure of the book's
			d.offMid = d.beyond
		}
		out = append(out, d)
	}
	return out
}

// share says how far up the book's curve a speed is, 0..1.
func (b *band) share(rpm float64) float64 {
	k := b.advance
	rest := 0.0
	if len(k) == 0 {
		k = b.total
		rest = (k[0].low + k[0].high) / 2
	}
	last := k[len(k)-1]
	whole := (last.low+last.high)/2 - rest
	if whole <= 0 {
		return 1
	}
	low, high, _ := interpolate(k, rpm)
	q := math.Min(1, math.Max(0, ((low+high)/2-rest)/whole))
	if b.silent(rpm) { // on the way from rest to the first row, taken as a straight line
		return q * rpm / k[0].rpm
	}
	return q
}

// classify names the shape of deviations sorted by speed.
func classify(devs []dev) shapeFinding {
	f := shapeFinding{shape: "in-band", devs: devs, covered: span(devs)}
	over, under := f.count(+1), f.count(-1)
	if over+under == 0 {
		return f
	}
	f.findWorst()
	if stuck(devs) {
		f.shape = "stuck"
		return f
	}
	if f.alone() {
		return f
	}
	if f.constant() {
		f.shape = "base-only"
		return f
	}
	f.flat = flatTop(devs)
	f.nameShape(over, under)
	return f
}

func (f *shapeFinding) nameShape(over, under int) {
	f.first = f.firstOut()
	switch {
	case over > 0 && under > 0:
		f.shape = "mixed"
	case over > 0 && f.first == topRegion:
		f.shape = "over-limit"
	case over > 0:
		f.shape = "early"
		last := f.devs[len(f.devs)-1]
		f.topToo = last.region() == topRegion && last.beyond > last.err
	case f.first != lowRegion && f.flat:
		f.shape = "under-limit"
	default:
		f.shape = "late"
	}
}

func span(devs []dev) float64 {
	if len(devs) == 0 {
		return 0
	}
	least, most := 1.0, 0.0
	for _, d := range devs {
		least, most = math.Min(least, d.q), math.Max(most, d.q)
	}
	return most - least
}

func (f *shapeFinding) count(sign float64) int {
	n := 0
	for _, d := range f.devs {
		if d.out() && d.beyond*sign > 0 {
			n++
		}
	}
	return n
}

func (f *shapeFinding) findWorst() {
	for _, d := range f.devs {
		if abs(d.beyond) > abs(f.worst.beyond) {
			f.worst = d
		}
	}
}

func (f *shapeFinding) firstOut() region {
	for _, d := range f.devs {
		if d.out() {
			return d.region()
		}
	}
	return nowhere
}

// alone tells whether the one reading that is out has no company: its
// neighbours do not lean the same way. At the ends of the run, where there is
// one neighbour only, it must also be small (twice the reading error; chosen),
// or less than any spring can make it.
func (f *shapeFinding) alone() bool {
	n := len(f.devs)
	if f.count(+1)+f.count(-1) != 1 || n < 3 {
		return false
	}
	for i, d := range f.devs {
		if !d.out() {
			continue
		}
		edge := i == 0 || i == n-1
		if edge && abs(d.beyond) > 2*d.err && !d.belowRest() {
			return false
		}
		for _, j := range []int{i - 1, i + 1} {
			if j >= 0 && j < n && f.devs[j].beyond*d.beyond > 0 {
				return false
			}
		}
		lone := d
		f.wild = &lone
	}
	return true
}

// constant tells whether one shift brings every reading into the band, and
// whether a shift is the better account than a change of shape: the low and
// the top of the curve must be off alike. Where the book is silent a reading
// bounds the shift and does not measure it: two others must measure it.
func (f *shapeFinding) constant() bool {
	low, high := math.Inf(-1), math.Inf(1)
	for _, d := range f.devs {
		m := d.deg - d.taken
		low, high = math.Max(low, m-d.high-d.err), math.Min(high, m-d.low+d.err)
	}
	if low > high || len(spoken(f.devs)) < 2 || low <= 0 && high >= 0 {
		return false
	}
	if f.onlySilentOut() && f.count(+1) > 0 { // high before the table begins and right in all of it: an early start
		return false
	}
	f.low, f.high = low, high
	f.offset = math.Min(high, math.Max(low, medianOffMid(spoken(f.devs))))
	tilt := abs(tilt(f.devs))
	return tilt <= math.Max(1.2*f.devs[0].err, 0.5*abs(f.offset)) // half the offset: chosen on the table of judged cases
}

// tilt is how much more the low part is off than the top part.
func tilt(devs []dev) float64 {
	var lowSum, topSum, lowN, topN float64
	for _, d := range spoken(devs) {
		if d.q < lowPart {
			lowSum, lowN = lowSum+d.offMid, lowN+1
		} else {
			topSum, topN = topSum+d.offMid, topN+1
		}
	}
	if lowN == 0 || topN == 0 {
		return 0
	}
	return lowSum/lowN - topSum/topN
}

func medianOffMid(devs []dev) float64 {
	var all []float64
	for _, d := range devs {
		all = append(all, d.offMid)
	}
	return median(all)
}

// stuck: the book rises by at least six crank degrees over the speeds read
// and the reading hardly moves (a fifth of it, or two reading errors; chosen).
func stuck(devs []dev) bool {
	if len(devs) < 3 {
		return false
	}
	least, most := math.Inf(1), math.Inf(-1)
	bookLow, bookHigh := math.Inf(1), math.Inf(-1)
	for _, d := range devs {
		least, most = math.Min(least, d.deg), math.Max(most, d.deg)
		mid := (d.low + d.high) / 2
		bookLow, bookHigh = math.Min(bookLow, mid), math.Max(bookHigh, mid)
	}
	book := bookHigh - bookLow
	return book >= 6 && most-least <= math.Max(2*devs[0].err, 0.2*book)
}

// flatTop: from some reading on, two or more readings stand level (within one
// and a half reading errors; chosen) while the book still rises by more.
func flatTop(devs []dev) bool {
	n := len(devs)
	if n < 2 {
		return false
	}
	last := devs[n-1]
	for i := n - 2; i >= 0; i-- {
		d := devs[i]
		if d.silent || abs(last.deg-d.deg) > 1.5*last.err {
			return false
		}
		rise := (last.low + last.high - d.low - d.high) / 2
		if rise > 2*last.err {
			return true
		}
	}
	return false
}
