package spark

import "fmt"

// Condition is one state of the engine and what the plug asks for in it.
type Condition struct {
	ID           string  `json:"id" enum:"idle|light-load|full-low|full-high|cold-start|as-given" help:"name of the state"`
	Words        string  `json:"words" help:"the state in words"`
	GapMm        float64 `json:"gapMm" unit:"mm" help:"gap as given"`
	PressureKPa  float64 `json:"pressureKPa" unit:"kPa absolute" help:"pressure at the spark"`
	TemperatureC float64 `json:"temperatureC" unit:"degrees Celsius" help:"temperature at the spark"`
	LowKV        float64 `json:"lowKV" unit:"kilovolts" help:"a new, sharp, hot plug"`
	GoodHighKV   float64 `json:"goodHighKV" unit:"kilovolts" help:"upper end for a good plug with the gap as given"`
	WornHighKV   float64 `json:"wornHighKV" unit:"kilovolts" help:"upper end for a worn plug: rounded, cold, its gap opened by wear"`
}

const (
	// goodHigh of the lower law is the upper end for a good plug. With sharpHot it
	// holds the published 2 to 3 kV at 0.6 mm and 3 to 4 kV at 1 mm in free air.
	goodHigh = 1.0
	// wornMm is how much wider wear makes a gap between two changes (from memory:
	// 0.1 to 0.2 mm).
	wornMm = 0.15
)

// state is an engine at one load: what of the cylinder differs from full
// throttle at speed.
type state struct {
	id, words         string
	kPa, charge       float64
	degrees           float64
	ownKPa, ownDegree bool // the car's own figure in place of it, where given
}

// states are chosen as usual ones: idle at 19 inHg of vacuum, light load at 12,
// both common practice; full throttle slow with little advance yet; the cold
// start as coil.sweep takes it.
var states = []state{
	{"idle", "warm idle, throttle closed: 35 kPa in the cylinder, spark at 10°", 35, 60, 10, false, false},
	{"light-load", "steady light load: 60 kPa in the cylinder, spark at 30°", 60, 60, 30, false, false},
	{"full-low", "full throttle at low speed, spark at 10°: the most a warm engine asks for", 100, 60, 10, true, false},
	{"full-high", "full throttle at speed, with the spark at %g°", 100, 60, 25, true, true},
	{"cold-start", "cranking cold: air at 10 °C, spark at 5°", 80, 10, 5, false, false},
}

// conditions works every state of the engine that the laws hold; without an
// engine the one state that was given.
func (in RequiredIn) conditions() []Condition {
	out := []Condition{}
	if in.Engine == nil {
		if c, ok := in.in("as-given", "pressure and temperature as given", *in.PressureKPa, *in.TemperatureC); ok {
			out = append(out, c)
		}
		return out
	}
	for _, s := range states {
		c := *in.Engine
		degrees, kPa, charge := s.degrees, s.kPa, s.charge
		if s.ownDegree {
			degrees = c.degrees()
		}
		if s.ownKPa {
			kPa, charge = c.manifold(), c.charge()
		}
		c.SparkCrankDeg, c.ManifoldKPa, c.ChargeC = &degrees, &kPa, &charge
		words := s.words
		if s.ownDegree {
			words = fmt.Sprintf(words, degrees)
		}
		atKPa, atC := c.AtSpark()
		if one, ok := in.in(s.id, words, atKPa, atC); ok {
			out = append(out, one)
		}
	}
	return out
}

// in works one state; false where the gas is outside the laws.
func (in RequiredIn) in(id, words string, kPa, celsius float64) (Condition, bool) {
	in.Engine, in.PressureKPa, in.TemperatureC = nil, &kPa, &celsius
	as, bad := in.need()
	if bad != nil {
		return Condition{}, false
	}
	in.GapMm += wornMm
	worn, bad := in.need()
	return Condition{id, words, in.GapMm - wornMm, kPa, celsius, as.low, as.good, worn.high}, bad == nil
}
