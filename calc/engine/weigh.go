package engine

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/advance"
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// CurvePoint is one point of a curve as a strobe shows it, vacuum off.
type CurvePoint struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" min:"300" max:"8000" unit:"engine rpm" help:"speed"`
	CrankDeg  float64 `json:"crankDeg" need:"yes" min:"-20" max:"70" unit:"crank degrees" help:"timing, base included, before TDC positive"`
}

// Curve is a curve to be tried: either its points, or base, stop and two speeds.
type Curve struct {
	Points             []CurvePoint `json:"points,omitempty" maxItems:"60" help:"the curve as a strobe shows it, vacuum off, speeds rising; or give the four figures that follow"`
	BaseCrankDeg       *float64     `json:"baseCrankDeg,omitempty" min:"-20" max:"30" unit:"crank degrees" help:"base timing"`
	LimitDistDeg       *float64     `json:"limitDistDeg,omitempty" min:"0" max:"25" unit:"distributor degrees" help:"the stop"`
	BeginsEngineRPM    *float64     `json:"beginsEngineRPM,omitempty" min:"300" max:"3000" unit:"engine rpm" help:"speed at which centrifugal advance begins; 900 unless said"`
	AllInEngineRPM     *float64     `json:"allInEngineRPM,omitempty" min:"800" max:"6500" unit:"engine rpm" help:"speed from which all of it is in"`
	CapsuleMostDistDeg float64      `json:"capsuleMostDistDeg,omitempty" min:"0" max:"16" unit:"distributor degrees" help:"the most the vacuum capsule gives"`
	CapsuleStartKPa    *float64     `json:"capsuleStartKPa,omitempty" min:"0" max:"60" unit:"kPa below ambient" help:"vacuum at which it begins; with capsuleFullKPa; taken as all in at cruise and tip-in unless both are said"`
	CapsuleFullKPa     *float64     `json:"capsuleFullKPa,omitempty" min:"1" max:"80" unit:"kPa below ambient" help:"vacuum at which it gives all"`
	PipeAtIdle         bool         `json:"pipeAtIdle,omitempty" help:"true where the capsule has its vacuum at idle too: its pipe goes to the manifold"`
}

// WeighIn is curves against what the engine stands.
type WeighIn struct {
	Places           []Place  `json:"places" need:"yes" minItems:"1" maxItems:"40" help:"as combustion.places gives them"`
	Curves           []Curve  `json:"curves" need:"yes" minItems:"1" maxItems:"6" help:"the curves to be tried"`
	EarliestCrankDeg *float64 `json:"earliestCrankDeg,omitempty" min:"0" max:"20" unit:"crank degrees" help:"how much before the one that is timed the earliest cylinder fires; taken as sound unless said"`
	EarliestCylinder *int     `json:"earliestCylinder,omitempty" min:"1" max:"16" help:"its number"`
	DriveRatio       *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// Weighed is a curve at one place.
type Weighed struct {
	Name            string  `json:"name" enum:"idle|full throttle|cruise|tip-in" help:"what the engine does there"`
	EngineRPM       float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	VacuumKPa       float64 `json:"vacuumKPa" unit:"kPa below ambient" help:"manifold vacuum"`
	CrankDeg        float64 `json:"crankDeg" unit:"crank degrees" help:"timing there, mean of the cylinders"`
	OffBestCrankDeg float64 `json:"offBestCrankDeg" unit:"crank degrees" help:"from the middle of best timing, late negative"`
	MarginCrankDeg  float64 `json:"marginCrankDeg" unit:"crank degrees" help:"from the earliest cylinder to where knock may begin; negative: past it"`
	HasKnockLimit   bool    `json:"hasKnockLimit" help:"whether knock lies within reach there"`
	CostLowPercent  float64 `json:"costLowPercent" unit:"percent" help:"torque lost against best, about: one in twenty lies below"`
	CostHighPercent float64 `json:"costHighPercent" unit:"percent" help:"one in twenty lies above"`
	Verdict         string  `json:"verdict" enum:"pass|watch|fail" help:"fail: past where knock may begin; watch: past what is advised"`
	Text            string  `json:"text" help:"the same in words"`
}

// WeighedCurve is what one curve comes to.
type WeighedCurve struct {
	Verdict   string        `json:"verdict" enum:"pass|watch|fail" help:"the worst of its places"`
	Summary   string        `json:"summary" help:"the same in one sentence"`
	Places    []Weighed     `json:"places" help:"in the order of the input"`
	Points    []CurvePoint  `json:"points" help:"the curve over speed, vacuum off, for drawing"`
	Total     float64       `json:"totalCrankDeg" unit:"crank degrees" help:"the most it gives with the vacuum off"`
	Spec      *advance.Spec `json:"spec,omitempty" help:"where base, stop and speeds were given: the curve as a book's table, for advance.judge, advance.prescribe and the card"`
	Findings  finding.List  `json:"findings" help:"what is concluded"`
	unscatter []Weighed     // the same with a sound distributor
}

// WeighOut is all of them.
type WeighOut struct {
	Curves  []WeighedCurve `json:"curves" help:"in the order of the input"`
	Working []string       `json:"working" help:"the rule with these figures in it"`
	Sources []string       `json:"sources" help:"where the rule comes from"`
}

// Weigh puts curves beside what the engine stands at each of its places:
//
//	timing(N)  = points, straight between; or base + ratio × stop × (N − begins) / (all in − begins), held to 0 … 1
//	with vacuum: + ratio × capsule × (vacuum − start) / (full − start), held to 0 … 1, at cruise and tip-in, at
//	             idle where the pipe goes to the manifold
//	margin     = knock low end − earliest − timing
//	off best   = timing − best;  cost from the place's list, straight between
//
// Refused: a curve
// with neither points nor its three figures, or whose speeds do not rise. An
// estimate, as all of this room. Sources: those of Best.
func Weigh(in WeighIn) (WeighOut, error) {
	out := WeighOut{Sources: sources, Working: []string{
		"Margin: the low end of the knock limit, less the earliest cylinder, less the timing.",
		"Cost: torque lost at that many degrees off best, by the model's own cycles."}}
	ratio, earliest := or(in.DriveRatio, 2), or(in.EarliestCrankDeg, 0)
	for i, c := range in.Curves {
		line, bad := c.line(ratio)
		if bad != nil {
			return WeighOut{}, bad.Under(fmt.Sprintf("curves[%d]", i))
		}
		w := WeighedCurve{Places: c.weigh(in.Places, line, ratio, earliest), Points: line,
			unscatter: c.weigh(in.Places, line, ratio, 0), Spec: c.spec(in.DriveRatio)}
		for _, p := range line {
			w.Total = max(w.Total, p.CrankDeg)
		}
		w.Verdict = worst(w.Places)
		w.conclude(in, c)
		out.Curves = append(out.Curves, w)
	}
	return out, nil
}

// line is the curve as points.
func (c Curve) line(ratio float64) ([]CurvePoint, *refuse.Error) {
	if len(c.Points) > 0 {
		for i := 1; i < len(c.Points); i++ {
			if c.Points[i].EngineRPM <= c.Points[i-1].EngineRPM {
				return nil, refuse.Input(fmt.Sprintf("points[%d].engineRPM", i), "does not rise",
					"more than the one before", "sort the points and give the mean where a speed was read twice")
			}
		}
		return c.Points, nil
	}
	if c.BaseCrankDeg == nil || c.LimitDistDeg == nil || c.AllInEngineRPM == nil {
		return nil, refuse.Input("points", "the curve is not given whole",
			"points, or baseCrankDeg, limitDistDeg and allInEngineRPM", "give one or the other")
	}
	from, to := or(c.BeginsEngineRPM, begins), *c.AllInEngineRPM
	if to <= from {
		return nil, refuse.Input("allInEngineRPM", fmt.Sprintf("all is in at %.0f rpm, before it begins", to),
			fmt.Sprintf("more than %.0f rpm, where it begins", from), "check both speeds")
	}
	base := *c.BaseCrankDeg
	return []CurvePoint{{min(500, from-100), base}, {from, base}, {to, base + ratio**c.LimitDistDeg},
		{max(5000, to+100), base + ratio**c.LimitDistDeg}}, nil
}

// spec is the curve as a table: a third and two thirds of the way with half the band
// of a target either side, and the stop with the band it has, downwards.
func (c Curve) spec(driveRatio *float64) *advance.Spec {
	if len(c.Points) > 0 {
		return nil
	}
	from, to, base, limit := or(c.BeginsEngineRPM, begins), *c.AllInEngineRPM, *c.BaseCrankDeg, *c.LimitDistDeg
	gain := or(driveRatio, 2) * limit
	out := &advance.Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: &base,
		BaseToleranceCrankDeg: 1, NoAdvanceBelowRPM: &from, DriveRatio: driveRatio}
	if limit > 0 {
		out.LimitDistDeg = &limit
	}
	for _, third := range []float64{1, 2, 3} {
		deg := base + gain*third/3
		low, high := max(base, deg-wide/2), min(deg+wide/2, base+gain)
		if third == 3 {
			low = max(base, deg-wideAllIn)
		}
		low, high = math.Round(10*low)/10, math.Round(10*high)/10
		out.Points = append(out.Points, advance.SpecPoint{RPM: math.Round((from+(to-from)*third/3)/10) * 10,
			MinDeg: &low, MaxDeg: &high})
	}
	return out
}

// at is the curve's timing at a speed: beyond its ends as at them.
func at(line []CurvePoint, rpm float64) float64 {
	i := slices.IndexFunc(line, func(p CurvePoint) bool { return p.EngineRPM >= rpm })
	switch {
	case i < 0:
		return line[len(line)-1].CrankDeg
	case i == 0:
		return line[0].CrankDeg
	}
	a, b := line[i-1], line[i]
	return a.CrankDeg + (b.CrankDeg-a.CrankDeg)*(rpm-a.EngineRPM)/(b.EngineRPM-a.EngineRPM)
}

func (c Curve) weigh(places []Place, line []CurvePoint, ratio, earliest float64) []Weighed {
	out := make([]Weighed, 0, len(places))
	for _, p := range places {
		deg := at(line, p.EngineRPM)
		if p.Name == "cruise" || p.Name == "tip-in" || p.Name == "idle" && c.PipeAtIdle {
			deg += c.capsule(ratio, p.VacuumKPa)
		}
		w := Weighed{Name: p.Name, EngineRPM: p.EngineRPM, VacuumKPa: p.VacuumKPa, CrankDeg: deg,
			OffBestCrankDeg: deg - p.MBTCrankDeg, MarginCrankDeg: p.KnockLowCrankDeg - earliest - deg,
			HasKnockLimit: p.HasKnockLimit, Verdict: finding.Pass}
		w.CostLowPercent, w.CostHighPercent = p.costs(deg)
		switch {
		case p.HasKnockLimit && w.MarginCrankDeg < -slack:
			w.Verdict = finding.Fail
		case p.HasKnockLimit && p.MostCrankDeg < p.MBTCrankDeg && deg+earliest > p.MostCrankDeg+slack,
			deg > p.MBTHighCrankDeg+slack:
			w.Verdict = finding.Watch
		}
		w.say()
		out = append(out, w)
	}
	return out
}

// capsule is what the vacuum adds, crank degrees.
func (c Curve) capsule(ratio, kPa float64) float64 {
	share := 1.0
	if c.CapsuleStartKPa != nil && c.CapsuleFullKPa != nil {
		share = min(1, max(0, (kPa-*c.CapsuleStartKPa)/max(1, *c.CapsuleFullKPa-*c.CapsuleStartKPa)))
	}
	return ratio * c.CapsuleMostDistDeg * share
}

// slack is what is not told apart: a tenth of a degree (chosen).
const slack = 0.1

// costs reads the place's list at a timing: straight between, as at its ends beyond.
func (p Place) costs(deg float64) (low, high float64) {
	off := deg - p.MBTCrankDeg
	i := slices.IndexFunc(p.Costs, func(c PlaceCost) bool { return c.ErrorCrankDeg >= off })
	switch {
	case len(p.Costs) == 0:
		return 0, 0
	case i < 0:
		i = len(p.Costs) - 1
		return p.Costs[i].LowPercent, p.Costs[i].HighPercent
	case i == 0:
		return p.Costs[0].LowPercent, p.Costs[0].HighPercent
	}
	a, b := p.Costs[i-1], p.Costs[i]
	part := (off - a.ErrorCrankDeg) / (b.ErrorCrankDeg - a.ErrorCrankDeg)
	return a.LowPercent + part*(b.LowPercent-a.LowPercent), a.HighPercent + part*(b.HighPercent-a.HighPercent)
}
