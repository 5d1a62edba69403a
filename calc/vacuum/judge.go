package vacuum

import (
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Code is what is stamped on the capsule or its link. What the numbers mean
// differs between makers, so it has to be said.
type Code struct {
	Text       string   `json:"text" need:"yes" maxLen:"40" help:"the code as stamped, such as 4-12-7; some makers put a letter behind for retard: say the kind"`
	Meaning    []string `json:"meaning,omitempty" enum:"start|full|max|other" maxItems:"6" help:"what each number means, in its order; unknown stays unknown and is asked"`
	VacuumUnit string   `json:"vacuumUnit,omitempty" enum:"inHg|mmHg|kPa" help:"unit of start and full"`
	AngleUnit  string   `json:"angleUnit,omitempty" enum:"distributor|crank" help:"which shaft the degrees of max belong to"`
}

// TablePoint is one line of the book's table for the capsule.
type TablePoint struct {
	KPa        float64 `json:"kPa" need:"yes" min:"0" max:"102" unit:"kPa below ambient" help:"vacuum"`
	MinDistDeg float64 `json:"minDistDeg" need:"yes" min:"0" max:"30" unit:"distributor degrees" help:"least movement"`
	MaxDistDeg float64 `json:"maxDistDeg" need:"yes" min:"0" max:"30" unit:"distributor degrees" help:"most movement"`
}

// Capsule is what the book or the stamp says about the unit.
type Capsule struct {
	Kind              string       `json:"kind" need:"yes" enum:"advance|retard" help:"what the unit does; a twin unit is judged one half at a time"`
	Twin              bool         `json:"twin,omitempty" help:"this is one half of a twin unit: the outer advances, the inner retards"`
	Code              *Code        `json:"code,omitempty" help:"the code stamped on it"`
	StartKPa          *float64     `json:"startKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"no movement below this"`
	FullKPa           *float64     `json:"fullKPa,omitempty" over:"0" max:"102" unit:"kPa below ambient" help:"all the way from here on"`
	MaxDistDeg        *float64     `json:"maxDistDeg,omitempty" over:"0" max:"30" unit:"distributor degrees" help:"all the way"`
	Table             []TablePoint `json:"table,omitempty" maxItems:"24" help:"the book's table, instead of start, full and max"`
	ToleranceDistDeg  *float64     `json:"toleranceDistDeg,omitempty" min:"0" max:"5" unit:"distributor degrees" help:"allowed either way; 1 unless said (common practice)"`
	StartToleranceKPa *float64     `json:"startToleranceKPa,omitempty" min:"0" max:"20" unit:"kPa" help:"allowed either way on start and full; 3.39 = 1 inHg unless said (common practice)"`
}

// Reading is one figure of the capsule, by pump or on the bench.
type Reading struct {
	KPa       float64  `json:"kPa" need:"yes" min:"0" max:"102" unit:"kPa below ambient" help:"vacuum applied"`
	DistDeg   *float64 `json:"distDeg,omitempty" min:"-30" max:"45" unit:"distributor degrees" help:"movement from rest in the unit's own direction; give this or crankDeg"`
	CrankDeg  *float64 `json:"crankDeg,omitempty" min:"-60" max:"90" unit:"crank degrees" help:"the same as timing, by strobe at a steady speed"`
	Direction string   `json:"direction,omitempty" enum:"rising|falling" help:"whether vacuum was being raised or let down; rising unless said"`
}

// Hold is the leak test: pump to a vacuum, seal, wait, read again.
type Hold struct {
	StartKPa float64 `json:"startKPa" need:"yes" over:"0" max:"102" unit:"kPa below ambient" help:"vacuum when sealed; the army test uses 54 = 16 inHg"`
	EndKPa   float64 `json:"endKPa" need:"yes" min:"0" max:"102" unit:"kPa below ambient" help:"vacuum after waiting"`
	Seconds  float64 `json:"seconds" need:"yes" over:"0" max:"3600" unit:"seconds" help:"how long; 10 to 30 is usual"`
}

// RetardTest is timing at idle with the retard hose off and on.
type RetardTest struct {
	OffCrankDeg float64 `json:"offCrankDeg" need:"yes" min:"-60" max:"90" unit:"crank degrees before TDC" help:"hose off and plugged"`
	OnCrankDeg  float64 `json:"onCrankDeg" need:"yes" min:"-60" max:"90" unit:"crank degrees before TDC" help:"hose on"`
}

// JudgeIn is all that is known of a capsule and its pipe.
type JudgeIn struct {
	Capsule                   Capsule     `json:"capsule" need:"yes" help:"what the unit should do"`
	Readings                  []Reading   `json:"readings,omitempty" maxItems:"100" help:"what it does"`
	Hold                      *Hold       `json:"hold,omitempty" help:"the leak test"`
	Source                    string      `json:"source,omitempty" enum:"ported|manifold|venturi|none" help:"where the pipe goes now"`
	BookSource                string      `json:"bookSource,omitempty" enum:"ported|manifold|venturi|none" help:"where the book has it go"`
	IdleVacuumKPa             *float64    `json:"idleVacuumKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"manifold vacuum at warm idle"`
	PipeAtIdleKPa             *float64    `json:"pipeAtIdleKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"vacuum at the end of the capsule's own pipe at idle"`
	BaseCrankDeg              *float64    `json:"baseCrankDeg,omitempty" min:"-40" max:"60" unit:"crank degrees before TDC" help:"base timing"`
	CruiseCentrifugalCrankDeg *float64    `json:"cruiseCentrifugalCrankDeg,omitempty" min:"0" max:"60" unit:"crank degrees" help:"centrifugal advance at cruising speed, base not included"`
	RetardTest                *RetardTest `json:"retardTest,omitempty" help:"a retard unit tried at idle"`
	DriveRatio                float64     `json:"driveRatio,omitempty" min:"0" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// JudgedPoint is one reading against the book.
type JudgedPoint struct {
	Reading          int      `json:"reading" help:"index of the reading as given"`
	KPa              float64  `json:"kPa" unit:"kPa below ambient" help:"vacuum"`
	Direction        string   `json:"direction" enum:"rising|falling" help:"vacuum raised or let down"`
	MeasuredDistDeg  float64  `json:"measuredDistDeg" unit:"distributor degrees" help:"movement"`
	MinDistDeg       *float64 `json:"minDistDeg" unit:"distributor degrees" help:"least allowed; null without figures to judge by"`
	MaxDistDeg       *float64 `json:"maxDistDeg" unit:"distributor degrees" help:"most allowed; null without figures to judge by"`
	DeviationDistDeg float64  `json:"deviationDistDeg" unit:"distributor degrees" help:"how far outside, too much positive; 0 inside"`
	Verdict          string   `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass inside, watch within half a degree of it, fail beyond"`
}

// Figures are start, full and max of a capsule.
type Figures struct {
	StartKPa   *float64 `json:"startKPa" unit:"kPa below ambient" help:"where it begins to move; null when not known"`
	FullKPa    *float64 `json:"fullKPa" unit:"kPa below ambient" help:"where it has moved all the way; null when not known"`
	MaxDistDeg *float64 `json:"maxDistDeg" unit:"distributor degrees" help:"all the way; null when not known"`
}

// JudgeOut is the verdict and its reasons.
type JudgeOut struct {
	Points              []JudgedPoint `json:"points" help:"each reading against the book, in the order given"`
	Spec                Figures       `json:"spec" help:"the figures judged by, from the code where that had to be read"`
	Measured            Figures       `json:"measured" help:"the same as measured while rising"`
	SlopeDistDegPerKPa  *float64      `json:"slopeDistDegPerKPa" unit:"distributor degrees per kPa" help:"between start and full as measured; null when not known"`
	HysteresisDistDeg   *float64      `json:"hysteresisDistDeg" unit:"distributor degrees" help:"falling less rising at one vacuum, the most; null without both"`
	HoldDropKPa         *float64      `json:"holdDropKPa" unit:"kPa" help:"what was lost in the leak test; null without one"`
	CruiseTotalCrankDeg *float64      `json:"cruiseTotalCrankDeg" unit:"crank degrees before TDC" help:"base, centrifugal and capsule together at light throttle; null when one is not known"`
	Findings            finding.List  `json:"findings" help:"what is concluded, weightiest first"`
	Ask                 []string      `json:"ask" help:"questions only the person can answer"`
	Accounts            []Account     `json:"accounts" help:"the stories that fit the readings, each with its share; empty without the book's figures"`
	Suspicion           string        `json:"suspicion" enum:"none|crank-as-distributor|distributor-as-crank|totals|vacuum-unit|tenfold|reading" help:"what the figures as entered look like"`
	Verdict             string        `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary             string        `json:"summary" help:"the whole in one sentence"`
	Working             []string      `json:"working" help:"the rules with these figures in them"`
	Sources             []string      `json:"sources" help:"where the rules come from"`
}

// Account is one story that fits the readings.
type Account struct {
	ID    string  `json:"id" help:"name of the story"`
	Share float64 `json:"share" help:"its share among all of them, 0 to 1"`
	Words string  `json:"words" help:"the story in words"`
}

// Judge holds a capsule against its figures. Between start and full the
// movement is a straight line, below start none, beyond full all:
//
//	movement = max × (vacuum − start) / (full − start)
//
// allowed ± tolerance in degrees and ± start tolerance in vacuum; a table
// takes the place of the line, straight between its lines. What is wrong, or
// what was mistyped, is weighed: stories about the unit and about the sheet
// (crank degrees, totals, another unit of vacuum, one figure tenfold) each get a
// share by how well capsules drawn from them meet all readings; sure is a share
// of 0.97 and more, likely 0.75. A story about the sheet is asked and never a
// fault; a pump that never reached the start tells nothing. Then: does it hold
// vacuum, does the
// pipe go to the right place, is full travel reached about 2 inHg below idle
// vacuum on a manifold source, and what is the total at cruise. Unknown
// figures leave the point unknown and are asked for. Refused: a reading with
// both or neither of distDeg and crankDeg; start not below full; a table that
// falls. Sources stand with each finding.
func Judge(in JudgeIn) (JudgeOut, error) {
	c := &court{in: in, ratio: in.DriveRatio}
	if c.ratio == 0 {
		c.ratio = 2
	}
	c.out = JudgeOut{Points: []JudgedPoint{}, Findings: finding.List{}, Ask: []string{}, Working: []string{},
		Accounts: []Account{}, Suspicion: "none"}
	for _, step := range []func() *refuse.Error{c.readSpec, c.gather} {
		if bad := step(); bad != nil {
			return JudgeOut{}, bad
		}
	}
	c.measure()
	c.holdFinding()
	c.movementFindings()
	c.pipeFindings()
	c.cruiseFinding()
	c.retardFinding()
	c.finish()
	return c.out, nil
}

// court holds one case while it is judged.
type court struct {
	in        JudgeIn
	ratio     float64
	band      band
	runs      map[string][]point // by direction, sorted by vacuum
	out       JudgeOut
	concluded string // the worst verdict so far
	skip      int    // where in the sequence of draws it begins; 0 but in a test
}

// point is one reading inside the room.
type point struct{ kPa, deg float64 }

func (c *court) add(verdict string, f finding.Finding) {
	c.out.Findings.Add(f)
	c.concluded = finding.Worse(c.concluded, verdict)
}
