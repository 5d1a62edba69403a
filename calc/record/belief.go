package record

import "math"

// weighted is a size that something may have, and how much is believed of it.
type weighted struct{ share, size float64 }

// slope is one kind of wear: its rate in degrees per thousand miles, mean and
// spread, and how large a rate is usual with it.
type slope struct{ share, mean, spread, scale float64 }

// belief is what is known before any reading. Lengths are in units of x.
type belief struct {
	what       string
	slopes     []slope    // none: nothing is known, every rate alike
	wander     []weighted // spread of the rate along the way, as a part of its scale
	forget     float64    // over which length the wander forgets itself
	bedMean    float64    // bedding-in of new points, degrees
	bedSpread  float64
	bedLengths []weighted
	newShare   float64 // how likely points are new where nothing is said of them
	readError  float64 // 0: learned from the scatter alone
	errors     []weighted
	slipShare  float64 // how likely a reading is a slip
	slipSpread float64
	sources    []string
}

// What is known of wear, by thousand miles. Points set to the middle of a band
// of ±3 distributor degrees and renewed at 6,000 to 12,000 miles (common
// practice) lose 0.25 to 0.5 degrees in a thousand; a dry heel some times that
// (judgement); the last share is for what nobody thought of, either way.
var (
	dwellSlopes = []slope{{0.65, 0.5, 0.4, 0.5}, {0.25, 1.2, 0.8, 1.2}, {0.10, 0, 2.5, 1.2}}
	// A degree of dwell is a degree of the crank, later (points.shift, common
	// practice); up to two on a steep lobe, so the spreads are wider.
	baseSlopes = []slope{{0.65, -0.5, 0.45, 0.5}, {0.25, -1.2, 0.9, 1.2}, {0.10, 0, 2.5, 1.2}}
	// The rate is not the same all the way: grease, dust, speed. Judgement.
	rateWander = []weighted{{0.3, 0.15}, {0.4, 0.4}, {0.3, 0.8}}
	// Nine tenths and more of bedding-in are done after 100 to 500 miles (common
	// practice): three lengths of 60 or 170 miles.
	bedLengths = []weighted{{0.5, 0.06}, {0.5, 0.17}}
	// Miles a year of an old car, thousands. Judgement; only where dates are all there is.
	yearly = []weighted{{0.5, 1}, {0.5, 3}}
)

const (
	// service is the length over which grease is renewed: points are looked at
	// every 3,000 miles (common practice).
	service = 3
	// Bedding-in takes 1 to 2 degrees, plastic heels much less (common
	// practice): 1 with a spread of 0.7 (judgement).
	bedMean, bedSpread = 1, 0.7
	// Points of which nothing is said are new at the first reading one time in
	// four (judgement: they are read more often just after fitting).
	newShare = 0.25
	// A dwell is read to half a degree (as points.learn), a base to a degree (as
	// marks.static): common practice.
	dwellError, baseError = 0.5, 1
	// One reading in thirty is a slip (as advance.judge); it is off by some
	// degrees, as with a wrong scale or a meter not set to zero (judgement).
	slipShare            = 1.0 / 30
	dwellSlip, baseSlip  = 4, 5
	errorSpread          = 0.35 // of the logarithm of the reading error: judgement
	errorStep, errorEnds = 0.35, 0.7
	// The wide grid of an unknown error, about the scatter found, in logarithms:
	// wide and fine enough for Student's t of one degree of freedom to 1 in 1,000.
	freeFrom, freeTo, freeStep = -3, 12, 0.1
)

// beliefOf gives what is known of this figure, in units of x.
func beliefOf(in DriftIn, h history) belief {
	b := belief{what: in.What, sources: []string{"Bayesian linear regression: textbook"}}
	switch in.What {
	case "dwell":
		b.wear(dwellSlopes, bedMean, dwellError, dwellSlip)
		b.sources = append(b.sources, "reading error of a dwell 0.5 distributor degrees unless given: common practice")
	case "base":
		b.wear(baseSlopes, -bedMean, baseError, baseSlip)
		b.sources = append(b.sources, "reading error of a base 1 crank degree unless given: common practice",
			"a degree of dwell is a degree of the crank: common practice")
	}
	if in.ReadingError != nil {
		b.readError = *in.ReadingError
	}
	if b.readError > 0 {
		b.errors = errorsAbout(b.readError, -errorEnds, errorEnds, errorStep, errorSpread)
	}
	if len(b.slopes) > 0 {
		b.sources = append(b.sources,
			"usual wear: judgement, from points that lose a band of ±3 degrees in 6,000 to 12,000 miles, common practice",
			"bedding-in of 1 to 2 degrees in the first 100 to 500 miles: common practice",
			"wander of the rate, share and size of slips: judgement")
	}
	if h.axis == byDate && len(b.slopes) > 0 {
		b.sources = append(b.sources, "1,000 to 3,000 miles a year: judgement")
	}
	return b
}

// wear fills in what is known of a figure that heels move.
func (b *belief) wear(slopes []slope, bed, readError, slip float64) {
	b.slopes, b.wander, b.forget = slopes, rateWander, service
	b.bedMean, b.bedSpread, b.bedLengths, b.newShare = bed, bedSpread, bedLengths, newShare
	b.readError, b.slipShare, b.slipSpread = readError, slipShare, slip
}

// errorsAbout gives sizes of the reading error about a middle, evenly by
// logarithm; spread 0 believes alike in all of them.
func errorsAbout(middle, from, to, step, spread float64) []weighted {
	var sizes []weighted
	sum := 0.0
	for k := range int(math.Round((to-from)/step)) + 1 {
		z := from + float64(k)*step
		w := weighted{1, middle * math.Exp(z)}
		if spread > 0 {
			w.share = math.Exp(-z * z / (2 * spread * spread))
		}
		sum += w.share
		sizes = append(sizes, w)
	}
	for k := range sizes {
		sizes[k].share /= sum
	}
	return sizes
}

// isFree: nothing is known of the rate beforehand.
func (b belief) isFree() bool { return len(b.slopes) == 0 }

// basis says what a rate rests on, by how much narrower it is than what was
// known before. The borders 0.4 and 0.8 are judgement.
func (b belief) basis(r interval) string {
	if b.isFree() {
		return "readings"
	}
	switch narrower := (r.high - r.low) / r.usual; {
	case narrower < 0.4:
		return "readings"
	case narrower < 0.8:
		return "both"
	}
	return "usual"
}
