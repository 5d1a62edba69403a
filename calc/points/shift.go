package points

import (
	"fmt"

	"pointsmith/calc/finding"
)

// ShiftIn asks what a change of dwell does to the timing.
type ShiftIn struct {
	DwellFromDistDeg       float64  `json:"dwellFromDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell before"`
	DwellToDistDeg         float64  `json:"dwellToDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell after"`
	CrankDegPerDwellDegree *float64 `json:"crankDegPerDwellDegree,omitempty" min:"0" max:"2" unit:"crank degrees per distributor degree of dwell" help:"what this distributor was measured to do; 1, a lobe alike on both sides, unless said"`

	DriveRatio *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// ShiftOut is the change of timing, later negative.
type ShiftOut struct {
	TimingShiftCrankDeg float64  `json:"timingShiftCrankDeg" unit:"crank degrees" help:"change of timing; negative is later"`
	MostCrankDeg        float64  `json:"mostCrankDeg" unit:"crank degrees" help:"the change if only the opening side of the lobe moved; with a measured figure, the same as that"`
	LeastCrankDeg       float64  `json:"leastCrankDeg" unit:"crank degrees" help:"the change if only the closing side moved; with a measured figure, the same as that"`
	Text                string   `json:"text" help:"the change in words, and what it undoes"`
	Working             []string `json:"working" help:"the rule with these figures in it"`
	Sources             []string `json:"sources" help:"where the rule comes from"`
}

// Shift relates dwell to timing. More dwell closes the gap, and the points
// open later. Where the lobe is alike on both sides half the change of dwell
// falls on the opening side, and a distributor degree is driveRatio crank degrees:
//
//	timing shift (crank) = −(dwell after − dwell before) (distributor) × k
//
// with k = driveRatio / 2, 1 for the ordinary drive; a lobe steeper on one side
// gives k anywhere from 0 to driveRatio, and a measured k may be given. Source: derived; "a degree of dwell is a degree
// of timing" is common practice.
func Shift(in ShiftIn) (ShiftOut, error) {
	change := in.DwellToDistDeg - in.DwellFromDistDeg
	most := ratio(in.DriveRatio)
	k, least := most/2, 0.0
	how := fmt.Sprintf("%.3g, a lobe alike on both sides", k)
	if in.CrankDegPerDwellDegree != nil {
		k = *in.CrankDegPerDwellDegree
		least, most, how = k, k, fmt.Sprintf("%.3g, measured on this distributor", k)
	}
	out := ShiftOut{TimingShiftCrankDeg: -change*k + 0, MostCrankDeg: -change*most + 0,
		LeastCrankDeg: -change*least + 0}
	switch {
	case out.TimingShiftCrankDeg < 0:
		out.Text = fmt.Sprintf("The spark comes %s later. Timing is to be done again, static, with the test lamp.",
			finding.Degrees(-out.TimingShiftCrankDeg, "crank"))
	case out.TimingShiftCrankDeg > 0:
		out.Text = fmt.Sprintf("The spark comes %s earlier. Timing is to be done again, static, with the test lamp.",
			finding.Degrees(out.TimingShiftCrankDeg, "crank"))
	default:
		out.Text = "The spark stays where it was."
	}
	out.Working = []string{
		fmt.Sprintf("Dwell changes by %.4g − %.4g = %+.4g° at the distributor.", in.DwellToDistDeg,
			in.DwellFromDistDeg, change),
		fmt.Sprintf("Crank degrees for each degree of dwell: %s. Timing moves by −(%+.4g) × %.3g = %+.4g° at the crank, later negative.",
			how, change, k, out.TimingShiftCrankDeg),
		fmt.Sprintf("Half of the change falls on the opening edge (½ distributor degree for each); "+
			"a distributor degree is %.3g of the crank.", ratio(in.DriveRatio)),
	}
	out.Sources = []string{"geometry of a lobe alike on both sides",
		"one degree of timing for one of dwell, up to two on a lobe steeper on one side: common practice"}
	return out, nil
}
