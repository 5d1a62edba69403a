package coil

import (
	"fmt"
	"math"

	"pointsmith/calc/points"
	"pointsmith/calc/refuse"
)

// ChargeIn is a loop of supply, resistance and inductance, and for how long
// it is closed.
type ChargeIn struct {
	SupplyV          float64  `json:"supplyV" need:"yes" over:"0" max:"1000" unit:"volts" help:"volts that drive the loop, points closed"`
	TotalOhm         float64  `json:"totalOhm" need:"yes" over:"0" max:"1000" unit:"ohms" help:"coil, ballast, leads and points together"`
	InductanceMilliH float64  `json:"inductanceMilliH" need:"yes" over:"0" max:"10000" unit:"millihenries" help:"primary inductance"`
	ChargeMs         *float64 `json:"chargeMs,omitempty" min:"0" max:"100000" unit:"milliseconds" help:"how long the points are closed"`
	Cylinders        *int     `json:"cylinders,omitempty" min:"1" max:"16" help:"with dwell and speed, instead of the time"`
	DwellDistDeg     *float64 `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"with cylinders and speed, instead of the time"`
	EngineRPM        *float64 `json:"engineRPM,omitempty" over:"0" max:"20000" unit:"engine rpm" help:"with cylinders and dwell, instead of the time"`
	Fraction         *float64 `json:"fraction,omitempty" over:"0" under:"1" unit:"share of the full current" help:"a share whose time is asked for"`
	DriveRatio       *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said; 1 where the lobe sits on the crankshaft. With dwell and speed only"`
}

// ChargeOut is the coil at the moment the points open.
type ChargeOut struct {
	ChargeMs        float64  `json:"chargeMs" unit:"milliseconds" help:"how long it charged"`
	CurrentA        float64  `json:"currentA" unit:"amperes" help:"current when the points open"`
	EnergyMilliJ    float64  `json:"energyMilliJ" unit:"millijoules" help:"energy stored then"`
	TimeConstantMs  float64  `json:"timeConstantMs" unit:"milliseconds" help:"after this time the current has 63 % of its full value"`
	FractionCharged float64  `json:"fractionCharged" unit:"share of the full current" help:"current over full current"`
	FullA           float64  `json:"fullA" unit:"amperes" help:"the current it would reach if left closed"`
	FractionMs      *float64 `json:"fractionMs,omitempty" unit:"milliseconds" help:"time to the share asked for"`
	Working         []string `json:"working" help:"the rule with these figures in it"`
	Sources         []string `json:"sources" help:"where the rule comes from"`
}

// Charge gives the current and energy when the points open, from no current:
//
//	τ = L / R,  i = (V / R)(1 − e^(−t/τ)),  E = ½ L i²
//
// exact for a loop of constant inductance; iron near saturation stores less.
// Give chargeMs, or cylinders with dwellDistDeg and engineRPM: then the time is
// dwell × driveRatio / (6 × engine rpm) seconds. Refused: both, neither or part of the two ways; a dwell
// of the whole pitch or more.
// Source: the loop equation; J. O. Bird, Electrical Circuit Theory and
// Technology, ch 17.
func Charge(in ChargeIn) (ChargeOut, error) {
	ms, bad := in.time()
	if bad != nil {
		return ChargeOut{}, bad
	}
	l := loop{in.SupplyV, in.TotalOhm, in.InductanceMilliH / 1000}
	out := ChargeOut{ChargeMs: ms, CurrentA: l.current(ms / 1000), TimeConstantMs: 1000 * l.tau(),
		FractionCharged: -math.Expm1(-ms / 1000 / l.tau()), FullA: l.full()}
	out.EnergyMilliJ = 1000 * l.energy(out.CurrentA)
	out.Working = []string{
		fmt.Sprintf("Time constant L / R: %.4g mH / %.4g Ω = %.4g ms. Left closed, it would reach V / R: %.4g / %.4g = %.4g A.",
			in.InductanceMilliH, in.TotalOhm, out.TimeConstantMs, in.SupplyV, in.TotalOhm, out.FullA),
		fmt.Sprintf("After %.4g ms, 1 − e^(−%.4g / %.4g) = %.4g of that: %.4g A.", ms, ms, out.TimeConstantMs,
			out.FractionCharged, out.CurrentA),
		fmt.Sprintf("Energy ½ L i²: ½ × %.4g mH × (%.4g A)² = %.4g mJ.", in.InductanceMilliH, out.CurrentA,
			out.EnergyMilliJ),
	}
	if in.Fraction != nil {
		t := -out.TimeConstantMs * math.Log1p(-*in.Fraction)
		out.FractionMs = &t
		out.Working = append(out.Working, fmt.Sprintf("To %.4g of the full current: −%.4g × ln(1 − %.4g) = %.4g ms.",
			*in.Fraction, out.TimeConstantMs, *in.Fraction, t))
	}
	out.Sources = []string{"growth of current in a coil: J. O. Bird, Electrical Circuit Theory and Technology, ch 17",
		"constant inductance is assumed; iron near saturation stores less: common practice"}
	return out, nil
}

func (in ChargeIn) time() (float64, *refuse.Error) {
	byAngle := in.Cylinders != nil || in.DwellDistDeg != nil || in.EngineRPM != nil || in.DriveRatio != nil
	switch {
	case in.ChargeMs != nil && byAngle:
		return 0, refuse.Input("chargeMs", "the time is given, and angle or speed as well",
			"either chargeMs or cylinders, dwellDistDeg and engineRPM", "leave one way out")
	case in.ChargeMs != nil:
		return *in.ChargeMs, nil
	case !byAngle:
		return 0, refuse.Input("chargeMs", "is missing", "either chargeMs or cylinders, dwellDistDeg and engineRPM",
			"give how long the points are closed")
	case in.Cylinders == nil:
		return 0, needed("cylinders")
	case in.DwellDistDeg == nil:
		return 0, needed("dwellDistDeg")
	case in.EngineRPM == nil:
		return 0, needed("engineRPM")
	}
	if bad := points.OverPitch("dwellDistDeg", *in.Cylinders, *in.DwellDistDeg); bad != nil {
		return 0, bad
	}
	return points.ChargeMs(*in.DwellDistDeg, *in.EngineRPM, engineTurns(in.DriveRatio)), nil
}

// engineTurns is the drive ratio, 2 unless said.
func engineTurns(given *float64) float64 {
	if given == nil {
		return 2
	}
	return *given
}

func needed(field string) *refuse.Error {
	return refuse.Input(field, "is missing", "cylinders, dwellDistDeg and engineRPM together",
		"give it, or give chargeMs instead of all three")
}

// loop is supply, resistance and inductance in volts, ohms and henries.
type loop struct{ v, r, l float64 }

func (l loop) tau() float64                { return l.l / l.r }
func (l loop) full() float64               { return l.v / l.r }
func (l loop) current(s float64) float64   { return -l.full() * math.Expm1(-s/l.tau()) }
func (l loop) energy(amps float64) float64 { return l.l * amps * amps / 2 }
