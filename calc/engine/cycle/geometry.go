package cycle

import "math"

const degree = math.Pi / 180

// Crank is a slider-crank in ratios. RodRatio is rod over crank radius (rod
// over half the stroke); 0 stands for a rod without end.
type Crank struct{ Compression, RodRatio float64 }

// Volume gives the volume over that at bottom dead centre, and its change per
// crank degree:
//
//	V/V1 = [1 + (r−1) s/2] / r
//	s    = 1 − cos θ                               for a rod without end
//	s    = R + 1 − cos θ − √(R² − sin² θ)          for rod over crank radius R
//
// Sources: Ferguson & Kirkpatrick, Internal Combustion Engines, ch 2 (rod
// without end); Heywood, Internal Combustion Engine Fundamentals, eq 2.4 to 2.6
// (numbers from memory).
func (c Crank) Volume(deg float64) (ratio, perDeg float64) {
	sin, cos := math.Sincos(deg * degree)
	s, ds := 1-cos, sin
	if c.RodRatio > 0 {
		root := math.Sqrt(c.RodRatio*c.RodRatio - sin*sin)
		s = c.RodRatio + 1 - cos - root
		ds = sin + sin*cos/root
	}
	half := (c.Compression - 1) / 2
	return (1 + half*s) / c.Compression, half * ds * degree / c.Compression
}

// Travel is how far the piston is from top dead centre, as a part of the
// stroke.
func (c Crank) Travel(deg float64) float64 {
	v, _ := c.Volume(deg)
	return (v*c.Compression - 1) / (c.Compression - 1)
}

// SpeedRatio is the piston's speed over its mean speed; away from top dead
// centre positive.
func (c Crank) SpeedRatio(deg float64) float64 {
	_, dv := c.Volume(deg)
	return dv / degree * c.Compression / (c.Compression - 1) * math.Pi
}
