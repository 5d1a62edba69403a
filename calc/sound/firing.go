package sound

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/refuse"
)

// Firing is when the cylinders fire. Refused: not one interval a cylinder, one
// of 0 or less, a sum other than 720 or 360.
type Firing struct {
	IntervalsCrankDeg []float64 `json:"intervalsCrankDeg" need:"yes" min:"1" max:"720" maxItems:"16" unit:"crank degrees" help:"from each firing to the next, in firing order; together 720, or 360 for a two-stroke"`
}

// FiringTaken is how an engine was taken to fire.
type FiringTaken struct {
	IntervalsCrankDeg []float64 `json:"intervalsCrankDeg" unit:"crank degrees" help:"from each firing to the next"`
	Assumed           bool      `json:"assumed" help:"it was not said: taken as evenly"`
}

// sumSlack is how far the intervals may be from 720 or 360: chosen, room for
// 102.9 typed seven times.
const sumSlack = 1.0

// beat is how an engine fires: where in its cycle, and what that does to the
// lines of its sound, which stand at whole multiples of one cycle.
type beat struct {
	cylinders int
	cycleDeg  float64
	intervals []float64
	said      bool
	gap       int       // every firing alike, only each gap-th line would sound
	weight    []float64 // of each line, 1 for one to which all firings add up
	rows      [likeLevels][][]int16
}

// firing checks how the engine fires; left out, it is a four-stroke that
// fires evenly.
func (in RPMIn) firing() (beat, *refuse.Error) {
	b := beat{cylinders: in.Cylinders, cycleDeg: 720}
	if in.Firing == nil {
		for range in.Cylinders {
			b.intervals = append(b.intervals, 720/float64(in.Cylinders))
		}
		return b.weighed(), nil
	}
	const field = "firing.intervalsCrankDeg"
	b.intervals, b.said = in.Firing.IntervalsCrankDeg, true
	if len(b.intervals) != in.Cylinders {
		return b, refuse.Input(field, fmt.Sprintf("%d intervals for %d cylinders", len(b.intervals), in.Cylinders),
			"one for each cylinder",
			"give the degrees from each firing to the next, the last one back to the first")
	}
	sum := 0.0
	for i, d := range b.intervals {
		if d <= 0 {
			return b, refuse.Input(fmt.Sprintf("%s[%d]", field, i), fmt.Sprintf("%g is no interval", d), "more than 0",
				"leave out nothing; where two fire at once, give 1")
		}
		sum += d
	}
	switch {
	case math.Abs(sum-720) <= sumSlack:
	case math.Abs(sum-360) <= sumSlack:
		b.cycleDeg = 360
	default:
		return b, refuse.Input(field, fmt.Sprintf("they add up to %g", sum),
			"720 for a four-stroke, 360 for a two-stroke, to 1 degree",
			"count the crank degrees from each firing to the next, once round")
	}
	return b.weighed(), nil
}

// mostLines: at the slowest speed looked for, up to the end of the band.
const mostLines = 520

// weighed works out the line strengths: |Σ e^(−2πi k θ/cycle)|² / n², from
// the angles θ of the n firings.
func (b beat) weighed() beat {
	n := float64(len(b.intervals))
	b.weight = make([]float64, mostLines)
	for k := range b.weight {
		re, im, at, sum := 0.0, 0.0, 0.0, 0.0
		for _, d := range b.intervals {
			sum += d
		}
		for _, d := range b.intervals {
			s, c := math.Sincos(2 * math.Pi * float64(k) * at / sum)
			re, im, at = re+c, im+s, at+d
		}
		b.weight[k] = (re*re + im*im) / (n * n)
		if k > 0 && b.weight[k] > 0.01 { // chosen: 20 dB under the strongest
			b.gap = divisor(b.gap, k)
		}
	}
	b.rows = b.tabled()
	return b
}

// divisor is the greatest common one; of 0 and k it is k.
func divisor(a, k int) int {
	for a != 0 {
		a, k = k%a, a
	}
	return k
}

// cycleHz and rpm turn engine speed into cycles a second and back.
func (b beat) cycleHz(rpm float64) float64 { return rpm * 6 / b.cycleDeg }
func (b beat) rpm(cycleHz float64) float64 { return cycleHz * b.cycleDeg / 6 }

// isEven tells whether all intervals are alike.
func (b beat) isEven() bool {
	for _, d := range b.intervals {
		if math.Abs(d-b.cycleDeg/float64(len(b.intervals))) > sumSlack {
			return false
		}
	}
	return true
}

// inPairs is an even engine of which every second firing is alike and its
// neighbours are not: two pipes, two carburettors. Then the lines halfway
// between those of the firing sound too; a quarter as strong is chosen.
func (b beat) inPairs() *beat {
	if !b.isEven() || b.cylinders%2 != 0 || b.cylinders < 4 {
		return nil
	}
	b.weight = slices.Clone(b.weight)
	for k := b.gap / 2; k < len(b.weight); k += b.gap {
		b.weight[k] = 0.25
	}
	b.rows = b.tabled()
	return &b
}
