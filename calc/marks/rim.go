package marks

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// ArcIn asks for a distance along a rim, or for the angle of one.
type ArcIn struct {
	DiameterMm      float64  `json:"diameterMm" need:"yes" min:"20" max:"2000" unit:"mm" help:"diameter where the marks are"`
	CrankDeg        *float64 `json:"crankDeg,omitempty" min:"0" max:"360" unit:"crank degrees" help:"the angle; give this or arcMm"`
	ArcMm           *float64 `json:"arcMm,omitempty" min:"0" max:"6300" unit:"mm" help:"a distance measured along the rim; give this or crankDeg"`
	TapeThicknessMm float64  `json:"tapeThicknessMm,omitempty" min:"0" max:"5" unit:"mm" help:"thickness of a tape on the rim, whose outside is measured; none unless said"`
}

// ArcOut is the distance both ways.
type ArcOut struct {
	ArcMm    float64  `json:"arcMm" unit:"mm" help:"along the rim, as a wrapped strip of paper measures it"`
	ChordMm  float64  `json:"chordMm" unit:"mm" help:"straight across, as a rule or dividers measure it"`
	CrankDeg float64  `json:"crankDeg" unit:"crank degrees" help:"the angle"`
	MmPerDeg float64  `json:"mmPerDeg" unit:"mm per crank degree" help:"one degree along the rim"`
	Working  []string `json:"working" help:"the rule with these figures in it"`
	Sources  []string `json:"sources" help:"where the rule comes from"`
}

// Arc gives the length of an angle on a rim:
//
//	arc = π d × degrees / 360,  chord = d × sin(degrees / 2)
//
// d is the diameter, and with a tape on it the diameter of the tape's
// outside, diameter + 2 × thickness. Given an arc, the angle follows.
// Refused: both or neither of angle and arc, an arc of more than one turn.
// Source: geometry.
func Arc(in ArcIn) (ArcOut, error) {
	d := in.DiameterMm + 2*in.TapeThicknessMm
	deg, bad := eitherOf("crankDeg", in.CrankDeg, "arcMm", in.ArcMm, 360/(math.Pi*d))
	if bad != nil {
		return ArcOut{}, bad
	}
	if deg > 360+1e-9 {
		return ArcOut{}, refuse.Input("arcMm", fmt.Sprintf("%g mm is more than once round", *in.ArcMm),
			fmt.Sprintf("at most %.1f mm", math.Pi*d), "check the diameter and the distance")
	}
	out := ArcOut{ArcMm: math.Pi * d * deg / 360, ChordMm: d * math.Sin(deg/2*math.Pi/180), CrankDeg: deg,
		MmPerDeg: math.Pi * d / 360, Sources: []string{"geometry"}}
	if in.TapeThicknessMm > 0 {
		out.Working = append(out.Working, fmt.Sprintf("Outside of the tape: %g + 2 × %g = %.4g mm.", in.DiameterMm,
			in.TapeThicknessMm, d))
	}
	out.Working = append(out.Working,
		fmt.Sprintf("Arc = π × diameter × degrees / 360 = π × %.5g × %.4g / 360 = %.2f mm; one degree is %.3f mm.", d,
			deg, out.ArcMm, out.MmPerDeg),
		fmt.Sprintf("Straight across: diameter × sin(degrees / 2) = %.5g × sin(%.4g°) = %.2f mm. Wrap a strip of paper for the arc; a straight rule gives this shorter figure.", d, deg/2, out.ChordMm))
	return out, nil
}

// eitherOf gives an angle from one of two figures: the angle itself, or
// something that is the angle divided by perUnit.
func eitherOf(angleField string, angle *float64, otherField string, other *float64, perUnit float64) (float64,
	*refuse.Error) {
	switch {
	case (angle == nil) == (other == nil):
		problem := "neither " + angleField + " nor " + otherField + " is given"
		if angle != nil {
			problem = "both " + angleField + " and " + otherField + " are given"
		}
		return 0, refuse.Input(angleField, problem, "one of the two", "give the one you know and leave the other out")
	case angle != nil:
		return *angle, nil
	}
	return *other * perUnit, nil
}

// TeethIn asks for an angle in teeth of the ring gear, or the other way.
type TeethIn struct {
	RingTeeth int      `json:"ringTeeth" need:"yes" min:"20" max:"400" unit:"teeth" help:"teeth of the ring gear on the flywheel; count them"`
	Teeth     *float64 `json:"teeth,omitempty" min:"0" max:"400" unit:"teeth" help:"teeth that passed; give this or crankDeg"`
	CrankDeg  *float64 `json:"crankDeg,omitempty" min:"0" max:"360" unit:"crank degrees" help:"the angle; give this or teeth"`
}

// TeethOut is the answer both ways.
type TeethOut struct {
	CrankDeg    float64  `json:"crankDeg" unit:"crank degrees" help:"the angle"`
	Teeth       float64  `json:"teeth" unit:"teeth" help:"the same in teeth"`
	DegPerTooth float64  `json:"degPerTooth" unit:"crank degrees" help:"one tooth"`
	Working     []string `json:"working" help:"the rule with these figures in it"`
	Sources     []string `json:"sources" help:"where the rule comes from"`
}

// Teeth counts crank degrees in teeth of the ring gear:
//
//	degrees = 360 × teeth moved / teeth of the ring
//
// Refused: both or neither given, more teeth than the ring has. Source:
// geometry.
func Teeth(in TeethIn) (TeethOut, error) {
	per := 360 / float64(in.RingTeeth)
	deg, bad := eitherOf("crankDeg", in.CrankDeg, "teeth", in.Teeth, per)
	if bad != nil {
		return TeethOut{}, bad
	}
	if deg > 360+1e-9 {
		return TeethOut{}, refuse.Input("teeth", fmt.Sprintf("%g teeth are more than the ring has", *in.Teeth),
			fmt.Sprintf("at most %d", in.RingTeeth), "check both counts")
	}
	out := TeethOut{CrankDeg: deg, Teeth: deg / per, DegPerTooth: per, Sources: []string{"geometry"}}
	out.Working = []string{
		fmt.Sprintf("One tooth is 360 / %d = %.3f crank degrees.", in.RingTeeth, per),
		fmt.Sprintf("%.4g teeth × %.3f = %.2f crank degrees.", out.Teeth, per, deg),
	}
	return out, nil
}
