package engine

import "math"

// A profile is one draw at one condition over a few sparks: work and the
// logarithm of the knock integral, each as the polynomial through them.
type profile struct {
	first        float64 // first spark
	work, knock  [sparks]float64
	at50         float64 // degrees from the spark to half burned
	kPa          float64 // p1
	ratio        float64
	best         float64 // degrees before TDC
	limit        float64 // the same, where the knock integral reaches what this draw stands
	limitPresent bool    // false: no knock within reach, limit is the reach
}

const (
	sparks = 6
	apart  = 9.0 // degrees between them: best timing is then as by search to 0.15 degree, and so is the limit (tested)
	// reach is how far past best timing a knock limit is looked for: nobody sets an
	// engine there (chosen).
	reach = 20.0
	// guess is CA50 of best timing for the first spark; 8 to 10 is remembered, and
	// this room's own cycles give 5 to 12.
	guess = 9.0
)

func (b body) profile(c condition, o one) profile {
	y := b.cylinder(c, o)
	p := profile{at50: y.delay + halfBurned*y.duration, kPa: y.in.kPa, ratio: y.in.ratio}
	p.first = p.at50 - guess - 3*apart
	for i := range sparks {
		r := y.run(p.first + apart*float64(i))
		p.work[i], p.knock[i] = r.work, r.lnKnock
	}
	p.best = p.peak()
	p.limit, p.limitPresent = p.crossing(o.stands(c))
	return p
}

// value is the polynomial through the sparks, carried on straight past them.
func (p profile) value(of *[sparks]float64, spark float64) float64 {
	x := (spark - p.first) / apart
	if end := float64(sparks - 1); x > end {
		return of[sparks-1] + (x-end)*(of[sparks-1]-newton(of, end-0.1))*10
	}
	if x < 0 {
		return of[0] + x*(newton(of, 0.1)-of[0])*10
	}
	return newton(of, x)
}

// newton is the polynomial through values at 0, 1, 2 …, by differences.
func newton(of *[sparks]float64, x float64) float64 {
	d := *of
	sum, term := d[0], 1.0
	for k := 1; k < sparks; k++ {
		for i := range sparks - k {
			d[i] = d[i+1] - d[i]
		}
		term *= (x - float64(k-1)) / float64(k)
		sum += term * d[0]
	}
	return sum
}

// peak is the spark with most work: a parabola through the best of a close comb.
func (p profile) peak() float64 {
	const fine = 1.0
	best, at := math.Inf(-1), 0.0
	for s := p.first; s <= p.first+apart*(sparks-1); s += fine {
		if w := p.value(&p.work, s); w > best {
			best, at = w, s
		}
	}
	low, high := p.value(&p.work, at-fine), p.value(&p.work, at+fine)
	if bend := low - 2*best + high; bend < 0 {
		at += fine * max(-0.5, min(0.5, (low-high)/2/bend))
	}
	return at
}

// crossing is the latest spark at which the knock integral reaches what this
// engine stands (its logarithm), going from late to early.
func (p profile) crossing(stands float64) (float64, bool) {
	from := p.first - 30 // far after TDC
	end := p.best + reach
	if p.value(&p.knock, from) > stands {
		return from, true
	}
	for s := from; s < end; s += 4 {
		if p.value(&p.knock, s+4) < stands {
			continue
		}
		low, high := s, s+4
		for range 12 { // to a thousandth of a degree
			if mid := (low + high) / 2; p.value(&p.knock, mid) < stands {
				low = mid
			} else {
				high = mid
			}
		}
		return min(low, end), low < end
	}
	return end, false
}
