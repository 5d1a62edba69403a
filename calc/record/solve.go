package record

import "math"

// invert turns a symmetric positive matrix of n rows into its inverse and
// gives the logarithm of its determinant (Gauss–Jordan; no pivoting is needed
// for such a matrix). A handful of lines, for a whole library of matrices
// would go to every phone.
func invert(a []float64, n int) (logDet float64) {
	for k := range n {
		pivot := a[k*n+k]
		logDet += math.Log(pivot)
		a[k*n+k] = 1
		for j := range n {
			a[k*n+j] /= pivot
		}
		for i := range n {
			if i == k || a[i*n+k] == 0 {
				continue
			}
			f := a[i*n+k]
			a[i*n+k] = 0
			for j := range n {
				a[i*n+j] -= f * a[k*n+j]
			}
		}
	}
	return logDet
}

// A fit is the readings seen apart from what is free: the heights of the lines,
// and the slope where nothing is known of it.
type fit struct {
	n       int
	p       []float64 // K⁻¹ − K⁻¹X (XᵀK⁻¹X)⁻¹ XᵀK⁻¹
	pr      []float64 // p × rest
	logLike float64   // of the readings, heights integrated out
	// of the slope where it is free, generalised least squares: its figure,
	// its variance, its weights of the readings
	slope, slopeVar float64
	slopeWeights    []float64
}

// project takes the free columns out of the readings' covariance.
func project(h history, rest, cov []float64, isFree bool) fit {
	n := len(rest)
	columns := h.columns(isFree)
	m := len(columns)
	logDet := invert(cov, n)
	kx := make([]float64, m*n) // (K⁻¹X)ᵀ
	for c, column := range columns {
		for i := range n {
			kx[c*n+i] = dot(cov[i*n:i*n+n], column)
		}
	}
	inner := make([]float64, m*m)
	for c := range m {
		for d := range m {
			inner[c*m+d] = dot(kx[c*n:c*n+n], columns[d])
		}
	}
	logDet += invert(inner, m)
	weights := make([]float64, m*n) // (XᵀK⁻¹X)⁻¹ XᵀK⁻¹
	for c := range m {
		for d := range m {
			add(weights[c*n:c*n+n], inner[c*m+d], kx[d*n:d*n+n])
		}
	}
	for c := range m {
		for i := range n {
			add(cov[i*n:i*n+n], -kx[c*n+i], weights[c*n:c*n+n])
		}
	}
	f := fit{n: n, p: cov, pr: make([]float64, n)}
	for i := range n {
		f.pr[i] = dot(cov[i*n:i*n+n], rest)
	}
	f.logLike = -(logDet + dot(rest, f.pr)) / 2
	if isFree {
		f.slopeWeights = weights[(m-1)*n:]
		f.slope, f.slopeVar = dot(f.slopeWeights, rest), inner[m*m-1]
	}
	return f
}

// columns are the free ones: a height for each line, then x where the slope is
// free, from the middle of its line, so that the two do not get into each
// other's way.
func (h history) columns(isFree bool) [][]float64 {
	columns := make([][]float64, h.lines, h.lines+1)
	for c := range columns {
		columns[c] = make([]float64, len(h.x))
		for i, line := range h.line {
			if line == c {
				columns[c][i] = 1
			}
		}
	}
	if !isFree {
		return columns
	}
	slope := make([]float64, len(h.x))
	for _, column := range columns {
		middle := dot(column, h.x) / dot(column, column)
		for i := range column {
			slope[i] += column[i] * (h.x[i] - middle)
		}
	}
	return append(columns, slope)
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// add adds f times b to a.
func add(a []float64, f float64, b []float64) {
	for i := range a {
		a[i] += f * b[i]
	}
}
