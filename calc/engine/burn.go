package engine

import (
	"math"

	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/engine/flame"
)

// chamber is what a shape changes. delay and way: length of delay and of burning
// against the wedge. area: of the head's inside against the bore's.
type chamber struct{ delay, way, area float64 }

// chambers are judgement, and so is the order in which they stand: the flame of a
// hemisphere has a long way and no squish, but the plug near the middle; a side
// valve's chamber is long, low and stirred by its squish and narrow neck; a pent-roof has
// the plug in the middle. Delays and ways are set so that full-load totals fall where
// the trade puts them (common practice, low confidence for side valves), so these
// totals prove the setting only; the areas go by the shapes drawn in textbooks.
var chambers = map[string]chamber{
	"side-valve":    {0.70, 0.62, 1.9},
	"bathtub":       {1, 0.90, 1.25},
	"wedge":         {1, 1.00, 1.2},
	"hemispherical": {1, 1.00, 1.5},
	"pent-roof":     {1, 0.95, 1.25},
}

// The known burning from which all others are scaled: T. Sitthiracha's fit over
// speed (thesis, eq 3-6, as in a published engine tutorial with its 82 mm bore) gives
// 85.0 degrees at 3000 rpm from the spark to the end for a = 5, n = 3, so half is
// burned 44.0 degrees after the spark. A third of those is taken for the delay
// (chosen; Rajput's Ex 5.2 has more than half of all burning, Ex 5.1 a fifth).
const (
	knownRPM   = 3000
	knownHalf  = 85.0388 * halfBurned
	knownDelay = knownHalf / 3
	knownBurn  = knownHalf * 2 / 3 / halfBurned
)

// known is the engine of that fit; what the thesis does not say is chosen.
var known = body{engine: Engine{CompressionRatio: 9}, bore: 0.082, stroke: 0.082, shape: chamber{1, 1, 1.2}}

// viscosity of air over its value at 300 K and density give how stirred the gas is:
// ν ∝ T^0.7 / (p/T) (from memory).
func stirred(atm, kelvin float64) float64 { return math.Pow(kelvin, 1.7) / atm }

// scales gives how long delay and burning are in crank degrees, but for one
// factor each:
//
//	delay ∝ (Up ν)^⅓ (h/S)^⅔ at the spark,  burning ∝ (B/h)(Up ν)^⅓ (h/S)^⅔ at TDC
//
// with the mean piston speed Up, the height h of the chamber, the laminar flame S
// of the charge as if it had not burned. The spark is taken at 25 degrees for
// that. Source of the form: S. D. Hires, R. J. Tabaczynski and J. M. Novak, SAE
// 780232 (exponents from memory); its growth with N^⅓ agrees with the thesis above
// (1000 to 4000 rpm: 1.61 against 1.59).
func (b body) scales(c condition, in charge) (delay, burning float64) {
	height := b.stroke / (in.ratio - 1)
	delay = b.pace(c, in, height+sparkTravel*b.stroke)
	return delay, b.pace(c, in, height) * b.bore / height
}

// sparkTravel is the piston's travel at 25 degrees, as a part of the stroke: a usual
// spark (chosen).
const sparkTravel = 0.06

// pace is (Up ν)^⅓ (h/S)^⅔ with the charge squeezed to the height h.
func (b body) pace(c condition, in charge, height float64) float64 {
	atm, kelvin := in.at(height / (b.stroke + b.stroke/(in.ratio-1)))
	speed := max(flame.Laminar(in.phi, kelvin, atm, in.left), slowest)
	return math.Cbrt(2*b.stroke*c.rpm/60*stirred(atm, kelvin)) * math.Pow(height/speed, 2.0/3)
}

// slowest flame, cm/s: below it engines miss (chosen, so that no burning is without end).
const slowest = 8

var knownDelayScale, knownBurnScale = known.scales(knownAt, known.charge(knownAt, middle))

// knownAt is full throttle at the speed known, even mixture.
var knownAt = condition{rpm: knownRPM, load: 1, ambientKPa: 101.325, air: 298.15, mixture: 1}

// burning gives delay and duration of one draw in crank degrees.
func (b body) burning(c condition, in charge, o one) (delay, duration float64) {
	d, w := b.scales(c, in)
	delay = knownDelay * d / knownDelayScale * b.shape.delay * o.factor(zBurn) * o.factor(zDelay)
	duration = knownBurn * w / knownBurnScale * b.shape.way * o.factor(zBurn)
	if half := delay + halfBurned*duration; half > slowestHalf {
		delay, duration = delay*slowestHalf/half, duration*slowestHalf/half
	}
	return delay, duration
}

const (
	halfBurned = 0.517547 // y at x = ½ for a = 5, m = 2
	// slowestHalf, degrees from the spark to half burned: beyond it engines miss, and
	// no best timing is to be found (chosen; say.go says so long before).
	slowestHalf = 95.0
)

// wiebe is the burning after a spark, degrees after TDC negative before.
func wiebe(spark, delay, duration float64) cycle.Wiebe {
	return cycle.Wiebe{Start: delay - spark, Duration: duration, A: 5, M: 2}
}
