package sound

import (
	"math"
	"math/rand"
)

// exhaust is a second maker of engine sounds, by other physics than the
// judge's comb: gas flows from each valve, runs down a runner of its own
// length, goes to and fro in a pipe, and is heard with wind, a fan, mains hum
// and the echo of a wall. Figures are chosen to span what old engines do.
type exhaust struct {
	intervals []float64 // crank degrees, in firing order
	rpm       float64
	seconds   float64
	noiseDB   float64 // noise below the engine
	fan, hum  bool
}

const madeRate = 12000.0 // as the phone's page gives it

func evenly(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 720 / float64(n)
	}
	return out
}

func (m exhaust) sound(r *rand.Rand) []float64 {
	n := int(m.seconds * madeRate)
	flow := m.flow(n, r)
	x := piped(flow, r)
	echo(x, r)
	highPass(x, (60+120*r.Float64())/madeRate)
	level(x, 1)
	other := make([]float64, n)
	pink := 0.0
	for i := range other {
		pink = 0.97*pink + 0.25*r.NormFloat64()
		other[i] = 0.5*r.NormFloat64() + pink
	}
	mix(x, other, math.Pow(10, -m.noiseDB/20))
	if m.fan {
		mix(x, fanSound(n, r), 0.4)
	}
	if m.hum {
		mix(x, humSound(n, r), 0.3)
	}
	level(x, 0.1)
	return x
}

// flow is the gas through all valves: a blow-down that falls off, a hump as
// the piston sweeps, and turbulence that follows the flow. Cylinders differ,
// firings of one cylinder differ, and one in a hundred hardly burns.
func (m exhaust) flow(n int, r *rand.Rand) []float64 {
	flow := make([]float64, n)
	strength, late := make([]float64, len(m.intervals)), make([]float64, len(m.intervals))
	spread := 0.05 + 0.2*r.Float64()
	for i := range strength {
		strength[i] = math.Exp(spread * r.NormFloat64())
		late[i] = 0.0005 * r.Float64() // runners of different length, up to a quarter of a metre
	}
	cyclic, drift, wander, roughness := 0.03+0.09*r.Float64(), 0.03*r.NormFloat64()/m.seconds, 0.0,
		0.003+0.004*r.Float64()
	t := -0.3 * r.Float64()
	for k := 0; t < m.seconds; k++ {
		c := k % len(m.intervals)
		speed := m.rpm * (1 + drift*0.3*(t-m.seconds/2) + wander)
		wander = 0.97*wander + 0.25*roughness*r.NormFloat64()
		force := strength[c] * math.Exp(cyclic*r.NormFloat64())
		if r.Float64() < 0.01 {
			force *= 0.2
		}
		blow(flow, t+late[c], force, speed, r)
		t += m.intervals[c] / (6 * speed)
	}
	return flow
}

func blow(flow []float64, at, force, rpm float64, r *rand.Rand) {
	perDeg := 1 / (6 * rpm)
	rise, fall, sweep := 12*perDeg, 35*perDeg, 190*perDeg
	for i := max(0, int(math.Ceil(at*madeRate))); i < len(flow) && float64(i)/madeRate < at+sweep; i++ {
		s := float64(i)/madeRate - at
		v := (1-math.Exp(-s/rise))*math.Exp(-s/fall) + 0.12*math.Pow(math.Sin(math.Pi*s/sweep), 2)
		flow[i] += force * v * (1 + 0.06*r.NormFloat64())
	}
}

// piped sends the flow through a pipe open at its end (what comes back is
// turned over and duller), and takes the change of it, which is what is heard.
func piped(flow []float64, r *rand.Rand) []float64 {
	long := int(madeRate * (2*(1+2.5*r.Float64()) + 0.1) / 450) // metres there and back, hot gas
	back, dull, smooth := 0.35+0.4*r.Float64(), 0.0, 0.0
	inPipe, out := make([]float64, len(flow)), make([]float64, len(flow))
	soften := 0.2 + 0.5*r.Float64()
	for i, v := range flow {
		inPipe[i] = v
		if i >= long {
			dull += 0.5 * (inPipe[i-long] - dull)
			inPipe[i] -= back * dull
		}
		last := smooth
		smooth += soften * (inPipe[i] - smooth)
		out[i] = smooth - last
	}
	return out
}

func echo(x []float64, r *rand.Rand) {
	dry := append([]float64(nil), x...)
	for range 3 {
		gap, part := int(madeRate*(0.003+0.02*r.Float64())), 0.35*r.Float64()
		for i := gap; i < len(x); i++ {
			x[i] += part * dry[i-gap]
		}
	}
}

// level makes the sound so loud, root mean square.
func level(x []float64, loud float64) {
	if p := power(x); p > 0 {
		scaled(x, loud/math.Sqrt(p))
	}
}

// mix adds another sound, so loud against this one.
func mix(x, other []float64, share float64) {
	by := share * math.Sqrt(power(x)/power(other))
	for i := range x {
		x[i] += by * other[i]
	}
}
