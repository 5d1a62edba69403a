package spark

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// BreakdownIn is a gap in air or another gas.
type BreakdownIn struct {
	Law              string   `json:"law" need:"yes" enum:"uniform|sphere|paschen" help:"uniform: air between broad, flat electrodes; sphere: air between two equal balls; paschen: any gas whose constants are given"`
	GapMm            float64  `json:"gapMm" need:"yes" over:"0" max:"500" unit:"mm" help:"gap"`
	PressureKPa      float64  `json:"pressureKPa" need:"yes" over:"0" max:"10000" unit:"kPa absolute" help:"pressure of the gas"`
	TemperatureC     *float64 `json:"temperatureC,omitempty" min:"-80" max:"2000" unit:"degrees Celsius" help:"temperature of the gas; 20 unless said"`
	SphereDiameterMm *float64 `json:"sphereDiameterMm,omitempty" over:"0" max:"2000" unit:"mm" help:"for sphere: diameter of each ball"`
	OneEarthed       *bool    `json:"oneEarthed,omitempty" help:"for sphere: one ball is earthed; unless said, they stand at opposite volts"`
	APerCmTorr       *float64 `json:"aPerCmTorr,omitempty" over:"0" max:"1000" unit:"per centimetre and torr" help:"for paschen: ionisation constant A"`
	BVPerCmTorr      *float64 `json:"bVPerCmTorr,omitempty" over:"0" max:"10000" unit:"volts per centimetre and torr" help:"for paschen: ionisation constant B"`
	Gamma            *float64 `json:"gamma,omitempty" over:"0" max:"1" unit:"electrons freed for one ion" help:"for paschen: secondary emission of the cathode"`
}

// BreakdownOut is the sparking voltage.
type BreakdownOut struct {
	KV              float64  `json:"kV" unit:"kilovolts" help:"sparking voltage, peak"`
	LowKV           float64  `json:"lowKV" unit:"kilovolts" help:"15 % below, with sphere 5 %: what published methods differ by"`
	HighKV          float64  `json:"highKV" unit:"kilovolts" help:"as much above"`
	KVPerCm         float64  `json:"kVPerCm" unit:"kilovolts per centimetre" help:"mean gradient"`
	RelativeDensity float64  `json:"relativeDensity" unit:"ratio" help:"density of the gas against 101.3 kPa and 20 °C"`
	Held            string   `json:"held,omitempty" help:"for sphere: whether the gap lies in the law's range, and what is taken where it does not"`
	MinimumV        *float64 `json:"minimumV,omitempty" unit:"volts" help:"for paschen: the least voltage at which any gap sparks"`
	MinimumPdTorrCm *float64 `json:"minimumPdTorrCm,omitempty" unit:"torr centimetres" help:"for paschen: pressure times gap at that least"`
	Working         []string `json:"working" help:"the rule with these figures in it"`
	Sources         []string `json:"sources" help:"where the rule comes from"`
}

// Breakdown gives the sparking voltage of a gap:
//
//	uniform:  δ = (p / 101.3)(293 / (273 + t)),  kV = 24.22 δd + 6.08 √(δd), d in cm
//	sphere:   g = 27.2 δ (1 + 0.54 / √(δR)), kV = g d / f, R in cm, δ here against 25 °C
//	          f = field at the ball over the mean, by images
//	paschen:  V = B pd / ln(A pd / ln(1 + 1/γ)), pd in torr cm at 20 °C
//	          least e (B/A) ln(1 + 1/γ) volts at pd = (e/A) ln(1 + 1/γ)
//
// Both hold the density, not the pressure: Paschen's p is reduced to 20 °C.
// Ranges, refused outside: uniform δd from 0.01 to 25 cm; sphere to a gap of
// the diameter; paschen from its least to 1000 torr cm; all to a density ten
// times that of free air. Peek holds his law from 0.54√R: below it the greater
// of sphere and uniform is taken and said. The ends are from memory; the
// published examples lie inside. Sources: Kamaraju & Naidu and C. L. Wadhwa,
// both High Voltage Engineering; F. W. Peek, Dielectric Phenomena in High
// Voltage Engineering.
func Breakdown(in BreakdownIn) (BreakdownOut, error) {
	celsius := 20.0
	if in.TemperatureC != nil {
		celsius = *in.TemperatureC
	}
	state := gas{in.GapMm / 10, density(in.PressureKPa, celsius)}
	if bad := state.tooDense("pressureKPa"); bad != nil {
		return BreakdownOut{}, bad
	}
	out := BreakdownOut{RelativeDensity: state.density}
	out.Working = []string{fmt.Sprintf("Density against free air at 20 °C: (%.4g / 101.3) × 293 / (273 + %.4g) = %.4g.",
		in.PressureKPa, celsius, state.density)}
	if bad := out.by(in, state); bad != nil {
		return BreakdownOut{}, bad
	}
	out.KVPerCm = out.KV / state.cm
	if in.Law == "sphere" {
		out.LowKV, out.HighKV = out.KV*(1-sphereSpread), out.KV*(1+sphereSpread)
		return out, nil
	}
	out.LowKV, out.HighKV = out.KV*(1-spread), out.KV*(1+spread)
	out.Sources = append(out.Sources, "±15 %: published methods for 1 mm in free air give 4.34 to 5.95 kV (Wadhwa's formula to Raether's criterion in Salam, Anis, El-Morshedy and Radwan, High-Voltage Engineering)")
	return out, nil
}

// by works one law, after what belongs to another was refused.
func (out *BreakdownOut) by(in BreakdownIn, g gas) *refuse.Error {
	switch {
	case in.Law != "paschen" && (in.APerCmTorr != nil || in.BVPerCmTorr != nil || in.Gamma != nil):
		return refuse.Input("law", fmt.Sprintf("constants of a gas are given, but the %s law is for air only", in.Law),
			"no aPerCmTorr, bVPerCmTorr or gamma", "leave them out, or choose paschen")
	case in.Law != "sphere" && (in.SphereDiameterMm != nil || in.OneEarthed != nil):
		return refuse.Input("law", fmt.Sprintf("balls are given, but the %s law has none", in.Law),
			"no sphereDiameterMm and no oneEarthed", "leave them out, or choose sphere")
	case in.Law == "sphere":
		return out.sphere(in, g)
	case in.Law == "paschen":
		return out.paschen(in, g)
	}
	return out.uniform(g)
}

func (out *BreakdownOut) uniform(g gas) *refuse.Error {
	if x := g.density * g.cm; x < uniformLeast || x > uniformMost {
		return g.offUniform(x)
	}
	out.KV = g.uniformKV()
	out.Working = append(out.Working, fmt.Sprintf("24.22 × %.4g × %.4g cm + 6.08 × √(%.4g × %.4g cm) = %.4g kV.",
		g.density, g.cm, g.density, g.cm, out.KV))
	out.Sources = []string{"24.22 δd + 6.08 √(δd): Kamaraju & Naidu, High Voltage Engineering, Ex 2.1; C. L. Wadhwa, High Voltage Engineering, Ex 4.1 (reference 20 °C)", "ends of its range: from memory"}
	return nil
}

func (out *BreakdownOut) paschen(in BreakdownIn, g gas) *refuse.Error {
	if in.APerCmTorr == nil || in.BVPerCmTorr == nil || in.Gamma == nil {
		return refuse.Input("law", "paschen needs the constants of the gas and of the cathode",
			"aPerCmTorr, bVPerCmTorr and gamma", "give all three; air: 15, 365 and 0.01 on one published page")
	}
	k := constants{*in.APerCmTorr, *in.BVPerCmTorr, *in.Gamma}
	leastV, leastPd := k.least()
	pd := g.torrCm()
	if pd < leastPd || pd > paschenMost {
		return refuse.Input("gapMm", fmt.Sprintf("pressure times gap is %.3g torr cm, where this law is not held", pd),
			fmt.Sprintf("from its least at %.3g to %g torr cm", leastPd, paschenMost),
			"check gap, pressure and the units of A and B; left of its least the law does not describe a spark")
	}
	out.KV = k.volts(pd) / 1000
	out.MinimumV, out.MinimumPdTorrCm = &leastV, &leastPd
	out.Working = append(out.Working,
		fmt.Sprintf("Pressure times gap, at 20 °C: %.4g torr × %.4g cm = %.4g torr cm.", pd/g.cm, g.cm, pd),
		fmt.Sprintf("ln(1 + 1/γ) = %.4g. V = %.4g × %.4g / ln(%.4g × %.4g / %.4g) = %.4g kV.", k.emission(), k.b, pd,
			k.a, pd, k.emission(), out.KV),
		fmt.Sprintf("Least of the law: %.4g V at %.4g torr cm.", leastV, leastPd))
	out.Sources = []string{"Paschen's law with Townsend's coefficients: Kamaraju & Naidu, High Voltage Engineering, Ex 2.4", "upper end of its range: from memory"}
	return nil
}
