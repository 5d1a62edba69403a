package advance

import (
	"fmt"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// JudgeIn is what the book says and what was measured.
type JudgeIn struct {
	Spec     Spec `json:"spec" need:"yes" help:"what the book says"`
	Readings Sets `json:"readings" need:"yes" maxItems:"50" help:"one set of readings or a list of them"`
}

// JudgedPoint is one reading held against the book. Where base is excluded,
// measured, min and max are advance alone, without base.
type JudgedPoint struct {
	Set                  int     `json:"set" help:"index of its set"`
	Point                int     `json:"point" help:"index of the reading in its set"`
	EngineRPM            float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	Direction            string  `json:"direction" enum:"rising|falling" help:"speed rising or falling"`
	Base                 string  `json:"base" enum:"included|excluded" help:"whether measured, min and max hold the base"`
	MeasuredCrankDeg     float64 `json:"measuredCrankDeg" unit:"crank degrees" help:"what was read"`
	MinCrankDeg          float64 `json:"minCrankDeg" unit:"crank degrees" help:"least the book allows"`
	MaxCrankDeg          float64 `json:"maxCrankDeg" unit:"crank degrees" help:"most the book allows"`
	DeviationCrankDeg    float64 `json:"deviationCrankDeg" unit:"crank degrees" help:"how far outside the book's band, high positive; 0 inside"`
	ReadingErrorCrankDeg float64 `json:"readingErrorCrankDeg" unit:"crank degrees" help:"how far the band is widened before a point fails"`
	Held                 bool    `json:"held,omitempty" help:"the speed lies outside the book's table"`
	Silent               bool    `json:"silent,omitempty" help:"the speed lies below the book's first, where it says nothing: min is the base without advance less its tolerance, max the first speed's, and only beyond them is a fail"`
	Verdict              string  `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass inside the band, watch within reading error of it, fail beyond; unknown where the set cannot be compared"`
	Alone                bool    `json:"alone,omitempty" help:"stands alone among its neighbours: to be taken again before it is believed"`
	BaseOffVerdict       string  `json:"baseOffVerdict,omitempty" enum:"pass|watch|fail|unknown" help:"the same with counts.baseOffCrankDeg taken off a reading that holds the base; left out when nothing is taken off"`
}

// Explanation is one of two or more accounts that fit the readings alike.
type Explanation struct {
	Code string `json:"code" help:"name of the account"`
	Text string `json:"text" help:"the account in words"`
	Test string `json:"test" help:"the measurement that tells it from the others"`
}

// JudgeOut is the verdict and its reasons.
type JudgeOut struct {
	Points             []JudgedPoint `json:"points" help:"each reading against the book"`
	Counts             Counts        `json:"counts" help:"how many readings are in the band: inside it, or out of it by no more than the reading error"`
	Bands              []BandPoint   `json:"bands" help:"the book's band at its own speeds"`
	BaseOffsetCrankDeg *float64      `json:"baseOffsetCrankDeg" unit:"crank degrees" help:"measured base less book base, later negative; null when the readings do not tell"`
	BaseCrankDeg       *float64      `json:"baseCrankDeg" unit:"crank degrees before TDC" help:"the base as it stands; null when the readings do not tell"`
	BaseLowCrankDeg    *float64      `json:"baseLowCrankDeg" unit:"crank degrees before TDC" help:"the base is hardly lower than this"`
	BaseHighCrankDeg   *float64      `json:"baseHighCrankDeg" unit:"crank degrees before TDC" help:"the base is hardly higher than this"`
	Basis              string        `json:"basis" help:"how the base was found"`
	Shape              string        `json:"shape" enum:"in-band|base-only|early|late|stuck|over-limit|under-limit|sticking|mixed" help:"what is wrong with the curve once the base is set aside"`
	HysteresisDistDeg  *float64      `json:"hysteresisDistDeg" unit:"distributor degrees" help:"falling less rising at one speed; null without falling readings"`
	Suspicion          string        `json:"suspicion" enum:"none|angle-doubled|angle-halved|speed-doubled|speed-halved|base-twice|base-missing|vacuum-connected" help:"a mistake the readings as entered look like"`
	Findings           finding.List  `json:"findings" help:"what is concluded, weightiest first"`
	Explanations       []Explanation `json:"explanations" help:"accounts that fit alike, when there are two or more"`
	Ask                []string      `json:"ask" help:"questions only the person can answer"`
	Verdict            string        `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary            string        `json:"summary" help:"the whole in one sentence"`
	Working            []string      `json:"working" help:"the rules with this car's figures in them"`
	Sources            []string      `json:"sources" help:"where the rules come from"`
}

// Judge holds readings against the book's band. A constant offset (the base,
// the body of the distributor turned) is always separated from the shape of
// the curve (springs, posts, stop, friction):
//
//	deviation = measured − nearer edge of the band, 0 inside
//	pass: inside; watch: within the stated reading error; fail: beyond
//
// The shape is read from bench readings when there are any, because they hold
// no base; from the car's readings less the base where a static figure was
// proved; else from the car's readings under each base that would leave a
// single clean fault, and where two such accounts fit, both are given with
// the test that tells them apart. Readings at one speed have no shape. A static
// figure that the car's readings speak against is not dropped: both are said,
// the base is left unknown, and nothing is to be turned.
//
// Refused: what Expect refuses; readings and a table that do not both hold
// the base when the book's base is missing. Sources: the rules are common
// practice and stand with each finding; the arithmetic is the spec's own.
func Judge(in JudgeIn) (JudgeOut, error) {
	c, bad := hear(in.Spec, in.Readings)
	if bad != nil {
		return JudgeOut{}, bad
	}
	c.findSuspicion()
	c.conclude()
	return c.out, nil
}

// hear takes the evidence: readings against the book, base, friction, shape.
func hear(spec Spec, sets Sets) (*court, *refuse.Error) {
	if bad := sets.check(); bad != nil {
		return nil, bad
	}
	b, bad := bandOf(spec)
	if bad != nil {
		return nil, bad
	}
	c := &court{spec: spec, band: b, sets: sets}
	if bad := c.gather(); bad != nil {
		return nil, bad
	}
	c.findBase()
	c.findHysteresis()
	c.findShape()
	c.countInBand()
	return c, nil
}

// court holds one case while it is judged. The steps run in the order of
// Judge; each reads what the ones before it wrote.
type court struct {
	spec   Spec
	band   *band
	sets   Sets
	usable []reading // readings that may be compared: vacuum not connected
	out    JudgeOut

	base       baseFinding
	hysteresis *hysteresis
	shape      shapeFinding
	suspect    suspicion
	idleApart  bool         // idle figures that cannot belong to one base
	lamp       *float64     // the static figure, where one was proved and no other differs
	clash      *clash       // two measurements of the base that cannot both be right
	ringOff    bool         // the whole bench run stands off by one amount: its ring, not the unit
	carRight   bool         // beside such a ring the car's readings lie in the band
	wander     *baseFinding // bench and car leave no one base: they do not tell the same curve
	otherShaft bool         // with the book's speeds taken as the other shaft's, the readings would lie in the band
}

// gather converts the readings, compares each, and keeps the usable ones.
func (c *court) gather() *refuse.Error {
	c.out = JudgeOut{Points: []JudgedPoint{}, Bands: []BandPoint{}, Findings: finding.List{}, Explanations: []Explanation{}, Ask: []string{}, Suspicion: "none"}
	for i, set := range c.sets {
		if bad := c.band.need(set.Base == "included"); bad != nil && len(set.Points) > 0 {
			return bad
		}
		first := len(c.out.Points)
		c.out.Points = append(c.out.Points, make([]JudgedPoint, len(set.Points))...)
		for _, r := range set.inCrank(i, c.band.ratio) {
			c.out.Points[first+r.point] = c.compare(r, set)
			if set.Vacuum != "connected" {
				c.usable = append(c.usable, r)
			}
		}
	}
	if len(c.band.total) > 0 {
		for _, k := range c.band.total {
			c.out.Bands = append(c.out.Bands, c.band.point(k.rpm))
		}
	}
	return nil
}

func (c *court) compare(r reading, set Set) JudgedPoint {
	low, high, held := c.band.at(r.rpm, r.withBase)
	p := JudgedPoint{Set: r.set, Point: r.point, EngineRPM: r.rpm, Direction: r.direction(), Base: set.Base, MeasuredCrankDeg: r.deg,
		MinCrankDeg: low, MaxCrankDeg: high, DeviationCrankDeg: outside(r.deg, low, high), ReadingErrorCrankDeg: r.err, Held: held, Silent: c.band.silent(r.rpm)}
	p.Verdict = pointVerdict(p.DeviationCrankDeg, r.err)
	if set.Vacuum == "connected" {
		p.Verdict = "unknown"
	}
	return p
}

// rounding keeps a reading that stands exactly on an edge from failing by the
// last bit of a conversion, crank degrees; chosen far below any instrument.
const rounding = 1e-6

func pointVerdict(deviation, readingError float64) string {
	switch d := abs(deviation); {
	case d <= rounding:
		return "pass"
	case d <= readingError+rounding:
		return "watch"
	}
	return "fail"
}

// outside is how far x lies beyond the nearer edge, 0 inside.
func outside(x, low, high float64) float64 {
	switch {
	case x > high:
		return x - high
	case x < low:
		return x - low
	}
	return 0
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// before says an angle with its side of top dead centre.
func before(crankDeg float64) string {
	switch {
	case crankDeg <= -0.05:
		return fmt.Sprintf("%.1f° after TDC", -crankDeg)
	case crankDeg < 0.05:
		return "at TDC"
	}
	return fmt.Sprintf("%.1f° before TDC", crankDeg)
}
