package engine

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

func (w *Weighed) say() {
	where := fmt.Sprintf("%.0f rpm, %s", w.EngineRPM, w.Name)
	w.Text = fmt.Sprintf("%s: %.3g degrees, %s%s.", where, w.CrankDeg, w.margin(), w.cost())
}

func (w *Weighed) margin() string {
	switch {
	case !w.HasKnockLimit:
		return "no knock expected"
	case w.MarginCrankDeg < 0:
		return fmt.Sprintf("%.1f past where knock may begin", -w.MarginCrankDeg)
	}
	return fmt.Sprintf("%.1f short of where knock may begin", w.MarginCrankDeg)
}

// cost in words: ", 4 late of best costs 2 to 4 % of torque".
func (w *Weighed) cost() string {
	off, way := math.Round(math.Abs(w.OffBestCrankDeg)), "late"
	if w.OffBestCrankDeg > 0 {
		way = "early"
	}
	where := fmt.Sprintf("%.0f %s of best", off, way)
	if off == 0 {
		where = "at best timing"
	}
	switch {
	case w.Name == "idle":
		return ", " + where
	case w.CostHighPercent < 0.5:
		return ", " + where + ", which costs nothing one feels"
	}
	return fmt.Sprintf(", %s, which costs %s of torque", where, wholePercents(w.CostLowPercent, w.CostHighPercent))
}

// wholePercents says a range in whole percents: nobody feels less.
func wholePercents(low, high float64) string {
	if a, b := math.Floor(low), math.Ceil(high); a > 0 {
		return fmt.Sprintf("%.0f to %.0f %%", a, b)
	} else {
		return fmt.Sprintf("up to %.0f %%", b)
	}
}

func worst(places []Weighed) string {
	verdict := finding.Pass
	for _, p := range places {
		if p.Verdict == finding.Fail || p.Verdict == finding.Watch && verdict == finding.Pass {
			verdict = p.Verdict
		}
	}
	return verdict
}

// conclude says where the curve stands, and what to alter where it stands badly.
func (w *WeighedCurve) conclude(in WeighIn, c Curve) {
	least, dear := w.leastMargin(), w.dearest()
	switch w.Verdict {
	case finding.Fail:
		w.Summary = fmt.Sprintf("Too early: at %.0f rpm, %s, it is %.1f degrees past where knock may begin.",
			least.EngineRPM, least.Name, -least.MarginCrankDeg)
	case finding.Watch:
		w.Summary = fmt.Sprintf("Near the limit: %s", firstOf(w.Places, finding.Watch).Text)
	default:
		w.Summary = "Nowhere past what is advised"
		if dear.CostHighPercent >= 1 {
			w.Summary += fmt.Sprintf("; it costs most at %.0f rpm, %s: %s of torque", dear.EngineRPM, dear.Name,
				wholePercents(dear.CostLowPercent, dear.CostHighPercent))
		}
		w.Summary += "."
	}
	if w.Verdict == finding.Fail {
		w.early(in, c)
	}
	if worst(w.unscatter) != w.Verdict && in.EarliestCrankDeg != nil {
		w.scattered(in, c, least)
	}
}

// early says what to alter by where the knock would be (common practice).
func (w *WeighedCurve) early(in WeighIn, c Curve) {
	low, high, part := 0, 0, 0
	for _, p := range w.Places {
		switch {
		case p.Verdict != finding.Fail:
		case p.Name != "full throttle":
			part++
		case p.EngineRPM < midRange:
			low++
		default:
			high++
		}
	}
	var alter, what string
	switch {
	case low > 0 && high > 0:
		alter, what = "base", "Less base, and the road test again."
	case low > 0:
		alter, what = "curve", "Slow the curve: a stronger primary spring or a later start. The total may stay."
	case high > 0:
		alter, what = "stop", "A smaller stop. Base and the beginning of the curve may stay."
	default:
		alter, what = "capsule", "Less vacuum advance. Base and curve may stay."
	}
	w.Findings.Add(finding.Finding{Code: "too-early", Title: "Too early for this engine", Part: alter,
		Verdict: finding.Fail, Sureness: "possible", Text: what + " " + estimate,
		DisprovedBy: "no knock on the road where it is said to begin",
		Caution:     "Do not drive it hard like this: knock breaks pistons before it is heard.",
		Sources:     []string{"common practice; the model's own knock limit"}})
}

// midRange parts low speeds from high, engine rpm (chosen: the road test goes by
// 1500 to 2000 first, common practice).
const midRange = 2300.0

// scattered: the earliest cylinder makes the difference.
func (w *WeighedCurve) scattered(in WeighIn, c Curve, least Weighed) {
	who := "The earliest cylinder"
	if in.EarliestCylinder != nil {
		who = fmt.Sprintf("Cylinder %d", *in.EarliestCylinder)
	}
	text := fmt.Sprintf("%s fires %.1f crank degrees early and takes the margin at %.0f rpm. Cure the scatter",
		who, *in.EarliestCrankDeg, least.EngineRPM)
	if c.BaseCrankDeg != nil {
		over := max(0, -least.MarginCrankDeg)
		text += fmt.Sprintf(", or take base %.4g with the same stop", math.Floor((*c.BaseCrankDeg-over)/2)*2)
	}
	w.Findings.Add(finding.Finding{Code: "earliest-cylinder", Title: "One cylinder fires too early",
		Verdict: w.Verdict, Part: "scatter", Sureness: "likely", Text: text + ".",
		DisprovedBy: "a second look at the scatter that does not show it",
		Sources:     []string{"common practice: the total is chosen by the earliest cylinder"}})
}

func (w *WeighedCurve) leastMargin() Weighed {
	least := Weighed{MarginCrankDeg: math.Inf(1)}
	for _, p := range w.Places {
		if p.HasKnockLimit && p.MarginCrankDeg < least.MarginCrankDeg {
			least = p
		}
	}
	return least
}

func (w *WeighedCurve) dearest() (most Weighed) {
	for _, p := range w.Places {
		if p.CostHighPercent > most.CostHighPercent {
			most = p
		}
	}
	return most
}

func firstOf(places []Weighed, verdict string) Weighed {
	for _, p := range places {
		if p.Verdict == verdict {
			return p
		}
	}
	return Weighed{}
}
