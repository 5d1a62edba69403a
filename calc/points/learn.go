package points

import (
	"fmt"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Pair is a gap and the dwell read with it, same points, same distributor.
type Pair struct {
	GapMm        float64 `json:"gapMm" need:"yes" over:"0" max:"2" unit:"mm" help:"gap at the peak of the lobe"`
	DwellDistDeg float64 `json:"dwellDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell read with that gap"`
}

// LearnIn is the car's own pairs and, if wanted, what to foretell from them.
type LearnIn struct {
	Cylinders         int      `json:"cylinders" need:"yes" min:"1" max:"16" help:"how many lobes the cam has"`
	Pairs             []Pair   `json:"pairs" need:"yes" minItems:"1" maxItems:"50" help:"gap and dwell read together on this distributor"`
	GapErrorMm        *float64 `json:"gapErrorMm,omitempty" over:"0" max:"0.5" unit:"mm" help:"reading error of a gap, one standard deviation; 0.013 (half a thou) unless said"`
	DwellErrorDistDeg *float64 `json:"dwellErrorDistDeg,omitempty" over:"0" max:"20" unit:"distributor degrees" help:"reading error of a dwell, one standard deviation; 0.5 unless said"`
	GapMm             *float64 `json:"gapMm,omitempty" over:"0" max:"2" unit:"mm" help:"a gap whose dwell is asked for"`
	DwellDistDeg      *float64 `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"a dwell whose gap is asked for"`
	DriveRatio        *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said; for the timing that moves with the gap"`
}

// LearnOut is how gap and dwell go together here.
type LearnOut struct {
	Basis             string       `json:"basis" enum:"learned|common practice|unknown" help:"learned from this car's own pairs; common practice with one pair only; unknown where neither tells"`
	SlopeDistDegPerMm *float64     `json:"slopeDistDegPerMm" unit:"distributor degrees per mm" help:"change of dwell for a wider gap, negative; null when unknown"`
	SlopeLow          *float64     `json:"slopeLow" unit:"distributor degrees per mm" help:"the steepest slope that still fits; null when the pairs set no bound"`
	SlopeHigh         *float64     `json:"slopeHigh" unit:"distributor degrees per mm" help:"the flattest slope that still fits"`
	SlopePerThou      *float64     `json:"slopeDistDegPerThou" unit:"distributor degrees per thousandth of an inch" help:"the same slope in the blades of the trade"`
	TimingPerThou     *float64     `json:"timingCrankDegPerThou" unit:"crank degrees per thousandth of an inch" help:"how much earlier the spark comes for a thou more gap, lobe alike on both sides; null when the slope is unknown"`
	StatedRate        float64      `json:"statedRate" help:"share of cases in which the interval holds the truth, when the reading errors are as said; 0 for common practice"`
	CentreGapMm       float64      `json:"centreGapMm" unit:"mm" help:"mean gap of the pairs; the line passes here"`
	CentreDwell       float64      `json:"centreDwellDistDeg" unit:"distributor degrees" help:"mean dwell of the pairs"`
	Foretold          []Foretold   `json:"foretold" help:"what was asked for"`
	Findings          finding.List `json:"findings" help:"what is concluded about the pairs themselves"`
	Text              string       `json:"text" help:"the whole in words"`
	Working           []string     `json:"working" help:"the rule with these figures in it"`
	Sources           []string     `json:"sources" help:"where the rule comes from"`
}

// Foretold is a dwell for a gap or a gap for a dwell, with its interval.
type Foretold struct {
	GapMm        float64 `json:"gapMm" unit:"mm" help:"gap"`
	DwellDistDeg float64 `json:"dwellDistDeg" unit:"distributor degrees" help:"dwell"`
	Low          float64 `json:"low" unit:"of the one asked for" help:"hardly lower than this"`
	High         float64 `json:"high" unit:"of the one asked for" help:"hardly higher than this"`
	Asked        string  `json:"asked" enum:"gap|dwell" help:"which of the two was asked for"`
	Outside      bool    `json:"outside,omitempty" help:"true where it lies outside the pairs: the line is only known between them"`
}

// Learn draws the straight line through the car's own (gap, dwell) pairs by
// least squares with errors in both readings:
//
//	χ²(b) = Σ (d − d̄ − b (g − ḡ))² / (σd² + b² σg²)
//
// The slope b is where χ² is least; the interval holds every slope up to zero
// whose χ² is at most 3.84 above that (a rate of 95 %), widened when three or
// more pairs scatter more than their reading errors. Wider gap is never more
// dwell, so b < 0. One pair gives only the common-practice slope, marked so;
// pairs that do not tell say so. Refused: a dwell of the whole pitch or more.
// Source: W. E. Deming, Statistical Adjustment of Data (from memory); the
// common-practice slopes are worked from remembered published pairs.
func Learn(in LearnIn) (LearnOut, error) {
	for i, p := range in.Pairs {
		if bad := OverPitch(fmt.Sprintf("pairs[%d].dwellDistDeg", i), in.Cylinders, p.DwellDistDeg); bad != nil {
			return LearnOut{}, bad
		}
	}
	if in.DwellDistDeg != nil {
		if bad := OverPitch("dwellDistDeg", in.Cylinders, *in.DwellDistDeg); bad != nil {
			return LearnOut{}, bad
		}
	}
	l := lineThrough(in)
	out := LearnOut{CentreGapMm: l.gap, CentreDwell: l.dwell, Foretold: []Foretold{}, Findings: finding.List{},
		Working: l.working(in)}
	out.Sources = []string{"least squares with errors in both readings: W. E. Deming, Statistical Adjustment of Data, from memory", "reading errors: " + errorSource(in)}
	if len(in.Pairs) == 1 {
		out.byPractice(in, l)
	} else {
		out.byPairs(in, l)
	}
	if out.SlopeDistDegPerMm == nil {
		return out, nil
	}
	perThou := *out.SlopeDistDegPerMm * mmPerThou
	earlier := -perThou * ratio(in.DriveRatio) / 2 // half the dwell lost is on the opening side, as in Shift
	out.SlopePerThou, out.TimingPerThou = &perThou, &earlier
	out.Working = append(out.Working, fmt.Sprintf("A thou more gap moves the timing by half of %.3g° × %.3g: "+
		"%.3g crank degrees earlier.", -perThou, ratio(in.DriveRatio), earlier))
	err := out.foretell(in, l)
	return out, err
}

const mmPerThou = 0.0254

func errorSource(in LearnIn) string {
	if in.GapErrorMm == nil || in.DwellErrorDistDeg == nil {
		return "half a thou of blade and half a degree of meter where not given, common practice"
	}
	return "as given"
}

func (out *LearnOut) byPairs(in LearnIn, l line) {
	if l.chi2 > 3.84+2*float64(l.n-2) && l.n > 2 {
		out.Findings.Add(finding.Finding{Code: "pairs-scatter", Title: "The pairs do not lie on one line",
			Part: "the readings", Sureness: "likely",
			Text:        "They scatter more than the blade and the meter should. Pitted faces, a worn shaft that moves while it is measured, or a gap taken off the peak of the lobe do this. The interval is widened for it; better, take the pairs again with the shaft pushed the same way each time.",
			DisprovedBy: "the same pairs read twice, alike",
			Working: []string{fmt.Sprintf("χ² of %d pairs about the line: %.3g, where about %d is usual.", l.n,
				l.chi2, l.n-2)}})
	}
	if !l.told {
		out.Basis = "unknown"
		out.Text = "These pairs do not tell the slope: the gaps are too alike for the blade, or the dwell rises with the gap, which no cam does. Take one pair at a gap clearly wider, another clearly narrower (0.1 mm, 4 thou, apart)."
		return
	}
	out.Basis, out.StatedRate = "learned", 0.95
	out.SlopeDistDegPerMm, out.SlopeHigh = &l.slope, &l.high
	out.Text = fmt.Sprintf("On this distributor a thou more gap takes %.2g° of dwell away", -l.slope*mmPerThou)
	if l.bounded {
		out.SlopeLow = &l.low
		out.Text += fmt.Sprintf(" (between %.2g° and %.2g°).", -l.high*mmPerThou, -l.low*mmPerThou)
		return
	}
	out.Text += fmt.Sprintf(" (at least %.2g°; the gaps are too alike to say how much at most).", -l.high*mmPerThou)
}

// practice is the change of dwell for a thou of gap by lobes of the cam, worked
// from published pairs that are themselves from memory: an estimate only.
var practice = map[int][2]float64{4: {1, 3}, 6: {0.8, 1.5}, 8: {0.7, 1.1}}

func (out *LearnOut) byPractice(in LearnIn, l line) {
	p, known := practice[in.Cylinders]
	if !known {
		out.Basis = "unknown"
		out.Text = "One pair gives no slope, and for this number of lobes there is no common practice to borrow. Take a second pair at another gap."
		return
	}
	low, high := -p[1]/mmPerThou, -p[0]/mmPerThou
	slope := (low + high) / 2
	out.Basis, out.SlopeDistDegPerMm, out.SlopeLow, out.SlopeHigh = "common practice", &slope, &low, &high
	out.Text = fmt.Sprintf("With one pair only common practice can be given: a thou of gap is about %.2g to %.2g° of dwell on a %d-lobe cam. A second pair at another gap makes it this car's own.", p[0], p[1], in.Cylinders)
	out.Working = append(out.Working,
		fmt.Sprintf("Common practice, an estimate: %.2g to %.2g° for a thou, that is %.3g to %.3g° for a millimetre.",
			p[0], p[1], -high, -low))
	out.Sources = append(out.Sources,
		"slope with one pair: common practice, worked from published gap and dwell limits taken from memory")
}

// foretell answers the gap or dwell asked for, through the centre of the pairs.
func (out *LearnOut) foretell(in LearnIn, l line) error {
	if in.GapMm != nil {
		f := out.dwellAt(*in.GapMm, in, l)
		if f.DwellDistDeg <= 0 || f.DwellDistDeg >= Pitch(in.Cylinders) {
			return refuse.Input("gapMm",
				fmt.Sprintf("%.3g mm is too far from the pairs: the line gives %.3g° of dwell there", *in.GapMm,
					f.DwellDistDeg),
				fmt.Sprintf("a dwell between 0 and %.4g distributor degrees", Pitch(in.Cylinders)),
				"ask for a gap nearer to those measured, or measure one there")
		}
		out.Foretold = append(out.Foretold, f)
	}
	if in.DwellDistDeg != nil {
		f := out.gapAt(*in.DwellDistDeg, in, l)
		if f.GapMm <= 0 {
			return refuse.Input("dwellDistDeg",
				fmt.Sprintf("%.3g° is too far from the pairs: the line gives no gap at all there", *in.DwellDistDeg),
				"a gap above 0 mm", "ask for a dwell nearer to those measured, or measure a pair there")
		}
		out.Foretold = append(out.Foretold, f)
	}
	return nil
}
