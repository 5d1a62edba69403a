package points

import (
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// SpeedReading is a dwell read at a speed.
type SpeedReading struct {
	EngineRPM    float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed; on a bench twice the distributor's"`
	DwellDistDeg float64 `json:"dwellDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell read there"`
}

// VacuumReading is a dwell read with the capsule drawn, at one speed.
type VacuumReading struct {
	VacuumKPa    float64 `json:"vacuumKPa" need:"yes" min:"0" max:"101" unit:"kPa below ambient" help:"vacuum on the capsule"`
	DwellDistDeg float64 `json:"dwellDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell read there"`
}

// Range is the book's least and most.
type Range struct {
	Min float64 `json:"min" need:"yes" over:"0" max:"360" unit:"of the figure it limits" help:"least the book allows"`
	Max float64 `json:"max" need:"yes" over:"0" max:"360" unit:"of the figure it limits" help:"most the book allows"`
}

func (r *Range) check(field string) *refuse.Error {
	if r != nil && r.Min > r.Max {
		return refuse.Input(field+".min", "the least is more than the most", "min at most max",
			"swap the two figures or correct one")
	}
	return nil
}

func (r Range) holds(x float64) bool { return x >= r.Min-1e-9 && x <= r.Max+1e-9 }

func (r Range) middle() float64 { return (r.Min + r.Max) / 2 }

// side is −1 below the range, 1 above it, 0 inside.
func (r Range) side(x float64) int {
	switch {
	case r.holds(x):
		return 0
	case x < r.Min:
		return -1
	}
	return 1
}

// Twin is two sets of points on one plate, each read with the other blocked
// open by a clean card, and both together.
type Twin struct {
	FirstDistDeg  float64 `json:"firstDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell of the first set alone"`
	SecondDistDeg float64 `json:"secondDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell of the second set alone"`
	PairDistDeg   float64 `json:"pairDistDeg" need:"yes" over:"0" max:"360" unit:"distributor degrees" help:"dwell of both together"`
	Each          *Range  `json:"each,omitempty" help:"the book's range for each set alone"`
	Pair          *Range  `json:"pair,omitempty" help:"the book's range for the pair"`
}

// JudgeIn is what was measured on the points and what the book says of them.
type JudgeIn struct {
	Cylinders    int             `json:"cylinders" need:"yes" min:"1" max:"16" help:"how many lobes the cam has"`
	Trigger      string          `json:"trigger,omitempty" enum:"points|electronic" help:"what switches the coil; points unless said"`
	State        string          `json:"state,omitempty" enum:"new|used|unknown" help:"new points have flat faces, used ones may be pitted; unknown unless said"`
	GapMm        *float64        `json:"gapMm,omitempty" over:"0" max:"2" unit:"mm" help:"gap by the feeler at the peak of the lobe"`
	GapBook      *Range          `json:"gapBookMm,omitempty" help:"the book's gap"`
	DwellDistDeg *float64        `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"dwell by the meter at idle"`
	DwellBook    *Range          `json:"dwellBookDistDeg,omitempty" help:"the book's dwell"`
	SlopePerMm   *float64        `json:"slopeDistDegPerMm,omitempty" min:"-1000" under:"0" unit:"distributor degrees per mm" help:"change of dwell for a wider gap, from points.learn"`
	Speeds       []SpeedReading  `json:"speeds,omitempty" maxItems:"100" help:"dwell over speed in the order read, vacuum pipe off"`
	Vacuum       []VacuumReading `json:"vacuum,omitempty" maxItems:"100" help:"dwell over vacuum at one speed"`
	PlatePivot   string          `json:"platePivot,omitempty" enum:"centre|side|unknown" help:"where the moving plate turns; a side pivot changes dwell by design"`
	Twin         *Twin           `json:"twin,omitempty" help:"twin points, each set alone and the pair"`
	DriveRatio   *float64        `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// Reason is one candidate for a disagreement, likeliest first.
type Reason struct {
	ID   string `json:"id" help:"name of the reason"`
	Text string `json:"text" help:"the reason in words"`
	Test string `json:"test" help:"what tells it from the others"`
}

// JudgeOut is the verdict on the points.
type JudgeOut struct {
	VariationDistDeg       *float64     `json:"variationDistDeg" unit:"distributor degrees" help:"most less least dwell from idle to about 2000 engine rpm; null when not read"`
	VacuumVariationDistDeg *float64     `json:"vacuumVariationDistDeg" unit:"distributor degrees" help:"most less least dwell under vacuum; null when not read"`
	ShiftCrankDeg          *float64     `json:"shiftCrankDeg" unit:"crank degrees" help:"what the variation with speed does to the timing, later negative, first reading to the furthest from it; null when not read"`
	Agree                  string       `json:"agree" enum:"yes|no|unknown" help:"whether gap and dwell agree"`
	Trust                  string       `json:"trust" enum:"dwell|gap|neither|unknown" help:"which to set by today"`
	TrustText              string       `json:"trustText" help:"why"`
	Reasons                []Reason     `json:"reasons" help:"why gap and dwell may disagree, likeliest first"`
	Findings               finding.List `json:"findings" help:"what is concluded, weightiest first"`
	Ask                    []string     `json:"ask" help:"questions only the person can answer"`
	Verdict                string       `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary                string       `json:"summary" help:"the whole in one sentence"`
	Working                []string     `json:"working" help:"the rules with this car's figures in them"`
	Sources                []string     `json:"sources" help:"where the rules come from"`
}

// Judge holds the points against the book and against themselves: dwell over
// speed (pass to 2 distributor degrees, fail over 3, between them watch) and
// under vacuum (2 degrees on a centre-pivot plate), a sudden fall at high
// speed as bounce, gap against dwell, twin points. A dwell that fits the book
// only on another meter scale or as a percent is a doubt about the figure: it
// is asked, and nothing is judged by it. An electronic trigger has no dwell
// and is not judged. Refused: a dwell of the
// whole pitch or more; a book range upside down; two sets whose pair is not
// more than each. Sources stand with each finding; limits without one are
// common practice.
func Judge(in JudgeIn) (JudgeOut, error) {
	c := &court{in: in, out: JudgeOut{Agree: "unknown", Trust: "unknown", Reasons: []Reason{}, Findings: finding.List{},
		Ask: []string{}, Working: []string{}, Sources: []string{}}}
	if in.Trigger == "electronic" {
		c.noDwell()
		return c.out, nil
	}
	if bad := in.check(); bad != nil {
		return JudgeOut{}, bad
	}
	c.speeds()
	c.vacuum()
	c.level()
	c.together()
	c.twin()
	c.conclude()
	return c.out, nil
}

// court holds one case while it is judged.
type court struct {
	in       JudgeIn
	out      JudgeOut
	verdict  string
	doubt    bool // the dwell may be a percent: nothing is judged by it
	offScale bool // the dwell fits the book on another scale of the meter
}

func (c *court) find(verdict string, f finding.Finding) {
	c.verdict, f.Verdict = finding.Worse(c.verdict, verdict), verdict
	c.out.Findings.Add(f)
}

func (c *court) say(line string) { c.out.Working = append(c.out.Working, line) }

func (c *court) noDwell() {
	c.out.Verdict = "unknown"
	c.out.TrustText = "An electronic trigger has no points: there is no gap and no dwell to set, and a dwell meter only shows what its box does."
	c.out.Summary = "There is no dwell to judge: an electronic trigger switches this coil."
	c.find("unknown", finding.Finding{Code: "trigger-no-dwell", Title: "An electronic trigger has no dwell",
		Part: "electronic trigger", Sureness: "sure",
		Text:        "Set its air gap by its own sheet, look to its body earth and its full battery feed, and go on to timing. It is not free of shaft wear or of faults of the advance: scatter by the strobe shows those.",
		DisprovedBy: "the cap off: points are there",
		Caution:     "Do not leave the ignition on with the engine still: some triggers and most coils are harmed by it."})
	c.out.Sources = []string{"common practice"}
}

func (in JudgeIn) check() *refuse.Error {
	for _, r := range []struct {
		field string
		r     *Range
	}{{"gapBookMm", in.GapBook}, {"dwellBookDistDeg", in.DwellBook}} {
		if bad := r.r.check(r.field); bad != nil {
			return bad
		}
	}
	if in.DwellDistDeg != nil {
		if bad := OverPitch("dwellDistDeg", in.Cylinders, *in.DwellDistDeg); bad != nil {
			return bad
		}
	}
	if in.DwellBook != nil {
		if bad := OverPitch("dwellBookDistDeg.max", in.Cylinders, in.DwellBook.Max); bad != nil {
			return bad
		}
	}
	return in.checkRuns()
}
