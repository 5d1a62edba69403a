package vacuum

import "math"

// unit is one capsule that was drawn: its line, and what friction does to it.
type unit struct {
	start, full, most float64 // kPa, kPa, distributor degrees
	low, high         float64 // where in the book's band it lies at its foot and at its top, 0 to 1; with a table only
	friction          float64 // kPa it lags behind rising and holds on falling
	noise             float64 // of a reading, distributor degrees, one standard deviation
}

// draw is what one account makes of a sound unit: how far it moves at a vacuum,
// and how that was typed.
type draw struct {
	unit
	easier, sooner float64 // spring: the vacuum counts so many times; preload: so many kPa more
	reach          float64 // the whole travel, distributor degrees; negative: as the unit's own
	times          float64 // all movement so many times
	typedKPa       float64 // the vacuum as typed is so many times the true one
	typedTimes     float64 // the movement as typed is so many times the true one
	typedMore      float64 // distributor degrees that were added in typing
	still          bool    // it does not move
	loose          float64 // extra noise
}

// An account is one story about the unit or about how it was read.
type account struct {
	id     string
	prior  float64 // share of capsules that are tried, chosen: see priors
	family string  // the finding it speaks for
	shape  func(d *draw, b *bench, u, v float64)
}

// Priors are chosen: of ten capsules taken to the pump six are sound, holed
// and seized ones are the commonest fault of old units (common practice), and
// one sheet in eight carries a slip of the key or a unit mistaken.
var accounts = []account{
	{"sound", 0.55, "sound", func(*draw, *bench, float64, float64) {}},
	{"dead", 0.06, "dead", func(d *draw, _ *bench, u, _ float64) { d.still, d.typedMore = true, 0.4*u-0.1 }},
	{"wrong-way", 0.01, "wrong-way", func(d *draw, _ *bench, u, _ float64) { d.times = -(0.4 + u) }},
	{"long-travel", 0.03, "too-much", func(d *draw, b *bench, u, _ float64) {
		d.reach = b.most + b.tolerance +
			u*math.Max(6, b.most)
	}},
	{"more-travel", 0.02, "too-much", func(d *draw, b *bench, u, _ float64) {
		d.times = (b.most + b.tolerance + u*math.Max(6, b.most)) / b.most
	}},
	{"short-travel", 0.03, "short", func(d *draw, b *bench, u, _ float64) {
		d.reach = u * math.Max(0,
			b.most-b.tolerance)
	}},
	{"less-travel", 0.02, "short", func(d *draw, b *bench, u, _ float64) {
		d.times = 0.15 + u*math.Max(0,
			1-b.tolerance/b.most-0.15)
	}},
	{"spring-strong", 0.03, "short", func(d *draw, _ *bench, u, _ float64) { d.easier = 1 / (1.1 + 1.9*u) }},
	{"preload-more", 0.02, "short", func(d *draw, b *bench, u, _ float64) { d.sooner = -b.shift - 6*inHg*u }},
	{"spring-weak", 0.03, "early-start", func(d *draw, _ *bench, u, _ float64) { d.easier = 1.1 + 1.9*u }},
	{"preload-less", 0.02, "early-start", func(d *draw, b *bench, u, _ float64) {
		d.sooner = b.shift +
			(b.start+2*inHg)*u
	}},
	{"sticking", 0.06, "sticking", func(d *draw, _ *bench, u, v float64) {
		d.friction = inHg * (1 +
			5*u)
		d.times = 1 - 0.15*v*v
	}},
	{"other", 0.02, "erratic", func(d *draw, b *bench, u, v float64) {
		d.easier, d.times, d.sooner, d.loose = math.Exp2(3*u-1.5), 0.3+1.7*v, inHg*4*(v-u), 1
	}},
	{"crank-as-distributor", 0.03, "suspect-crank", func(d *draw, b *bench, _, _ float64) { d.typedTimes = b.ratio }},
	{"distributor-as-crank", 0.02, "suspect-distributor", func(d *draw, b *bench, _,
		_ float64) {
		d.typedTimes = 1 / b.ratio
	}},
	{"totals", 0.02, "suspect-totals", func(d *draw, _ *bench, u, _ float64) { d.typedMore = 1.5 + 22*u }},
	{"totals-at-the-crank", 0.02, "suspect-totals", func(d *draw, b *bench, u, _ float64) {
		d.typedTimes, d.typedMore = b.ratio, 3+42*u
	}},
	{"vacuum-unit", 0.01, "suspect-vacuum-unit", func(d *draw, _ *bench, u, _ float64) {
		d.typedKPa = mistakenUnits[min(int(u*float64(len(mistakenUnits))), len(mistakenUnits)-1)]
	}},
}

// mistakenUnits are typed over true vacuum where inHg, mmHg and kPa are taken for
// one another: 25.4 mmHg and 3.386 kPa make an inHg. inHg and kPa, whose figures
// look alike, stand three times as often (chosen).
var mistakenUnits = []float64{1 / inHg, 1 / inHg, 1 / inHg, inHg, inHg, inHg, 25.4, 1 / 25.4, 25.4 / inHg, inHg / 25.4}

// bench is what the accounts know of the book and of the reading.
type bench struct {
	start, full, most float64 // by the book; with a table the last row's
	tolerance, shift  float64 // allowed either way, distributor degrees and kPa
	ratio             float64
	table             band // the book's own rows, empty where it gives start, full and most
}

// sound draws a unit that the book allows, from five numbers between 0 and 1.
func (b *bench) sound(u [5]float64) draw {
	either := func(x float64) float64 { return 2*x - 1 }
	d := draw{easier: 1, times: 1, reach: -1, typedKPa: 1, typedTimes: 1}
	d.start = b.start + b.shift*either(u[0])
	d.full = math.Max(d.start+inHg/2, b.full+b.shift*either(u[1]))
	d.most = math.Max(0, b.most+b.tolerance*either(u[2]))
	d.low, d.high = u[0], u[2]
	d.friction = 0.7 * inHg * u[3] // a sound plate: hysteresis within the degree that is normal
	d.noise = 0.25 + 0.3*u[4]      // a ring is read to half a degree; units differ from a straight line
	return d
}

// at is how far a drawn unit moves at a true vacuum with the plate free.
func (d *draw) free(b *bench, kPa float64) float64 {
	if len(b.table) > 0 {
		low, high := b.table.at(kPa)
		share := math.Min(1, math.Max(0, kPa/math.Max(1, b.full)))
		return low + (high-low)*(d.low+(d.high-d.low)*share)
	}
	move := (kPa - d.start) / (d.full - d.start)
	if d.reach >= 0 { // the same slope to another stop
		return math.Min(d.reach, d.most*math.Max(0, move))
	}
	return d.most * math.Min(1, math.Max(0, move))
}

// expects is the movement as it would be typed for a vacuum as typed.
func (d *draw) expects(b *bench, kPa float64, falling bool) float64 {
	if d.still {
		return d.typedMore
	}
	lag := -d.friction
	if falling {
		lag = d.friction
	}
	true := kPa/d.typedKPa*d.easier + d.sooner
	if kPa > 0 || falling {
		true += lag
	}
	move := d.free(b, math.Max(0, true)) * d.times
	if len(b.table) > 0 && d.reach >= 0 {
		move = math.Min(move, d.reach)
	}
	return move*d.typedTimes + d.typedMore
}
