package quantity

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/refuse"
)

// ConvertIn is a figure and the units it goes between.
type ConvertIn struct {
	Value float64 `json:"value" need:"yes" min:"-1e12" max:"1e12" help:"the figure"`
	From  string  `json:"from" need:"yes" maxLen:"20" help:"its unit: deg, arcmin, rad, turn, crankDeg, distDeg, engineRPM, distRPM, mm, cm, m, in, thou, ft, Pa, kPa, mbar, bar, atm, psi, inHg, mmHg, cmHg, torr, inH2O, mmH2O, kgfcm2, K, C, F, Nm, lbfft, lbfin, kgfm, kgfcm, N, lbf, ozf, gf, kgf, N/m, N/mm, lbf/in, ozf/in, gf/mm, kgf/mm"`
	To    string  `json:"to" need:"yes" maxLen:"20" help:"the unit wanted, of the same kind"`
}

// ConvertOut is the figure in the unit wanted.
type ConvertOut struct {
	Value   float64  `json:"value" help:"the figure in the unit wanted"`
	Kind    string   `json:"kind" help:"what both units measure"`
	Working []string `json:"working" help:"the rule with these figures in it"`
}

// Convert turns a figure from one unit into another of the same kind:
//
//	out = (value + shift_from) × factor_from / factor_to − shift_to
//
// The shift is zero except for temperatures. Refused: an unknown unit, units
// of two kinds, a temperature below absolute zero. Sources of the factors
// stand beside them in this package.
func Convert(in ConvertIn) (ConvertOut, error) {
	from, err := lookUp("from", in.From)
	if err != nil {
		return ConvertOut{}, err
	}
	to, err := lookUp("to", in.To)
	if err != nil {
		return ConvertOut{}, err
	}
	if from.kind != to.kind {
		return ConvertOut{},
			refuse.Input("to", fmt.Sprintf("%s is a %s, %s is a %s", in.To, to.kind, in.From, from.kind),
				"two units of one kind", "choose one of "+strings.Join(names(from.kind), ", "))
	}
	base := (in.Value + from.shift) * from.factor
	if from.kind == temperature && base < 0 {
		return ConvertOut{}, refuse.Input("value", fmt.Sprintf("%g %s is below absolute zero", in.Value, in.From),
			"0 K, -273.15 C or -459.67 F", "check the figure and its unit")
	}
	out := base/to.factor - to.shift
	return ConvertOut{Value: out, Kind: string(from.kind), Working: working(in, from, to, out)}, nil
}

func lookUp(field, name string) (unit, error) {
	if u, ok := units[name]; ok {
		return u, nil
	}
	// Deg, KPA, Psi: the letter case is no reason to refuse when only one unit can be meant
	for known, u := range units {
		if strings.EqualFold(known, name) {
			return u, nil
		}
	}
	return unit{}, refuse.Input(field, fmt.Sprintf("the unit %.20q is not known", name),
		"one of "+strings.Join(names(""), ", "), "choose one of them")
}

// names lists the units of one kind, or all of them, in order.
func names(k kind) []string {
	var list []string
	for name, u := range units {
		if k == "" || u.kind == k {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

func working(in ConvertIn, from, to unit, out float64) []string {
	if from.kind == temperature {
		return []string{fmt.Sprintf("(%.10g + %g) × %.6g / %.6g − %g = %.10g %s.", in.Value, from.shift, from.factor,
			to.factor, to.shift, out, to.say)}
	}
	ratio := from.factor / to.factor
	if ratio < 1 && math.Abs(math.Round(1/ratio)-1/ratio) < 1e-9/ratio {
		return []string{fmt.Sprintf("%.10g / %.10g = %.10g %s.", in.Value, 1/ratio, out, to.say)}
	}
	return []string{fmt.Sprintf("1 of %s is %.10g of %s.", from.say, ratio, to.say),
		fmt.Sprintf("%.10g × %.10g = %.10g %s.", in.Value, ratio, out, to.say)}
}
