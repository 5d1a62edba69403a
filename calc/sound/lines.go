package sound

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

const (
	lineLow, lineHigh = 30.0, 1500.0 // Hz: where lines are looked for
	lineWidth         = 0.003        // half, share of the frequency
)

// spectrum is the power of a piece of sound, kept as running sums.
type spectrum struct {
	hz      float64 // a bin
	seconds float64
	sum     []float64 // of power
	logs    []float64 // of its logarithm
}

func newSpectrum(x []float64, rate float64) *spectrum {
	n := 1
	for n < 2*len(x) {
		n *= 2
	}
	padded, mean := make([]float64, n), 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for i, v := range x {
		padded[i] = (v - mean) * (0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(len(x))))
	}
	power := powers(fourier.NewFFT(n).Coefficients(nil, padded))
	power = power[:min(len(power), int(1.1*lineHigh/rate*float64(n)))]
	s := &spectrum{hz: rate / float64(n), seconds: float64(len(x)) / rate, sum: make([]float64, len(power)+1),
		logs: make([]float64, len(power)+1)}
	for i, p := range power {
		s.sum[i+1] = s.sum[i] + p
		s.logs[i+1] = s.logs[i] + math.Log(p+1e-30)
	}
	return s
}

// between is the mean of a running sum over a stretch of frequency.
func (s *spectrum) between(sum []float64, low, high float64) float64 {
	a, b := math.Max(0, low/s.hz+0.5), math.Min(float64(len(sum)-1), high/s.hz+0.5)
	if b-a < 1e-9 {
		return 0
	}
	return (until(sum, b) - until(sum, a)) / (b - a)
}

func until(sum []float64, x float64) float64 {
	i := min(int(x), len(sum)-2)
	return sum[i] + (x-float64(i))*(sum[i+1]-sum[i])
}

// line is the logarithm of how far a line at a frequency stands above what
// lies on both sides of it, as far off as spacing allows: 0 where there is none. It also gives
// how many independent heights that is the mean of.
func (s *spectrum) line(hz, spacing float64) (height, n float64) {
	half := math.Max(0.6/s.seconds, math.Min(0.15*spacing, lineWidth*hz))
	power := s.between(s.sum, hz-half, hz+half)
	near, far := math.Max(0.25*spacing, half+1.2/s.seconds), 0.75*spacing
	if near > 0.45*spacing {
		near, far = 0.45*spacing, 0.55*spacing
	}
	beside := (s.between(s.logs, hz-far, hz-near) + s.between(s.logs, hz+near, hz+far)) / 2
	// Euler's γ: from the mean of the logarithm to that of the mean power of noise
	return logarithm(power+1e-30) - beside - 0.577, math.Max(1, 2*half*s.seconds/1.5)
}

// logarithm is math.Log to a hundredth, several times as fast.
func logarithm(x float64) float64 {
	bits := math.Float64bits(x)
	m := math.Float64frombits(bits&(1<<52-1)|1023<<52) - 1
	return math.Ln2 * (float64(int(bits>>52)-1023) + m + 0.34*m*(1-m))
}
