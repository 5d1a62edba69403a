package advance

import "fmt"

// Allow says what may be touched; everything but the weights unless said.
type Allow struct {
	PrimarySpring   *bool `json:"primarySpring,omitempty" help:"another primary spring may be fitted; true unless said"`
	SecondarySpring *bool `json:"secondarySpring,omitempty" help:"another secondary spring may be fitted; true unless said"`
	PrimaryPost     *bool `json:"primaryPost,omitempty" help:"the primary post may be bent; true unless said"`
	SecondaryPost   *bool `json:"secondaryPost,omitempty" help:"the secondary post may be bent; true unless said"`
	Stop            *bool `json:"stop,omitempty" help:"the limit may be changed; true unless said"`
	Weights         *bool `json:"weights,omitempty" help:"other weights may be fitted; they never are: readings cannot tell them from springs"`
	Base            *bool `json:"base,omitempty" help:"the body may be turned; true unless said"`
	// Spring ratios that can be had.
	PrimarySpringRatio   []float64 `json:"primarySpringRatio,omitempty" min:"0.1" max:"10" minItems:"2" maxItems:"2" unit:"ratio" help:"softest and stiffest primary spring to be had against the one in it; 0.25 to 4 unless said"`
	SecondarySpringRatio []float64 `json:"secondarySpringRatio,omitempty" min:"0.1" max:"10" minItems:"2" maxItems:"2" unit:"ratio" help:"softest and stiffest secondary spring to be had; 0.25 to 4 unless said"`
	// Parts at hand.
	PrimarySprings   []float64 `json:"primarySprings,omitempty" min:"0.1" max:"10" maxItems:"20" unit:"ratio" help:"primary springs at hand, each against the one in it, by stretch under one weight; any that can be had unless said"`
	SecondarySprings []float64 `json:"secondarySprings,omitempty" min:"0.1" max:"10" maxItems:"20" unit:"ratio" help:"secondary springs at hand; any that can be had unless said"`
	StopsDistDeg     []float64 `json:"stopsDistDeg,omitempty" min:"0" max:"25" maxItems:"20" unit:"distributor degrees" help:"stops at hand, where the book names none; any unless said"`
}

// PrescribeIn is the book, the readings, and what may be touched.
type PrescribeIn struct {
	Spec     Spec   `json:"spec" need:"yes" help:"what the book says"`
	Readings Sets   `json:"readings" need:"yes" maxItems:"50" help:"one set of readings or a list of them"`
	Allow    Allow  `json:"allow,omitempty" help:"what may be touched"`
	Work     []Work `json:"work,omitempty" maxItems:"200" help:"what was changed between the sets, as advance.judge takes it"`
}

// MendChange is a change of the governor, and the base where the body is to
// be turned.
type MendChange struct {
	Change
	Replace      []string `json:"replace,omitempty" help:"primary or secondary: that spring is to be fitted new, as the book names it; no ratio says what one that is lost needs"`
	BaseCrankDeg *float64 `json:"baseCrankDeg,omitempty" unit:"crank degrees before TDC" help:"set the base to this, static"`
}

// Expected is what should be read after the repair.
type Expected struct {
	EngineRPM   float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	Direction   string  `json:"direction,omitempty" enum:"rising|falling" help:"where a reading taken is expected again: the way its speed was going"`
	Doubtful    bool    `json:"doubtful,omitempty" help:"the reading stood alone: it is not expected to repeat but to be taken again"`
	DistRPM     float64 `json:"distRPM" unit:"distributor rpm" help:"the same speed at the distributor"`
	DistDeg     float64 `json:"distDeg" unit:"distributor degrees" help:"advance, without base: what the bench should show"`
	CrankDeg    float64 `json:"crankDeg" unit:"crank degrees" help:"total before TDC where the book's base is known, else advance alone: what the car should show"`
	MinCrankDeg float64 `json:"minCrankDeg" unit:"crank degrees" help:"least the book allows"`
	MaxCrankDeg float64 `json:"maxCrankDeg" unit:"crank degrees" help:"most the book allows"`
	Verdict     string  `json:"verdict" enum:"pass|watch|fail" help:"pass inside, watch within reading error, fail beyond"`
}

// Stage is one step of a repair that changes the curve, and what is to be read
// after it, before the next.
type Stage struct {
	Step     string       `json:"step" help:"what to do"`
	Change   MendChange   `json:"change" help:"all that is changed by then"`
	Read     string       `json:"read" help:"what should be read after it, in the units and at the speeds the readings were taken in"`
	Expected []Expected   `json:"expected" help:"what should be read after it"`
	Curve    []CurvePoint `json:"curve" help:"frictionless curve after it"`
}

// Option is one way to bring the curve in.
type Option struct {
	Rank        int          `json:"rank" help:"1 comes first"`
	Change      MendChange   `json:"change" help:"what is changed, in the form advance.whatif takes"`
	Steps       []string     `json:"steps" help:"what to do, in order"`
	Stages      []Stage      `json:"stages" help:"the steps that change the curve, with what is to be read after each"`
	Expected    []Expected   `json:"expected" help:"what should be read afterwards, at the book's speeds and those that were read"`
	Curve       []CurvePoint `json:"curve" help:"frictionless curve afterwards"`
	Verdict     string       `json:"verdict" enum:"pass|watch|fail" help:"the curve afterwards against the book"`
	InBookShare float64      `json:"inBookShare" help:"in how many of the governors that fit the readings the curve then lies in the book's rows, as a share of 1"`
	Scale       string       `json:"scale,omitempty" help:"how to measure the new spring against the old one on a kitchen scale; left out where no spring is to be chosen"`
	Why         string       `json:"why" help:"why this is ranked where it is"`
	BodyOnly    bool         `json:"bodyOnly,omitempty" help:"the body is turned and nothing is opened"`
	Effort      float64      `json:"effort" help:"the work it takes: 1 is bending one post a little"`
}

// PrescribeOut is the ways to repair, the first to try first.
type PrescribeOut struct {
	Options  []Option `json:"options" help:"ways to bring the curve into the band; empty when nothing is needed, or nothing may be said yet"`
	Verdict  string   `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass where advance.judge passes, watch when a repair exists, fail when what is named may not be touched or no repair of it helps, unknown while nothing is named"`
	Summary  string   `json:"summary" help:"the whole in one sentence"`
	Model    Model    `json:"model" help:"the governor as found: of those drawn the one nearest their middle"`
	Cautions []string `json:"cautions" help:"read before the first step"`
	Working  []string `json:"working" help:"how the repair was found"`
	Sources  []string `json:"sources" help:"where the rules come from"`
}

// Prescribe says how to bring the curve into the book, from the same posterior
// that Judge names parts from. Only parts named there (a share of three
// quarters or more) are touched, and all that is prescribed is drawn from the
// governors under which they are at fault:
//
//	amount = the one under which the largest share of those governors lies
//	         within a quarter of a distributor degree of the book's rows
//
// and nearest mid-band where that leaves a choice. One thing is changed at a
// time, the curve from low to top, the base last, and read again after each.
// What drags or is seized is freed and no spring touched; a lost spring is
// replaced by the book's and never reckoned in ratios; a base that alone is off
// is set and nothing opened; a bench zero that moved is set first.
//
// Nothing is prescribed where the judgement passes; while figures, pipe or two
// curves in one are in doubt; while a lamp's figure is a slip; nor where no part
// is named: then the summary gives the next reading.
//
// Refused: what Judge and Expect refuse; a table that holds the base when the
// base is not known. Source: the force balance of Model; the order of work is
// common practice.
func Prescribe(in PrescribeIn) (PrescribeOut, error) {
	j, bad := judged(in.Spec, in.Readings, in.Work)
	if bad != nil {
		return PrescribeOut{}, bad
	}
	if bad := j.band.need(false); bad != nil {
		return PrescribeOut{}, bad
	}
	r := newRepair(j, in.Allow)
	out := PrescribeOut{Options: []Option{}, Model: r.model(), Cautions: openingCautions,
		Sources: []string{"force balance: T. Bevan, Theory of Machines, ch 13", "order of work: common practice"}}
	verdict := j.verdict()
	switch held := r.held(verdict); {
	case verdict == "pass":
		out.Verdict = "pass"
		out.Summary = "The curve as read lies in the book's band, within the reading error; springs, posts and stop " +
			"need nothing."
	case held != "":
		out.Verdict, out.Summary = "unknown", held
		if len(j.slipped) > 0 {
			out.Cautions = append([]string{clashCaution}, out.Cautions...)
		}
	case len(r.parts) == 0 && !r.drags() && !r.wrongUnit:
		r.baseFirst(&out)
	default:
		r.fill(&out)
	}
	return out, nil
}

var openingCautions = []string{
	"Battery earth lead off and coil feed off before the distributor is opened or taken out; mark rotor and body first.",
	"On the bench keep hands, sleeves and hair clear of the chuck. On the car keep clear of fan and belts: under a " +
		"strobe they look still.",
	"Too much advance can break pistons and rings. The car's own manual and local rules come first; where in " +
		"doubt, licensed practice does the work.",
}

var bodyCautions = []string{
	"Stop the engine before the clamp is loosened. Tighten it lightly, so that the body just turns by hand; then start. High tension " +
		"throws the hand.",
	"Under a strobe fan, belts and pulleys look still; they are not. Keep hands, leads and sleeves out of their line.",
	"Back off at the first knock. The car's own manual and local rules come first; where in doubt, licensed " +
		"practice does the work.",
}

// held says why nothing is prescribed yet, or "" where something may be.
func (r *repair) held(verdict string) string {
	switch {
	case verdict == "pass":
		return ""
	case r.doubt() >= 0.5:
		return "Nothing is prescribed while the figures themselves are in doubt. " + r.report().Summary
	case len(r.slipped) > 0:
		return r.lampHeld()
	case r.element("seized") >= likelyShare:
		return "Nothing is prescribed while the advance does not move. Free it first: clean and oil the weights, " +
			"their pivots and the cam sleeve " +
			"until the rotor, twisted in its running direction and let go, springs back fully; then read again, up and " +
			"down. No spring is touched for this."
	case r.sum(r.shares, isBench) >= likelyShare:
		return "Nothing is prescribed: the whole bench run stands off by one amount. Zero the ring again below the " +
			"start of the advance and repeat the run first."
	case r.drags() || len(r.parts) > 0 || r.wrongUnit:
		return ""
	case r.baseNamed() != "" && r.band.base != nil && r.base.known() && abs(r.base.value-*r.band.base) <= r.carError():
		return fmt.Sprintf("Nothing is prescribed: the readings ask for a turn of %.1f°, less than the reading error. "+
			"Read again with the speed settled.", abs(r.base.value-*r.band.base))
	case r.baseNamed() != "" && r.band.base != nil && r.base.known():
		return ""
	case len(r.outliers) > 0 && r.shares["sound"] >= 0.5:
		return fmt.Sprintf("Nothing is prescribed while one reading stands alone. Take the reading at %s, "+
			"again first; %s.", r.points[r.outliers[0]].name(), r.counts.words())
	}
	out := r.report()
	next := wording{r.judgement, &out}.testWords()
	return "Nothing is prescribed: no one part is shown to be at fault. Next reading: " + lowerFirst(next)
}

// carError is the stated error of the readings that hold the base, crank degrees.
func (j *judgement) carError() float64 {
	e := 0.0
	for _, r := range j.usable {
		if r.withBase {
			e = max(e, r.err)
		}
	}
	return e
}

// lampHeld: a lamp's figure and the readings cannot both be right.
func (r *repair) lampHeld() string {
	words := "Nothing is prescribed: " + lowerFirst(r.report().Summary)
	if len(r.static) > 1 {
		return words + " Prove the static timing with the test lamp again first."
	}
	return words + " Prove true TDC with a positive stop, then the test lamp again, then the strobe with the pipe off " +
		"and plugged."
}
