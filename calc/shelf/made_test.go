package shelf

import (
	"fmt"
	"math"
	"math/rand/v2"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
)

// Shelves made of this room's own governors. What is asked of units that obey
// other physics stands in calc/advance/truth.

func between(rng *rand.Rand, low, high float64) float64 { return low + (high-low)*rng.Float64() }

// drawn is a governor by its corners: start 180 to 600 distributor rpm, stop at
// 6 to 16 degrees met between 900 and 2600, the secondary taking up at 25 to
// 75 % of the travel and making the curve two to eight times flatter (chosen,
// as in calc/advance/truth).
func drawn(rng *rand.Rand) infer.Governor {
	for {
		square := func(rpm float64) float64 { return rpm * rpm / 1e6 }
		g := infer.Governor{U0: square(between(rng, 180, 600)), Limit: between(rng, 6, 16),
			Growth: between(rng, 0, 0.025)}
		g.Knee = between(rng, 0.25, 0.75) * g.Limit
		top := square(between(rng, 900, 2600)) * (1 + g.Growth*g.Limit)
		flatter := 2 * math.Pow(4, rng.Float64())
		g.K1 = (top - g.U0) / (g.Knee + flatter*(g.Limit-g.Knee))
		g.K2 = (flatter - 1) * g.K1
		g.Drag = between(rng, 0.05, 0.35) * g.K1
		if g.K1 > 2*g.Growth*top {
			return g
		}
	}
}

// another is a unit of the same make (scatter as in calc/advance/truth).
func another(g infer.Governor, rng *rand.Rand) infer.Governor {
	by := func(share float64) float64 { return math.Exp(share * rng.NormFloat64()) }
	g.U0, g.K1, g.K2 = g.U0*by(0.05), g.K1*by(0.04), g.K2*by(0.04)
	g.Knee, g.Limit = g.Knee+0.33*rng.NormFloat64(), g.Limit+0.25*rng.NormFloat64()
	return g
}

// bookSpeeds and benchSpeeds, distributor rpm.
var (
	bookSpeeds  = []float64{300, 450, 700, 1000, 1500, 2000, 2500}
	benchSpeeds = []float64{200, 300, 375, 450, 575, 700, 850, 1000, 1250, 1500, 1750, 2000, 2500, 2800}
)

// printed is a book about a governor, half a degree's rounding in it.
func printed(g infer.Governor, half float64) advance.Spec {
	base := 8.0
	spec := advance.Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded", BaseCrankDeg: &base}
	for _, rpm := range bookSpeeds {
		a := g.At(rpm)
		low, high := math.Round(2*math.Max(0, a-half))/2, math.Round(2*(a+half))/2
		spec.Points = append(spec.Points, advance.SpecPoint{RPM: rpm, MinDeg: &low, MaxDeg: &high})
	}
	return spec
}

// misses is how far the worst row is missed rising, below none inside,
// distributor degrees: reckoned here by itself and not by the room.
func misses(spec advance.Spec, at func(rpm float64) float64) float64 {
	worst := math.Inf(-1)
	for _, p := range spec.Points {
		a := at(p.RPM)
		if *p.MinDeg > 0 {
			worst = math.Max(worst, *p.MinDeg-a)
		}
		worst = math.Max(worst, a-*p.MaxDeg)
	}
	return worst
}

// inBook is as near as counts, distributor degrees (see Nearest).
const inBook = 0.25

// readBench reads a curve rising: ±0.5 distributor degree (two deviations), and
// the dial to half a degree on top of that.
func readBench(rng *rand.Rand, at func(rpm float64) float64, speeds ...float64) advance.Sets {
	s := advance.Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, rpm := range speeds {
		deg := math.Round(2*(at(rpm)+0.25*rng.NormFloat64())) / 2
		s.Points = append(s.Points, advance.ReadingPoint{RPM: rpm, Deg: deg, Direction: "rising"})
	}
	return advance.Sets{s}
}

func rising(g infer.Governor) func(float64) float64 {
	return func(rpm float64) float64 { return g.Reads(rpm, false) }
}

// madeShelf is a shelf with one unit on it that lies in the book; the others
// miss it by half a distributor degree, the error of a reading, or more.
func madeShelf(rng *rand.Rand, units int) (in NearestIn, planted string) {
	spec, donor := bookAndUnit(rng)
	in = NearestIn{Spec: spec}
	place := rng.IntN(units)
	for i := range units {
		g := donor
		for i != place {
			if g = drawn(rng); misses(spec, rising(g)) >= 0.5 {
				break
			}
		}
		in.Units = append(in.Units, Unit{ID: fmt.Sprintf("unit %03d", i),
			Readings: readBench(rng, rising(g), benchSpeeds...)})
	}
	return in, in.Units[place].ID
}

// bookAndUnit is a book and a unit of its make that lies in it.
func bookAndUnit(rng *rand.Rand) (advance.Spec, infer.Governor) {
	for {
		design := drawn(rng)
		spec := printed(design, between(rng, 0.75, 1.5))
		if g := another(design, rng); misses(spec, rising(g)) <= 0 {
			return spec, g
		}
	}
}

// neighbour is a unit of the make with one thing or more off it, so that it lies
// about the edge of the book.
func neighbour(g infer.Governor, rng *rand.Rand) infer.Governor {
	g = another(g, rng)
	if rng.IntN(2) == 0 {
		by := math.Exp(0.5 * rng.NormFloat64())
		g.U0, g.K1 = g.U0*by, g.K1*by
	}
	if rng.IntN(2) == 0 {
		g.Knee = math.Max(0.5, g.Knee+1.5*rng.NormFloat64())
	}
	if rng.IntN(2) == 0 {
		g.Limit = math.Max(g.Knee+0.5, g.Limit+1.5*rng.NormFloat64())
	}
	return g
}

// done does a change to a governor, by the words of advance.Change and not by the
// room's own hand.
func done(g infer.Governor, c *advance.MendChange) infer.Governor {
	if c == nil {
		return g
	}
	of := func(x *float64) float64 {
		if x == nil {
			return 1
		}
		return *x
	}
	g.U0 *= of(c.PrimarySpring) * of(c.PrimaryPreload)
	g.K1 *= of(c.PrimarySpring)
	g.K2 *= of(c.SecondarySpring)
	if c.SlackDistDeg != nil {
		g.Knee = math.Max(0, g.Knee+*c.SlackDistDeg)
	}
	if c.LimitDistDeg != nil {
		g.Limit = *c.LimitDistDeg
	}
	return g
}
