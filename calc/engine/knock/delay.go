package knock

import (
	"fmt"
	"math"
)

// A. M. Douaud and P. Eyzat, SAE 780080, for atm, kelvin and milliseconds; the
// digits are from memory. The often quoted 0.01768 gives seconds.
const (
	scale    = 17.68
	ofOctane = 3.402
	ofPress  = 1.7
	ofHeat   = 3800.0
)

// DelayIn is an end gas that stays as it is.
type DelayIn struct {
	Octane       float64 `json:"octane" need:"yes" min:"40" max:"120" unit:"octane number" help:"octane number of the fuel"`
	PressureAtm  float64 `json:"pressureAtm" need:"yes" min:"0.1" max:"200" unit:"atm absolute" help:"pressure of the end gas"`
	TemperatureK float64 `json:"temperatureK" need:"yes" min:"250" max:"1500" unit:"kelvin" help:"temperature of the end gas"`
}

// DelayOut is how long it stands that.
type DelayOut struct {
	DelayMs float64  `json:"delayMs" unit:"milliseconds" help:"time until it goes off by itself"`
	Working []string `json:"working" help:"the rule with these figures in it"`
	Sources []string `json:"sources" help:"where the rule comes from"`
}

// Delay is the time until the end gas goes off by itself:
//
//	τ[ms] = 17.68 (ON/100)^3.402 p[atm]^−1.7 e^(3800/T[K])
//
// It was fitted to octane numbers from 80 to 100 and engine pressures (range from
// memory); outside it is carried on. Refused: figures outside the fields'
// limits. Source: A. M. Douaud and P. Eyzat, SAE 780080.
func Delay(in DelayIn) (DelayOut, error) {
	ms := 1 / (OfOctane(in.Octane) * Rate(in.PressureAtm, in.TemperatureK))
	return DelayOut{DelayMs: ms,
		Working: []string{fmt.Sprintf("17.68 × (%.4g / 100)^3.402 × %.4g^−1.7 × e^(3800 / %.4g) = %.4g ms.", in.Octane,
			in.PressureAtm, in.TemperatureK, ms)},
		Sources: []string{"A. M. Douaud and P. Eyzat, SAE 780080; digits from memory, unit proved by the time of an end gas in an engine"}}, nil
}

// OfOctane is the part of 1/τ that belongs to the fuel: the same for all states
// of the gas.
func OfOctane(octane float64) float64 { return math.Pow(octane/100, -ofOctane) }

// Rate is the part of 1/τ that belongs to the gas, per millisecond.
func Rate(atm, kelvin float64) float64 {
	return math.Exp(ofPress*math.Log(atm)-ofHeat/kelvin) / scale
}

// Integral is the part of the delay used up from one crank angle to another:
//
//	∫ dt/τ,  dt = dθ / (6 N)
//
// From 1 on the gas goes off. state gives atm and kelvin at an angle. By
// Simpson's rule over n parts (even), whose error falls with their fourth
// power. Source: J. C. Livengood and P. C. Wu, Fifth Symposium on Combustion,
// 347 (from memory).
func Integral(octane, engineRPM, from, to float64, n int, state func(deg float64) (atm, kelvin float64)) float64 {
	h := (to - from) / float64(n)
	sum := 0.0
	for i := range n + 1 {
		weight := 2.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		sum += weight * Rate(state(from+h*float64(i)))
	}
	return sum * h / 3 / (engineRPM * 6 / 1000) * OfOctane(octane)
}
