package marks

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// PistonIn asks how far the piston stands below its top.
type PistonIn struct {
	StrokeMm float64  `json:"strokeMm" need:"yes" min:"10" max:"500" unit:"mm" help:"stroke"`
	RodMm    float64  `json:"rodMm" need:"yes" min:"10" max:"1000" unit:"mm" help:"connecting rod, centre to centre"`
	CrankDeg *float64 `json:"crankDeg,omitempty" min:"0" max:"180" unit:"crank degrees" help:"crank before or after TDC, it makes no difference; give this or travelMm"`
	TravelMm *float64 `json:"travelMm,omitempty" min:"0" max:"500" unit:"mm" help:"travel of the piston from its top; give this or crankDeg"`
}

// PistonOut is the answer both ways.
type PistonOut struct {
	TravelMm float64  `json:"travelMm" unit:"mm" help:"how far the piston is below its top"`
	CrankDeg float64  `json:"crankDeg" unit:"crank degrees" help:"the crank angle from TDC"`
	Working  []string `json:"working" help:"the rule with these figures in it"`
	Sources  []string `json:"sources" help:"where the rule comes from"`
}

// Piston relates crank angle and piston travel:
//
//	x = r (1 − cos θ) + l − √(l² − r² sin² θ),  r = stroke / 2, l = rod
//
// for a crank whose bore stands over its centre (a bore or pin set to one
// side shifts the figure a little, and TDC with it). Refused: both or neither
// given, a rod that is not longer than the crank throw, a travel longer than
// the stroke. Source: slider-crank geometry, as in Heywood, Internal
// Combustion Engine Fundamentals, eq. 2.5 (number from memory).
func Piston(in PistonIn) (PistonOut, error) {
	r, l := in.StrokeMm/2, in.RodMm
	if l <= r {
		return PistonOut{}, refuse.Input("rodMm", fmt.Sprintf("%g mm is not longer than the crank throw %g mm", l, r),
			"more than half the stroke", "measure the rod between the centres of its two bearings")
	}
	out := PistonOut{Sources: []string{"slider-crank geometry (Heywood, Internal Combustion Engine Fundamentals, eq. 2.5; number from memory)"}}
	switch {
	case (in.CrankDeg == nil) == (in.TravelMm == nil):
		return PistonOut{}, refuse.Input("crankDeg", "one of crankDeg and travelMm is wanted, not both or none",
			"one of the two", "give the one you know")
	case in.CrankDeg != nil:
		out.CrankDeg = *in.CrankDeg
	case *in.TravelMm > in.StrokeMm:
		return PistonOut{}, refuse.Input("travelMm", fmt.Sprintf("%g mm is more than the stroke", *in.TravelMm),
			fmt.Sprintf("at most %g mm", in.StrokeMm), "check both figures")
	default:
		out.CrankDeg = crankAt(r, l, *in.TravelMm)
	}
	out.TravelMm = travel(r, l, out.CrankDeg)
	out.Working = []string{
		fmt.Sprintf("Throw = stroke / 2 = %.4g mm, rod %.4g mm.", r, l),
		fmt.Sprintf("Travel = throw × (1 − cos %.4g°) + rod − √(rod² − (throw × sin %.4g°)²) = %.2f mm.", out.CrankDeg,
			out.CrankDeg, out.TravelMm),
		"Near TDC the piston hardly moves, so a travel tells the angle poorly there; measure TDC itself by the positive stop.",
	}
	return out, nil
}

// Travel is how far the piston is below its top, mm, by the rule of Piston, which refuses a rod that is too short.
func Travel(strokeMm, rodMm, crankDeg float64) float64 { return travel(strokeMm/2, rodMm, crankDeg) }

func travel(r, l, deg float64) float64 {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return r*(1-cos) + l - math.Sqrt(l*l-r*r*sin*sin)
}

// crankAt inverts travel: the triangle of throw, rod and the distance between
// main bearing and pin gives the angle by the law of cosines.
func crankAt(r, l, x float64) float64 {
	d := r + l - x
	cos := (r*r + d*d - l*l) / (2 * r * d)
	return math.Acos(math.Max(-1, math.Min(1, cos))) * 180 / math.Pi
}
