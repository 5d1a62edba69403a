package engine

import (
	"fmt"
	"math"

	"pointsmith/calc/advance"
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// TargetIn is an engine that wants a curve.
type TargetIn struct {
	Engine           Engine    `json:"engine" need:"yes" help:"the engine as it is now"`
	Fuel             Fuel      `json:"fuel" need:"yes" help:"the worst fuel it will see"`
	Air              Air       `json:"air,omitempty" help:"the air it breathes"`
	Records          Records   `json:"records,omitempty" help:"knock heard and best timing found on this car"`
	EarliestCrankDeg *float64  `json:"earliestCrankDeg,omitempty" min:"0" max:"20" unit:"crank degrees" help:"how much before the mean the earliest cylinder of the distributor fitted now fires; taken as sound unless said"`
	AllInEngineRPM   *float64  `json:"allInEngineRPM,omitempty" min:"1800" max:"5500" unit:"engine rpm" help:"speed from which all advance is in; the middle of what is usual for the chamber unless said"`
	MostBaseCrankDeg *float64  `json:"mostBaseCrankDeg,omitempty" min:"-5" max:"25" unit:"crank degrees" help:"base at which the engine kicks back in the starter, or beyond which its book does not go; what is usual for the chamber unless said"`
	StopsDistDeg     []float64 `json:"stopsDistDeg,omitempty" maxItems:"20" min:"0" max:"25" unit:"distributor degrees" help:"stops at hand, as stamped; any by halves unless said"`
	PartThrottle
	DriveRatio *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// TargetPoint is the target at one speed, full throttle, vacuum off.
type TargetPoint struct {
	EngineRPM        float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	MinCrankDeg      float64 `json:"minCrankDeg" unit:"crank degrees" help:"least of the target's band, base included"`
	MaxCrankDeg      float64 `json:"maxCrankDeg" unit:"crank degrees" help:"most of it"`
	BestCrankDeg     float64 `json:"bestCrankDeg" unit:"crank degrees" help:"timing of best torque, middle"`
	KnockLowCrankDeg float64 `json:"knockLimitLowCrankDeg" unit:"crank degrees" help:"low end of the knock limit"`
	LimitedBy        string  `json:"limitedBy" enum:"best|knock|total" help:"what keeps the most from being more"`
	CostLowPercent   float64 `json:"costLowPercent" unit:"percent" help:"torque the middle of the band costs against best: one in twenty lies below"`
	CostHighPercent  float64 `json:"costHighPercent" unit:"percent" help:"one in twenty lies above"`
}

// TargetPlace is idle or cruise: what is wanted there, and what base and
// centrifugal advance give.
type TargetPlace struct {
	EngineRPM       float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	VacuumKPa       float64 `json:"vacuumKPa" unit:"kPa below ambient" help:"manifold vacuum"`
	AdviceCrankDeg  float64 `json:"adviceCrankDeg" unit:"crank degrees" help:"the earliest timing advised there"`
	WithoutCrankDeg float64 `json:"withoutCrankDeg" unit:"crank degrees" help:"what the target gives there without the capsule"`
}

// TargetOut is a target and what it asks of the distributor.
type TargetOut struct {
	TotalCrankDeg      float64       `json:"totalCrankDeg" unit:"crank degrees" help:"base and centrifugal advance together"`
	BaseCrankDeg       float64       `json:"baseCrankDeg" unit:"crank degrees" help:"base timing"`
	LimitDistDeg       float64       `json:"limitDistDeg" unit:"distributor degrees" help:"the stop"`
	AllInEngineRPM     float64       `json:"allInEngineRPM" unit:"engine rpm" help:"speed from which all of it is in"`
	StraightFromRPM    float64       `json:"straightFromEngineRPM" unit:"engine rpm" help:"a straight line from base at this speed to the total at the all-in speed keeps within the target"`
	Points             []TargetPoint `json:"points" help:"the target over speed"`
	Idle               TargetPlace   `json:"idle" help:"idle"`
	Cruise             TargetPlace   `json:"cruise" help:"easy cruise"`
	CapsuleMostDistDeg float64       `json:"capsuleMostDistDeg" unit:"distributor degrees" help:"the most the vacuum capsule should give: what cruise takes, held to what opening the throttle at 2000 rpm and 40 kPa stands"`
	Spec               advance.Spec  `json:"spec" help:"the target as a book's table, for advance.judge, advance.prescribe and the card"`
	WorthOfDraws       float64       `json:"worthOfDraws" min:"0" max:"1" help:"part of the engines tried that the records leave"`
	Findings           finding.List  `json:"findings" help:"what is concluded"`
	Asks               []string      `json:"asks" help:"what would have to be known"`
	Assumed            []string      `json:"assumed" help:"what was not said, with what is taken instead"`
	Working            []string      `json:"working" help:"the rule with these figures in it"`
	Sources            []string      `json:"sources" help:"where the rule comes from"`
}

// usual is what the trade takes for a chamber: speed at which all is in, base.
type usual struct{ allIn, base float64 }

// usuals: the middle of the all-in speeds and of the bases the trade names for each
// (common practice, low confidence for side valves).
var usuals = map[string]usual{"side-valve": {3000, 3}, "bathtub": {3100, 8}, "wedge": {2900, 11},
	"hemispherical": {3400, 11}, "pent-roof": {3000, 10}}

// moreBase: a cam of more overlap idles better with more (common practice: 12 to 16
// for a long one).
var moreBase = map[string]float64{"mild": 1, "hot": 3}

const (
	begins  = 900.0  // rpm at which centrifugal advance begins (common practice: 800 to 1000)
	lugging = 1000.0 // rpm at which nobody should open the throttle wide: looked at, and warned of (chosen)
	wide    = 3.0    // degrees of band: as usual books print (common practice: 3 to 4)
	// wideAllIn is the same once all is in, where the stop holds it (chosen).
	wideAllIn = 2.0
	stopStep  = 0.5  // distributor degrees: stop plates are made by halves and wholes (chosen)
	tipKPa    = 40.0 // vacuum at which a capsule is still all in when the throttle opens: 12 inHg (chosen)
	tipRPM    = 2000.0
)

// Target gives a curve for full throttle that keeps to best timing and to the low
// end of the knock limit, and what base, stop and capsule it takes:
//
//	most(N)  = min(best, knock low end, heard − 2) less the earliest cylinder
//	total    = most at the all-in speed, limit = (total − base) / ratio, by halves down
//	base     = most at 1300 rpm, held to what is usual for the chamber or said
//	capsule  = (advice at cruise − target there) / ratio, held by tip-in
//
// Refused: what Best refuses. It is an estimate to start the road test from, four to
// six degrees below (common practice), never a setting to trust unheard. Sources: those of
// Best; steps and bands stand beside their numbers.
func Target(in TargetIn) (TargetOut, error) {
	t, bad := in.ready()
	if bad != nil {
		return TargetOut{}, bad
	}
	t.whole()
	t.base()
	t.band()
	if bad := t.places(); bad != nil {
		return TargetOut{}, bad
	}
	t.finish()
	return t.out, nil
}

// target is one target in the making.
type target struct {
	in     TargetIn
	body   body
	list   []one
	heard  []listened
	ratio  float64
	speeds []float64
	most   []float64 // advised at each speed
	at     []pointAt
	out    TargetOut
}

// pointAt is what is known of one condition.
type pointAt struct {
	condition
	sample
	BestOut
}

func (in TargetIn) ready() (*target, *refuse.Error) {
	b, bad := in.Engine.body()
	if bad != nil {
		return nil, bad.Under("engine")
	}
	heard, best, asks, bad := in.Records.ready(in.Air)
	if bad != nil {
		return nil, bad
	}
	t := &target{in: in, body: b, list: draws(tries), heard: heard, ratio: or(in.DriveRatio, 2)}
	t.out = TargetOut{Asks: asks, WorthOfDraws: 1, Assumed: assumed(in.Engine, in.Fuel, in.Air),
		AllInEngineRPM: or(in.AllInEngineRPM, usuals[in.Engine.Chamber].allIn)}
	if len(heard)+len(best) > 0 {
		t.list = b.posterior(t.list, heard, best)
		t.out.WorthOfDraws = left(t.list) / tries
	}
	for _, rpm := range []float64{lugging, 1300, 1600, 2000, 2400, 2800, 3200, 3600, 4200, 4800} {
		if rpm < t.out.AllInEngineRPM-150 {
			t.speeds = append(t.speeds, rpm)
		}
	}
	t.speeds = append(t.speeds, t.out.AllInEngineRPM)
	for _, rpm := range t.speeds {
		p := t.point(rpm, 1)
		t.at, t.most = append(t.at, p), append(t.most, p.AdviceCrankDeg)
	}
	return t, nil
}

func (t *target) point(rpm, load float64) pointAt {
	c := conditionOf(rpm, load, t.in.Fuel, t.in.Air).away(t.heard)
	p := pointAt{condition: c, sample: t.body.sample(c, t.list)}
	p.Figures = p.figures(t.heard, c)
	p.advise(or(t.in.EarliestCrankDeg, 0))
	return p
}

// whole makes what is advised rise: where a later speed stands less, an earlier one
// is given no more, for no governor takes advance back.
func (t *target) whole() {
	for i := len(t.most) - 2; i >= 0; i-- {
		t.most[i] = min(t.most[i], t.most[i+1])
	}
}

// base sets base, stop and total. What full throttle stands counts from 1300 rpm on,
// for a base that obeyed it at 1000 would be no base to idle and start with.
func (t *target) base() {
	most := usuals[t.in.Engine.Chamber].base + moreBase[t.in.Engine.Cam]
	if t.in.MostBaseCrankDeg != nil {
		most = *t.in.MostBaseCrankDeg
	}
	t.out.BaseCrankDeg = min(most, max(0, math.Floor(t.most[1])))
	total := max(math.Floor(t.most[len(t.most)-1]), t.out.BaseCrankDeg)
	t.out.LimitDistDeg = t.stop((total - t.out.BaseCrankDeg) / t.ratio)
	t.out.TotalCrankDeg = t.out.BaseCrankDeg + t.ratio*t.out.LimitDistDeg
}

// stop is the largest that keeps within most: of those at hand, else by halves. Where
// all at hand are larger the table asks for one by halves, and says so.
func (t *target) stop(most float64) float64 {
	best := -1.0
	for _, s := range t.in.StopsDistDeg {
		if s <= most+slack && s > best {
			best = s
		}
	}
	if best >= 0 {
		return best
	}
	by := math.Floor(most/stopStep) * stopStep
	if len(t.in.StopsDistDeg) > 0 {
		t.out.Asks = append(t.out.Asks,
			fmt.Sprintf("Every stop at hand is larger than %.4g. Is there a smaller one, or can one be made?", by))
	}
	return by
}

// band gives each speed its band: below what is advised, and no more than a curve
// that begins at 900 and is all in at its speed needs.
func (t *target) band() {
	base, total := t.out.BaseCrankDeg, t.out.TotalCrankDeg
	for i, rpm := range t.speeds[1:] {
		p := t.at[i+1]
		one := TargetPoint{EngineRPM: rpm, MaxCrankDeg: math.Floor(10*max(base, min(t.most[i+1], total))) / 10,
			BestCrankDeg: p.MBTCrankDeg, KnockLowCrankDeg: p.KnockLimitLowCrankDeg, LimitedBy: p.LimitedBy}
		if total < t.most[i+1] {
			one.LimitedBy = "total"
		}
		band := wide
		if rpm == t.out.AllInEngineRPM {
			band = wideAllIn
		}
		one.MinCrankDeg = max(base, math.Round(10*(one.MaxCrankDeg-band))/10)
		middle := (one.MinCrankDeg + one.MaxCrankDeg) / 2
		cost := spread(p.values(func(q profile) float64 { return q.lost(p.condition, middle) }), p.list)
		one.CostLowPercent, one.CostHighPercent = cost.Low, cost.High
		t.out.Points = append(t.out.Points, one)
	}
}

// straight is the lowest speed, by fifties, from which a straight line to the total
// stays below the most of every point.
func (t *target) straight() float64 {
	from := begins
	for _, p := range t.out.Points {
		if part := (p.MaxCrankDeg - t.out.BaseCrankDeg) / (t.out.TotalCrankDeg - t.out.BaseCrankDeg); part < 1 {
			from = max(from, (p.EngineRPM-part*t.out.AllInEngineRPM)/(1-part))
		}
	}
	return min(math.Ceil(from/50)*50, t.out.AllInEngineRPM-100)
}

// gives is the target's most at a speed, straight between its points.
func (t *target) gives(rpm float64) float64 {
	x, y := []float64{begins}, []float64{t.out.BaseCrankDeg}
	for _, p := range t.out.Points {
		x, y = append(x, p.EngineRPM), append(y, p.MaxCrankDeg)
	}
	for i := 1; i < len(x); i++ {
		if rpm < x[i] {
			return y[i-1] + (y[i]-y[i-1])*max(0, rpm-x[i-1])/(x[i]-x[i-1])
		}
	}
	return y[len(y)-1]
}
