package budget

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// CurvePoint is the centrifugal advance at a speed.
type CurvePoint struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed"`
	CrankDeg  float64 `json:"crankDeg" need:"yes" min:"0" max:"70" unit:"crank degrees" help:"centrifugal advance over the base"`
}

// KnockPoint is a knock that was heard at full throttle, vacuum off.
type KnockPoint struct {
	EngineRPM   float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed"`
	CrankDeg    float64 `json:"crankDeg" need:"yes" min:"-20" max:"70" unit:"crank degrees" help:"timing at which it was first heard, before TDC positive"`
	Distributor string  `json:"distributor,omitempty" enum:"|sound|this" help:"which was fitted then: a sound one, or this one with the scatter given, whose scatter the figure then holds already; asked where it is not said"`
}

// Scatter is how far each cylinder fires from the mean.
type Scatter struct {
	ErrorsDistDeg []float64 `json:"errorsDistDeg" need:"yes" minItems:"1" maxItems:"16" min:"-15" max:"15" unit:"distributor degrees" help:"in firing order, early positive, as scatter.analyse takes them"`
	FiringOrder   []int     `json:"firingOrder,omitempty" maxItems:"16" min:"1" max:"16" help:"cylinder numbers, to name the earliest"`
}

// BudgetIn is any two or three of total, base and stop.
type BudgetIn struct {
	TotalCrankDeg *float64     `json:"totalCrankDeg,omitempty" min:"-20" max:"70" unit:"crank degrees" help:"base and centrifugal advance together, vacuum off"`
	BaseCrankDeg  *float64     `json:"baseCrankDeg,omitempty" min:"-30" max:"40" unit:"crank degrees" help:"base timing, before TDC positive"`
	LimitDistDeg  *float64     `json:"limitDistDeg,omitempty" min:"0" max:"30" unit:"distributor degrees" help:"the stop"`
	DriveRatio    *float64     `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
	Curve         []CurvePoint `json:"curve,omitempty" maxItems:"40" help:"centrifugal advance over speed; without it every knock point is held against the total"`
	Knock         []KnockPoint `json:"knock,omitempty" maxItems:"40" help:"knock heard at full throttle"`
	Scatter       *Scatter     `json:"scatter,omitempty" help:"scatter between cylinders of the distributor that will be used"`
}

// Margin is what is left to a knock that was heard.
type Margin struct {
	EngineRPM              float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	AdvanceCrankDeg        float64 `json:"advanceCrankDeg" unit:"crank degrees" help:"timing there, mean of the cylinders"`
	KnockCrankDeg          float64 `json:"knockCrankDeg" unit:"crank degrees" help:"timing at which knock was heard"`
	MarginCrankDeg         float64 `json:"marginCrankDeg" unit:"crank degrees" help:"what is left, mean of the cylinders"`
	EarliestMarginCrankDeg float64 `json:"earliestMarginCrankDeg" unit:"crank degrees" help:"what is left to the cylinder that fires first"`
	Verdict                string  `json:"verdict" enum:"pass|watch|fail" help:"fail where the earliest cylinder has none, watch below two degrees"`
}

// Earliest is the cylinder that fires first.
type Earliest struct {
	Position int     `json:"position" help:"place in the firing order, from 1"`
	Cylinder *int    `json:"cylinder,omitempty" help:"its number, where the firing order was given"`
	CrankDeg float64 `json:"crankDeg" unit:"crank degrees" help:"how much before the reference it fires"`
}

// BudgetOut is all three, and the margins.
type BudgetOut struct {
	TotalCrankDeg      float64      `json:"totalCrankDeg" unit:"crank degrees" help:"base and centrifugal advance together"`
	BaseCrankDeg       float64      `json:"baseCrankDeg" unit:"crank degrees" help:"base timing"`
	LimitDistDeg       float64      `json:"limitDistDeg" unit:"distributor degrees" help:"the stop"`
	Missing            string       `json:"missing,omitempty" enum:"totalCrankDeg|baseCrankDeg|limitDistDeg" help:"which of them was worked out"`
	Earliest           *Earliest    `json:"earliest,omitempty" help:"where scatter is given: the cylinder that fires first"`
	Margins            []Margin     `json:"margins" help:"for each knock point"`
	SaferBaseCrankDeg  *float64     `json:"saferBaseCrankDeg,omitempty" unit:"crank degrees" help:"where a margin fails: the base, lowered by twos, that leaves every earliest cylinder a degree, with the same stop"`
	SaferTotalCrankDeg *float64     `json:"saferTotalCrankDeg,omitempty" unit:"crank degrees" help:"the total with it"`
	Warnings           finding.List `json:"warnings" help:"what is to be heeded"`
	Asks               []string     `json:"asks" help:"what would have to be known"`
	Working            []string     `json:"working" help:"the rule with these figures in it"`
	Sources            []string     `json:"sources" help:"where the rule comes from"`
}

const (
	// thin: one backs off two to three degrees from the first trace (common practice).
	thin = 2.0
	// least is what the earliest cylinder is left: a strobe is read to one degree
	// (common practice).
	least = 1.0
	// stepDeg is the step in which timing is tried on the road (common practice).
	stepDeg = 2.0
	// adds is how far three given figures may miss one another: rounding (chosen).
	adds = 0.5
)

// Budget works out the third of base, stop and total, and what is left to knock:
//
//	total  = base + ratio × limit          (crank degrees; ratio 2)
//	margin = knock − (base + centrifugal there)
//	of the earliest cylinder: margin − its error, unless knock was heard with
//	this very scatter, which the figure then holds already
//
// Refused: fewer than two of the three, a figure worked out that no distributor
// has, a curve beyond the stop. Source: arithmetic; limits common practice.
func Budget(in BudgetIn) (BudgetOut, error) {
	ratio := or(in.DriveRatio, 2)
	out, bad := in.solve(ratio)
	if bad != nil {
		return BudgetOut{}, bad
	}
	if bad := in.checkCurve(ratio * out.LimitDistDeg); bad != nil {
		return BudgetOut{}, bad
	}
	early := 0.0
	if in.Scatter != nil {
		e, bad := in.Scatter.earliest(ratio)
		if bad != nil {
			return BudgetOut{}, bad.Under("scatter")
		}
		out.Earliest, early = &e, e.CrankDeg
	}
	for _, k := range in.Knock {
		out.hold(in, k, early)
	}
	out.warn(in, early)
	out.Sources = []string{"base = total − ratio × limit: arithmetic of the distributor's half speed",
		"two to three degrees from the first trace, steps of two degrees, a strobe read to one: common practice"}
	return out, nil
}

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}

func (in BudgetIn) solve(ratio float64) (BudgetOut, *refuse.Error) {
	t, b, l := in.TotalCrankDeg, in.BaseCrankDeg, in.LimitDistDeg
	out := BudgetOut{TotalCrankDeg: or(t, 0), BaseCrankDeg: or(b, 0), LimitDistDeg: or(l, 0)}
	switch {
	case t != nil && b != nil && l != nil:
		out.Working = []string{fmt.Sprintf("Base %.4g + %.4g × %.4g = %.4g; total given: %.4g.", *b, ratio, *l,
			*b+ratio**l, *t)}
		return out, nil
	case t == nil && b != nil && l != nil:
		out.Missing, out.TotalCrankDeg = "totalCrankDeg", *b+ratio**l
	case b == nil && t != nil && l != nil:
		out.Missing, out.BaseCrankDeg = "baseCrankDeg", *t-ratio**l
	case l == nil && t != nil && b != nil:
		out.Missing, out.LimitDistDeg = "limitDistDeg", (*t-*b)/ratio
	default:
		return out, refuse.Input("totalCrankDeg", "fewer than two of total, base and stop are given",
			"two of totalCrankDeg, baseCrankDeg and limitDistDeg", "give one more")
	}
	if out.LimitDistDeg < 0 || out.LimitDistDeg > 30 {
		return out, refuse.Input("totalCrankDeg", fmt.Sprintf("the stop would have to be %.4g distributor degrees",
			out.LimitDistDeg), "0 to 30 distributor degrees", "check which figures are crank and which distributor degrees")
	}
	if out.BaseCrankDeg < -30 || out.BaseCrankDeg > 40 || out.TotalCrankDeg > 70 {
		return out, refuse.Input("limitDistDeg", fmt.Sprintf("base %.4g and total %.4g would follow", out.BaseCrankDeg,
			out.TotalCrankDeg), "base −30 to 40, total at most 70 crank degrees",
			"check which figures are crank and which distributor degrees")
	}
	out.Working = []string{fmt.Sprintf("Total = base + %.4g × stop: %.4g = %.4g + %.4g × %.4g (%s worked out).", ratio,
		out.TotalCrankDeg, out.BaseCrankDeg, ratio, out.LimitDistDeg, out.Missing)}
	return out, nil
}

// checkCurve wants rising speeds and no more than the stop lets through.
func (in BudgetIn) checkCurve(most float64) *refuse.Error {
	for i, p := range in.Curve {
		if i > 0 && p.EngineRPM <= in.Curve[i-1].EngineRPM {
			return refuse.Input(fmt.Sprintf("curve[%d].engineRPM", i), "does not rise", "more than the one before",
				"sort the curve and leave out what stands twice")
		}
		if p.CrankDeg > most+adds {
			return refuse.Input(fmt.Sprintf("curve[%d].crankDeg", i),
				fmt.Sprintf("%.4g is more than the stop lets through", p.CrankDeg),
				fmt.Sprintf("at most %.4g crank degrees", most), "check the curve against the stop")
		}
	}
	return nil
}

func (s Scatter) earliest(ratio float64) (Earliest, *refuse.Error) {
	if len(s.FiringOrder) > 0 && len(s.FiringOrder) != len(s.ErrorsDistDeg) {
		return Earliest{}, refuse.Input("firingOrder", fmt.Sprintf("has %d cylinders, there are %d errors",
			len(s.FiringOrder), len(s.ErrorsDistDeg)), "as many as errorsDistDeg", "give one for each")
	}
	e := Earliest{CrankDeg: math.Inf(-1)}
	for i, x := range s.ErrorsDistDeg {
		if x*ratio > e.CrankDeg {
			e.Position, e.CrankDeg = i+1, x*ratio
		}
	}
	if len(s.FiringOrder) > 0 {
		e.Cylinder = &s.FiringOrder[e.Position-1]
	}
	return e, nil
}

// over is the centrifugal advance at a speed: straight between the points, the end
// values past them, the whole stop without a curve.
func (in BudgetIn) over(rpm, most float64) float64 {
	if len(in.Curve) == 0 {
		return most
	}
	for i, p := range in.Curve {
		if rpm > p.EngineRPM {
			continue
		}
		if i == 0 {
			return p.CrankDeg
		}
		a := in.Curve[i-1]
		return a.CrankDeg + (p.CrankDeg-a.CrankDeg)*(rpm-a.EngineRPM)/(p.EngineRPM-a.EngineRPM)
	}
	return in.Curve[len(in.Curve)-1].CrankDeg
}

// hold holds one knock point against the timing there.
func (out *BudgetOut) hold(in BudgetIn, k KnockPoint, early float64) {
	over := in.over(k.EngineRPM, out.TotalCrankDeg-out.BaseCrankDeg)
	m := Margin{EngineRPM: k.EngineRPM, AdvanceCrankDeg: out.BaseCrankDeg + over, KnockCrankDeg: k.CrankDeg,
		Verdict: finding.Pass}
	m.MarginCrankDeg = k.CrankDeg - m.AdvanceCrankDeg
	m.EarliestMarginCrankDeg = m.MarginCrankDeg - early
	took := fmt.Sprintf(", less %.3g of the earliest cylinder", early)
	if k.Distributor == "this" {
		m.EarliestMarginCrankDeg, took = m.MarginCrankDeg, ", heard with this scatter, which it holds already"
	}
	if early == 0 {
		took = ""
	}
	if k.Distributor == "" && early != 0 {
		out.Asks = append(out.Asks, fmt.Sprintf("Knock at %.0f rpm: which distributor was fitted, a sound one or this one? Until it is said, a sound one is taken, and the scatter is taken off.", k.EngineRPM))
	}
	switch {
	case m.EarliestMarginCrankDeg <= 0:
		m.Verdict = finding.Fail
	case m.EarliestMarginCrankDeg < thin:
		m.Verdict = finding.Watch
	}
	out.Margins = append(out.Margins, m)
	out.Working = append(out.Working, fmt.Sprintf("At %.0f rpm: knock %.4g − (base %.4g + %.4g) = %.3g%s: %.2g left.",
		k.EngineRPM, k.CrankDeg, out.BaseCrankDeg, over, m.MarginCrankDeg, took, m.EarliestMarginCrankDeg))
}
