package advance

import (
	"math"
	"math/rand/v2"
	"slices"
)

// theta is the governor as it is searched: corners of the curve instead of
// spring rates, because corners are what a curve shows.
type theta [9]float64

// Places in theta. Speeds are in distributor rpm, angles in distributor
// degrees; spread is the natural logarithm of the readings' standard
// deviation over the stated one; top is the advance at the fastest reading's
// reach when the stop lies beyond it.
const (
	startAt = iota
	kneeSpeed
	kneeAngle
	limitSpeed
	limitAngle
	growth
	friction
	spread
	unused
)

const dims = unused // parameters searched

// fitProblem is one run of readings and what is believed before looking at
// them.
type fitProblem struct {
	run       []reading
	topRPM    float64
	topDeg    float64
	falling   bool
	rising    bool
	deviation float64 // standard deviation of a reading as stated
	outlier   float64 // likelihood of a reading that is a slip

	frictionless bool // friction is held at none
}

// Prior beliefs, all chosen, wide against what readings tell:
const (
	mostDeg        = 25    // no limit plate of a breaker-point distributor gives more, distributor degrees (limit plates: 6 to 18, common practice)
	growthMean     = 0.015 // weights at 15 mm swing out some 3 mm over 13 degrees: 0.2/13 per degree (geometry of common units, chosen)
	growthSpread   = 0.01
	mostGrowth     = 0.06
	startMean      = 300 // start of the advance, distributor rpm: most units begin between idle and a fast idle (common practice)
	startSpread    = 150
	rateMean       = 4    // the secondary of a pair adds some two to ten times the primary's rate (common practice: one light, one heavy spring)
	rateSpread     = 1.0  // of the natural logarithm of that
	mostFriction   = 4    // beyond this nothing moves
	spreadSpread   = 0.35 // the stated reading error is believed within a factor of 1.4
	slipShare      = 1.0 / 30
	beyondTop      = 1.6 // how far past the fastest reading the corners are looked for
	outlierHalfDeg = 10  // a slip may be anywhere within this, distributor degrees
)

func problemOf(run []reading) *fitProblem {
	p := &fitProblem{run: run}
	for _, r := range run {
		p.topRPM, p.topDeg = max(p.topRPM, r.rpm), max(p.topDeg, r.deg)
		p.falling, p.rising = p.falling || r.falling, p.rising || !r.falling
		p.deviation += max(r.err, 0.05) / 2 / float64(len(run)) // the stated error is two standard deviations; no dial is read finer than a twentieth of a degree
	}
	p.outlier = slipShare / (2 * outlierHalfDeg)
	return p
}

// model turns corners into springs.
func (th theta) model() Model {
	knee, limit := th[kneeAngle], th[limitAngle]
	m := Model{StartDistRPM: th[startAt], KneeDistDeg: knee, LimitDistDeg: limit, FrictionDistDeg: th[friction], WeightGrowth: th[growth]}
	_, m.PrimaryRate = springThrough(th[startAt], 0, th[kneeSpeed], knee, th[growth])
	atLimit := speedSquared(th[limitSpeed]) * (1 + th[growth]*limit)
	m.SecondaryRate = (atLimit - speedSquared(th[startAt]) - m.PrimaryRate*limit) / (limit - knee)
	return m
}

// possible tells whether the corners are in order and both springs push back.
func (p *fitProblem) possible(th theta) bool {
	inOrder := th[startAt] > 20 && th[kneeSpeed] > th[startAt] && th[limitSpeed] > th[kneeSpeed] && th[limitSpeed] < beyondTop*p.topRPM
	angles := th[kneeAngle] > 0.1 && th[limitAngle] > th[kneeAngle]+0.1 && th[limitAngle] < mostDeg
	rest := th[growth] >= 0 && th[growth] < mostGrowth && th[friction] >= 0 && th[friction] < mostFriction
	return inOrder && angles && rest
}

// logPosterior is how well corners account for the readings and for what was
// believed before; minus infinity where they cannot be.
func (p *fitProblem) logPosterior(th theta) float64 {
	if p.frictionless {
		th[friction] = 0
	}
	if !p.possible(th) {
		return math.Inf(-1)
	}
	m := th.model()
	if m.SecondaryRate <= 0 || m.PrimaryRate-m.WeightGrowth*speedSquared(th[kneeSpeed]) <= 0 {
		return math.Inf(-1)
	}
	sd := p.deviation * math.Exp(th[spread])
	sum := p.logLikelihood(m, sd)
	g, s, n := (th[growth]-growthMean)/growthSpread, th[spread]/spreadSpread, (th[startAt]-startMean)/startSpread
	k := (math.Log(m.SecondaryRate/m.PrimaryRate) - math.Log(rateMean)) / rateSpread
	sum -= g*g/2 + s*s/2 + n*n/2 + k*k/2
	if !p.falling || !p.rising { // friction cannot show in one direction: half a degree is believed (common practice: up to 1 between rising and falling)
		f := th[friction] / 0.5
		sum -= f * f / 2
	}
	return sum
}

// logLikelihood is the sum over readings of the logarithm of
//
//	(1 − slipShare) × normal law of reading less model + slipShare × level law
//
// taken once for every sixteen factors, because logarithms are what it costs
// and no sixteen of these factors leave the range of a float64 (each lies
// between 1e-3 and 1e2).
func (p *fitProblem) logLikelihood(m Model, sd float64) float64 {
	peak := (1 - slipShare) / (sd * math.Sqrt(2*math.Pi))
	sum, product := 0.0, 1.0
	for i, r := range p.run {
		z := (r.deg - m.reads(r.rpm, r.falling)) / sd
		product *= peak*math.Exp(-z*z/2) + p.outlier
		if i%16 == 15 {
			sum, product = sum+math.Log(product), 1
		}
	}
	return sum + math.Log(product)
}

// draw picks corners at random over the speeds and angles read.
func (p *fitProblem) draw(rng *rand.Rand) theta {
	speeds := []float64{rng.Float64(), rng.Float64(), rng.Float64()}
	slices.Sort(speeds)
	reach := 1.2 * p.topRPM
	limit := max(0.5, p.topDeg*(0.8+0.6*rng.Float64()))
	return theta{startAt: 20 + speeds[0]*reach, kneeSpeed: 20 + speeds[1]*reach, kneeAngle: limit * (0.1 + 0.8*rng.Float64()), limitSpeed: 20 + speeds[2]*reach, limitAngle: limit,
		growth: abs(growthMean + growthSpread*rng.NormFloat64()), friction: 0.5 * rng.Float64(), spread: 0.3 * rng.NormFloat64()}
}
