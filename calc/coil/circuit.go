package coil

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// Coil is the primary circuit of a car. What is not given is taken from common
// practice and listed as assumed.
type Coil struct {
	TotalOhm         *float64 `json:"totalOhm,omitempty" min:"0.1" max:"40" unit:"ohms" help:"coil, ballast and leads measured as one, instead of primaryOhm and leadOhm"`
	PrimaryOhm       *float64 `json:"primaryOhm,omitempty" min:"0.1" max:"20" unit:"ohms" help:"coil primary, cold, disconnected"`
	BallastOhm       *float64 `json:"ballastOhm,omitempty" min:"0" max:"20" unit:"ohms" help:"ballast or resistance wire; none unless said"`
	BallastGuessed   bool     `json:"ballastGuessed,omitempty" help:"ballastOhm, or that there is none, is a guess: nothing is judged sure on it"`
	LeadOhm          *float64 `json:"leadOhm,omitempty" min:"0" max:"20" unit:"ohms" help:"leads, switch and points together; 0.1 unless said"`
	InductanceMilliH *float64 `json:"inductanceMilliH,omitempty" min:"0.1" max:"100" unit:"millihenries" help:"primary inductance"`
	TurnsRatio       *float64 `json:"turnsRatio,omitempty" min:"10" max:"300" unit:"secondary turns for one of the primary" help:"turns ratio"`
	CondenserMicroF  *float64 `json:"condenserMicroF,omitempty" min:"0.01" max:"5" unit:"microfarads" help:"condenser across the points"`
	SecondaryPicoF   *float64 `json:"secondaryPicoF,omitempty" min:"1" max:"1000" unit:"picofarads" help:"capacitance of secondary, lead and plug"`
}

// circuit is a coil with every figure known.
type circuit struct {
	primary, ballast, lead, milliH, ratio, microF, picoF float64
	assumed                                              []string
	plain                                                bool // nothing of the coil itself was given
	// what of coil and ballast nobody measured, though their ohms decide the current
	guessed []string
}

func (c circuit) total() float64 { return c.primary + c.ballast + c.lead }

// kind is a usual coil: ohms and inductance by system. The inductances are
// those that give the trade's currents over speed (computed), none is measured.
// The 6 V coil makes 1.4 Ω with its leads, so that a 6 V set at 6.8 V carries
// the 4.9 A it lives with (common practice).
type kind struct {
	name        string
	ohm, milliH float64
}

func usual(sixVolt, ballasted bool) kind {
	switch {
	case sixVolt:
		return kind{"a plain 6 V coil", 1.3, 5}
	case ballasted:
		return kind{"a 12 V coil made for a ballast", 1.5, 6}
	}
	return kind{"a plain 12 V coil", 3, 8}
}

func (c Coil) check() *refuse.Error {
	if c.TotalOhm == nil {
		return nil
	}
	if c.PrimaryOhm != nil || c.LeadOhm != nil {
		return refuse.Input("coil.totalOhm", "the whole is given, and a part of it as well",
			"totalOhm, or primaryOhm with leadOhm", "leave one way out")
	}
	if c.BallastOhm != nil && *c.BallastOhm >= *c.TotalOhm {
		return refuse.Input("coil.ballastOhm",
			fmt.Sprintf("a ballast of %.3g Ω leaves nothing for the coil in a total of %.3g Ω", *c.BallastOhm,
				*c.TotalOhm), "less than totalOhm", "check both figures; the total holds the ballast")
	}
	return nil
}

func (c Coil) complete(sixVolt bool) circuit {
	k := usual(sixVolt, c.BallastOhm != nil && *c.BallastOhm > 0)
	out := circuit{assumed: []string{}}
	out.plain = c.PrimaryOhm == nil && c.TotalOhm == nil && c.InductanceMilliH == nil && c.TurnsRatio == nil
	take := func(name, unit string, given *float64, otherwise float64) float64 {
		if given != nil {
			return *given
		}
		out.assumed = append(out.assumed, fmt.Sprintf("coil.%s not given: %g %s taken, common practice for %s", name,
			otherwise, unit, k.name))
		return otherwise
	}
	out.ballast = take("ballastOhm", "Ω", c.BallastOhm, 0)
	if c.TotalOhm != nil {
		out.primary = *c.TotalOhm - out.ballast
	} else {
		out.primary = take("primaryOhm", "Ω", c.PrimaryOhm, k.ohm)
		out.lead = take("leadOhm", "Ω", c.LeadOhm, 0.1)
	}
	if c.TotalOhm == nil && c.PrimaryOhm == nil {
		out.guessed = append(out.guessed, "coil")
	}
	if c.TotalOhm == nil && c.BallastGuessed {
		out.guessed = append(out.guessed, "ballast")
	}
	out.milliH = take("inductanceMilliH", "mH", c.InductanceMilliH, k.milliH)
	out.ratio = take("turnsRatio", "to 1", c.TurnsRatio, 65)
	out.microF = take("condenserMicroF", "µF", c.CondenserMicroF, 0.2)
	out.picoF = take("secondaryPicoF", "pF", c.SecondaryPicoF, 50)
	return out
}

// kilovolts gives the secondary's first peak at best, and with a leak across
// the plug.
func (c circuit) kilovolts(volts, ohm, amps, leakMegaOhm float64) (best, leaky float64, bad *refuse.Error) {
	in := BreakIn{SupplyV: volts, TotalOhm: ohm, InductanceMilliH: c.milliH, CurrentA: amps, CondenserMicroF: c.microF,
		TurnsRatio: c.ratio, SecondaryPicoF: c.picoF}
	s, bad := in.swing()
	if bad != nil {
		return 0, 0, refuse.Input("coil", "with these figures the coil does not swing when the points open",
			"resistance below 2 √(L / C)", "check inductance (mH), condenser (µF) and secondary (pF)")
	}
	_, peak := s.peak()
	in.ShuntMegaOhm = &leakMegaOhm
	s, damped := in.swing()
	low := s.creep
	if damped == nil {
		low = func() float64 { _, v := s.peak(); return v }
	}
	return c.ratio * peak / 1000, math.Min(c.ratio*low(), c.ratio*peak) / 1000, nil
}
