package truth_test

import (
	"math"
	"math/rand/v2"
	"slices"

	"pointsmith/calc/advance"
)

// evidence is how a unit is read.
type evidence struct {
	name          string
	bench, car    bool
	falling, lamp bool // falling too; static timing proved with the test lamp
}

var evidences = []evidence{
	{name: "bench", bench: true},
	{name: "bench both ways", bench: true, falling: true},
	{name: "car", car: true},
	{name: "car and lamp", car: true, lamp: true},
	{name: "car both ways", car: true, falling: true},
	{name: "bench and car", bench: true, car: true},
}

type way struct{ car, falling bool }

func (e evidence) ways() (all []way) {
	for _, car := range []bool{false, true} {
		if car && !e.car || !car && !e.bench {
			continue
		}
		all = append(all, way{car, false})
		if e.falling {
			all = append(all, way{car, true})
		}
	}
	return all
}

// moment is one reading to be taken.
type moment struct {
	way
	distRPM float64
}

// planned is the speeds read: the book's, some between, 10 to 20 % past the
// last; on the bench from below the book's first, on the car from its idle.
func planned(rng *rand.Rand, b book, e evidence) []moment {
	var plan []moment
	idle := 25 * math.Round(between(rng, 300, 450)/25) // 600 to 900 engine rpm
	for _, car := range []bool{false, true} {
		speeds := speedsToRead(rng, b)
		if car {
			speeds = slices.DeleteFunc(speeds, func(rpm float64) bool { return rpm < idle+40 })
			speeds = append([]float64{idle}, speeds...)
		}
		for _, w := range e.ways() {
			if w.car != car {
				continue
			}
			run := slices.Clone(speeds)
			if w.falling {
				slices.Reverse(run)
			}
			for _, rpm := range run {
				plan = append(plan, moment{w, rpm})
			}
		}
	}
	return plan
}

func speedsToRead(rng *rand.Rand, b book) []float64 {
	var speeds []float64
	for _, r := range b.rows {
		speeds = append(speeds, r.distRPM)
	}
	last := slices.Max(speeds)
	speeds = append(speeds, between(rng, 150, 250), last*between(rng, 1.1, 1.2))
	slices.Sort(speeds)
	for i := len(speeds) - 1; i > 0; i-- {
		gap := speeds[i] - speeds[i-1]
		pieces := 1
		if gap > 150 && rng.IntN(2) == 0 {
			pieces = 2
		}
		pieces = max(pieces, int(math.Ceil(gap/400)))
		for k := 1; k < pieces; k++ {
			speeds = append(speeds, speeds[i-1]+gap*float64(k)/float64(pieces))
		}
	}
	for i := range speeds {
		if !slices.ContainsFunc(b.rows, func(r bookRow) bool { return r.distRPM == speeds[i] }) {
			speeds[i] = 25 * math.Round(speeds[i]/25)
		}
	}
	slices.Sort(speeds)
	return slices.Compact(speeds)
}

// noiseSpread is the standard deviation of a reading, crank degrees: the
// stated error of ±1 is two deviations, and the truth is 0.5 to 1.5 of that.
func noiseSpread(rng *rand.Rand) float64 { return between(rng, 0.5, 1.5) * 0.5 }

// read takes the readings with noise; the bench's dial to half a distributor
// degree, strobe and lamp to one crank degree.
func read(rng *rand.Rand, s state, e evidence, plan []moment) []advance.Set {
	spread := noiseSpread(rng)
	var sets []advance.Set
	for _, car := range []bool{false, true} {
		if car && !e.car || !car && !e.bench {
			continue
		}
		set := advance.Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
		speed, degree, finest := 1.0, 1.0/ratio, 0.5
		if car {
			set = advance.Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
			speed, degree, finest = ratio, 1, 1
		}
		for _, m := range plan {
			if m.car != car {
				continue
			}
			deg := degree * (m.crank(s) + spread*rng.NormFloat64())
			deg = finest * math.Round(deg/finest)
			set.Points = append(set.Points,
				advance.ReadingPoint{RPM: m.distRPM * speed, Deg: deg, Direction: m.direction()})
		}
		if car && e.lamp {
			static := math.Round(s.base + spread*rng.NormFloat64())
			set.StaticCrankDeg = &static
		}
		sets = append(sets, set)
	}
	return sets
}

func (w way) direction() string {
	if w.falling {
		return "falling"
	}
	return "rising"
}
