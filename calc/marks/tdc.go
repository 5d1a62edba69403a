package marks

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// TDCIn is what stood at the pointer when the piston touched the stop, coming
// from either side.
type TDCIn struct {
	StopBeforeCrankDeg float64 `json:"stopBeforeCrankDeg" need:"yes" min:"-170" max:"170" unit:"crank degrees on the old marks" help:"reading where the stop is met before TDC: negative, as it lies before the old zero"`
	StopAfterCrankDeg  float64 `json:"stopAfterCrankDeg" need:"yes" min:"-170" max:"170" unit:"crank degrees on the old marks" help:"reading where the stop is met after TDC, turning the other way: positive, as it lies after the old zero"`
}

// TDCOut says where true top dead centre is.
type TDCOut struct {
	TrueZeroCrankDeg   float64  `json:"trueZeroCrankDeg" unit:"crank degrees on the old marks" help:"where the old marks stand at true TDC; negative: true TDC comes before the old zero"`
	CorrectionCrankDeg float64  `json:"correctionCrankDeg" unit:"crank degrees" help:"add this to a timing read before TDC on the old marks to get the true one"`
	SpanCrankDeg       float64  `json:"spanCrankDeg" unit:"crank degrees" help:"turn between the two stops"`
	Verdict            string   `json:"verdict" enum:"pass|watch|fail" help:"of the old mark: pass within half a degree, watch within 3, fail beyond"`
	Note               string   `json:"note" help:"the same in words, with its side, and what to do"`
	Caution            string   `json:"caution" help:"read before starting the engine"`
	Working            []string `json:"working" help:"the rule with these figures in it"`
	Sources            []string `json:"sources" help:"where the rule comes from"`
}

// Limits of an old mark, crank degrees. Within half a degree a mark is as good
// as it can be read (chosen); 1 to 2 degrees off is a matter of paint, and
// much more means a bonded ring that has slipped (club and trade articles on
// the positive stop).
const (
	markGood = 0.5
	markFair = 3
	leastGap = 8 // nearer stops make the middle unsure (chosen)
)

// TDC finds true top dead centre from two touches of a positive stop:
//
//	true zero = (reading before + reading after) / 2
//
// Readings are on the old marks, negative before their zero. A negative
// answer means that true TDC comes before the old zero reaches the pointer,
// so that the old marks show more advance than there is. Refused: a reading
// before that is positive, or not before the other; stops nearer than 8
// degrees. Source: the positive stop method, common practice; arithmetic.
func TDC(in TDCIn) (TDCOut, error) {
	a, b := in.StopBeforeCrankDeg, in.StopAfterCrankDeg
	if a > 0 {
		return TDCOut{}, refuse.Input("stopBeforeCrankDeg",
			fmt.Sprintf("%g is positive, but the stop before TDC lies before the old zero", a), "0 or negative",
			fmt.Sprintf("give it as %g; if the old mark is so far out that it truly lies after the zero, make a new mark anywhere and measure from that", -a))
	}
	if b-a < leastGap {
		return TDCOut{}, refuse.Input("stopAfterCrankDeg", fmt.Sprintf("the two stops are %.3g degrees apart", b-a),
			fmt.Sprintf("at least %d degrees, the one after TDC the larger", leastGap),
			"use a longer stop, and check the signs: before the old zero negative, after it positive")
	}
	z := (a + b) / 2
	out := TDCOut{TrueZeroCrankDeg: z, CorrectionCrankDeg: z, SpanCrankDeg: b - a, Verdict: markVerdict(z),
		Note:    note(z),
		Caution: "The stop is still in the plug hole. Take it out before the starter or the engine turns: turning against it breaks pistons and plug threads. Turn by hand only, all plugs out.",
		Sources: []string{"positive stop method: club and trade articles, common practice", "arithmetic"}}
	out.Working = []string{
		fmt.Sprintf("True zero = (reading before + reading after) / 2 = (%g + %g) / 2 = %g on the old marks.", a, b, z),
		fmt.Sprintf("From there the stops lie %.4g degrees either side: half of %.4g − (%.4g).", (b-a)/2, b, a),
	}
	return out, nil
}

func markVerdict(z float64) string {
	switch {
	case math.Abs(z) <= markGood:
		return "pass"
	case math.Abs(z) <= markFair:
		return "watch"
	}
	return "fail"
}

// note says the answer with its sign in words and an example in both.
func note(z float64) string {
	size := math.Abs(z)
	if size < 0.05 {
		return "The old zero mark is true."
	}
	side, shows, set := "before", "more", 10+size
	if z > 0 {
		side, shows, set = "after", "less", 10-size
	}
	text := fmt.Sprintf("True TDC is %.1f° %s the old zero mark. The old marks show %.1f° %s advance than there is: 10° before TDC on them is %.1f° before TDC in truth. For 10° in truth set %.1f° on the old marks.",
		size, side, size, shows, 10+z, set)
	switch {
	case size <= markGood:
		return text + " That is within what can be read."
	case size <= markFair:
		return text + " Paint a new zero mark there."
	}
	return text + " So much means the wrong mark, the wrong pulley, or a bonded damper ring that has slipped: do not paint a mark on a ring that moves, find out first."
}
