package advance

import (
	"fmt"
	"math"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// JudgeIn is what the book says and what was measured.
type JudgeIn struct {
	Spec     Spec   `json:"spec" need:"yes" help:"what the book says"`
	Readings Sets   `json:"readings" need:"yes" maxItems:"50" help:"one set of readings or a list of them"`
	Work     []Work `json:"work,omitempty" maxItems:"200" help:"what was changed between the sets: sets before and after are never one"`
}

// Work is something done to the unit between two sets.
type Work struct {
	At   int    `json:"at" min:"0" max:"49" help:"index of the first set that was read after it"`
	Part string `json:"part,omitempty" maxLen:"80" help:"the part"`
	What string `json:"what,omitempty" maxLen:"200" help:"what was done"`
	From string `json:"from,omitempty" maxLen:"80" help:"figure before"`
	To   string `json:"to,omitempty" maxLen:"80" help:"figure after"`
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
	MinCrankDeg          float64 `json:"minCrankDeg" unit:"crank degrees" help:"least a sound distributor through the book's rows shows at this speed"`
	MaxCrankDeg          float64 `json:"maxCrankDeg" unit:"crank degrees" help:"most it shows"`
	DeviationCrankDeg    float64 `json:"deviationCrankDeg" unit:"crank degrees" help:"how far outside that, high positive; 0 inside"`
	ReadingErrorCrankDeg float64 `json:"readingErrorCrankDeg" unit:"crank degrees" help:"how far the band is widened before a point fails"`
	Held                 bool    `json:"held,omitempty" help:"the speed lies outside the book's table"`
	Silent               bool    `json:"silent,omitempty" help:"the speed lies below the book's first, where it gives no figure: min and max are what is possible"`
	Verdict              string  `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass inside the band, watch within reading error of it, fail beyond; unknown where the set cannot be compared"`
	Alone                bool    `json:"alone,omitempty" help:"looks like a slip: to be taken again before it is believed"`
	BaseOffVerdict       string  `json:"baseOffVerdict,omitempty" enum:"pass|watch|fail|unknown" help:"the same with counts.baseOffCrankDeg taken off a reading that holds the base; left out when nothing is taken off"`
}

// Explanation is one of two or more accounts that fit the readings alike.
type Explanation struct {
	Code string `json:"code" help:"name of the account"`
	Text string `json:"text" help:"the account in words"`
	Test string `json:"test" help:"the measurement that tells it from the others"`
}

// Account is one story of how the readings came about, with its share of belief.
type Account struct {
	ID        string   `json:"id" help:"its elements, joined by +: sound, base-late, primary-early, stop-short and so on; other for none of these"`
	Share     float64  `json:"share" help:"how much of all belief it holds; the shares add up to 1"`
	Parts     []string `json:"parts" help:"the parts that it says are off"`
	Direction string   `json:"direction" help:"which way"`
	Title     string   `json:"title" help:"the account in a few words"`
	Text      string   `json:"text" help:"the account in a sentence"`
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
	Suspicion          string        `json:"suspicion" enum:"none|angle-doubled|angle-halved|angle-tenfold|angle-backwards|speed-doubled|speed-halved|speed-tenfold|speed-in-thousands|tachometer|columns-swapped|base-twice|base-missing|vacuum-connected" help:"a mistake the readings as entered look like"`
	Accounts           []Account     `json:"accounts" help:"the accounts that hold a hundredth of belief or more, the largest first, and other"`
	NextReadings       []NextReading `json:"nextReadings" help:"readings not yet taken that would best tell the accounts apart, the best first; empty where one account holds nearly all"`
	Findings           finding.List  `json:"findings" help:"what is concluded, weightiest first"`
	Explanations       []Explanation `json:"explanations" help:"accounts that fit alike, when there are two or more"`
	Ask                []string      `json:"ask" help:"questions only the person can answer"`
	Verdict            string        `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary            string        `json:"summary" help:"the whole in one sentence"`
	Working            []string      `json:"working" help:"the rules with this car's figures in them"`
	Sources            []string      `json:"sources" help:"where the rules come from"`
}

// Judge weighs accounts of the readings against each other: a sound unit that
// the book allows, a changed spring, post or stop, a moved base, a mistake of
// entry, and the pairs of them that happen. All readings speak: bench and car,
// rising and falling, the lamp's figure. Each account's share of belief is
//
//	share = prior × ∫ likelihood of all readings over the governors the book
//	        allows and the sizes the change may have, over the sum of all
//
// (package infer). A part is named only where its share is three quarters or
// more; sure is 97 in 100, likely 75, possible less. Where no part is named, the
// accounts stand side by side with the reading that would tell them apart.
//
// Each reading also stands against what sound governors through the book's
// rows can show at its speed: pass inside, watch within the stated reading
// error, fail beyond.
//
// Refused: what Expect refuses; readings and a table that do not both hold
// the base when the book's base is missing. Sources: with each finding; the
// beliefs beforehand stand with their basis in package infer.
func Judge(in JudgeIn) (JudgeOut, error) {
	j, bad := judged(in.Spec, in.Readings, in.Work)
	if bad != nil {
		return JudgeOut{}, bad
	}
	return j.report(), nil
}

// judged runs the stages up to the report.
func judged(spec Spec, sets Sets, work []Work) (*judgement, *refuse.Error) {
	e, bad := gather(spec, sets)
	if bad != nil {
		return nil, bad
	}
	e.afterWork(work)
	return weigh(e), nil
}

// afterWork leaves out what was read before the last work: it is another unit.
func (e *evidence) afterWork(work []Work) {
	last := 0
	for _, w := range work {
		last = max(last, w.At)
	}
	if last == 0 || last >= len(e.sets) {
		return
	}
	kept := func(set int) bool { return set >= last }
	e.usable = pick(e.usable, func(r reading) bool { return kept(r.set) })
	e.asked = thinned(e.usable)
	var static []staticFigure
	for _, s := range e.static {
		if kept(s.set) {
			static = append(static, s)
		}
	}
	e.static = static
}

// judgement is evidence weighed. It is made once and then only read.
type judgement struct {
	*evidence
	result   *infer.Result
	units    []infer.Drawn
	shares   map[string]float64 // by account; what may be claimed under this book
	points   []JudgedPoint
	counts   Counts
	base     baseFigure
	lag      *hysteresis
	outliers []int // of points
	slipped  []int // of static figures
	sparse   bool  // the book has too few rows to tell a part inside
}

// weigh is the second stage: shares, base, points.
func weigh(e *evidence) *judgement {
	j := &judgement{evidence: e, result: infer.Infer(e.problem())}
	j.units = j.result.Units()
	j.claim()
	j.lag = e.hysteresis()
	j.base = j.findBase()
	j.points = e.compared()
	j.findOutliers()
	j.countInBand()
	return j
}

// tellingRows is how few rows a book may have and still tell which part inside
// is off: between two rows a governor may run anyhow.
const tellingRows = 3

// claim takes the shares, and under a book of one or two rows leaves the parts
// inside what such a book can tell: something is off, not which.
func (j *judgement) claim() {
	j.shares = map[string]float64{}
	for id, share := range j.result.Shares {
		j.shares[id] = share
	}
	if len(j.spec.Points) >= tellingRows {
		return
	}
	inside := j.sum(j.shares, isInside)
	if inside <= mostUntold {
		return
	}
	j.sparse = true
	for id, share := range j.shares {
		if isInside(id) {
			j.shares[id] = share * mostUntold / inside
			j.shares["other"] += share - j.shares[id]
		}
	}
}

// mostUntold is the most that parts inside may hold together under a book of
// one or two rows: less than likely.
const mostUntold = 0.74

func (j *judgement) sum(shares map[string]float64, is func(id string) bool) float64 {
	sum := 0.0
	for id, share := range shares {
		if is(id) {
			sum += share
		}
	}
	return sum
}

// element is the share of all accounts that hold an element.
func (j *judgement) element(name string) float64 {
	return j.sum(j.shares, func(id string) bool { return holds(id, name) })
}

// compared holds each reading against what sound governors can show.
func (e *evidence) compared() []JudgedPoint {
	var points []JudgedPoint
	var all []reading
	for i, set := range e.sets {
		all = append(all, set.inCrank(i, e.band.ratio)...)
	}
	speeds := make([]float64, len(all))
	at := make([]int, len(e.sets)+1)
	for i, r := range all {
		speeds[i] = r.rpm
		at[r.set+1]++
	}
	for i := 1; i < len(at); i++ {
		at[i] += at[i-1]
	}
	points = make([]JudgedPoint, len(all))
	for i, k := range e.band.allowed(e.spec, speeds) {
		r := all[i]
		points[at[r.set]+r.point] = e.comparedTo(r, k)
	}
	return points
}

func (e *evidence) comparedTo(r reading, k knot) JudgedPoint {
	set := e.sets[r.set]
	if r.withBase {
		k = e.band.allowedTotal(k)
	} else {
		k = e.band.allowedAlone(k)
	}
	p := JudgedPoint{Set: r.set, Point: r.point, EngineRPM: r.rpm, Direction: r.direction(), Base: set.Base,
		MeasuredCrankDeg: r.deg,
		MinCrankDeg:      k.low, MaxCrankDeg: k.high, DeviationCrankDeg: outside(r.deg, k.low, k.high),
		ReadingErrorCrankDeg: r.err,
		Held:                 e.band.outsideTable(r.rpm), Silent: e.band.silent(r.rpm)}
	p.Verdict = pointVerdict(p.DeviationCrankDeg, r.err)
	if set.Vacuum == "connected" {
		p.Verdict = "unknown"
	}
	return p
}

func (b *band) outsideTable(rpm float64) bool {
	k := b.total
	if len(k) == 0 {
		k = b.advance
	}
	return rpm < k[0].rpm || rpm > k[len(k)-1].rpm
}

// rounding keeps a reading that stands exactly on an edge from failing by the
// last bit of a conversion, crank degrees; chosen far below any instrument.
const rounding = 1e-6

func pointVerdict(deviation, readingError float64) string {
	switch d := math.Abs(deviation); {
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

func abs(x float64) float64 { return math.Abs(x) }

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
