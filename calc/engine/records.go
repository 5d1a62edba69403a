package engine

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// KnockRecord is one time somebody listened.
type KnockRecord struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" min:"300" max:"8000" unit:"engine rpm" help:"speed"`
	Load
	CrankDeg         float64  `json:"crankDeg" need:"yes" min:"-20" max:"70" unit:"crank degrees" help:"timing then, all of it, before TDC positive"`
	Heard            string   `json:"heard" need:"yes" enum:"none|trace|rattle|heavy" help:"what was heard: none, a trace, a rattle, or heavy knock"`
	Fuel             Fuel     `json:"fuel" need:"yes" help:"what was in the tank"`
	Air              *Air     `json:"air,omitempty" help:"the air of that day; as for the question unless said"`
	Distributor      string   `json:"distributor,omitempty" enum:"|sound|scattered" help:"which was fitted: a sound one, or one whose cylinders scatter; asked where it is not said"`
	EarliestCrankDeg *float64 `json:"earliestCrankDeg,omitempty" min:"0" max:"20" unit:"crank degrees" help:"for scattered: how much before the mean its earliest cylinder fires"`
	By               string   `json:"by,omitempty" maxLen:"80" help:"who heard it"`
}

// BestRecord is a timing that was found best by trying.
type BestRecord struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" min:"300" max:"8000" unit:"engine rpm" help:"speed, or the middle of the speeds gone through"`
	Load
	CrankDeg float64 `json:"crankDeg" need:"yes" min:"-20" max:"70" unit:"crank degrees" help:"timing that was best, all of it, before TDC positive"`
	How      string  `json:"how" need:"yes" enum:"idle-vacuum|hill-time" help:"by the highest steady vacuum at idle, or by the shortest time up a hill"`
	Fuel     Fuel    `json:"fuel" need:"yes" help:"what was in the tank"`
	Air      *Air    `json:"air,omitempty" help:"the air of that day; as for the question unless said"`
}

// Records is what this car's own engine has told.
type Records struct {
	Knock []KnockRecord `json:"knock,omitempty" maxItems:"40" help:"times somebody listened for knock"`
	Best  []BestRecord  `json:"best,omitempty" maxItems:"20" help:"timings found best by trying"`
}

// listened is a knock record made ready.
type listened struct {
	condition
	spark   float64 // of the cylinder that fired first
	heard   bool
	stepped float64 // degrees a heard knock may lie past where it began
}

// found is a best record made ready.
type found struct {
	condition
	spark, within float64
}

const (
	// How far past its beginning a knock lies that was heard, one half of a normal
	// law: a trace by steps of two degrees, a rattle a step or two more. Chosen.
	pastTrace, pastRattle, pastHeavy = 1.5, 3.0, 5.0
	// missed is how often a knock that was there is not heard: hearing, exhaust,
	// road (chosen; loss of hearing is common in this trade).
	missed = 0.3
	// noneWithin is how sharply “none” parts, degrees (chosen: a reading of the strobe).
	noneWithin = 1.0
	// What best found by trying is good to: a hill timed three times is good to 3 %,
	// which is flat over some 5 degrees; vacuum at idle to its last needle's width
	// (both common practice; degrees chosen).
	hillWithin, idleWithin = 4.0, 4.0
)

var stepped = map[string]float64{"trace": pastTrace, "rattle": pastRattle, "heavy": pastHeavy}

// ready makes records into conditions, and asks what they leave open.
func (r Records) ready(air Air) (heard []listened, best []found, asks []string, bad *refuse.Error) {
	for i, k := range r.Knock {
		at := fmt.Sprintf("records.knock[%d]", i)
		c, bad := conditionFor(k.EngineRPM, k.Load, k.Fuel, k.Air, air)
		if bad != nil {
			return nil, nil, nil, bad.Under(at)
		}
		early := 0.0
		switch {
		case k.Distributor == "scattered" && k.EarliestCrankDeg != nil:
			early = *k.EarliestCrankDeg
		case k.Distributor == "scattered":
			asks = append(asks, fmt.Sprintf("Knock at %.0f rpm: how much before the mean does the earliest cylinder of that distributor fire? Until it is said, none is added.", k.EngineRPM))
		case k.EarliestCrankDeg != nil:
			return nil, nil, nil, refuse.Input(at+".earliestCrankDeg", "an earliest cylinder is given, but no scattered distributor",
				"distributor: scattered", "say that the unit fitted then was the scattered one")
		case k.Distributor == "" && k.Heard != "none":
			asks = append(asks, fmt.Sprintf("Knock at %.0f rpm: which distributor was fitted, a sound one or the scattered one? Until it is said, a sound one is taken, and the scatter counts on top.", k.EngineRPM))
		}
		heard = append(heard, listened{c, k.CrankDeg + early, k.Heard != "none", stepped[k.Heard]})
	}
	for i, f := range r.Best {
		c, bad := conditionFor(f.EngineRPM, f.Load, f.Fuel, f.Air, air)
		if bad != nil {
			return nil, nil, nil, bad.Under(fmt.Sprintf("records.best[%d]", i))
		}
		within := hillWithin
		if f.How == "idle-vacuum" {
			within = idleWithin
		}
		best = append(best, found{c, f.CrankDeg, within})
	}
	return heard, best, asks, nil
}

func conditionFor(rpm float64, l Load, f Fuel, own *Air, otherwise Air) (condition, *refuse.Error) {
	a := otherwise
	if own != nil {
		a = *own
	}
	load, bad := l.ratio(a)
	if bad != nil {
		return condition{}, bad
	}
	return conditionOf(rpm, load, f, a), nil
}
