package engine

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// Engine is what is known of the engine.
type Engine struct {
	BoreMm           *float64 `json:"boreMm,omitempty" min:"40" max:"150" unit:"mm" help:"bore; or give displacementCc and cylinders"`
	StrokeMm         *float64 `json:"strokeMm,omitempty" min:"40" max:"180" unit:"mm" help:"stroke"`
	DisplacementCc   *float64 `json:"displacementCc,omitempty" min:"50" max:"12000" unit:"cubic centimetres" help:"displacement of all cylinders, where bore and stroke are not known: a square engine is taken"`
	Cylinders        *int     `json:"cylinders,omitempty" min:"1" max:"16" help:"number of cylinders; needed with displacementCc"`
	RodMm            *float64 `json:"rodMm,omitempty" min:"60" max:"400" unit:"mm" help:"connecting rod; 1.75 strokes unless said"`
	CompressionRatio float64  `json:"compressionRatio" need:"yes" min:"4" max:"14" unit:"ratio" help:"compression ratio as it is now"`
	Chamber          string   `json:"chamber" need:"yes" enum:"side-valve|bathtub|wedge|hemispherical|pent-roof" help:"shape of the combustion chamber"`
	Cam              string   `json:"cam,omitempty" enum:"|standard|mild|hot" help:"camshaft, by its overlap; standard unless said"`
}

// Fuel is what is in the tank.
type Fuel struct {
	Octane  float64  `json:"octane" need:"yes" min:"55" max:"115" unit:"octane number" help:"octane number as on the pump; asked, never guessed"`
	Scale   string   `json:"scale" need:"yes" enum:"RON|AKI|MON" help:"which number that is: RON as sold in Europe, AKI (the mean of RON and MON) as sold in North America"`
	Mixture *float64 `json:"mixture,omitempty" min:"0.75" max:"1.4" unit:"ratio" help:"fuel over what the air can burn, above 1 rich; unless said 1 at part throttle and 1.12 at full"`
}

// Air is what the engine breathes.
type Air struct {
	TemperatureC *float64 `json:"temperatureC,omitempty" min:"-30" max:"60" unit:"degrees Celsius" help:"temperature of the air at the carburettor; 25 unless said"`
	AltitudeM    *float64 `json:"altitudeM,omitempty" min:"-400" max:"5000" unit:"metres" help:"height above the sea; 0 unless said"`
}

// Load is how far the throttle is open.
type Load struct {
	Load      *float64 `json:"load,omitempty" min:"0.2" max:"1" unit:"ratio" help:"manifold pressure over the pressure of the air; either this or vacuumKPa"`
	VacuumKPa *float64 `json:"vacuumKPa,omitempty" min:"0" max:"100" unit:"kPa below ambient" help:"manifold vacuum; either this or load"`
}

// Pressure and temperature over height: US Standard Atmosphere 1976,
// p = 101.325 (1 − h/44329)^5.255876.
func (a Air) kPa() float64 { return 101.325 * math.Pow(1-or(a.AltitudeM, 0)/44329, 5.255876) }

// AmbientKPa is the pressure of the air there, kPa absolute.
func (a Air) AmbientKPa() float64 { return a.kPa() }

func (a Air) kelvin() float64 { return or(a.TemperatureC, 25) + 273.15 }

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}

// ratio gives the load as a ratio, whichever way it was said.
func (l Load) ratio(a Air) (float64, *refuse.Error) {
	ambient := a.kPa()
	switch {
	case (l.Load == nil) == (l.VacuumKPa == nil):
		return 0, refuse.Input("load", "load and vacuumKPa are both given, or neither", "one of load and vacuumKPa",
			"give the vacuum the gauge shows, or load 1 for full throttle")
	case l.Load != nil:
		return *l.Load, nil
	case *l.VacuumKPa >= ambient:
		return 0, refuse.Input("vacuumKPa",
			fmt.Sprintf("%.4g kPa is more than the air itself has at %.4g m", *l.VacuumKPa, or(a.AltitudeM, 0)),
			fmt.Sprintf("less than %.4g kPa, the pressure of the air there", ambient),
			"check the gauge, its unit, and the altitude")
	}
	ratio := 1 - *l.VacuumKPa/ambient
	if ratio < leastLoad {
		return 0, refuse.Input("vacuumKPa", fmt.Sprintf("%.4g kPa leaves the engine too little to burn", *l.VacuumKPa),
			fmt.Sprintf("at most %.4g kPa at that altitude (a fifth of the air left)", (1-leastLoad)*ambient),
			"give a vacuum at which the engine pulls, or idle")
	}
	return ratio, nil
}

// leastLoad is chosen: on the overrun, below a fifth, burning is no longer
// regular and no best timing is to be found.
const leastLoad = 0.2

// sizes gives bore and stroke in metres.
func (e Engine) sizes() (bore, stroke float64, bad *refuse.Error) {
	switch {
	case e.BoreMm != nil && e.StrokeMm != nil:
		return *e.BoreMm / 1000, *e.StrokeMm / 1000, nil
	case e.BoreMm != nil || e.StrokeMm != nil || e.DisplacementCc == nil || e.Cylinders == nil:
		return 0, 0, refuse.Input("boreMm", "the size of a cylinder is not known",
			"boreMm and strokeMm, or displacementCc and cylinders", "give one of the two pairs")
	}
	square := math.Cbrt(*e.DisplacementCc / float64(*e.Cylinders) * 4 / math.Pi)
	if square < 4 || square > 18 {
		return 0, 0, refuse.Input("displacementCc", fmt.Sprintf("a cylinder of it would be %.3g mm wide", square*10),
			"40 to 180 mm", "check displacement and number of cylinders")
	}
	return square / 100, square / 100, nil
}

// sensitivity is how far MON lies below RON: 8 to 12 for pump petrol (from
// memory), 10 taken.
const sensitivity = 10

// road is the octane number the knock law is asked with: the mean of RON and
// MON, as pumps in North America show it because cars on the road ask for about
// that (common practice).
func (f Fuel) road() float64 {
	switch f.Scale {
	case "RON":
		return f.Octane - sensitivity/2
	case "MON":
		return f.Octane + sensitivity/2
	}
	return f.Octane
}

// assumed lists what was not said, with what is taken instead.
func assumed(e Engine, f Fuel, a Air) (lines []string) {
	note := func(missing bool, line string) {
		if missing {
			lines = append(lines, line)
		}
	}
	note(e.BoreMm == nil, "bore and stroke not given: a square engine is taken")
	note(e.RodMm == nil, "rodMm not given: 1.75 strokes taken (common practice)")
	note(e.Cam == "", "cam not given: standard taken")
	note(f.Mixture == nil, "mixture not given: 1 at part throttle and 1.12 at full taken (common practice)")
	note(f.Scale != "AKI", fmt.Sprintf("MON not given: %d below RON taken (from memory)", sensitivity))
	note(a.TemperatureC == nil, "air.temperatureC not given: 25 taken")
	note(a.AltitudeM == nil, "air.altitudeM not given: sea level taken")
	return lines
}
