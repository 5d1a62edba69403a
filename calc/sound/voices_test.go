package sound

import (
	"math"
	"math/rand"
)

// What is no engine: a voice, music, mains hum, a fan. n samples at madeRate.

// speech is a source and a filter: pulses of the glottis whose pitch falls
// along each phrase, shaken and accented, through four formants that glide
// from vowel to vowel, with hiss for consonants and silence between.
func speech(n int, r *rand.Rand) []float64 {
	source, hiss := make([]float64, n), make([]float64, n)
	pitch := 85 + 150*r.Float64()
	long := func(least, more float64) int { return int(madeRate * (least + more*r.Float64())) }
	phrase := 1 + 0.1*r.NormFloat64()
	for i := 0; i < n; {
		if r.Float64() < 0.15 {
			i += long(0.1, 0.25)
			phrase = 1.1 + 0.1*r.NormFloat64()
		}
		for end := min(n, i+long(0.02, 0.08)); i < end; i++ {
			hiss[i] = 0.08 * r.NormFloat64()
		}
		voiced(source, i, min(n, i+long(0.08, 0.22)), pitch*phrase*(1+0.07*r.NormFloat64()), r)
		i += long(0.08, 0.22)
		phrase *= 0.97
	}
	out := formants(source, r)
	level(out, 1)
	for i := range out {
		out[i] += hiss[i]*8 + 0.005*r.NormFloat64()
	}
	return out
}

// voiced adds glottal pulses from one sample to another: a slow opening, a
// sudden close; pitch glides and trembles.
func voiced(source []float64, from, to int, pitch float64, r *rand.Rand) {
	glide, loud := 0.12*r.NormFloat64(), 0.5+r.Float64()
	for at := float64(from); at < float64(to); {
		u := (at - float64(from)) / float64(to-from+1)
		long := madeRate / (pitch * (1 + glide*(u-0.5)) * (1 + 0.012*r.NormFloat64()))
		force := loud * math.Sin(math.Pi*math.Min(1, u+0.1)) * (1 + 0.06*r.NormFloat64())
		for i := range int(long * 0.6) {
			if j := int(at) + i; j < to {
				v := float64(i) / (long * 0.6)
				source[j] += force * (2*v - 3*v*v) // the change of v² − v³
			}
		}
		at += long
	}
}

// formants runs the source through four resonances that glide to a new vowel
// every sixth of a second or so.
func formants(source []float64, r *rand.Rand) []float64 {
	low, high := []float64{280, 900, 2200, 3200}, []float64{800, 2200, 2900, 3900}
	out := append([]float64(nil), source...)
	for f := range low {
		at, goal := low[f]+(high[f]-low[f])*r.Float64(), 0.0
		goal = at
		var y1, y2 float64
		for i, x := range out {
			if r.Float64() < 6/madeRate {
				goal = low[f] + (high[f]-low[f])*r.Float64()
			}
			at += (goal - at) * 0.002
			radius := math.Exp(-math.Pi * (60 + 0.03*at) / madeRate)
			y := x + 2*radius*math.Cos(2*math.Pi*at/madeRate)*y1 - radius*radius*y2
			y1, y2, out[i] = y, y1, y*(1-radius)
		}
	}
	return out
}

// music is chords of two to four of its instruments, struck anew now and
// then, with a bass and perhaps a drum. Some of it is one long note.
func music(n int, r *rand.Rand) []float64 {
	out := make([]float64, n)
	root := 55 * math.Pow(2, float64(r.Intn(24))/12)
	drone := r.Float64() < 0.2
	beat := int(madeRate * (0.22 + 0.6*r.Float64()))
	shapes := [][]int{{0}, {0, 7}, {0, 4, 7}, {0, 3, 7}, {0, 4, 7, 10}, {0, 12}, {0, 7, 12, 16}}
	for from := -int(float64(beat) * r.Float64()); from < n; from += beat {
		step := float64([]int{0, 0, 5, 7, 9, 2}[r.Intn(6)])
		if drone {
			step, from, beat = 0, -beat, n+2*beat
		}
		for i, semitones := range shapes[r.Intn(len(shapes))] {
			played(out, from, beat, root*math.Pow(2, (step+float64(semitones))/12), i == 0, r)
		}
		if r.Float64() < 0.4 {
			for i := range beat / 4 {
				if j := from + i; j >= 0 && j < n {
					out[j] += 0.5 * math.Exp(-float64(i)/300) * r.NormFloat64()
				}
			}
		}
	}
	for i := range out {
		out[i] += 0.01 * r.NormFloat64()
	}
	return out
}

// played is one note: harmonics that fall off, an attack, a decay or none,
// a little stiffness of the string or a vibrato.
func played(out []float64, from, long int, hz float64, isBass bool, r *rand.Rand) {
	slope, stiff, decay := 0.6+1.2*r.Float64(), 0.0, 0.0
	vibrato, phase := 0.0, 2*math.Pi*r.Float64()
	switch r.Intn(3) {
	case 0: // a string that is struck
		stiff, decay = 0.0002*r.Float64(), 1+4*r.Float64()
	case 1: // bowed, blown or sung
		vibrato = 0.006 * r.Float64()
	}
	loud := 0.5 + 0.5*r.Float64()
	if isBass {
		loud *= 1.5
	}
	for h := 1.0; h*hz < 0.45*madeRate && h < 30; h++ {
		size, turn := loud*math.Pow(h, -slope)*(0.4+r.Float64()), 2*math.Pi*r.Float64()
		for i := range long + int(madeRate*0.05) {
			if j := from + i; j >= 0 && j < len(out) {
				t := float64(i) / madeRate
				shape := math.Min(1, t/0.015) * math.Exp(-decay*t) * math.Min(1, float64(long+600-i)/600)
				angle := 2 * math.Pi * h * hz * math.Sqrt(1+stiff*h*h) * (t +
					vibrato/(2*math.Pi*5.5)*math.Sin(2*math.Pi*5.5*t+phase))
				out[j] += size * shape * math.Sin(angle+turn)
			}
		}
	}
}

// humSound is a transformer or a lamp: mains and its harmonics, 50 or 60 Hz
// to a fifth of a percent, each of any strength, or a buzz with all of them.
func humSound(n int, r *rand.Rand) []float64 {
	out := make([]float64, n)
	mains := []float64{50, 60}[r.Intn(2)] * (1 + 0.001*r.NormFloat64())
	buzz := r.Float64() < 0.4
	for h := 1.0; h < 40; h++ {
		size := math.Pow(h, -1) * math.Exp(1.2*r.NormFloat64())
		if int(h)%2 == 1 && h > 1 {
			size *= 0.6
		}
		if buzz {
			size = math.Pow(h, -0.5) * (0.6 + 0.4*float64((int(h)+1)%2))
		}
		turn := 2 * math.Pi * r.Float64()
		for i := range out {
			out[i] += size * math.Sin(2*math.Pi*h*mains*float64(i)/madeRate+turn)
		}
	}
	hiss := math.Sqrt(power(out)) * math.Pow(10, -(5+25*r.Float64())/20)
	for i := range out {
		out[i] += hiss * r.NormFloat64()
	}
	return out
}

// fanSound is an electric fan: the tone of its blades with a few harmonics,
// weak tones at each turn of a hub that is a little out of true, rushing air.
func fanSound(n int, r *rand.Rand) []float64 {
	out := make([]float64, n)
	blades, turns := []int{3, 4, 5, 6, 7, 9}[r.Intn(6)], 12+30*r.Float64()
	wander := 0.002 * r.NormFloat64()
	for h := 1; h <= 5*blades; h++ {
		size := 0.04 * math.Exp(0.8*r.NormFloat64()) / math.Sqrt(float64(h))
		if h%blades == 0 {
			size = math.Pow(float64(h/blades), -1.3) * math.Exp(0.3*r.NormFloat64())
		}
		turn := 2 * math.Pi * r.Float64()
		for i := range out {
			t := float64(i) / madeRate
			out[i] += size * math.Sin(2*math.Pi*float64(h)*turns*t*(1+wander*t)+turn)
		}
	}
	air, rush := 0.0, 0.3+0.7*r.Float64()
	for i := range out {
		air = 0.9*air + 0.3*r.NormFloat64()
		out[i] += rush * (air + 0.3*r.NormFloat64())
	}
	return out
}
