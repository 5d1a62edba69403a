package advance

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// Change is what is done to a distributor. Ratios are 1 and additions 0 when
// nothing is done; the limit stays as it is when none is given.
type Change struct {
	PrimarySpring   *float64 `json:"primarySpring,omitempty" min:"0.1" max:"10" unit:"ratio" help:"stiffness of the primary spring against the one in it"`
	SecondarySpring *float64 `json:"secondarySpring,omitempty" min:"0.1" max:"10" unit:"ratio" help:"stiffness of the secondary spring against the one in it"`
	Weights         *float64 `json:"weights,omitempty" min:"0.2" max:"5" unit:"ratio" help:"mass of the weights against those in it"`
	PrimaryPreload  *float64 `json:"primaryPreload,omitempty" over:"0" max:"1000" unit:"ratio" help:"tension of the primary spring at rest against what it is, by bending its post"`
	SlackDistDeg    *float64 `json:"slackDistDeg,omitempty" min:"-30" max:"30" unit:"distributor degrees" help:"added to the slack of the secondary spring; negative takes it up sooner"`
	LimitDistDeg    *float64 `json:"limitDistDeg,omitempty" over:"0" max:"40" unit:"distributor degrees" help:"new limit: another plate, bush or slot"`
}

// WhatIfIn is a governor and what is done to it.
type WhatIfIn struct {
	Model      Model    `json:"model" need:"yes" help:"the governor as it is, from advance.fit"`
	Change     Change   `json:"change" need:"yes" help:"what is done to it"`
	TopDistRPM *float64 `json:"topDistRPM,omitempty" min:"500" max:"6000" unit:"distributor rpm" help:"how far the curve is drawn; a fifth past the stop unless said"`
}

// WhatIfOut is the governor afterwards.
type WhatIfOut struct {
	Model        Model        `json:"model" help:"the governor after the change"`
	KneeDistRPM  float64      `json:"kneeDistRPM" unit:"distributor rpm" help:"speed at which the secondary spring takes up"`
	LimitDistRPM float64      `json:"limitDistRPM" unit:"distributor rpm" help:"speed at which the stop is met"`
	Curve        []CurvePoint `json:"curve" help:"frictionless curve after the change"`
	Words        []string     `json:"words" help:"what each change does, in words"`
	Working      []string     `json:"working" help:"the rule with these figures in it"`
	Sources      []string     `json:"sources" help:"where the rule comes from"`
}

// WhatIf changes a governor:
//
//	U0' = U0 × primarySpring × primaryPreload / weights
//	k1' = k1 × primarySpring / weights,  k2' = k2 × secondarySpring / weights
//	knee' = knee + slack (not below 0),  limit' as given
//
// A stiffer primary on the same post also pulls harder at rest, so it starts
// later; a post bent out starts later at the same slope. A governor whose curve
// would never be held by its springs is not refused but drawn as flying to the
// stop. Refused: weights whose pull is gone before the stop, 1 + weightGrowth ×
// limit below a hundredth. Source: the force balance of Model; the directions agree
// with common practice of the trade.
func WhatIf(in WhatIfIn) (WhatIfOut, error) {
	if in.Model.PrimaryRate <= 0 {
		return WhatIfOut{}, refuse.Input("model.primaryRate", "is not above zero", "more than 0",
			"take the model from advance.fit")
	}
	m := in.Change.applied(in.Model)
	if bad := in.checkPull(m); bad != nil {
		return WhatIfOut{}, bad
	}
	top := 1.2 * math.Max(m.limitRPM(), in.Model.limitRPM())
	if in.TopDistRPM != nil {
		top = *in.TopDistRPM
	}
	return WhatIfOut{Model: m, KneeDistRPM: m.kneeRPM(), LimitDistRPM: m.limitRPM(), Curve: m.curve(top),
		Words:   in.Change.words(in.Model, m),
		Working: in.Change.working(in.Model, m),
		Sources: []string{"force balance of springs and weights: T. Bevan, Theory of Machines, ch 13",
			"directions of change: common practice"}}, nil
}

// leastPull is what must be left of the weights' pull at the stop, as a share
// of it at rest: a hundredth, with which the stop is met at ten times the speed
// it would be without the loss (chosen; at nothing it is never met at all).
const leastPull = 0.01

// checkPull refuses weights whose pull is gone before the stop: with
// weightGrowth below none, 1 + weightGrowth × limit is what is left of it.
func (in WhatIfIn) checkPull(after Model) *refuse.Error {
	g := in.Model.WeightGrowth
	for _, m := range []struct {
		field string
		limit float64
	}{{"model.weightGrowth", in.Model.LimitDistDeg}, {"change.limitDistDeg", after.LimitDistDeg}} {
		if 1+g*m.limit >= leastPull {
			continue
		}
		problem := fmt.Sprintf("with weightGrowth %g the weights' pull is gone at %.1f distributor degrees, so a stop at %g is never met", g, -1/g, m.limit)
		if m.field == "change.limitDistDeg" {
			return refuse.Input(m.field, problem, fmt.Sprintf("at most %.1f distributor degrees here",
				math.Floor(10*(leastPull-1)/g)/10), "give a smaller limit, or a weightGrowth nearer 0")
		}
		return refuse.Input(m.field, problem, fmt.Sprintf("at least %.4f with this limit",
			math.Ceil(1e4*(leastPull-1)/m.limit)/1e4),
			"give a weightGrowth nearer 0 or a smaller limit, or take the model from advance.fit")
	}
	return nil
}

func ratio(x *float64) float64 {
	if x == nil {
		return 1
	}
	return *x
}

// applied gives the governor after the change.
func (c Change) applied(m Model) Model {
	w := ratio(c.Weights)
	start := speedSquared(m.StartDistRPM) * ratio(c.PrimarySpring) * ratio(c.PrimaryPreload) / w
	m.StartDistRPM = 1000 * math.Sqrt(start)
	m.PrimaryRate *= ratio(c.PrimarySpring) / w
	m.SecondaryRate *= ratio(c.SecondarySpring) / w
	if c.SlackDistDeg != nil {
		m.KneeDistDeg = math.Max(0, m.KneeDistDeg+*c.SlackDistDeg)
	}
	if c.LimitDistDeg != nil {
		m.LimitDistDeg = *c.LimitDistDeg
	}
	return m
}

// words says what each part of the change does to the curve.
func (c Change) words(before, after Model) []string {
	words := []string{}
	say := func(given *float64, nothing float64, text string) {
		if given != nil && *given != nothing {
			words = append(words, text)
		}
	}
	start := fmt.Sprintf("the advance starts at %.0f instead of %.0f distributor rpm", after.StartDistRPM,
		before.StartDistRPM)
	say(c.PrimarySpring, 1, fmt.Sprintf("Primary spring %s: %s, the low slope is %s, the maximum stays.",
		stiffer(ratio(c.PrimarySpring)), start, steeper(1/ratio(c.PrimarySpring))))
	say(c.PrimaryPreload, 1,
		fmt.Sprintf("Primary post bent %s: %s, the slope stays.", outIn(ratio(c.PrimaryPreload)), start))
	say(c.SecondarySpring, 1, fmt.Sprintf("Secondary spring %s: the upper slope is %s, start and maximum stay.",
		stiffer(ratio(c.SecondarySpring)), steeper(1/ratio(c.SecondarySpring))))
	if c.SlackDistDeg != nil && *c.SlackDistDeg != 0 {
		words = append(words, fmt.Sprintf("Secondary post bent %s: it takes up at %.1f instead of %.1f distributor degrees (%.0f instead of %.0f distributor rpm).",
			outIn(-*c.SlackDistDeg+1), after.KneeDistDeg, before.KneeDistDeg, after.kneeRPM(), before.kneeRPM()))
	}
	say(c.Weights, 1, fmt.Sprintf("Weights %.0f %% of the old: everything happens at %.0f %% of the old speed.",
		100*ratio(c.Weights), 100/math.Sqrt(ratio(c.Weights))))
	if c.LimitDistDeg != nil && *c.LimitDistDeg != before.LimitDistDeg {
		words = append(words, fmt.Sprintf("Stop at %.1f instead of %.1f distributor degrees: the maximum moves by %+.1f distributor degrees, twice that at the crank where the distributor turns at half speed; the base can be moved by as much the other way.",
			*c.LimitDistDeg, before.LimitDistDeg, *c.LimitDistDeg-before.LimitDistDeg))
	}
	return words
}

func stiffer(r float64) string {
	if r > 1 {
		return fmt.Sprintf("%.0f %% stiffer", 100*(r-1))
	}
	return fmt.Sprintf("%.0f %% softer", 100*(1-r))
}

func steeper(r float64) string {
	if r > 1 {
		return "steeper"
	}
	return "flatter"
}

func outIn(r float64) string {
	if r > 1 {
		return "out"
	}
	return "in"
}

func (c Change) working(before, after Model) []string {
	return []string{
		fmt.Sprintf("Start: √(%.4f × %.3g × %.3g / %.3g) × 1000 = %.0f distributor rpm.",
			speedSquared(before.StartDistRPM), ratio(c.PrimarySpring), ratio(c.PrimaryPreload), ratio(c.Weights),
			after.StartDistRPM),
		fmt.Sprintf("Primary rate: %.4f × %.3g / %.3g = %.4f. Secondary rate: %.4f × %.3g / %.3g = %.4f.",
			before.PrimaryRate, ratio(c.PrimarySpring), ratio(c.Weights), after.PrimaryRate, before.SecondaryRate,
			ratio(c.SecondarySpring), ratio(c.Weights), after.SecondaryRate),
		fmt.Sprintf("Takes up at %.1f degrees, %.0f distributor rpm; stop at %.1f degrees, %.0f distributor rpm.",
			after.KneeDistDeg, after.kneeRPM(), after.LimitDistDeg, after.limitRPM()),
	}
}
