package engine

import (
	"math"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// BestIn is an engine at one speed and load.
type BestIn struct {
	Engine    Engine  `json:"engine" need:"yes" help:"the engine"`
	Fuel      Fuel    `json:"fuel" need:"yes" help:"the worst fuel it will see"`
	Air       Air     `json:"air,omitempty" help:"the air it breathes"`
	EngineRPM float64 `json:"engineRPM" need:"yes" min:"300" max:"8000" unit:"engine rpm" help:"speed"`
	Load
	Records          Records  `json:"records,omitempty" help:"knock heard and best timing found on this car"`
	EarliestCrankDeg *float64 `json:"earliestCrankDeg,omitempty" min:"0" max:"20" unit:"crank degrees" help:"how much before the mean the earliest cylinder of the distributor fitted now fires; taken as sound unless said"`
}

// Figures is what is concluded of one point.
type Figures struct {
	MBTCrankDeg            float64 `json:"mbtCrankDeg" unit:"crank degrees" help:"timing of best torque, before TDC positive: middle"`
	MBTLowCrankDeg         float64 `json:"mbtLowCrankDeg" unit:"crank degrees" help:"one in twenty lies below"`
	MBTHighCrankDeg        float64 `json:"mbtHighCrankDeg" unit:"crank degrees" help:"one in twenty lies above"`
	KnockLimitCrankDeg     float64 `json:"knockLimitCrankDeg" unit:"crank degrees" help:"timing at which a trace of knock begins, of the cylinder that fires first: middle"`
	KnockLimitLowCrankDeg  float64 `json:"knockLimitLowCrankDeg" unit:"crank degrees" help:"one in twenty lies below; nothing is advised beyond it"`
	KnockLimitHighCrankDeg float64 `json:"knockLimitHighCrankDeg" unit:"crank degrees" help:"one in twenty lies above"`
	KnockAtLeast           string  `json:"knockAtLeast,omitempty" enum:"high|middle|low" help:"from this figure on the limit is a least only: knock is not looked for beyond 20 degrees past best; empty where all three are found"`
	CA50CrankDeg           float64 `json:"ca50CrankDeg" unit:"crank degrees" help:"where half is burned at best timing, after TDC positive: middle"`
	CA50LowCrankDeg        float64 `json:"ca50LowCrankDeg" unit:"crank degrees" help:"one in twenty lies below"`
	CA50HighCrankDeg       float64 `json:"ca50HighCrankDeg" unit:"crank degrees" help:"one in twenty lies above"`
	MBTWidest              Widest  `json:"mbtWidest" help:"what makes best timing uncertain most"`
	KnockWidest            Widest  `json:"knockWidest" help:"what makes the knock limit uncertain most"`

	heardAt float64 // least timing at which a knock was heard that counts here
}

// Cost is what a timing off best takes of the torque.
type Cost struct {
	ErrorCrankDeg float64 `json:"errorCrankDeg" unit:"crank degrees" help:"off the middle of best timing, late negative"`
	LowPercent    float64 `json:"lowPercent" unit:"percent" help:"torque lost: one in twenty lies below"`
	HighPercent   float64 `json:"highPercent" unit:"percent" help:"one in twenty lies above"`
	Text          string  `json:"text" help:"the same in words"`
}

// BestOut is best timing and knock limit, each a range.
type BestOut struct {
	Figures
	AdviceCrankDeg float64      `json:"adviceCrankDeg" unit:"crank degrees" help:"the earliest timing advised, mean of the cylinders: best timing, or, where that is less, the low end of the knock limit, and two degrees from a knock that was heard here, both less the earliest cylinder"`
	LimitedBy      string       `json:"limitedBy" enum:"best|knock" help:"which of the two that is"`
	Load           float64      `json:"load" unit:"ratio" help:"manifold pressure over the air's, as taken"`
	CostOfError    []Cost       `json:"costOfError" help:"what timing off the middle of best costs here, against the engine's own best, which is not known to the degree"`
	BeforeRecords  *Figures     `json:"beforeRecords,omitempty" help:"where there are records: the figures without them"`
	WorthOfDraws   float64      `json:"worthOfDraws" min:"0" max:"1" help:"part of the engines tried that the records leave"`
	Findings       finding.List `json:"findings" help:"what is concluded"`
	Asks           []string     `json:"asks" help:"what would have to be known"`
	Assumed        []string     `json:"assumed" help:"what was not said, with what is taken instead"`
	Working        []string     `json:"working" help:"the rule with these figures in it"`
	Sources        []string     `json:"sources" help:"where the rule comes from"`
}

// tries is how many engines are drawn; chosen, so that an answer with records takes a
// tenth of a second on a phone. The ends of a range of ± 10 degrees then stand to
// about one.
const tries = 128

// Best gives the timing of best torque and where knock begins at one speed and
// load, each a range over engines that could be this one, drawn from the spreads
// in spread.go and weighed by the car's own records (posterior.go):
//
//	best:   greatest work of one cylinder over the spark (run.go)
//	knock:  ∫ dt/τ = 1 in the end gas before nine tenths are burned
//	range:  5, 50 and 95 of a hundred draws
//
// From 300 to 8000 rpm and a fifth to all of the air, without a blower. Refused:
// figures outside the fields' limits; a vacuum the air there does not have; an
// engine without its size. It is an estimate: the car's manual and a person who
// hears knock come first. Sources: those of cycle, flame and knock; what is chosen
// stands beside its number.
func Best(in BestIn) (BestOut, error) {
	b, bad := in.Engine.body()
	if bad != nil {
		return BestOut{}, bad.Under("engine")
	}
	load, bad := in.Load.ratio(in.Air)
	if bad != nil {
		return BestOut{}, bad
	}
	heard, best, asks, bad := in.Records.ready(in.Air)
	if bad != nil {
		return BestOut{}, bad
	}
	c := conditionOf(in.EngineRPM, load, in.Fuel, in.Air)
	list := draws(tries)
	out := BestOut{Load: load, Asks: asks, WorthOfDraws: 1, Assumed: assumed(in.Engine, in.Fuel, in.Air)}
	if len(heard)+len(best) > 0 {
		before := b.sample(c.away(nil), list).figures(nil, c)
		out.BeforeRecords = &before
		list = b.posterior(list, heard, best)
		out.WorthOfDraws = left(list) / float64(len(list))
	}
	c = c.away(heard)
	s := b.sample(c, list)
	out.Figures = s.figures(heard, c)
	out.CostOfError = s.costs(c, out.MBTCrankDeg)
	out.advise(or(in.EarliestCrankDeg, 0))
	out.say(in, heard, list, b.charge(c, middle).left)
	return out, nil
}

// body makes the engine ready for draws.
func (e Engine) body() (body, *refuse.Error) {
	bore, stroke, bad := e.sizes()
	if bad != nil {
		return body{}, bad
	}
	b := body{engine: e, bore: bore, stroke: stroke, rod: 3.5, shape: chambers[e.Chamber]}
	if e.RodMm != nil {
		if b.rod = *e.RodMm / 500 / stroke; b.rod < 2.2 {
			return body{}, refuse.Input("rodMm", "the rod is hardly longer than the stroke", "at least 1.1 strokes",
				"measure it from the middle of one eye to that of the other")
		}
	}
	b.grid = newGrid(b.rod)
	return b, nil
}

// sample is every draw at one condition.
type sample struct {
	list     []one
	profiles []profile
}

func (b body) sample(c condition, list []one) sample {
	s := sample{list, make([]profile, len(list))}
	for i, o := range list {
		if i > 0 && sameCycle(o, list[i-1]) {
			p := s.profiles[i-1]
			p.limit, p.limitPresent = p.crossing(o.stands(c))
			s.profiles[i] = p
			continue
		}
		s.profiles[i] = b.profile(c, o)
	}
	return s
}

func (s sample) values(of func(profile) float64) []float64 {
	out := make([]float64, len(s.profiles))
	for i, p := range s.profiles {
		out[i] = of(p)
	}
	return out
}

// figures gives the ranges. A knock heard where the engine was spared more, or
// no less, caps the limit here whatever the draws say.
func (s sample) figures(heard []listened, c condition) Figures {
	best := s.values(func(p profile) float64 { return p.best })
	limit := s.values(func(p profile) float64 { return p.limit })
	half := s.values(func(p profile) float64 { return p.at50 - p.best })
	mbt, knock, ca50 := spread(best, s.list), spread(limit, s.list), spread(half, s.list)
	open := s.values(func(p profile) float64 {
		if p.limitPresent {
			return 0
		}
		return 1
	})
	out := Figures{MBTCrankDeg: mbt.Middle, MBTLowCrankDeg: mbt.Low, MBTHighCrankDeg: mbt.High,
		CA50CrankDeg: ca50.Middle, CA50LowCrankDeg: ca50.Low, CA50HighCrankDeg: ca50.High,
		KnockAtLeast: atLeast(open, s.list), MBTWidest: widest(best, s.list, zTrend), KnockWidest: widest(limit,
			s.list, inputs)}
	for _, l := range heard {
		if l.heard {
			out.KnockWidest.byEar(knock)
			break
		}
	}
	// A profile is good to this, so neither end is stated nearer.
	knock.Low, knock.High = knock.Low-within, knock.High+within
	out.heardAt = capOf(heard, c)
	knock = Range{min(knock.Low, out.heardAt), min(knock.Middle, out.heardAt), min(knock.High, out.heardAt)}
	out.KnockLimitLowCrankDeg, out.KnockLimitCrankDeg, out.KnockLimitHighCrankDeg = knock.Low, knock.Middle, knock.High
	return out
}

// atLeast says from which figure on the limit was not found.
func atLeast(open []float64, list []one) string {
	part := 0.0
	for i, x := range open {
		part += x * list[i].weight
	}
	switch {
	case part > 0.95:
		return "low"
	case part > 0.5:
		return "middle"
	case part > 0.05:
		return "high"
	}
	return ""
}

// within is the arithmetic's own error in the limit, degrees, as run_test.go measures it.
const within = 0.05

// capOf is the least timing at which a knock was heard where the engine was spared
// no less than at c; infinite where there is none.
func capOf(heard []listened, c condition) float64 {
	most := math.Inf(1)
	for _, l := range heard {
		if l.heard && l.spares(c) {
			most = min(most, l.spark)
		}
	}
	return most
}

// spares: at the record's condition the engine knocks no sooner than at c.
func (l listened) spares(c condition) bool {
	return l.rpm > 0.98*c.rpm && l.load*l.ambientKPa < 1.01*c.load*c.ambientKPa && l.octane > c.octane-0.01 &&
		l.air < c.air+0.5 && (l.mixture == 0) == (c.mixture == 0)
}
