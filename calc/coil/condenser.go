package coil

import (
	"fmt"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// CondenserIn is what was measured of the condenser, and the coil it serves.
type CondenserIn struct {
	CondenserMicroF *float64 `json:"condenserMicroF,omitempty" over:"0" max:"50" unit:"microfarads" help:"capacity by a meter; empty when it was not measured"`
	InsulationMOhm  *float64 `json:"insulationMegaOhm,omitempty" min:"0" max:"100000" unit:"megohms" help:"insulation, hot, at working volts"`
	SeriesOhm       *float64 `json:"seriesOhm,omitempty" min:"0" max:"1000" unit:"ohms" help:"resistance in series with it: lead, clamp, inner joints"`
	SupplyV         float64  `json:"supplyV" need:"yes" min:"3" max:"30" unit:"volts" help:"battery volts running; up to 9 V is taken as a 6 V car"`
	CurrentA        *float64 `json:"currentA,omitempty" over:"0" max:"20" unit:"amperes" help:"coil current when the points open; the standing current unless said"`
	Coil            Coil     `json:"coil,omitempty" help:"coil and ballast; condenserMicroF above replaces its own"`
	Earth           string   `json:"earth,omitempty" enum:"negative|positive|unknown" help:"which battery post is on the body"`
	OwnMinMicroF    *float64 `json:"ownMinMicroF,omitempty" over:"0" max:"50" unit:"microfarads" help:"the least this car's book wants; instead of the general range"`
	OwnMaxMicroF    *float64 `json:"ownMaxMicroF,omitempty" over:"0" max:"50" unit:"microfarads" help:"the most it wants"`
	Hot             string   `json:"hot,omitempty" enum:"same|worse|unknown" help:"what warming it does to capacity, insulation or the engine"`
	Arc             string   `json:"arc,omitempty" enum:"small|heavy|unknown" help:"the spark at the opening points: small and blue, or heavy and yellow"`
	Pit             string   `json:"pit,omitempty" enum:"fixed|arm|even|unknown" help:"which contact has lost metal: the fixed one (on the plate), the arm's, or both worn alike"`
}

// CondenserOut is the verdict on the condenser.
type CondenserOut struct {
	PeakPrimaryV   *float64          `json:"peakPrimaryV" unit:"volts" help:"first peak across the points with it; null when its capacity is not known"`
	PeakAtMicroS   *float64          `json:"peakAtMicroS" unit:"microseconds" help:"when"`
	UsualPeakV     float64           `json:"usualPeakV" unit:"volts" help:"first peak with 0.2 µF, for comparison"`
	UsualAtMicroS  float64           `json:"usualAtMicroS" unit:"microseconds" help:"when, with 0.2 µF"`
	RiseVPerMicroS *float64          `json:"riseVPerMicroS" unit:"volts per microsecond" help:"how fast the volts rise across the opening points; the faster, the more arc"`
	Size           string            `json:"size" enum:"right|small|large|unknown" help:"its capacity against 0.18 to 0.25 µF"`
	Sizes          []CondenserSize   `json:"sizes" help:"what each size makes of this coil"`
	Effects        []CondenserEffect `json:"effects" help:"what a size too small and one too large do to the points"`
	Assumed        []string          `json:"assumed" help:"what was not given, and what was taken instead"`
	Findings       finding.List      `json:"findings" help:"what is concluded, weightiest first"`
	Verdict        string            `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary        string            `json:"summary" help:"the whole in one sentence"`
	Working        []string          `json:"working" help:"the rule with these figures in it"`
	Sources        []string          `json:"sources" help:"where the rule comes from"`
}

const substitution = "a known good condenser clipped to the body in its place, the suspect disconnected: the same fault stays"

// JudgeCondenser holds a condenser against its coil. Too small: the volts
// across the opening points rise faster than the gap grows, they arc and move
// metal. Too large: the swing is slower and lower, and the spark weaker. Both
// are shown by Break with it and with 0.2 µF. Capacity passes from 0.18 to
// 0.25 µF (an owners' forum), is watched from 0.15 to 0.30 (from memory) and
// fails outside. Insulation from 5 MΩ, series resistance below 1 Ω (both from
// memory). Which contact has lost metal is a weak hint and only with the earth
// known. A meter cannot pass a condenser: breakdown shows only at some 250 V.
// Refused: what Break refuses.
func JudgeCondenser(in CondenserIn) (CondenserOut, error) {
	if in.OwnMinMicroF != nil && in.OwnMaxMicroF != nil && *in.OwnMinMicroF > *in.OwnMaxMicroF {
		return CondenserOut{}, refuse.Input("ownMinMicroF", "the least is more than the most",
			"least at most as much as most", "swap or correct them")
	}
	c := in.Coil.complete(in.SupplyV <= 9)
	if bad := in.Coil.check(); bad != nil {
		return CondenserOut{}, bad
	}
	amps := in.SupplyV / c.total()
	if in.CurrentA != nil {
		amps = *in.CurrentA
	}
	swing := func(microF float64) (BreakOut, error) {
		return Break(BreakIn{SupplyV: in.SupplyV, TotalOhm: c.total(), InductanceMilliH: c.milliH, CurrentA: amps,
			CondenserMicroF: microF, TurnsRatio: c.ratio, SecondaryPicoF: c.picoF})
	}
	usual, err := swing(0.2)
	if err != nil {
		return CondenserOut{}, under("coil", err)
	}
	out := besideUsual(usual, amps)
	out.Assumed = c.assumed
	if in.CondenserMicroF != nil {
		mine, err := swing(*in.CondenserMicroF)
		if err != nil {
			return CondenserOut{}, under("condenserMicroF", err)
		}
		out.capacity(*in.CondenserMicroF, mine, in.wanted())
	}
	out.sizes(swing)
	out.effects(in.Earth)
	out.rest(in)
	out.seen(in)
	out.pitting(in)
	out.close(in)
	return out, nil
}

// besideUsual is what is known before the condenser itself: what a usual one
// does with this current.
func besideUsual(usual BreakOut, amps float64) CondenserOut {
	return CondenserOut{UsualPeakV: usual.PeakPrimaryV, UsualAtMicroS: usual.PeakAtMicroS, Size: "unknown",
		Findings: finding.List{}, Verdict: finding.Pass,
		Working: []string{fmt.Sprintf("With %.3g A and 0.2 µF: first peak %.0f V after %.0f µs, rising at %.1f V/µs at first.",
			amps, usual.PeakPrimaryV, usual.PeakAtMicroS, usual.RiseVPerMicroS)},
		Sources: []string{"0.18 to 0.25 µF: owners' forum, capacitor post-mortem",
			"0.15 to 0.30 µF, 5 MΩ, 1 Ω: from memory", "acts in about 1/12 000 s: US Army TM 10-3930-607-15, p. 121",
			"directions: US Army TM 5-4240-501-14&P, p. 288, by analogy"}}
}

func (out *CondenserOut) find(verdict string, f finding.Finding) {
	out.Verdict, f.Verdict = finding.Worse(out.Verdict, verdict), verdict
	out.Findings.Add(f)
}

func (out *CondenserOut) capacity(microF float64, b BreakOut, want wanted) {
	out.PeakPrimaryV, out.PeakAtMicroS, out.RiseVPerMicroS = &b.PeakPrimaryV, &b.PeakAtMicroS, &b.RiseVPerMicroS
	line := fmt.Sprintf("With %.3g µF: first peak %.0f V after %.0f µs, rising at %.1f V/µs at first; with 0.2 µF %.0f V after %.0f µs. Wanted: %s.",
		microF, b.PeakPrimaryV, b.PeakAtMicroS, b.RiseVPerMicroS, out.UsualPeakV, out.UsualAtMicroS, want.words())
	out.Working = append(out.Working, line)
	verdict, f := finding.Watch, finding.Finding{Part: "condenser", Sureness: "likely", Working: []string{line},
		DisprovedBy: substitution, Sources: want.sources}
	if microF < want.watchLow || microF > want.watchHigh {
		verdict = finding.Fail
	}
	switch {
	case microF < want.low:
		out.Size = "small"
		f.Code, f.Direction, f.Title = "condenser-small", "too small",
			fmt.Sprintf("The condenser is small: %.2g µF", microF)
		f.Text = "The volts across the opening points rise faster than the gap grows: they arc, pit and burn, and energy goes into the arc instead of the spark. Fit one of " + want.words() + "."
	case microF > want.high:
		out.Size = "large"
		f.Code, f.Direction, f.Title = "condenser-large", "too large",
			fmt.Sprintf("The condenser is large: %.2g µF", microF)
		f.Text = fmt.Sprintf("The swing is slower and lower, %.0f %% of the usual peak: a weaker spark. A radio suppressor on the distributor's side of the coil adds to it and ruins points: it belongs on the feed side only. Else fit one of %s.",
			100*b.PeakPrimaryV/out.UsualPeakV, want.words())
	default:
		out.Size = "right"
		return
	}
	out.find(verdict, f)
}

// rest judges insulation and series resistance.
func (out *CondenserOut) rest(in CondenserIn) {
	if x := in.InsulationMOhm; x != nil && *x < 5 {
		verdict := finding.Watch
		if *x < 1 {
			verdict = finding.Fail
		}
		out.find(verdict, finding.Finding{Code: "condenser-leaks", Title: fmt.Sprintf("Poor insulation: %.2g MΩ", *x),
			Part: "condenser", Direction: "leaks", Sureness: "likely", DisprovedBy: substitution,
			Text:    "It leaks, more so hot: the fault that dies on a warm engine and starts again cold. Replace it, and keep the old one only until the new one is proven.",
			Working: []string{fmt.Sprintf("%.3g MΩ, at least 5 MΩ hot.", *x)},
			Sources: []string{"5 MΩ hot at working volts, 1 MΩ as the end: from memory"}})
	}
	if x := in.SeriesOhm; x != nil && *x >= 1 {
		out.find(finding.Fail, finding.Finding{Code: "condenser-series",
			Title: fmt.Sprintf("Resistance in series: %.2g Ω", *x), Part: "condenser lead or its fixing",
			Direction: "too much", Sureness: "likely",
			DisprovedBy: "the same reading after the fixing and the terminal were cleaned",
			Text:        "At several amperes it lets the volts jump at once: the points arc although the capacity is right. Clean its fixing to the body and the terminal first; if it stays, replace it.",
			Working:     []string{fmt.Sprintf("%.3g Ω, less than 1 Ω.", *x)},
			Sources:     []string{"less than 1 Ω: from memory"}})
	}
}

// pitting reads the metal moved between the contacts, a weak hint.
func (out *CondenserOut) pitting(in CondenserIn) {
	if in.Pit != "fixed" && in.Pit != "arm" {
		return
	}
	if in.Earth != "negative" && in.Earth != "positive" {
		out.Working = append(out.Working, "Which contact has lost metal says nothing while the earth is not known.")
		return
	}
	minus := minusContact(in.Earth)
	size, code := "too large", "pit-plus"
	if in.Pit == minus {
		size, code = "too small", "pit-minus"
	}
	out.find(finding.Watch, finding.Finding{Code: code, Title: "Metal lost from the " + in.Pit +
		" contact: a weak hint of a condenser " + size, Part: "condenser", Direction: size, Sureness: "possible",
		DisprovedBy: "its capacity by a meter, 0.18 to 0.25 µF, or even wear after a change",
		Text:        "Some say that the minus contact loses metal when the capacity is too small. Texts contradict each other. Even grey wear is right. While points last, leave the condenser alone.",
		Working: []string{fmt.Sprintf("Earth %s: the %s contact is minus. The %s one has lost metal.", in.Earth,
			minus, in.Pit)}, Sources: []string{pitSource}})
}

func (out *CondenserOut) close(in CondenserIn) {
	out.Findings.Sort()
	measured := in.CondenserMicroF != nil || in.InsulationMOhm != nil || in.SeriesOhm != nil || in.Hot == "same" ||
		in.Arc == "small"
	switch {
	case len(out.Findings) > 0:
		out.Summary = out.Findings[0].Title + "."
	case !measured:
		out.Verdict, out.Summary = "unknown", "Nothing of the condenser was measured."
	default:
		out.Summary = "What was measured of the condenser is in order; only a known good one in its place proves it, because breakdown shows at some 250 V and no hand meter reaches that."
	}
	out.Working = append(out.Working,
		"A hand meter tests at a few volts; breakdown shows at some 250 V (owners' forum). The real test is "+
			substitution+".")
}
