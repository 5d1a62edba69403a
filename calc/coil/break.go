package coil

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// BreakIn is the coil at the moment the points open.
type BreakIn struct {
	SupplyV          float64  `json:"supplyV" need:"yes" min:"0" max:"1000" unit:"volts" help:"volts that drive the loop"`
	TotalOhm         float64  `json:"totalOhm" need:"yes" min:"0" max:"1000" unit:"ohms" help:"coil, ballast and leads together"`
	InductanceMilliH float64  `json:"inductanceMilliH" need:"yes" over:"0" max:"10000" unit:"millihenries" help:"primary inductance"`
	CurrentA         float64  `json:"currentA" need:"yes" over:"0" max:"1000" unit:"amperes" help:"primary current when the points open"`
	CondenserMicroF  float64  `json:"condenserMicroF" need:"yes" over:"0" max:"100" unit:"microfarads" help:"condenser across the points"`
	TurnsRatio       float64  `json:"turnsRatio" need:"yes" min:"1" max:"500" unit:"secondary turns for one of the primary" help:"turns ratio"`
	SecondaryPicoF   float64  `json:"secondaryPicoF" need:"yes" min:"0" max:"5000" unit:"picofarads" help:"capacitance of secondary, lead and plug"`
	ShuntMegaOhm     *float64 `json:"shuntMegaOhm,omitempty" over:"0" max:"100000" unit:"megohms" help:"leak across the plug (a fouled plug); none unless said"`
	OpenMicroS       *float64 `json:"openMicroS,omitempty" over:"0" max:"10000" unit:"microseconds" help:"a time in which the current is supposed forced to nothing, for the textbook rule L di/dt"`
}

// BreakOut is the first swing.
type BreakOut struct {
	PeakPrimaryV     float64  `json:"peakPrimaryV" unit:"volts" help:"highest volts across the points and condenser"`
	PeakAtMicroS     float64  `json:"peakAtMicroS" unit:"microseconds" help:"when, after the points open"`
	PeakSecondaryKV  float64  `json:"peakSecondaryKV" unit:"kilovolts" help:"turns ratio times the peak of the primary: ideal, no iron loss, no leakage between the windings, no spark yet"`
	LosslessPrimaryV float64  `json:"losslessPrimaryV" unit:"volts" help:"all energy into the capacitance, supply and resistance left out"`
	RingingKHz       float64  `json:"ringingKHz" unit:"kilohertz" help:"frequency of the swing"`
	RiseVPerMicroS   float64  `json:"riseVPerMicroS" unit:"volts per microsecond" help:"how fast the volts across the points rise at first"`
	RampKV           *float64 `json:"rampKV,omitempty" unit:"kilovolts" help:"L di/dt with the current forced to nothing in the time given: a classroom figure"`
	Text             string   `json:"text" help:"why this is not what a kilovolt meter shows"`
	Working          []string `json:"working" help:"the rule with these figures in it"`
	Sources          []string `json:"sources" help:"where the rule comes from"`
}

const notMeasured = "Turns ratio times primary peak is what this coil could reach at best with nothing connected to the plug but its capacitance. A measured figure is lower: the iron takes energy on every swing, not all of the flux reaches the secondary, the leads and a dirty plug leak, the points lose a little in their arc, and as soon as the plug sparks the rise stops there. The lossless figure beside it leaves out even resistance; the supply, still pushing, can carry the true peak a little over it."

// Break follows the primary after the points open. The coil's current i flows
// on into the condenser and the secondary's capacitance:
//
//	C = C1 + a² C2,  G = a² / (leak across the plug)
//	L C v″ + (L G + R C) v′ + (1 + R G) v = V,  v(0) = 0,  v′(0) = i / C
//	α = R/2L + G/2C,  ω² = (1 + R G)/(L C) − α²
//	v = V' + e^(−αt) (B sin ωt − V' cos ωt),  V' = V/(1 + R G)
//
// the first peak is where v′ = 0. Lossless beside it: i √(L / C). Refused: a
// loop so damped that it does not swing (ω² not above 0). Secondary: a × peak.
// Source: the loop equation, solved here and held against a circuit simulator;
// the secondary counted with the square of the ratio: F. B. Silsbee, NACA
// Report 123 (the equivalent circuit; abstract seen).
func Break(in BreakIn) (BreakOut, error) {
	s, bad := in.swing()
	if bad != nil {
		return BreakOut{}, bad
	}
	t, peak := s.peak()
	if peak <= 0 || t <= 0 {
		return BreakOut{}, refuse.Input("currentA", fmt.Sprintf("%.3g A gives no swing above nothing in this loop",
			in.CurrentA), "enough current to lift the condenser",
			"check the current, the resistance and the unit of the condenser")
	}
	out := BreakOut{PeakPrimaryV: peak, PeakAtMicroS: 1e6 * t, PeakSecondaryKV: in.TurnsRatio * peak / 1000,
		LosslessPrimaryV: s.lossless(),
		RingingKHz:       s.omega / (2 * math.Pi) / 1000, RiseVPerMicroS: in.CurrentA / s.c / 1e6, Text: notMeasured}
	out.Working = in.working(s, out)
	if in.OpenMicroS != nil {
		kv := in.InductanceMilliH * in.CurrentA / *in.OpenMicroS
		out.RampKV = &kv
		out.Working = append(out.Working, fmt.Sprintf("Forced to nothing in %.4g µs: L di/dt = %.4g mH × %.4g A / %.4g µs = %.4g kV. With a condenser across the points the current is not forced; it swings.",
			*in.OpenMicroS, in.InductanceMilliH, in.CurrentA, *in.OpenMicroS, kv))
	}
	out.Sources = []string{"the loop equation of coil, condenser and reflected secondary, solved exactly",
		"equivalent circuit: F. B. Silsbee, NACA Report 123 (abstract seen)",
		"losses of a real coil: no published share seen"}
	return out, nil
}

func (in BreakIn) working(s swing, out BreakOut) []string {
	lines := []string{
		fmt.Sprintf("The secondary counts in the primary with the square of the ratio: %.4g² × %.4g pF = %.4g µF; with the condenser %.4g µF together.",
			in.TurnsRatio, in.SecondaryPicoF, (s.c-in.CondenserMicroF*1e-6)*1e6, s.c*1e6),
		fmt.Sprintf("Lossless: i √(L / C) = %.4g A × √(%.4g mH / %.4g µF) = %.4g V.", in.CurrentA, in.InductanceMilliH,
			s.c*1e6, out.LosslessPrimaryV),
		fmt.Sprintf("With the supply of %.4g V and %.4g Ω kept in: damping %.4g /s, swing %.4g kHz; first peak %.4g V after %.4g µs.",
			in.SupplyV, in.TotalOhm, s.alpha, out.RingingKHz, out.PeakPrimaryV, out.PeakAtMicroS),
		fmt.Sprintf("Secondary at best: %.4g × %.4g V = %.4g kV.", in.TurnsRatio, out.PeakPrimaryV,
			out.PeakSecondaryKV),
	}
	if in.ShuntMegaOhm != nil {
		lines = append(lines,
			fmt.Sprintf("A leak of %.4g MΩ across the plug stands in the primary as %.4g Ω across the condenser.",
				*in.ShuntMegaOhm, *in.ShuntMegaOhm*1e6/in.TurnsRatio/in.TurnsRatio))
	}
	return lines
}
