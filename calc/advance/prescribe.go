package advance

import (
	"fmt"
	"slices"
)

// Allow says what may be touched; everything but the weights unless said.
type Allow struct {
	PrimarySpring   *bool `json:"primarySpring,omitempty" help:"another primary spring may be fitted; true unless said"`
	SecondarySpring *bool `json:"secondarySpring,omitempty" help:"another secondary spring may be fitted; true unless said"`
	PrimaryPost     *bool `json:"primaryPost,omitempty" help:"the primary post may be bent; true unless said"`
	SecondaryPost   *bool `json:"secondaryPost,omitempty" help:"the secondary post may be bent; true unless said"`
	Stop            *bool `json:"stop,omitempty" help:"the limit may be changed; true unless said"`
	Weights         *bool `json:"weights,omitempty" help:"other weights may be fitted; false unless said"`
	Base            *bool `json:"base,omitempty" help:"the body may be turned; true unless said"`
	// Spring ratios that can be had.
	PrimarySpringRatio   []float64 `json:"primarySpringRatio,omitempty" min:"0.1" max:"10" minItems:"2" maxItems:"2" unit:"ratio" help:"softest and stiffest primary spring to be had against the one in it; 0.25 to 6 unless said"`
	SecondarySpringRatio []float64 `json:"secondarySpringRatio,omitempty" min:"0.1" max:"10" minItems:"2" maxItems:"2" unit:"ratio" help:"softest and stiffest secondary spring to be had; 0.25 to 6 unless said"`
}

// PrescribeIn is the book, the readings, and what may be touched.
type PrescribeIn struct {
	Spec     Spec  `json:"spec" need:"yes" help:"what the book says"`
	Readings Sets  `json:"readings" need:"yes" maxItems:"50" help:"one set of readings or a list of them"`
	Allow    Allow `json:"allow,omitempty" help:"what may be touched"`
}

// MendChange is a change of the governor, and the base where the body is to
// be turned.
type MendChange struct {
	Change
	BaseCrankDeg *float64 `json:"baseCrankDeg,omitempty" unit:"crank degrees before TDC" help:"set the base to this, static"`
}

// Expected is what should be read after the mend.
type Expected struct {
	EngineRPM   float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	Direction   string  `json:"direction,omitempty" enum:"rising|falling" help:"where a reading taken is expected again: the way its speed was going"`
	Doubtful    bool    `json:"doubtful,omitempty" help:"the reading stood alone: it is not expected to repeat but to be taken again"`
	DistRPM     float64 `json:"distRPM" unit:"distributor rpm" help:"the same speed at the distributor"`
	DistDeg     float64 `json:"distDeg" unit:"distributor degrees" help:"advance, without base"`
	CrankDeg    float64 `json:"crankDeg" unit:"crank degrees" help:"total before TDC where the book's base is known, else advance alone"`
	MinCrankDeg float64 `json:"minCrankDeg" unit:"crank degrees" help:"least the book allows"`
	MaxCrankDeg float64 `json:"maxCrankDeg" unit:"crank degrees" help:"most the book allows"`
	Verdict     string  `json:"verdict" enum:"pass|watch|fail" help:"pass inside, watch within reading error, fail beyond"`
}

// Option is one way to bring the curve in.
type Option struct {
	Rank     int          `json:"rank" help:"1 is the least work"`
	Change   MendChange   `json:"change" help:"what is changed, in the form advance.whatif takes"`
	Steps    []string     `json:"steps" help:"what to do, in order"`
	Expected []Expected   `json:"expected" help:"what should be read afterwards at the book's own speeds"`
	Curve    []CurvePoint `json:"curve" help:"frictionless curve afterwards"`
	Verdict  string       `json:"verdict" enum:"pass|watch|fail" help:"the curve afterwards against the book"`
	Why      string       `json:"why" help:"why this is ranked where it is"`
	BodyOnly bool         `json:"bodyOnly,omitempty" help:"the body is turned and nothing is opened"`
	Effort   float64      `json:"effort" help:"the work it takes: 1 is bending one post a little"`
}

// PrescribeOut is the ways to mend, least work first.
type PrescribeOut struct {
	Options  []Option `json:"options" help:"ways to bring the curve into the band, least work first; empty when nothing is needed or nothing helps"`
	Verdict  string   `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass when the curve is in already, watch when a mend exists, fail when no change of springs, posts or stop can"`
	Summary  string   `json:"summary" help:"the whole in one sentence"`
	Model    Model    `json:"model" help:"the governor as found"`
	Cautions []string `json:"cautions" help:"read before the first step"`
	Working  []string `json:"working" help:"how the mend was found"`
	Sources  []string `json:"sources" help:"where the rules come from"`
}

// Prescribe looks for the smallest physical change that brings the curve into
// the book's band. It fits the governor (Fit), then tries every single change
// of primary post, primary spring, secondary post, secondary spring and stop,
// then every pair, then every three, each set to its best amount, and keeps
// those under which the model lies inside the band at the book's speeds
// and, within half the reading error, midway between them. Ways
// are ranked by work: a bent post before a new spring before another stop, a
// small amount before a large one.
//
// Nothing is prescribed while two accounts fit or a mistake of entry is the
// likelier story. A base that alone is off, or alone but for one doubtful
// reading, is set first and everything read again; what may be wrong inside is
// withheld until then. So it is while a lone reading is in doubt, while the
// lamp contradicts the strobe, while bench and car tell different curves, and
// while the advance does not move.
//
// Refused: what Fit and Expect refuse; a table that holds the base when the
// base is not known. Source: the force balance of Model; the order of work is
// common practice.
func Prescribe(in PrescribeIn) (PrescribeOut, error) {
	c, bad := hear(in.Spec, in.Readings)
	if bad != nil {
		return PrescribeOut{}, bad
	}
	if bad := c.band.need(false); bad != nil {
		return PrescribeOut{}, bad
	}
	run, bad := fitRun(FitIn{Readings: in.Readings, Spec: &in.Spec})
	if bad != nil {
		return PrescribeOut{}, bad
	}
	best, _ := problemOf(run.readings).solve()
	d := newDesk(in, c.band, best.model(), run.readings)
	out := PrescribeOut{Options: []Option{}, Model: d.model, Cautions: prescribeCautions, Sources: []string{"force balance: T. Bevan, Theory of Machines, ch 13", "order of work: common practice"}}
	c.findSuspicion()
	switch {
	case c.mistaken():
		out.Verdict = "unknown"
		out.Summary = "Nothing is prescribed while the figures themselves are in doubt: " + lowerFirst(suspicionTexts[c.suspect.name].title) + "."
	case len(c.out.Explanations) > 1:
		out.Verdict = "unknown"
		out.Summary = "Two accounts fit these readings; nothing is prescribed until one more measurement has decided between them. " + c.out.Explanations[0].Test
	case c.baseFirst():
		d.baseFirst(c, &out)
	case c.heldWhy() != "":
		out.Verdict, out.Summary = "unknown", c.heldWhy()
	case c.out.Shape == "in-band" && !d.friction() && (c.hysteresis == nil || c.hysteresis.distDeg <= hysteresisWatch):
		out.Verdict = "pass"
		out.Summary = "The curve as read lies in the book's band, within the reading error; springs, posts and stop need nothing."
	default:
		d.fill(&out)
	}
	out.Working = append([]string{"The governor as found: " + run.basis + "."}, out.Working...)
	return out, nil
}

var prescribeCautions = []string{
	"Battery earth lead off and coil feed off before the distributor is opened or taken out; mark rotor and body first.",
	"On the bench keep hands, sleeves and hair clear of the chuck. On the car keep clear of fan and belts: under a strobe they look still.",
	"Too much advance can break pistons and rings. The car's own manual and local rules come first; where in doubt, licensed practice does the work.",
}

// fill finds the options and says the whole in one sentence.
func (d *desk) fill(out *PrescribeOut) {
	if d.fits(d.model) && !d.friction() {
		out.Verdict = "pass"
		out.Summary = "The curve as found lies in the book's band; springs, posts and stop need nothing."
		return
	}
	found := d.search()
	slices.SortStableFunc(found, func(a, b attempt) int {
		switch {
		case a.effort < b.effort:
			return -1
		case a.effort > b.effort:
			return 1
		}
		return 0
	})
	var offered []attempt
	for _, a := range found {
		if o := d.option(len(out.Options)+1, a); o.Verdict != "fail" && len(out.Options) < 5 { // no mend is offered that is expected to fail
			out.Options, offered = append(out.Options, o), append(offered, a)
		}
	}
	out.Working = d.working()
	if len(offered) == 0 {
		out.Verdict = "fail"
		out.Summary = "No allowed change of springs, posts or stop, up to three at once, brings this curve into the book's band: the unit looks wrong for this car, or the table is another unit's."
		return
	}
	out.Verdict = "watch"
	ways := fmt.Sprintf("%d ways were found; the least work", len(out.Options))
	if len(out.Options) == 1 {
		ways = "One way was found"
	}
	out.Summary = fmt.Sprintf("%s: %s", ways, lowerFirst(offered[0].gist()))
}
