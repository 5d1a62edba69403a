package advance

import (
	"math"
	"strings"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/refuse"
)

// BookOf is the book's table as package infer takes it, in degrees and rpm of a
// shaft at half engine speed, for a room that holds many units against one
// book. Refused: what Expect refuses of a table; none is needed of the base.
func BookOf(s Spec) (infer.Book, *refuse.Error) {
	if len(s.Points) == 0 {
		return infer.Book{}, refuse.Input("spec.points", "is empty", "at least one line of the book's table",
			"enter the book's speeds and degrees")
	}
	b, bad := printedBand(s)
	if bad != nil {
		return infer.Book{}, bad
	}
	return b.book(s), nil
}

// HalfSpeed is how many degrees, and turns, of a distributor with this drive
// ratio (engine turns per distributor turn) go into one of a shaft at half
// engine speed.
func HalfSpeed(driveRatio float64) float64 { return halfSpeed / driveRatio }

// Run is what one unit's sets hold, as package infer takes it.
type Run struct {
	Readings []infer.Reading
	Statics  []infer.Static
	TopRPM   float64 // fastest speed read, engine rpm
	PipeSaid bool    // false where a set from the car does not say that the vacuum pipe was off
}

// RunOf takes a unit's sets without a book: readings with the vacuum pipe on
// are left out, many are taken together by their middles as in Judge. Refused:
// sets that hold nothing, more than 50 of them.
func RunOf(sets Sets, driveRatio float64) (Run, *refuse.Error) {
	if bad := sets.check(); bad != nil {
		return Run{}, bad
	}
	e := &evidence{sets: sets, band: &band{}}
	run := Run{PipeSaid: true}
	for i, set := range sets {
		if set.StaticCrankDeg != nil {
			e.static = append(e.static, staticFigure{i, *set.StaticCrankDeg, set.readingError()})
		}
		if set.Vacuum == "connected" {
			continue
		}
		e.usable = append(e.usable, set.inCrank(i, driveRatio)...)
		run.PipeSaid = run.PipeSaid && (set.Place == "bench" || set.Vacuum != "" || len(set.Points) == 0)
	}
	e.asked = thinned(e.usable)
	for _, r := range e.asked {
		run.TopRPM = math.Max(run.TopRPM, r.rpm)
	}
	p := e.problem()
	run.Readings, run.Statics = p.Readings, p.Statics
	return run, nil
}

// Governor is the model as package infer reckons with it, in the model's own
// distributor degrees and rpm.
func (m Model) Governor() infer.Governor { return m.springs() }

// ModelOf is a governor as it is answered.
func ModelOf(g infer.Governor) Model { return modelOf(g) }

// Work of each kind of repair on the scale of Option.Effort, and what one more
// of it, or one more part, must bring: see repairmoves.go and repairamounts.go.
const (
	PostEffort    = postEffort
	SpringEffort  = springEffort
	StopEffort    = stopEffort
	PerWork       = perWork
	PerPart       = perPart
	InBookWithin  = inBookWithin
	LeastReadings = leastReadings
	LikelyShare   = likelyShare
)

// StepWords says one step of a repair: the part (primary, secondary, stop), what is
// done (post, spring, stop), by how much (the logarithm of a ratio, or degrees),
// and the governor before and after it in distributor degrees and rpm. plated
// is true where the stop is to have its plate's number.
func StepWords(part, kind string, x float64, before, after infer.Governor, plated bool) string {
	of := func(g infer.Governor) func(func(infer.Governor) float64) float64 {
		return func(quantity func(infer.Governor) float64) float64 { return quantity(g) }
	}
	return stepWords(part+" "+kind, x, of(before), of(after), plated)
}

// BaseWords is the step that ends every repair: the base set, proved and
// proved again.
func BaseWords(baseCrankDeg float64) string {
	return "Set the base " + strings.Replace("to "+before(baseCrankDeg), "to at", "at", 1) + ", " + proveBase
}
