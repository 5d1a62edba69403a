package sound

import (
	"math"
	"math/cmplx"
)

// Chosen: how the speed may wander while it is listened to.
const (
	mostWander  = 0.025 // share, either way of the middle
	wanderSteps = 25    // either way
	stiffness   = 60.0  // cost of a change of a whole mostWander from one frame to the next
	trackTop    = 700.0 // Hz
	trackLines  = 30
)

// steadied stretches a sound in time so that the speed found stays what it is
// on the middle: lines wander less and stand higher. It also gives the share
// of speed by which each frame was off.
func (b beat) steadied(x []float64, rate, cycleHz float64) []float64 {
	long := int(rate * math.Max(0.2, math.Min(0.5, 4/(float64(b.gap)*cycleHz))))
	hop := long / 2
	frames := (len(x)-long)/hop + 1
	if frames < 3 {
		return x
	}
	off := b.path(b.amplitudes(x, rate, cycleHz, long, hop, frames), cycleHz*float64(hop)/rate)
	return stretched(x, off, long, hop)
}

// amplitudes is the strength and phase of each line of the firing in frames
// that overlap by half.
func (b beat) amplitudes(x []float64, rate, cycleHz float64, long, hop, frames int) (heard [][]complex128) {
	for k := 1; float64(k)*cycleHz < trackTop && k < mostLines && len(heard) < trackLines; k++ {
		if b.weight[k] < 0.1 || float64(k)*cycleHz < lineLow {
			continue
		}
		line := make([]complex128, frames+1)
		line[frames] = complex(float64(k), 0) // which line it is
		turn := cmplx.Rect(1, -2*math.Pi*float64(k)*cycleHz/rate)
		for f := range frames {
			phase := cmplx.Rect(1, -2*math.Pi*math.Mod(float64(k)*cycleHz/rate*float64(f*hop), 1))
			window := cmplx.Rect(1, 2*math.Pi/float64(long))
			w := complex(1, 0)
			for i := range long {
				line[f] += phase * complex(x[f*hop+i]*(1-real(w)), 0)
				phase *= turn
				w *= window
			}
		}
		heard = append(heard, line)
	}
	return heard
}

// path is the likeliest course of the speed from frame to frame, as a share
// off: all lines must turn alike, each in proportion to its number.
func (b beat) path(heard [][]complex128, turns float64) []float64 {
	if len(heard) == 0 {
		return nil
	}
	frames := len(heard[0]) - 1
	n := 2*wanderSteps + 1
	best, from := make([]float64, n), make([][]int, frames-1)
	for f := range frames - 1 {
		fit := fits(heard, f, frames, turns)
		next := make([]float64, n)
		from[f] = make([]int, n)
		for i := range next {
			next[i] = math.Inf(-1)
			for j := max(0, i-wanderSteps/2); j < min(n, i+wanderSteps/2+1); j++ {
				d := float64(i-j) / wanderSteps
				if v := best[j] - stiffness*d*d; v > next[i] {
					next[i], from[f][i] = v, j
				}
			}
			next[i] += fit[i]
		}
		best = next
	}
	at := 0
	for i := range best {
		if best[i] > best[at] {
			at = i
		}
	}
	off := make([]float64, frames-1)
	for f := frames - 2; f >= 0; f-- {
		off[f] = mostWander * float64(at-wanderSteps) / wanderSteps
		at = from[f][at]
	}
	return off
}

// fits is how well each share off fits the turning of all lines from frame f
// to the next.
func fits(heard [][]complex128, f, frames int, turns float64) []float64 {
	fit := make([]float64, 2*wanderSteps+1)
	mean := 1e-30
	for _, line := range heard {
		mean += cmplx.Abs(line[f+1]*line[f]) / float64(len(heard))
	}
	for _, line := range heard {
		c := line[f+1] * cmplx.Conj(line[f])
		size := math.Min(2, math.Sqrt(cmplx.Abs(c)/mean))
		angle := cmplx.Phase(c)
		for i := range fit {
			d := mostWander * float64(i-wanderSteps) / wanderSteps
			fit[i] += size * math.Cos(angle-2*math.Pi*real(line[frames])*turns*d)
		}
	}
	return fit
}

// stretched resamples so that speed is steady; off stands halfway between the
// middles of frames.
func stretched(x, off []float64, long, hop int) []float64 {
	if len(off) == 0 {
		return x
	}
	mean := 0.0
	for _, d := range off {
		mean += d / float64(len(off))
	}
	out := make([]float64, 0, len(x))
	for at := 0.0; at < float64(len(x)-1); {
		i := int(at)
		u := at - float64(i)
		p0, p1, p2, p3 := x[max(0, i-1)], x[i], x[i+1], x[min(len(x)-1, i+2)]
		out = append(out, p1+u*((p2-p0)/2+u*(p0-2.5*p1+2*p2-p3/2+u*(1.5*(p1-p2)+(p3-p0)/2))))
		f := math.Max(0, math.Min(float64(len(off)-1), (at-float64(long)/2-float64(hop)/2)/float64(hop)))
		j := min(int(f), max(0, len(off)-2))
		d := off[j]
		if len(off) > 1 {
			d += (f - float64(j)) * (off[j+1] - off[j])
		}
		at += (1 + mean) / (1 + d)
	}
	return out
}
