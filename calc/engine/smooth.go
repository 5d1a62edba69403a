package engine

// smooth goes through points without overshoot and keeps what rises rising: a
// cubic between each two, its slopes by F. N. Fritsch and J. Butland, SIAM J. Sci.
// Stat. Comp. 5 (1984) 300.
type smooth struct{ x, y, slope []float64 }

func newSmooth(x, y []float64) smooth {
	n := len(x)
	s := smooth{x, y, make([]float64, n)}
	if n == 1 {
		return s
	}
	secant := make([]float64, n-1)
	for i := range secant {
		secant[i] = (y[i+1] - y[i]) / (x[i+1] - x[i])
	}
	if n == 2 {
		s.slope[0], s.slope[1] = secant[0], secant[0]
		return s
	}
	for i := 1; i < n-1; i++ {
		if secant[i-1]*secant[i] <= 0 {
			continue
		}
		a, b := x[i]-x[i-1], x[i+1]-x[i]
		s.slope[i] = 3 * (a + b) / ((2*b+a)/secant[i-1] + (b+2*a)/secant[i])
	}
	s.slope[0] = edgeSlope(x[1]-x[0], x[2]-x[1], secant[0], secant[1])
	s.slope[n-1] = edgeSlope(x[n-1]-x[n-2], x[n-2]-x[n-3], secant[n-2], secant[n-3])
	return s
}

// edgeSlope is the parabola's slope at an end, held so that nothing turns round.
func edgeSlope(a, b, first, second float64) float64 {
	slope := ((2*a+b)*first - a*second) / (a + b)
	switch {
	case slope*first <= 0:
		return 0
	case first*second <= 0 && slope*slope > 9*first*first, slope*first > 3*first*first:
		return 3 * first
	}
	return slope
}

// at gives the value at x; past the ends the end value.
func (s smooth) at(x float64) float64 {
	last := len(s.x) - 1
	if x <= s.x[0] {
		return s.y[0]
	}
	if x >= s.x[last] {
		return s.y[last]
	}
	i := 0
	for x > s.x[i+1] {
		i++
	}
	h := s.x[i+1] - s.x[i]
	t := (x - s.x[i]) / h
	u := 1 - t
	return s.y[i]*u*u*(1+2*t) + s.y[i+1]*t*t*(3-2*t) + h*t*u*(s.slope[i]*u-s.slope[i+1]*t)
}
