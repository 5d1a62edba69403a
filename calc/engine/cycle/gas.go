package cycle

import "math"

// Woschni's constants, and those of his gas speed w = 2.28 Up + 0.00324 (Vd T1 /
// p1 V1)(p − pm) for compression, burning and expansion, in W/m²K, m, kPa, K, m/s:
// several public sources after G. Woschni, SAE 670931.
const (
	woschniScale = 3.26
	woschniSpeed = 2.28
	woschniBurn  = 0.00324
)

// gas is one case, ready to be run.
type gas struct {
	crank Crank
	burn  Wiebe
	gamma float64
	heat  float64 // over p1 V1
	loss  lossFunc
	wall  float64 // temperature of the wall over T1
	leak  float64 // part of the mass lost a degree
}

// lossFunc gives the loss coefficient times the wetted area, per radian and
// degree of temperature, all in ratios.
type lossFunc func(volume, pressure float64) float64

// slope is the first law for one zone in ratios to p1, V1, T1 and m1:
//
//	dp/dθ = −γ p/V dV/dθ + (γ−1)/V (Q dx/dθ − dq/dθ) − γ p ṁ
//	dq/dθ = h (1 + βV)(pV/m − Tw),  dW/dθ = p dV/dθ
func (g gas) slope(deg float64, y state) state {
	v, dv := g.crank.Volume(deg)
	_, dx := g.burn.Burned(deg)
	p, m := y[0], y[3]
	lost := 0.0
	if g.loss != nil {
		lost = g.loss(v, p) * (p*v/m - g.wall) * degree
	}
	return state{-g.gamma*p*dv/v + (g.gamma-1)/v*(g.heat*dx-lost) - g.gamma*p*g.leak, p * dv, lost, -m * g.leak}
}

// fixedLoss is a coefficient that stays the same.
func fixedLoss(h, beta float64) lossFunc {
	return func(v, _ float64) float64 { return h * (1 + beta*v) }
}

// woschni is the coefficient that follows pressure, temperature and speed.
// In ratios: h T1 (area of head and piston) / (p1 V1 ω), area growing by βV.
func (in CycleIn) woschni(l HeatLoss) lossFunc {
	bore, stroke := *l.BoreMm/1000, *l.StrokeMm/1000
	kPa, kelvin := *l.StartKPa, *l.StartK
	omega := *l.EngineRPM * math.Pi / 30
	piston := stroke * omega / math.Pi
	r, gamma := in.CompressionRatio, in.Gamma
	beta := or(l.AreaGrowth, 2*stroke/bore*r/(r-1))
	scale := 4 * kelvin / (1000 * kPa * omega * beta * bore)
	return func(v, p float64) float64 {
		w := woschniSpeed*piston + woschniBurn*kelvin*(r-1)/r*(p-math.Pow(v, -gamma))
		h := woschniScale * math.Pow(bore, -0.2) * math.Pow(kPa*p*max(w, 0), 0.8) * math.Pow(kelvin*p*v, -0.55)
		return h * scale * (1 + beta*v)
	}
}
