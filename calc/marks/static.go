package marks

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// StaticIn is a static timing proved with the test lamp, and what the book asks.
type StaticIn struct {
	FoundCrankDeg         float64  `json:"foundCrankDeg" need:"yes" min:"-40" max:"60" unit:"crank degrees before TDC" help:"where the points open, read at the mark with the lamp, engine stopped"`
	BookCrankDeg          float64  `json:"bookCrankDeg" need:"yes" min:"-40" max:"60" unit:"crank degrees before TDC" help:"the book's static figure"`
	BookToleranceCrankDeg float64  `json:"bookToleranceCrankDeg,omitempty" min:"0" max:"10" unit:"crank degrees" help:"what the book allows either side of it; 0 when it prints none"`
	ReadingErrorCrankDeg  *float64 `json:"readingErrorCrankDeg,omitempty" min:"0" max:"10" unit:"crank degrees" help:"how finely the test lamp and the mark can be read; 1 unless said: a test lamp reads to about a degree (common practice)"`
}

// StaticOut says whether it is right, and what was allowed.
type StaticOut struct {
	Verdict              string   `json:"verdict" enum:"pass|watch|fail" help:"pass inside the book's range, or as near the book's figure as can be read; watch within the reading error beside that, fail beyond"`
	MinCrankDeg          float64  `json:"minCrankDeg" unit:"crank degrees before TDC" help:"least the book allows"`
	MaxCrankDeg          float64  `json:"maxCrankDeg" unit:"crank degrees before TDC" help:"most the book allows"`
	OffCrankDeg          float64  `json:"offCrankDeg" unit:"crank degrees" help:"how far outside that; positive is too early, 0 inside"`
	ReadingErrorCrankDeg float64  `json:"readingErrorCrankDeg" unit:"crank degrees" help:"what was allowed for reading"`
	Do                   string   `json:"do,omitempty" help:"what to do when it is not inside"`
	Working              []string `json:"working" help:"the rule with these figures in it"`
	Sources              []string `json:"sources" help:"where the limits come from"`
}

// lampReadingError is how finely a lamp and a mark are read, crank degrees
// (common practice: a degree at best, for chain and gears have slack).
const lampReadingError = 1

// Static holds a static timing against the book's figure and tolerance:
//
//	pass   |found − book| ≤ the tolerance, or the reading error where that is more
//	watch  outside that by no more than the reading error
//	fail   beyond
//
// A figure is thus never judged finer than it can be read, whatever the book
// prints: a tolerance of 0 passes within the reading error.
//
// Angles are crank degrees, before TDC positive. Refused: nothing but figures
// outside their limits. Source: arithmetic; reading error common practice.
func Static(in StaticIn) (StaticOut, error) {
	allowed := float64(lampReadingError)
	how := "common practice"
	if in.ReadingErrorCrankDeg != nil {
		allowed, how = *in.ReadingErrorCrankDeg, "as stated"
	}
	low, high := in.BookCrankDeg-in.BookToleranceCrankDeg, in.BookCrankDeg+in.BookToleranceCrankDeg
	out := StaticOut{Verdict: finding.Pass, MinCrankDeg: low, MaxCrankDeg: high,
		OffCrankDeg: outsideOf(in.FoundCrankDeg, low, high), ReadingErrorCrankDeg: allowed,
		Sources: []string{"the book's figure and tolerance",
			fmt.Sprintf("reading error of test lamp and mark, ±%g crank degrees: %s", allowed, how)}}
	off := math.Abs(out.OffCrankDeg)
	way, turn := "early", "WITH"
	if out.OffCrankDeg < 0 {
		way, turn = "late", "AGAINST"
	}
	passes := max(in.BookToleranceCrankDeg, allowed)
	beyond := math.Abs(in.FoundCrankDeg-in.BookCrankDeg) - passes
	switch {
	case beyond > allowed+rounding:
		out.Verdict = finding.Fail
		out.Do = fmt.Sprintf("%.1f crank degrees too %s. Loosen the clamp, tighten it lightly, turn the body %s the rotor's direction, tighten, and prove it again.", off, way, turn)
	case beyond > rounding:
		out.Verdict = finding.Watch
		out.Do = fmt.Sprintf("%.1f crank degrees too %s, and a test lamp reads to about a degree. Prove it again before moving anything.", off, way)
	}
	out.Working = []string{
		fmt.Sprintf("The book allows %g ± %g: %g to %g crank degrees, before TDC positive.", in.BookCrankDeg,
			in.BookToleranceCrankDeg, low, high),
		fmt.Sprintf("Found %g: %.2g outside that. Read to ±%g (%s): pass within %g of the book's figure, watch within %g, more is fail.",
			in.FoundCrankDeg, off, allowed, how, passes, passes+allowed),
	}
	return out, nil
}

// rounding keeps a figure on the very edge from failing by the last bit of a
// sum, crank degrees; chosen far below what any mark shows.
const rounding = 1e-6

// outsideOf is how far x lies beyond the nearer edge, 0 inside.
func outsideOf(x, low, high float64) float64 {
	return max(x-high, 0) + min(x-low, 0)
}
