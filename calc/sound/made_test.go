package sound

import (
	"math"
	"math/rand"
)

// made describes a made sound of an engine.
type made struct {
	cylinders   int
	rpm         float64
	snrDB       float64 // power of engine over power of noise
	missing     bool    // one cylinder does not fire
	fan         bool    // an electric fan, half as loud as the engine, with its harmonics
	uneven      float64 // how much cylinders differ, share of their strength
	wander      float64 // how much the speed wanders, share
	phone       bool    // a microphone that hears little below 150 Hz
	seconds     float64
	rate        float64
	engineQuiet bool // no engine at all
}

// sound makes it: for every firing a thump that rings in the pipe and a short
// rush of gas, each cylinder with its own strength.
func (m made) sound(r *rand.Rand) []float64 {
	n := int(m.seconds * m.rate)
	x := make([]float64, n)
	strength := make([]float64, m.cylinders)
	for i := range strength {
		strength[i] = 1 + m.uneven*r.NormFloat64()
	}
	if m.missing {
		strength[r.Intn(m.cylinders)] = 0
	}
	ring, ring2 := 90+60*r.Float64(), 300+300*r.Float64()
	drift, phase := r.Float64()*2*math.Pi, r.Float64()
	t := -phase * period(m.rpm, m.cylinders)
	for k := 0; t < m.seconds && !m.engineQuiet; k++ {
		speed := m.rpm * (1 + m.wander*math.Sin(2*math.Pi*0.7*t+drift))
		firing(x, t, strength[k%m.cylinders], ring, ring2, m.rate, r)
		t += period(speed, m.cylinders) * (1 + 0.01*r.NormFloat64()*math.Min(1, m.wander*100))
	}
	if m.phone {
		highPass(x, 150/m.rate)
	}
	loud := math.Sqrt(power(x))
	if m.engineQuiet {
		loud = 1
	}
	noise := noises(n, r)
	gain := loud * math.Pow(10, -m.snrDB/20) / math.Sqrt(power(noise))
	hum, at := 37+90*r.Float64(), r.Float64()
	for i := range x {
		x[i] += gain * noise[i]
		if m.fan {
			for h := 1.0; h <= 4; h++ {
				x[i] += 0.5 * loud / h * math.Sin(2*math.Pi*h*(hum*float64(i)/m.rate+at))
			}
		}
		x[i] *= 0.1
	}
	return x
}

func firing(x []float64, t, strength, ring, ring2, rate float64, r *rand.Rand) {
	from := int(math.Ceil(t * rate))
	for i := max(0, from); i < min(len(x), from+int(0.06*rate)); i++ {
		s := float64(i)/rate - t
		v := math.Exp(-s/0.009)*math.Sin(2*math.Pi*ring*s) + 0.4*math.Exp(-s/0.003)*math.Sin(2*math.Pi*ring2*s) +
			0.25*math.Exp(-s/0.0015)*r.NormFloat64()
		x[i] += strength * v
	}
}

// noises is white noise with as much brown rumble.
func noises(n int, r *rand.Rand) []float64 {
	x := make([]float64, n)
	rumble := 0.0
	for i := range x {
		rumble = 0.98*rumble + 0.2*r.NormFloat64()
		x[i] = r.NormFloat64() + rumble
	}
	return x
}

func power(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return sum / float64(len(x))
}

// highPass takes away below a share of the sample rate, 12 dB an octave.
func highPass(x []float64, share float64) {
	a := 1 / (1 + 2*math.Pi*share)
	for range 2 {
		last, out := 0.0, 0.0
		for i, v := range x {
			out = a * (out + v - last)
			last, x[i] = v, out
		}
	}
}
