package supply

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Reading is the volts at one place, other lead on the battery's earth post.
type Reading struct {
	At    string  `json:"at" need:"yes" enum:"battery|switchIn|switchOut|ballastIn|ballastOut|coilFeed|coilPoints|distributor|body|engine" help:"where the meter's lead touches"`
	Volts float64 `json:"volts" need:"yes" min:"-30" max:"30" unit:"volts to the battery's earth post" help:"what it shows; all negative is taken as a meter connected the other way round"`
}

// JudgeIn is the volts along the way from battery to points.
type JudgeIn struct {
	NominalV   float64   `json:"nominalV" need:"yes" min:"6" max:"12" unit:"volts" help:"6 or 12"`
	Earth      string    `json:"earth" need:"yes" enum:"negative|positive" help:"which battery post is on the body"`
	Ballasted  bool      `json:"ballasted,omitempty" help:"a ballast or a resistance wire is in the feed"`
	State      string    `json:"state" need:"yes" enum:"closed|cranking" help:"closed: ignition on, points closed, engine still; cranking: starter turning"`
	Readings   []Reading `json:"readings" need:"yes" minItems:"2" maxItems:"20" help:"the volts, battery first; leave out what was not measured"`
	CurrentA   *float64  `json:"currentA,omitempty" over:"0" max:"40" unit:"amperes" help:"coil current by a meter; else worked out from coil or ballast ohms"`
	CoilOhm    *float64  `json:"coilOhm,omitempty" over:"0" max:"20" unit:"ohms" help:"coil primary, cold, disconnected"`
	BallastOhm *float64  `json:"ballastOhm,omitempty" over:"0" max:"20" unit:"ohms" help:"ballast, cold, disconnected"`
	MeterV     *float64  `json:"meterErrorV,omitempty" min:"0" max:"1" unit:"volts" help:"how far the meter may be out between two readings; 0.02 unless said"`
}

// Stretch is what lies between two measured places.
type Stretch struct {
	From    string   `json:"from" help:"place it begins at"`
	To      string   `json:"to" help:"place it ends at; earthPost is the battery's earth post"`
	Name    string   `json:"name" help:"what lies in it"`
	DropV   float64  `json:"dropV" unit:"volts" help:"volts lost in it"`
	Ohm     *float64 `json:"ohm" unit:"ohms" help:"its resistance; null while the current is not known"`
	LimitV  *float64 `json:"limitV" unit:"volts" help:"the most it may lose; null for coil and ballast, which are meant to"`
	Source  string   `json:"source,omitempty" help:"where the limit comes from"`
	Verdict string   `json:"verdict" enum:"pass|watch|fail|unknown" help:"against the limit: watch to twice it"`
}

// JudgeOut is the verdict on the way.
type JudgeOut struct {
	Stretches []Stretch    `json:"stretches" help:"each stretch between two measured places, battery to earth post"`
	CurrentA  *float64     `json:"currentA" unit:"amperes" help:"the current used; null when it is not known"`
	CurrentBy string       `json:"currentBy" help:"how the current was found"`
	FeedV     *float64     `json:"feedV" unit:"volts" help:"volts at the coil's feed; null when not measured"`
	FeedDropV *float64     `json:"feedDropV" unit:"volts" help:"battery less coil feed"`
	Guilty    string       `json:"guilty" help:"place the guilty stretch begins at; empty when none is"`
	Findings  finding.List `json:"findings" help:"what is concluded, weightiest first"`
	Ask       []string     `json:"ask" help:"questions only the person can answer"`
	Verdict   string       `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary   string       `json:"summary" help:"the whole in one sentence"`
	Working   []string     `json:"working" help:"the rules with this car's figures in them"`
	Sources   []string     `json:"sources" help:"where the rules come from"`
}

// Judge walks from the battery to the points and back to the battery's earth
// post. Drop = volts before less volts after; resistance = drop / current. A
// connection may lose 0.1 V, the body's fixing 0.05 V, the whole feed without
// ballast 0.3 V; battery to coil with ballast 4.5 to 6.9 V (12 V cars, points
// closed), the starting bypass 0.1 V while cranking. The stretch furthest over
// its limit, as a multiple, is the faulty one. Limits for connections are the
// same for 6 and 12 V, because the current is much the same. Readings may be
// all negative (positive earth, or the meter turned round). Refused: 6 or 12
// only, a place twice, mixed signs, ballast places without a ballast, and
// readings of which none is the battery. Sources: US Navy NAVEDTRA 14329
// fig 6-48; the rest common practice, said at each.
func Judge(in JudgeIn) (JudgeOut, error) {
	c := &court{in: in, err: 0.02, out: JudgeOut{Stretches: []Stretch{}, Findings: finding.List{}, Ask: []string{},
		Working: []string{}, Sources: []string{}, Verdict: finding.Pass}}
	if in.MeterV != nil {
		c.err = *in.MeterV
	}
	if bad := c.gather(); bad != nil {
		return JudgeOut{}, bad
	}
	c.walk()
	if !c.noCurrent() {
		c.limits()
	}
	c.battery()
	c.feed()
	c.conclude()
	return c.out, nil
}

// court holds one case while it is judged.
type court struct {
	in    JudgeIn
	volts map[int]float64 // by place on the way, always positive
	order []int           // the measured places, battery first, earth post last
	err   float64
	idle  bool // no current flows, or not at the points
	out   JudgeOut
}

// gather reads the volts, whichever way round the meter was.
func (c *court) gather() *refuse.Error {
	if c.in.NominalV != 6 && c.in.NominalV != 12 {
		return refuse.Input("nominalV", fmt.Sprintf("%g V is no system this knows", c.in.NominalV), "6 or 12",
			"give the car's nominal volts, not what was measured")
	}
	c.volts = map[int]float64{len(way) - 1: 0}
	sign := 0.0
	for i, r := range c.in.Readings {
		field := fmt.Sprintf("readings[%d]", i)
		at := index(r.At)
		if _, twice := c.volts[at]; twice {
			return refuse.Input(field+".at", "“"+way[at].name+"” is given twice", "each place once",
				"keep the reading you trust")
		}
		if !c.in.Ballasted && (r.At == "ballastIn" || r.At == "ballastOut") {
			return refuse.Input(field+".at", "a reading at a ballast, but the car is said to have none",
				"no ballast places without a ballast", "correct ballasted, or leave the reading out")
		}
		if math.Abs(r.Volts) > c.err {
			if sign != 0 && sign != math.Copysign(1, r.Volts) {
				return refuse.Input(field+".volts", "some readings are positive and some negative", "all of one sign",
					"leave the meter's one lead on the battery's earth post throughout")
			}
			sign = math.Copysign(1, r.Volts)
		}
		c.volts[at] = math.Abs(r.Volts)
	}
	for i := range way {
		if _, measured := c.volts[i]; measured {
			c.order = append(c.order, i)
		}
	}
	if c.order[0] != 0 {
		return refuse.Input("readings", "there is no reading at the battery", "the battery's live post among them",
			"measure there too, in the same state: every drop is counted from it")
	}
	c.say("Measured against the battery's earth post, %s earth; sizes only, whichever way round the meter was.",
		c.in.Earth)
	return nil
}

func (c *court) say(format string, a ...any) {
	c.out.Working = append(c.out.Working, fmt.Sprintf(format, a...))
}

func (c *court) find(verdict string, f finding.Finding) {
	c.out.Verdict, f.Verdict = finding.Worse(c.out.Verdict, verdict), verdict
	c.out.Findings.Add(f)
}
