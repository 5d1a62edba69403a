package record

import (
	"math"
	"math/rand/v2"
)

// A made distributor, by other physics than the fit's: the heel wears by
// Archard's law (volume = k × force × way; textbook), k rises from greased to
// dry as grease goes off and falls when somebody greases; the spring gives way
// as the gap closes; contacts burn away and open the gap; a new heel beds in.
// Dwell follows from the gap over a lobe of cosine shape, which is no straight
// line. All sizes are invented; those of wear are drawn wider than the rule
// believes, and none is taken from it.
type world struct {
	rng                   *rand.Rand
	gap                   float64 // as set, mm
	lift                  float64 // of the lobe, mm
	pitch                 float64 // distributor degrees
	greased, dry          float64 // wear, mm in 1,000 miles
	greaseLife            float64 // thousand miles
	sinceGrease           float64
	service               float64 // thousand miles between services
	carefulness           float64 // chance of grease at a service
	burning               float64 // of the contacts, mm in 1,000 miles
	bedMm, bedLength      float64
	springLoss            float64 // of force, for a mm of wear
	steepness             float64 // crank degrees later for a degree of dwell
	worn, bedded, mileage float64
}

func newWorld(rng *rand.Rand, isNew bool) *world {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	w := &world{rng: rng, pitch: 90, gap: between(0.36, 0.42), lift: between(1.3, 1.8), greaseLife: between(2, 6),
		service: between(2.5, 6), carefulness: rng.Float64(), burning: between(0, 0.004), springLoss: between(0, 1),
		steepness: between(0.5, 1.5)}
	w.greased = math.Exp(math.Log(0.008) + 0.6*rng.NormFloat64())
	w.dry = w.greased * between(1.5, 4)
	w.sinceGrease = between(0, 4)
	if isNew {
		w.bedMm, w.bedLength = between(0.015, 0.05), between(0.04, 0.2)
		if rng.Float64() < 0.3 { // a plastic heel
			w.bedMm = between(0, 0.012)
		}
	}
	return w
}

// drive moves the car on by so many thousand miles, in steps of ten miles.
func (w *world) drive(x float64) {
	for x > 1e-9 {
		step := min(x, 0.01)
		x -= step
		k := w.dry - (w.dry-w.greased)*math.Exp(-w.sinceGrease/w.greaseLife)
		w.worn += (k*(1-w.springLoss*w.worn) - w.burning) * step
		if w.bedLength > 0 {
			w.bedded += (w.bedMm - w.bedded) * step / w.bedLength
		}
		w.sinceGrease += step
		if int(w.mileage/w.service) != int((w.mileage+step)/w.service) && w.rng.Float64() < w.carefulness {
			w.sinceGrease = 0
		}
		w.mileage += step
	}
}

// dwellAt is the dwell with so much off the gap: the points are open where the
// lobe's lift, ½ lift (1 + cos), stands within the gap of its peak.
func (w *world) dwellAt(off float64) float64 {
	gap := max(0.02, w.gap-off)
	return w.pitch - w.pitch/math.Pi*math.Acos(max(-1, 1-2*gap/w.lift))
}

func (w *world) dwell() float64 { return w.dwellAt(w.worn + w.bedded) }

// A story is a made history with its truth: the mean rate over the readings,
// bedding-in apart, and the mileage (in thousands) at which the limit is met.
type story struct {
	in        DriftIn
	rate, due float64
	last      float64
}

// A teller says how the same wear is read.
type teller struct {
	figure func(w *world, dwell float64) float64 // what is read of it
	spread float64                               // of a reading
	digit  float64                               // readings are written to this
	slip   float64                               // size of a slip
}

// tell lets a car be driven, read, and set again now and then.
func tell(rng *rand.Rand, by teller) story {
	isNew := rng.Float64() < 0.5
	w := newWorld(rng, isNew)
	start := math.Floor(rng.Float64() * 90000)
	if !isNew {
		w.drive(3 * rng.Float64())
		w.mileage = 0
	}
	s := story{}
	base := w.worn + w.bedded
	reset := ""
	if isNew && rng.Float64() < 0.8 { // the rest forgot to say so
		reset = "new-points"
	}
	limit := w.dwell() + 3
	sum, counted := 0.0, 0.0
	for i, n := 0, 2+rng.IntN(6); i < n; i++ {
		if i > 0 {
			x := 0.2 + 2.3*rng.Float64()*rng.Float64()*2
			before := w.worn
			w.drive(x)
			sum += by.figure(w, w.dwellAt(w.worn+w.bedded)) - by.figure(w, w.dwellAt(before+w.bedded))
			counted += x
		}
		if i > 0 && rng.Float64() < 0.15 { // set again: the gap is opened to what it was
			w.gap += w.worn + w.bedded - base
			base = w.worn + w.bedded
			reset = "adjusted"
		}
		miles := math.Round(start + 1000*w.mileage)
		s.in.Points = append(s.in.Points, Point{Miles: &miles, Value: by.read(rng, w), Reset: reset})
		reset = ""
	}
	s.rate, s.last = sum/counted, start/1000+w.mileage
	s.due = w.meet(limit, start/1000)
	a, b := by.figure(w, limit), by.figure(w, limit-20)
	s.in.Limit = &Limit{Max: &a}
	if b > a {
		s.in.Limit = &Limit{Min: &a}
	}
	return s
}

func (by teller) read(rng *rand.Rand, w *world) float64 {
	y := by.figure(w, w.dwell()) + by.spread*rng.NormFloat64()
	if rng.Float64() < 0.04 {
		y += by.slip * (0.5 + rng.Float64()) * math.Copysign(1, rng.Float64()-0.5)
	}
	return math.Round(y/by.digit) * by.digit
}

// meet drives on until the dwell is at the limit; infinite beyond 30,000 miles.
func (w *world) meet(limit, start float64) float64 {
	for range 300 {
		if w.dwell() >= limit {
			return start + w.mileage
		}
		w.drive(0.1)
	}
	return math.Inf(1)
}
