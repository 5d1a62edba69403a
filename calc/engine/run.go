package engine

import (
	"math"

	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/engine/knock"
)

const (
	step      = 4.0    // degrees; against steps of 0.05 degree the work is the same to 0.1 % (tested)
	gridFrom  = -112.0 // no spark comes earlier
	gridTo    = 140.0  // where the exhaust valve opens (from memory: 110 to 140 after TDC)
	endGas    = 0.90   // burned: what is left then is too little to be heard (chosen)
	gammaCold = 1.392  // γ = 1.392 − 8.13e-5 T: Gatowski and others, SAE 841359 (from memory)
	gammaFall = 8.13e-5
	burnedOut = 1.4 // durations: by then all but e^−13 is burned
	places    = int((gridTo-gridFrom)/(step/2)) + 1
)

// grid holds piston travel and its slope at every half step: the same for all
// draws of an engine.
type grid struct{ travel, slope []float64 }

func newGrid(rod float64) *grid {
	crank := cycle.Crank{Compression: 2, RodRatio: rod} // travel hangs on the rod alone
	g := &grid{}
	for i := range places {
		deg := gridFrom + float64(i)*step/2
		_, dv := crank.Volume(deg)
		g.travel = append(g.travel, crank.Travel(deg))
		g.slope = append(g.slope, dv*2) // of travel, per degree
	}
	return g
}

// cylinder is one draw at one condition, ready for sparks.
type cylinder struct {
	*grid
	in              charge
	delay, duration float64
	rpm, octane     float64
	// of the heat loss: q per degree = scale p^0.8 T^−0.55 w^0.8 (areas) (T − wall)
	lossScale, piston, burnSpeed float64
	at                           [places]place
	unlit                        [places/2 + 1]moment // before the spark, at every whole step
}

// moment is how far a cycle has come: pressure over p1, work over p1 V1, and the
// knock integral but for speed and octane.
type moment struct{ p, work, used float64 }

// place is what a half step of the grid has of this cylinder: volume, its slope and
// logarithm, the pressure without burning, the area that loses heat.
type place struct{ v, dv, lnV, cold, area float64 }

func (b body) cylinder(c condition, o one) cylinder {
	in := b.charge(c, o)
	y := cylinder{grid: b.grid, in: in, rpm: c.rpm, octane: c.octane + o.added(zFuel)}
	y.delay, y.duration = b.burning(c, in, o)
	// Woschni's law and constants as in cycle/gas.go.
	y.piston = 2.28 * 2 * b.stroke * c.rpm / 60
	y.burnSpeed = 0.00324 * in.kelvin * (in.ratio - 1) / in.ratio
	bore := math.Pi / 4 * b.bore * b.bore
	v1 := bore * b.stroke * in.ratio / (in.ratio - 1)
	y.lossScale = 3.26 * math.Pow(b.bore, -0.2) * math.Pow(in.kPa, 0.8) * math.Pow(in.kelvin, -0.55) * bore *
		o.factor(zHeat) / (1000 * in.kPa * v1 * 6 * c.rpm)
	y.fill(1+b.shape.area, 4*b.stroke/b.bore)
	y.compress()
	return y
}

// fill works out the places; head and side are areas over the bore's.
func (y *cylinder) fill(head, side float64) {
	k := (y.in.ratio - 1) / y.in.ratio
	for i := range y.at {
		v := 1/y.in.ratio + k*y.travel[i]
		ln := math.Log(v)
		y.at[i] = place{v, k * y.slope[i], ln, math.Exp(-polytrope * ln), head + side*y.travel[i]}
	}
}

// rate is dp/dθ and p dV/dθ at grid place i.
func (y *cylinder) rate(i int, w *cycle.Wiebe, p float64) (dp, dw float64) {
	at := &y.at[i]
	v := at.v
	deg := gridFrom + float64(i)*step/2
	kelvin := y.in.kelvin * p * v
	dx := 0.0
	if t := (deg - w.Start) / w.Duration; t > 0 && t < burnedOut {
		dx = 15 * t * t * math.Exp(-5*t*t*t) / w.Duration // a = 5, m = 2
	}
	speed := y.piston + y.burnSpeed*max(0, p-at.cold)
	s4 := speed * speed * speed * speed
	// p^0.8 speed^0.8 (pV)^−0.55 by one logarithm: p^0.25 speed^0.8 = (p^5 speed^16)^0.05
	h := y.lossScale * math.Exp(0.05*math.Log(p*p*p*p*p*s4*s4*s4*s4)-0.55*at.lnV)
	lost := h * at.area * (kelvin - wallK)
	less := max(gammaCold-gammaFall*kelvin, 1.15) - 1
	return (less*(y.in.heat*dx-lost) - (less+1)*p*at.dv) / v, p * at.dv
}

// result is one cycle of the engine at one spark.
type result struct {
	work    float64 // over p1 V1, from bottom dead centre to the exhaust valve
	lnKnock float64 // logarithm of the knock integral; 0 is where a trace begins
	peak    float64 // highest pressure over p1
	peakAt  float64
}

// compress fills in the cycle without burning: along a polytrope while the charge is
// cold, from there by steps. Each spark starts from it.
func (y *cylinder) compress() {
	var m moment
	none := cycle.Wiebe{Start: gridTo, Duration: 1}
	before := 0.0
	for n := range y.unlit {
		if deg := gridFrom + float64(n)*step; deg <= cold {
			p := y.at[2*n].cold
			y.unlit[n] = moment{p: p, work: (1 - p*y.at[2*n].v) / (polytrope - 1)}
			m = y.unlit[n]
			continue
		} else if deg > latest+step {
			break
		}
		next, middle := y.step(2*(n-1), 2, &none, &m)
		now := 0.0
		if gridFrom+float64(n)*step > mild { // before it the gas is cold, and stands minutes
			now = y.knockRate(next.p)
			next.used += step * simpson(before, y.knockRate(middle), now, 1)
		}
		m, before = next, now
		y.unlit[n] = m
	}
}

const (
	cold   = -72.0 // degrees: until then it gains from the walls about what it loses (chosen)
	latest = 44.0  // degrees after TDC: no spark comes later
	mild   = -60.0 // degrees: until then less than a thousandth of the knock integral is used
)

// step takes one step of so many half steps of the grid (even) from place i by the
// classical Runge-Kutta rule, and gives the pressure in its middle by the cubic
// through both ends.
func (y *cylinder) step(i, halves int, w *cycle.Wiebe, m *moment) (next moment, middle float64) {
	h := step / 2 * float64(halves)
	k1, w1 := y.rate(i, w, m.p)
	k2, w2 := y.rate(i+halves/2, w, m.p+h/2*k1)
	k3, w3 := y.rate(i+halves/2, w, m.p+h/2*k2)
	k4, w4 := y.rate(i+halves, w, m.p+h*k3)
	next = moment{m.p + h/6*(k1+2*k2+2*k3+k4), m.work + h/6*(w1+2*w2+2*w3+w4), m.used}
	return next, (m.p+next.p)/2 + h/8*(k1-k4)
}

// run is the cycle with the spark so many degrees before TDC.
func (y *cylinder) run(spark float64) result {
	w := wiebe(spark, y.delay, y.duration)
	n := int((min(max(-spark, gridFrom), latest) - gridFrom) / step)
	m := y.unlit[n]
	var out result
	end := w.At(endGas)
	before := y.knockRate(m.p)
	i := 2 * n
	for ; gridFrom+float64(i)*step/2 < w.Start+burnedOut*w.Duration && i < places-2; i += 2 {
		next, middle := y.step(i, 2, &w, &m)
		deg := gridFrom + float64(i+2)*step/2
		if next.p > out.peak {
			out.peak, out.peakAt = next.p, deg
		}
		if part := min(1, (end-deg+step)/step); part > 0 {
			now := y.knockRate(next.p)
			next.used += step * simpson(before, y.knockRate(middle), now, part)
			before = now
		}
		m = next
	}
	for ; i < places-1; i += 4 { // nothing burns any more: steps twice as long do
		m, _ = y.step(i, min(4, places-1-i), &w, &m)
	}
	out.work = m.work
	out.lnKnock = math.Log(m.used / (y.rpm * 6 / 1000) * knock.OfOctane(y.octane))
	return out
}

// simpson is the area over the first part of a step of which both ends and the
// middle are known, by the parabola through them.
func simpson(a, half, b, part float64) float64 {
	c1, c2 := 4*half-3*a-b, 2*(a+b)-4*half
	return part * (a + part*(c1/2+part*c2/3))
}

// knockRate is 1/τ of the end gas, but for the octane, at a pressure over p1: it
// is squeezed along the polytrope by whatever burns beside it.
func (y *cylinder) knockRate(p float64) float64 {
	ln := math.Log(p)
	return knock.Rate(p*y.in.kPa/101.325, y.in.kelvin*math.Exp(ln*(polytrope-1)/polytrope))
}
