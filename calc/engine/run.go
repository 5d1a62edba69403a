package engine

import (
	"math"

	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/engine/knock"
)

const (
	step      = 4.0    // degrees; against steps of adaptive length the work is the same to 0.05 % (tested)
	gridFrom  = -112.0 // no spark comes earlier
	gridTo    = 140.0  // where the exhaust valve opens (from memory: 110 to 140 after TDC)
	endGas    = 0.90   // burned: what is left then is too little to be heard (chosen)
	gammaCold = 1.392  // γ = 1.392 − 8.13e-5 T: Gatowski and others, SAE 841359 (from memory)
	gammaFall = 8.13e-5
)

// grid holds piston travel and its slope at every half step: the same for all
// draws of an engine.
type grid struct{ travel, slope []float64 }

func newGrid(rod float64) *grid {
	crank := cycle.Crank{Compression: 2, RodRatio: rod} // travel hangs on the rod alone
	g := &grid{}
	for deg := gridFrom; deg <= gridTo+0.1; deg += step / 2 {
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
	headArea, sideArea           float64 // over the bore's
}

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
	y.headArea = 1 + b.shape.area
	y.sideArea = 4 * b.stroke / b.bore
	return y
}

func (y *cylinder) volume(i int) (v, dv float64) {
	k := (y.in.ratio - 1) / y.in.ratio
	return 1/y.in.ratio + k*y.travel[i], k * y.slope[i]
}

// rate is dp/dθ and p dV/dθ at grid place i.
func (y *cylinder) rate(i int, w *cycle.Wiebe, p float64) (dp, dw float64) {
	v, dv := y.volume(i)
	deg := gridFrom + float64(i)*step/2
	kelvin := y.in.kelvin * p * v
	dx := 0.0
	if t := (deg - w.Start) / w.Duration; t > 0 && t < 1.6 { // by 1.6 all but e^−20 is burned
		dx = 15 * t * t * math.Exp(-5*t*t*t) / w.Duration // a = 5, m = 2
	}
	speed := y.piston + y.burnSpeed*max(0, p-math.Exp(-polytrope*math.Log(v)))
	h := y.lossScale * math.Exp(0.8*math.Log(p*speed)-0.55*math.Log(p*v))
	lost := h * (y.headArea + y.sideArea*y.travel[i]) * (kelvin - wallK)
	less := max(gammaCold-gammaFall*kelvin, 1.15) - 1
	return -(less+1)*p*dv/v + less/v*(y.in.heat*dx-lost), p * dv
}

// result is one cycle of the engine at one spark.
type result struct {
	work    float64 // over p1 V1, from bottom dead centre to the exhaust valve
	lnKnock float64 // logarithm of the knock integral; 0 is where a trace begins
	peak    float64 // highest pressure over p1
	peakAt  float64
}

// run is the cycle with the spark so many degrees before TDC: compressed along a
// polytrope to the spark, from there by the classical Runge-Kutta steps.
func (y *cylinder) run(spark float64) result {
	w := wiebe(spark, y.delay, y.duration)
	i := 2 * int(math.Floor((max(-spark, gridFrom)-gridFrom)/step))
	v, _ := y.volume(i)
	p := math.Pow(v, -polytrope)
	out := result{work: (1 - p*v) / (polytrope - 1)}
	used := y.motored(gridFrom + float64(i)*step/2)
	end := w.At(endGas)
	before := y.knockRate(p)
	for last := len(y.travel) - 2; i < last; i += 2 {
		k1, w1 := y.rate(i, &w, p)
		k2, w2 := y.rate(i+1, &w, p+step/2*k1)
		k3, w3 := y.rate(i+1, &w, p+step/2*k2)
		k4, w4 := y.rate(i+2, &w, p+step*k3)
		half := y.knockRate(p + step/2*k2)
		p += step / 6 * (k1 + 2*k2 + 2*k3 + k4)
		out.work += step / 6 * (w1 + 2*w2 + 2*w3 + w4)
		deg := gridFrom + float64(i+2)*step/2
		if p > out.peak {
			out.peak, out.peakAt = p, deg
		}
		if part := min(1, (end-deg+step)/step); part > 0 {
			now := y.knockRate(p)
			used += step * simpson(before, half, now, part)
			before = now
		}
	}
	out.lnKnock = math.Log(used / (y.rpm * 6 / 1000) * knock.OfOctane(y.octane))
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

// motored is the knock integral used up before an angle, without burning: the
// 30 degrees before it count, by Simpson over six parts.
func (y *cylinder) motored(to float64) float64 {
	const parts, width = 6, 30.0
	sum := 0.0
	for n := range parts + 1 {
		at := max(0, (to-width+width/parts*float64(n)-gridFrom)/(step/2))
		i := min(int(at), len(y.travel)-2)
		v0, _ := y.volume(i)
		v1, _ := y.volume(i + 1)
		v := v0 + (v1-v0)*(at-float64(i))
		weight := []float64{1, 4, 2, 4, 2, 4, 1}[n]
		sum += weight * y.knockRate(math.Exp(-polytrope*math.Log(v)))
	}
	return sum * width / parts / 3
}
