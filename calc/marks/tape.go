package marks

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// TapeIn describes a printed tape.
type TapeIn struct {
	DiameterMm      float64 `json:"diameterMm" need:"yes" min:"20" max:"2000" unit:"mm" help:"diameter of the rim the tape goes on"`
	CrankRotation   string  `json:"crankRotation" need:"yes" enum:"clockwise|anticlockwise" help:"which way the crank turns, seen from where you stand to read it (usually the pulley end)"`
	Carrier         string  `json:"carrier,omitempty" enum:"pulley|case" help:"pulley: the tape turns and the pointer stands, which is taken unless said; case: the tape stands and a notch on the pulley passes it"`
	TapeThicknessMm float64 `json:"tapeThicknessMm,omitempty" min:"0" max:"5" unit:"mm" help:"thickness of paper and glue; none unless said"`
	BeforeCrankDeg  float64 `json:"beforeCrankDeg" need:"yes" min:"0" max:"350" unit:"crank degrees" help:"how far the scale goes before TDC"`
	AfterCrankDeg   float64 `json:"afterCrankDeg,omitempty" min:"0" max:"350" unit:"crank degrees" help:"how far it goes after TDC"`
	StepCrankDeg    float64 `json:"stepCrankDeg,omitempty" min:"0" max:"10" unit:"crank degrees" help:"one line every so many degrees; 1 unless said"`
	PageLengthMm    float64 `json:"pageLengthMm" need:"yes" min:"60" max:"2000" unit:"mm" help:"printable length of the paper in the direction of the tape"`
	OverlapMm       float64 `json:"overlapMm,omitempty" min:"0" max:"100" unit:"mm" help:"how much two pages share, to glue one on the other; none unless said"`
	EndMm           float64 `json:"endMm,omitempty" min:"0" max:"50" unit:"mm" help:"bare paper beyond the last line at either end; none unless said"`
}

// Line is one line of the scale.
type Line struct {
	CrankDeg float64 `json:"crankDeg" unit:"crank degrees" help:"before TDC positive, after TDC negative"`
	XMm      float64 `json:"xMm" unit:"mm" help:"to the right of the left edge of its page; on the whole tape, to the right of the zero"`
	Kind     string  `json:"kind" enum:"zero|ten|five|one" help:"how long to draw it"`
	Label    string  `json:"label,omitempty" help:"what to print at it"`
	Side     string  `json:"side" enum:"before|zero|after" help:"its side of TDC"`
}

// Page is one sheet of the tape.
type Page struct {
	Number int     `json:"number" help:"from 1, left to right"`
	FromMm float64 `json:"fromMm" unit:"mm" help:"its left edge, from the zero of the tape"`
	ToMm   float64 `json:"toMm" unit:"mm" help:"its right edge, from the zero of the tape"`
	Lines  []Line  `json:"lines" help:"the lines on it, xMm from its left edge; a line in the overlap is on both pages"`
	GlueMm float64 `json:"glueMm" unit:"mm" help:"width at its left edge that it shares with the page before"`
}

// TapeOut is the tape, ready to be drawn at true scale.
type TapeOut struct {
	Lines        []Line   `json:"lines" help:"every line, left to right, xMm from the zero"`
	Pages        []Page   `json:"pages" help:"the tape cut into pages"`
	BeforeSide   string   `json:"beforeSide" enum:"left|right" help:"on which side of the zero before TDC lies, the figures upright for the reader"`
	SideWhy      string   `json:"sideWhy" help:"why, to check it at the engine"`
	MmPerDeg     float64  `json:"mmPerDeg" unit:"mm per crank degree" help:"spacing"`
	LengthMm     float64  `json:"lengthMm" unit:"mm" help:"the whole strip"`
	CheckCrank   float64  `json:"checkCrankDeg" unit:"crank degrees" help:"an angle to check the print by"`
	CheckMm      float64  `json:"checkMm" unit:"mm" help:"what that angle must measure on the paper, laid flat"`
	Instructions []string `json:"instructions" help:"how to print, check and fit it"`
	Working      []string `json:"working" help:"the rule with these figures in it"`
	Sources      []string `json:"sources" help:"where the rule comes from"`
}

// Tape lays out a scale of crank degrees to be printed at true scale and
// glued round a pulley:
//
//	x = ± π (diameter + 2 × thickness) × degrees / 360
//
// On a turning pulley the marks before TDC reach the pointer before the zero
// does, so they lie ahead of it in the direction of rotation: for a reader in
// front of the pulley with the pointer above, to the right of the zero when
// the crank turns clockwise, to the left when it turns anticlockwise. On a
// fixed scale with a notch in the pulley it is the other way round. Refused:
// a scale longer than the rim, lines nearer than 0.4 mm, pages that gain
// nothing. Source: geometry.
func Tape(in TapeIn) (TapeOut, error) {
	t, bad := newTape(in)
	if bad != nil {
		return TapeOut{}, bad
	}
	out := TapeOut{Lines: t.lines(), MmPerDeg: t.perDeg, BeforeSide: "right", CheckCrank: 30, CheckMm: 30 * t.perDeg,
		Sources: []string{"geometry"}}
	if t.sign < 0 {
		out.BeforeSide = "left"
	}
	left, right := t.edges()
	out.LengthMm = right - left
	out.Pages = t.pages(out.Lines, left, right)
	t.explain(&out)
	return out, nil
}

// tape is the input with what follows from it.
type tape struct {
	in           TapeIn
	perDeg, step float64
	sign         float64 // +1: before TDC lies to the right
}

func newTape(in TapeIn) (tape, *refuse.Error) {
	t := tape{in: in, perDeg: math.Pi * (in.DiameterMm + 2*in.TapeThicknessMm) / 360, step: in.StepCrankDeg, sign: 1}
	if t.step == 0 {
		t.step = 1
	}
	if (in.CrankRotation == "anticlockwise") != (in.Carrier == "case") {
		t.sign = -1
	}
	whole := in.BeforeCrankDeg + in.AfterCrankDeg
	switch {
	case whole < t.step || whole > 360:
		return t, refuse.Input("beforeCrankDeg", fmt.Sprintf("the scale would be %g degrees long", whole),
			fmt.Sprintf("%g to 360 degrees, before and after together", t.step), "change the range")
	case t.step*t.perDeg < 0.4: // two lines of common print width with as much between them
		return t, refuse.Input("stepCrankDeg", fmt.Sprintf("lines would be %.2g mm apart", t.step*t.perDeg),
			"at least 0.4 mm", "take a larger step, such as 1 or 2 degrees")
	case in.OverlapMm > in.PageLengthMm/2:
		return t, refuse.Input("overlapMm", "takes more than half of the page",
			fmt.Sprintf("at most %g mm", in.PageLengthMm/2), "make the overlap smaller")
	}
	return t, nil
}

// edges gives both ends of the strip, from the zero.
func (t tape) edges() (left, right float64) {
	before, after := t.in.BeforeCrankDeg*t.perDeg+t.in.EndMm, t.in.AfterCrankDeg*t.perDeg+t.in.EndMm
	if t.sign > 0 {
		return -after, before
	}
	return -before, after
}
