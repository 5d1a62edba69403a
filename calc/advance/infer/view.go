package infer

import "math"

// group is where a change of reading applies.
type group int

const (
	both group = iota
	benchOnly
	carOnly
)

// view is how one point says the readings come about.
type view struct {
	unit     Governor // as it stands in the distributor
	other    Governor // for the readings of otherOf, where two are at work
	otherOf  group    // both: no other unit is at work
	fixed    bool     // the advance does not move
	fixedAt  float64
	base     float64 // base as it stands
	zero     float64 // added to the bench's figures
	capsule  float64 // added to the car's figures...
	from, to float64 // ...between these squared speeds
	of       group   // the readings to which what follows applies
	speed2   float64 // the square of true speed over speed as typed
	scale    float64 // figure as typed over true figure
	flip     bool    // figure as typed is flipFrom less the true one
	flipFrom float64
	added    float64 // to the figure before it was scaled
	swapped  bool    // rising and falling are swapped
}

func (v *view) applies(r *heard) bool {
	switch v.of {
	case benchOnly:
		return r.bench
	case carOnly:
		return r.car
	}
	return true
}

// expected is the figure that a reading should show, and by how much its
// scatter is scaled.
func (v *view) expected(r *heard) (deg, scale float64) {
	u, falling, mine := r.u, r.falling, v.applies(r)
	if mine {
		u *= v.speed2
		falling = falling != v.swapped
	}
	deg = v.advance(r, u, falling)
	if r.bench {
		deg += v.zero
	} else if u >= v.from && u <= v.to {
		deg += v.capsule
	}
	if r.withBase {
		deg += v.base
	}
	if !mine {
		return deg, 1
	}
	deg = (deg + v.added) * v.scale
	if v.flip {
		deg = v.flipFrom - deg
	}
	return deg, v.scale
}

func (v *view) advance(r *heard, u float64, falling bool) float64 {
	if v.otherOf == benchOnly && r.bench || v.otherOf == carOnly && r.car {
		return v.other.reads(u, falling)
	}
	if v.fixed {
		return v.fixedAt
	}
	return v.unit.reads(u, falling)
}

// likelihood is the logarithm of how likely all readings are under a view: a
// normal law, with a share of slips that may lie anywhere. inverse is room for
// one over each of the readings' deviations.
func (q *prepared) likelihood(x *point, v *view, inverse, lnInverse []float64) (like, guide float64) {
	spread := exp(x[spreadAt])
	for i, sd := range q.errors {
		e := sd * spread
		inverse[i] = 1 / math.Sqrt(e*e+misfit*misfit)
		lnInverse[i] = ln(inverse[i] / rootTwoPi)
	}
	lnScale := 0.0
	if v.scale != 1 {
		lnScale = ln(math.Abs(v.scale))
	}
	sum, product := 0.0, 1.0
	for i := range q.readings {
		r := &q.readings[i]
		deg, scale := v.expected(r)
		by := inverse[r.errorAt]
		guide += lnInverse[r.errorAt]
		if scale != 1 {
			by /= scale
			guide -= lnScale
		}
		z := (r.deg - deg) * by
		guide -= bent(z)
		product *= (1-slipShare)/rootTwoPi*by*bell(z*z/2) + slipShare/slipWidth
		if i%8 == 7 { // logarithms are what it costs; eight factors stay far inside a float64
			sum, product = sum+ln(product), 1
		}
	}
	for _, s := range q.statics {
		sd := s.sd()
		product *= normalOrSlip(s.Deg-v.base, sd)
		guide -= bent((s.Deg-v.base)/sd) + ln(sd*rootTwoPi)
	}
	return sum + ln(product), guide
}

// bent is half the square of z, and from bendAt on goes on straight: a law
// without slips that points the way from anywhere.
func bent(z float64) float64 {
	if z = math.Abs(z); z > bendAt {
		return bendAt * (z - bendAt/2)
	}
	return z * z / 2
}

// bendAt: beyond two deviations a reading pulls no harder (chosen).
const bendAt = 2

// density of a reading that lies off by d.
func density(d, sd, spread, scale float64) float64 {
	e := sd * spread
	return normalOrSlip(d, scale*math.Sqrt(e*e+misfit*misfit))
}

const rootTwoPi = 2.5066282746310002 // √(2π)

func normalOrSlip(d, sd float64) float64 {
	z := d / sd
	return (1-slipShare)/(rootTwoPi*sd)*bell(z*z/2) + slipShare/slipWidth
}

// bell is exp(−x) as (1 − x/64)^64, which is nothing beyond 64: the same bell to
// a hundredth where it counts, at a quarter of the time.
func bell(x float64) float64 {
	b := 1 - x/64
	if b <= 0 {
		return 0
	}
	b *= b
	b *= b
	b *= b
	b *= b
	b *= b
	return b * b
}

// slipChance is how likely a reading that lies off by d is a slip.
func slipChance(d, sd, spread, scale float64) float64 {
	return slipShare / slipWidth / density(d, sd, spread, scale)
}
