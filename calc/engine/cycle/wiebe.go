package cycle

import "math"

// Wiebe is the part of the charge burned over crank degrees:
//
//	x = 1 − e^(−a y^(m+1)),  y = (θ − start) / duration
//
// Burning ends at y = 1 only where CutOff says so; else it goes on to the last
// of the charge. a = 5, m = 2 are usual (books write n = m + 1 = 3): 99.33 %
// at y = 1. Source: Ferguson & Kirkpatrick, Internal Combustion Engines, ch 2.
type Wiebe struct {
	Start, Duration, A, M float64
	CutOff                bool
}

// Burned gives x and its change per crank degree.
func (w Wiebe) Burned(deg float64) (x, perDeg float64) {
	y := (deg - w.Start) / w.Duration
	if y <= 0 {
		return 0, 0
	}
	if y > 1 && w.CutOff {
		return -math.Expm1(-w.A), 0
	}
	power := math.Pow(y, w.M)
	left := math.Exp(-w.A * power * y)
	return 1 - left, left * w.A * (w.M + 1) * power / w.Duration
}

// At gives the crank degrees at which part x is burned.
func (w Wiebe) At(x float64) float64 { return w.Start + w.Duration*w.Fraction(x) }

// Fraction gives y at which part x is burned, of the duration.
func (w Wiebe) Fraction(x float64) float64 { return math.Pow(-math.Log1p(-x)/w.A, 1/(w.M+1)) }
