package scatter

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/refuse"
)

// Firing is how the engine is made to fire.
type Firing struct {
	IntervalsCrankDeg []float64 `json:"intervalsCrankDeg" need:"yes" over:"0" max:"720" minItems:"2" maxItems:"16" unit:"crank degrees" help:"from each firing to the next in firing order, the first from No. 1; they add up to 720, or 360 for a two-stroke"`
}

// cycle is the sum of the intervals.
func (f *Firing) cycle() float64 {
	sum := 0.0
	for _, x := range f.IntervalsCrankDeg {
		sum += x
	}
	return sum
}

const (
	sumWithin  = 0.5 // crank degrees: intervals are printed to whole or half degrees (chosen)
	evenWithin = 1   // crank degrees between intervals of an engine that fires evenly (chosen)
)

func (in AnalyseIn) checkFiring() *refuse.Error {
	f := in.Firing
	if f == nil {
		return nil
	}
	const field = "firing.intervalsCrankDeg"
	sum := f.cycle()
	switch {
	case len(f.IntervalsCrankDeg) != in.Cylinders:
		return refuse.Input(field, fmt.Sprintf("has %d intervals for %d cylinders", len(f.IntervalsCrankDeg),
			in.Cylinders),
			"one interval for each cylinder", "the last one leads back to No. 1")
	case math.Abs(sum-720) > sumWithin && math.Abs(sum-360) > sumWithin:
		return refuse.Input(field, fmt.Sprintf("add up to %.4g crank degrees", sum), "720, or 360 for a two-stroke",
			"check them against the engine's book, in firing order")
	case in.DriveRatio != 0 && math.Abs(sum-360*in.DriveRatio) > 2*sumWithin:
		return refuse.Input("driveRatio", fmt.Sprintf("of %.3g turns the distributor once in %.4g crank degrees, the "+
			"intervals add up to %.4g",
			in.DriveRatio, 360*in.DriveRatio, sum), "one turn of the distributor for one round of firings",
			"correct one of the two")
	}
	return nil
}

// uneven tells whether the intervals that were said differ.
func (in AnalyseIn) uneven() bool {
	if in.Firing == nil {
		return false
	}
	return slices.Max(in.Firing.IntervalsCrankDeg)-slices.Min(in.Firing.IntervalsCrankDeg) > evenWithin
}

// turns is engine turns for one of the distributor.
func (in AnalyseIn) turns() float64 {
	switch {
	case in.DriveRatio != 0:
		return in.DriveRatio
	case in.Firing != nil:
		return math.Round(in.Firing.cycle() / 360)
	}
	return 2
}

// design is where each flash belongs against an even ring, distributor
// degrees, early positive, with the intervals begun so many flashes later.
func (in AnalyseIn) design(later int) []float64 {
	n := in.Cylinders
	out := make([]float64, n)
	if !in.uneven() {
		return out
	}
	at := 0.0
	for i := range out {
		out[i] = float64(i)*360/float64(n) - at/in.turns()
		at += in.Firing.IntervalsCrankDeg[(i+later)%n]
	}
	return out
}

// place takes the design off the errors where they were read against an even
// ring. Not said, the reading that leaves less is taken, and said.
func (p *pattern) place() {
	design := p.in.design(0)
	rest := less(p.mean, design)
	p.out.Against, p.unclear = p.in.Against, false
	if p.in.Against == "" {
		p.out.Against = "even"
		if p.in.uneven() && worst(p.mean) < worst(rest) {
			p.out.Against = "own"
		}
		p.unclear = p.in.uneven() && math.Min(worst(p.mean), worst(rest)) > fair
	}
	if p.out.Against == "own" {
		design = make([]float64, len(design))
		rest = p.mean
	}
	p.turned = p.in.uneven() && worst(rest) > fair && p.fitsElsewhere()
	p.mean, p.design = rest, design
}

// fitsElsewhere tells whether the errors are good once the intervals begin at
// another cylinder, or once they are taken against the other ring.
func (p *pattern) fitsElsewhere() bool {
	for later := range p.in.Cylinders {
		if worst(less(p.mean, p.in.design(later))) <= good {
			return true
		}
	}
	return worst(p.mean) <= good
}

func less(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}

// worst is the largest distance from the mean.
func worst(errors []float64) float64 {
	mean, most := 0.0, 0.0
	for _, e := range errors {
		mean += e / float64(len(errors))
	}
	for _, e := range errors {
		most = math.Max(most, math.Abs(e-mean))
	}
	return most
}

// angle is where flash i comes in the distributor's turn, radians.
func (p *pattern) angle(i int) float64 {
	turn := 2 * math.Pi * float64(i) / float64(len(p.mean))
	if p.in.uneven() {
		turn -= p.in.design(0)[i] * math.Pi / 180
	}
	return turn
}
