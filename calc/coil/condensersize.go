package coil

import (
	"fmt"

	"pointsmith/calc/finding"
)

// CondenserSize is what one size of condenser makes of this coil.
type CondenserSize struct {
	MicroF          float64 `json:"microF" unit:"microfarads" help:"size"`
	PeakPrimaryV    float64 `json:"peakPrimaryV" unit:"volts" help:"first peak across the points"`
	PeakAtMicroS    float64 `json:"peakAtMicroS" unit:"microseconds" help:"when"`
	PeakSecondaryKV float64 `json:"peakSecondaryKV" unit:"kilovolts" help:"what the coil reaches at best, as coil.break"`
	RiseVPerMicroS  float64 `json:"riseVPerMicroS" unit:"volts per microsecond" help:"how fast the volts rise across the opening points; the faster, the more arc"`
}

// CondenserEffect is what a wrong size does to the points.
type CondenserEffect struct {
	Size   string `json:"size" enum:"small|large" help:"too small, or too large"`
	Text   string `json:"text" help:"what it does"`
	Loses  string `json:"loses" enum:"fixed|arm|unknown" help:"the contact that is said to lose metal with it; unknown while the earth is"`
	Gains  string `json:"gains" enum:"fixed|arm|unknown" help:"the contact that is said to build up metal with it"`
	Source string `json:"source" help:"how far that can be trusted"`
}

// wanted is the range a condenser is held against, and what is only watched
// beside it.
type wanted struct {
	low, high, watchLow, watchHigh float64
	sources                        []string
}

func (in CondenserIn) wanted() wanted {
	w := wanted{0.18, 0.25, 0.15, 0.30, []string{"0.18 to 0.25 µF: owners' forum, capacitor post-mortem",
		"watched from 0.15 to 0.30 µF: from memory"}}
	if in.OwnMinMicroF == nil && in.OwnMaxMicroF == nil {
		return w
	}
	w.sources = []string{"this car's own range"}
	if in.OwnMinMicroF != nil {
		w.low, w.watchLow = *in.OwnMinMicroF, *in.OwnMinMicroF
	}
	if in.OwnMaxMicroF != nil {
		w.high, w.watchHigh = *in.OwnMaxMicroF, *in.OwnMaxMicroF
	}
	// one end given, beyond the other of the general range
	w.high, w.watchHigh = max(w.high, w.low), max(w.watchHigh, w.low)
	w.low, w.watchLow = min(w.low, w.high), min(w.watchLow, w.high)
	return w
}

func (w wanted) words() string { return fmt.Sprintf("%.3g to %.3g µF", w.low, w.high) }

// sizesShown runs from half of what is watched to twice of what passes
// (chosen), with the ends of both ranges among them.
var sizesShown = []float64{0.08, 0.1, 0.15, 0.18, 0.2, 0.25, 0.3, 0.4, 0.5}

// sizes works each size; one so small or large that the loop does not swing is
// left out.
func (out *CondenserOut) sizes(swing func(microF float64) (BreakOut, error)) {
	out.Sizes = []CondenserSize{}
	for _, microF := range sizesShown {
		if b, err := swing(microF); err == nil {
			out.Sizes = append(out.Sizes, CondenserSize{microF, b.PeakPrimaryV, b.PeakAtMicroS, b.PeakSecondaryKV,
				b.RiseVPerMicroS})
		}
	}
}

const pitSource = "memory aid of the trade: from memory; two texts seen conflict (a tractor forum's article, a motorcycle club's page)"

// minusContact is the contact on the battery's minus side; "" while the earth
// is not known.
func minusContact(earth string) string {
	return map[string]string{"negative": "fixed", "positive": "arm"}[earth]
}

func (out *CondenserOut) effects(earth string) {
	minus, plus := "unknown", "unknown"
	if m := minusContact(earth); m != "" {
		minus, plus = m, map[string]string{"fixed": "arm", "arm": "fixed"}[m]
	}
	out.Effects = []CondenserEffect{
		{"small", "The volts rise faster than the gap opens: the points arc, burn blue and move metal; energy goes into the arc instead of the spark.", minus, plus, pitSource},
		{"large", "The swing is slower and lower: a weaker spark, little arc; metal is said to move the other way.",
			plus, minus, pitSource},
	}
}

// seen judges what the hand and the eye say: warm, and at the opening points.
func (out *CondenserOut) seen(in CondenserIn) {
	if in.Hot == "worse" {
		out.find(finding.Fail, finding.Finding{Code: "condenser-hot", Title: "The condenser gets worse when it is warm",
			Part: "condenser", Direction: "fails hot", Sureness: "likely", DisprovedBy: substitution + ", engine hot",
			Text:    "That is the engine that dies hot and starts again cold. Replace it, and keep the old one only until the new one is proven hot.",
			Sources: []string{"first suspect of a hot stall: common practice"}})
	}
	if in.Arc == "heavy" {
		out.find(finding.Fail, finding.Finding{Code: "condenser-arc",
			Title: "Heavy yellow arc at the opening points: the condenser is not at work",
			Part:  "condenser, its lead and its fixing", Direction: "open", Sureness: "likely",
			DisprovedBy: substitution,
			Text:        "Its lead is off or broken inside, its fixing does not conduct, or it is open within. Look at lead and fixing first; then clip a known good one in its place.",
			Sources:     []string{"open condenser, heavy yellow arc, weak spark: an owner's account"}})
	}
}
