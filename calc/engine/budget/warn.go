package budget

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// warn says what the figures come to.
func (out *BudgetOut) warn(in BudgetIn, early float64) {
	ratio := or(in.DriveRatio, 2)
	if sum := out.BaseCrankDeg + ratio*out.LimitDistDeg; math.Abs(sum-out.TotalCrankDeg) > adds {
		out.Warnings.Add(finding.Finding{Code: "does-not-add-up", Title: "The three figures do not add up",
			Verdict:  finding.Watch,
			Sureness: "sure", Text: fmt.Sprintf("Base and stop make %.4g, the total given is %.4g crank degrees. One of the three is off, or in degrees of the other shaft.",
				sum, out.TotalCrankDeg), DisprovedBy: "the total read by strobe above the all-in speed"})
	}
	worst, fails := out.worst()
	if worst == nil {
		return
	}
	if !fails {
		if worst.Verdict == finding.Watch {
			out.Warnings.Add(finding.Finding{Code: "thin-margin", Title: "Little is left to knock",
				Verdict:  finding.Watch,
				Sureness: "likely", Text: fmt.Sprintf("At %.0f rpm %.1f crank degrees are left to the knock that was heard; two to three are kept from the first trace.",
					worst.EngineRPM, worst.EarliestMarginCrankDeg), DisprovedBy: "no knock at that timing on the worst fuel and a hot day"})
		}
		return
	}
	out.safer()
	out.Warnings.Add(out.failing(*worst, early))
}

// worst is the margin with least left, and whether it fails.
func (out *BudgetOut) worst() (worst *Margin, fails bool) {
	for i := range out.Margins {
		if worst == nil || out.Margins[i].EarliestMarginCrankDeg < worst.EarliestMarginCrankDeg {
			worst = &out.Margins[i]
		}
	}
	return worst, worst != nil && worst.Verdict == finding.Fail
}

// safer lowers the base by twos until every earliest cylinder is left a degree.
func (out *BudgetOut) safer() {
	worst, _ := out.worst()
	down := stepDeg * math.Ceil((least-worst.EarliestMarginCrankDeg)/stepDeg)
	base, total := out.BaseCrankDeg-down, out.TotalCrankDeg-down
	out.SaferBaseCrankDeg, out.SaferTotalCrankDeg = &base, &total
}

func (out *BudgetOut) failing(m Margin, early float64) finding.Finding {
	f := finding.Finding{Code: "over-knock", Title: "Beyond the knock that was heard", Verdict: finding.Fail,
		Sureness: "likely",
		Part:     "base timing", Direction: "too early", DisprovedBy: "no knock at that timing on the worst fuel and a hot day",
		Caution: "Do not drive it at full throttle like this: knock breaks pistons."}
	instead := fmt.Sprintf("base %.4g with the same stop (total %.4g)", *out.SaferBaseCrankDeg, *out.SaferTotalCrankDeg)
	if m.MarginCrankDeg <= 0 {
		f.Text = fmt.Sprintf("At %.0f rpm the timing would be %.1f, knock was heard at %.4g. Take %s, or slow the curve there.",
			m.EngineRPM, m.AdvanceCrankDeg, m.KnockCrankDeg, instead)
		return f
	}
	f.Code, f.Title, f.Part, f.Direction = "earliest-over-knock", "The earliest cylinder knocks",
		"the distributor's scatter", "one cylinder early"
	f.Text = fmt.Sprintf("At %.0f rpm the mean has %.1f crank degrees left, %s fires %.1f early and has %.1f: cure the scatter, or take %s.",
		m.EngineRPM, m.MarginCrankDeg, out.Earliest.words(), early, m.EarliestMarginCrankDeg, instead)
	return f
}

func (e Earliest) words() string {
	if e.Cylinder != nil {
		return fmt.Sprintf("cylinder %d (place %d in the firing order)", *e.Cylinder, e.Position)
	}
	return fmt.Sprintf("the cylinder at place %d in the firing order", e.Position)
}
