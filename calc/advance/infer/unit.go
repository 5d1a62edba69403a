package infer

// dims is the room for one point of the search. The first places hold the
// unit, the rest how it was read and how large the change is.
const dims = 20

// Places in a point. Logarithms keep speeds and angles above zero and in order.
const (
	startAt    = iota // ln(start / startMean)
	kneeAt            // ln(knee speed / start − 1)
	shareAt           // logit of the knee's share of the travel
	limitAt           // ln(limit speed / knee speed − 1)
	travelAt          // ln(limit / travelMean)
	growthAt          // weightGrowth
	frictionAt        // ln(friction / frictionMean)
	spreadAt          // ln(standard deviation of a reading / stated)
	offsetAt          // base as it stands less the book's, distributor degrees
	bookBaseAt        // the book's base where its table holds an unknown one, distributor degrees
	zeroAt            // bench zero less true zero, distributor degrees
	sizeAt            // size of the first change
	secondAt          // size of the second change
	thirdAt           // a further size
	fourthAt
)

// otherUnitAt is where a second governor's seven places begin.
const otherUnitAt = secondAt

type point [dims]float64

// What is believed of any governor before the book is opened. All wide; the
// means are middle values of common units.
const (
	startMean    = 300  // distributor rpm: most units begin between idle and a fast idle (common practice)
	startSpread  = 0.45 // of its logarithm: 19 units of 20 between 110 and 800 (chosen wide)
	travelMean   = 11   // distributor degrees: limit plates run from 6 to 18 (common practice)
	travelSpread = 0.35 // of its logarithm: 5 to 24 (chosen wide)
	kneeMean     = 0.8  // knee speed over start less one (chosen: the light spring works over about the lower half)
	kneeSpread   = 0.7  // of its logarithm (chosen wide)
	reachMean    = 0.9  // limit speed over knee speed less one (chosen)
	reachSpread  = 0.7  // of its logarithm (chosen wide)
	// logit: springs commonly hand over between a third and two thirds of the travel (common practice)
	shareMean   = 0.1
	shareSpread = 0.75 // (chosen wide)
	// weights at 15 mm swing out some 3 mm over 13 degrees: 0.2/13 per degree (geometry of common units, chosen)
	growthMean   = 0.012
	growthSpread = 0.015 // the levers of the springs change by as much either way (chosen)
	mostGrowth   = 0.07  // (chosen: five times the mean)
	leastGrowth  = -0.03 // (chosen)
	// distributor degrees either way on the light spring (common practice: falling less rising up to 1 is normal)
	frictionMean   = 0.18
	frictionSpread = 0.6 // of its logarithm (chosen)
	rateMean       = 4   // the heavy spring adds two to ten times the light one's rate (common practice)
	rateSpread     = 0.8 // of the natural logarithm of that (chosen wide)
	// no limit plate of a breaker-point distributor gives more, distributor degrees (plates: 6 to 18, common
	// practice)
	mostLimit = 25
)

// priorOf gives mean and spread of each of the unit's seven places.
var unitPrior = [7][2]float64{
	{0, startSpread}, {ln(kneeMean), kneeSpread}, {shareMean, shareSpread}, {ln(reachMean), reachSpread},
	{0, travelSpread}, {growthMean, growthSpread}, {0, frictionSpread},
}

// Governor is two springs, a stop and friction, as it is reckoned with:
//
//	U (1 + Growth a) = U0 ± Drag + K1 a + K2 max(0, a − Knee),   U = (distributor rpm / 1000)²
//
// a, Knee and Limit in distributor degrees. Drag is dry friction: it holds the
// weights in as speed rises (+) and out as it falls (−), so the lag is Drag / K1
// degrees on the light spring, less where both pull, and none at the stops.
type Governor struct{ U0, K1, K2, Knee, Limit, Growth, Drag float64 }

// At is the frictionless advance at a speed, distributor degrees at rpm.
func (s Governor) At(distRPM float64) float64 { return s.at(squared(distRPM)) }

// Reads is what a rising or falling reading shows, friction included.
func (s Governor) Reads(distRPM float64, falling bool) float64 {
	return s.reads(squared(distRPM), falling)
}

// governorOf turns seven places of a point, from at on, into springs; it is
// false where no pair of springs does that.
func governorOf(x *point, at int, s *Governor) bool {
	start := startMean * exp(x[at+startAt])
	kneeRPM := start * (1 + exp(x[at+kneeAt]))
	limitRPM := kneeRPM * (1 + exp(x[at+limitAt]))
	s.Limit = travelMean * exp(x[at+travelAt])
	s.Knee = s.Limit / (1 + exp(-x[at+shareAt]))
	s.Growth = x[at+growthAt]
	uk, ul := squared(kneeRPM), squared(limitRPM)
	s.U0 = squared(start)
	s.K1 = (uk*(1+s.Growth*s.Knee) - s.U0) / s.Knee
	s.K2 = (ul*(1+s.Growth*s.Limit) - s.U0 - s.K1*s.Limit) / (s.Limit - s.Knee)
	s.Drag = frictionMean * exp(x[at+frictionAt]) * s.K1
	return s.Growth > leastGrowth && s.Growth < mostGrowth && s.Limit < mostLimit && s.K2 > 0 && s.K1 > 0 &&
		s.K1 > s.Growth*uk
}

// squared is the measure of the weights' pull at rest, (1000 rpm)².
func squared(rpm float64) float64 { return rpm * rpm / 1e6 }

// at is the frictionless advance at a squared speed.
func (s *Governor) at(u float64) float64 { return s.from(u, s.U0) }

// from is the advance at a squared speed where the weights leave rest at u0.
func (s *Governor) from(u, u0 float64) float64 {
	if u <= u0 {
		return 0
	}
	a, rate := s.Limit, s.K1-s.Growth*u
	if light := u - u0; rate > 0 && light <= s.Knee*rate {
		a = light / rate
	} else if rate += s.K2; rate > 0 {
		a = (light + s.K2*s.Knee) / rate
	}
	if a < s.Limit { // not the built-in min: in WebAssembly that is a call
		return a
	}
	return s.Limit
}

// reads is what rising or falling readings show.
func (s *Governor) reads(u float64, falling bool) float64 {
	if falling {
		return s.from(u, s.U0-s.Drag)
	}
	return s.from(u, s.U0+s.Drag)
}

// takeUp makes the secondary spring take up later, distributor degrees. A loop
// that is gone holds the weights at rest.
func (s *Governor) takeUp(later float64) {
	s.Knee += later
	if s.Knee < 0 {
		s.U0, s.Knee = s.U0-s.K2*s.Knee, 0
	}
}

// unitLog is the logarithm of what is believed of a governor, without the book.
func unitLog(x *point, at int) float64 {
	sum := 0.0
	for i, p := range unitPrior {
		z := (x[at+i] - p[0]) / p[1]
		sum -= z * z / 2
	}
	return sum
}
