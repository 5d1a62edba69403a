package coil

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// swing is the damped oscillation after the points open, in volts, ohms,
// henries, farads, siemens, seconds.
type swing struct {
	i, l, c      float64
	level        float64 // where the volts settle
	alpha, omega float64
}

func (in BreakIn) swing() (swing, *refuse.Error) {
	a2 := in.TurnsRatio * in.TurnsRatio
	s := swing{i: in.CurrentA, l: in.InductanceMilliH / 1000, c: in.CondenserMicroF*1e-6 + a2*in.SecondaryPicoF*1e-12}
	g := 0.0
	if in.ShuntMegaOhm != nil {
		g = a2 / (*in.ShuntMegaOhm * 1e6)
	}
	s.level = in.SupplyV / (1 + in.TotalOhm*g)
	fromOhms, fromLeak := in.TotalOhm/(2*s.l), g/(2*s.c)
	s.alpha = fromOhms + fromLeak
	square := (1+in.TotalOhm*g)/(s.l*s.c) - s.alpha*s.alpha
	s.omega = math.Sqrt(math.Abs(square))
	if square > 0 {
		return s, nil
	}
	if fromLeak > fromOhms {
		return s, refuse.Input("shuntMegaOhm",
			fmt.Sprintf("a leak of %.3g MΩ damps this coil so much that it does not swing at all", *in.ShuntMegaOhm),
			fmt.Sprintf("about %.2g megohms or more for this coil", a2*math.Sqrt(s.l/s.c)/2e6),
			"check the unit; a plug that leaks so much gives no spark: clean it")
	}
	most := 2 * math.Sqrt(s.l/s.c)
	return s, refuse.Input("totalOhm",
		fmt.Sprintf("%.4g Ω damps a coil of %.4g mH with %.4g µF so much that it does not swing", in.TotalOhm,
			in.InductanceMilliH, s.c*1e6),
		fmt.Sprintf("less than 2 √(L / C) = %.3g ohms", most),
		"check the units: primary inductance in millihenries, condenser in microfarads, secondary in picofarads")
}

// at gives the volts at time t.
func (s swing) at(t float64) float64 {
	b := (s.i/s.c - s.alpha*s.level) / s.omega
	return s.level + math.Exp(-s.alpha*t)*(b*math.Sin(s.omega*t)-s.level*math.Cos(s.omega*t))
}

// peak is the first maximum: v′ ∝ (i/C) cos ωt + (ω V' − α B) sin ωt = 0.
func (s swing) peak() (t, v float64) {
	b := (s.i/s.c - s.alpha*s.level) / s.omega
	t = math.Atan2(s.i/s.c, s.alpha*b-s.omega*s.level) / s.omega
	return t, s.at(t)
}

func (s swing) lossless() float64 { return s.i * math.Sqrt(s.l/s.c) }

// creep is the highest volts of a loop too damped to swing: the same as peak
// with hyperbolic functions. Sweep needs it for a plug that leaks.
func (s swing) creep() float64 {
	b := (s.i/s.c - s.alpha*s.level) / s.omega
	x := s.i / s.c / (s.alpha*b + s.omega*s.level)
	if s.omega == 0 || x <= 0 || x >= 1 {
		return s.level
	}
	t := math.Atanh(x) / s.omega
	return s.level + math.Exp(-s.alpha*t)*(b*math.Sinh(s.omega*t)-s.level*math.Cosh(s.omega*t))
}

// current is that of the primary at time t where nothing leaks: C v′.
func (s swing) current(t float64) float64 {
	b := (s.i/s.c - s.alpha*s.level) / s.omega
	return math.Exp(-s.alpha*t) * (s.i*math.Cos(s.omega*t) + s.c*(s.omega*s.level-s.alpha*b)*math.Sin(s.omega*t))
}
