package sound

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Chosen on made sounds (sound_test.go): exhausts have their pulses below
// 1200 Hz, phones hear little below 40. The floor is narrow enough to take
// away the ring of a pipe, and wide enough to leave the comb of the firing.
const (
	earRate  = 6000.0 // samples a second worked at, or a little more
	bandLow  = 40.0   // Hz
	bandHigh = 1200.0
	floorHz  = 150.0 // half width of the floor
	mostOver = 16.0  // power of a line over the noise that counts in the second ear
	mostLag  = 0.6   // seconds
)

// ear holds how well the sound repeats after each lag.
type ear struct {
	rate float64
	sum  []float64 // running sum over lags in samples, to average over a stretch of them
}

// ears gives two of them. The first tells rates apart best; but a hum of a few
// loud lines repeats in it as well. The second counts no line for more than
// mostOver times the noise, so that only a whole comb of them repeats.
func ears(x []float64, rate float64) (first, second *ear) {
	n := 1
	for n < 2*len(x) { // zeros behind it, so that the end does not meet the beginning
		n *= 2
	}
	padded := make([]float64, n)
	mean := 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for i, v := range x {
		padded[i] = (v - mean) * (0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(len(x))))
	}
	fft := fourier.NewFFT(n)
	power := powers(fft.Coefficients(nil, padded))
	hz := rate / float64(n)
	first = newEar(fft, flatten(power, hz, meanFloor, math.Inf(1)), rate, len(x))
	second = newEar(fft, flatten(power, hz, quietFloor, mostOver), rate, len(x))
	return first, second
}

func powers(spectrum []complex128) []float64 {
	out := make([]float64, len(spectrum))
	for i, s := range spectrum {
		out[i] = real(s)*real(s) + imag(s)*imag(s)
	}
	return out
}

// newEar turns a flattened spectrum of n samples into repeats. Windowed sound
// overlaps less with itself the larger the lag; that is taken out.
func newEar(fft *fourier.FFT, flat []complex128, rate float64, n int) *ear {
	whole := 0.0
	for _, v := range flat {
		whole += 2 * real(v) // both halves of the spectrum
	}
	levelFlat(flat)
	repeat := fft.Sequence(nil, flat)[:min(fft.Len()/2, int(mostLag*rate)+2)]
	e := &ear{rate: rate, sum: make([]float64, len(repeat)+1)}
	for i, r := range repeat {
		u := float64(i) / float64(n)
		// of a raised cosine with itself
		overlap := (1-u)*(2.0/3+math.Cos(2*math.Pi*u)/3) + math.Sin(2*math.Pi*u)/(2*math.Pi)
		e.sum[i+1] = e.sum[i] + r/(math.Max(1e-30, whole)*math.Max(0.2, overlap))
	}
	return e
}

// levelFlat takes the mean off the part that is not empty: it says nothing about
// repeating.
func levelFlat(flat []complex128) {
	sum, count := 0.0, 0.0
	for _, v := range flat {
		if v != 0 {
			sum, count = sum+real(v), count+1
		}
	}
	for i, v := range flat {
		if v != 0 {
			flat[i] -= complex(sum/count, 0)
		}
	}
}

// flatten gives compressed power over its own floor, inside the band, with
// no phase, no line more than most over the floor: what is left is what
// repeats.
func flatten(power []float64, hzPerBin float64, floor func(sum float64, n int) float64, most float64) []complex128 {
	flat := make([]complex128, len(power))
	low, high := int(bandLow/hzPerBin), min(len(power)-1, int(bandHigh/hzPerBin))
	sum := make([]float64, len(power)+1)
	for i, p := range power {
		sum[i+1] = sum[i] + floorTerm(p, most)
	}
	half := int(floorHz / hzPerBin)
	for i := low; i <= high; i++ {
		from, to := max(low, i-half), min(high, i+half)
		if f := floor(sum[to+1]-sum[from], to+1-from); f > 0 {
			flat[i] = complex(math.Sqrt(math.Min(most, power[i]/f)), 0)
		}
	}
	return flat
}

// floorTerm is what a bin adds to the floor: its power, or where lines are
// held down the logarithm of it, which a few loud lines hardly move.
func floorTerm(power, most float64) float64 {
	if math.IsInf(most, 1) {
		return power
	}
	return math.Log(power + 1e-30)
}

func meanFloor(sum float64, n int) float64 { return sum / float64(n) }

// quietFloor is the mean power of the noise: e^γ = 1.781 times the geometric
// mean, for noise.
func quietFloor(sum float64, n int) float64 { return 1.781 * math.Exp(sum/float64(n)) }

// decimate filters and thins the sound to a rate a little above earRate.
func decimate(x []float64, rate float64) ([]float64, float64) {
	by := int(rate / earRate)
	if by < 2 {
		return x, rate
	}
	half := 4 * by
	taps := make([]float64, 2*half+1)
	total := 0.0
	for i := range taps {
		t := float64(i - half)
		taps[i] = (0.54 + 0.46*math.Cos(math.Pi*t/float64(half))) / float64(by)
		if t != 0 {
			taps[i] = (0.54 + 0.46*math.Cos(math.Pi*t/float64(half))) * math.Sin(math.Pi*t/float64(by)) / (math.Pi * t)
		}
		total += taps[i]
	}
	out := make([]float64, 0, len(x)/by+1)
	for at := 0; at < len(x); at += by {
		y := 0.0
		for i, w := range taps {
			if j := at + i - half; j >= 0 && j < len(x) {
				y += w * x[j]
			}
		}
		out = append(out, y/total)
	}
	return out, rate / float64(by)
}

// at is how well the sound repeats around a lag in seconds: the mean over a
// stretch as wide as the speed wanders, but no narrower than the pulses.
func (e *ear) at(seconds float64) float64 {
	half := math.Max(0.004*seconds, 0.00012) * e.rate
	from, to := seconds*e.rate-half+0.5, seconds*e.rate+half+0.5
	if from < 0 || to >= float64(len(e.sum)-1) {
		return 0
	}
	return (until(e.sum, to) - until(e.sum, from)) / (to - from)
}
