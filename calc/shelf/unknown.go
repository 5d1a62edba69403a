package shelf

import (
	"fmt"
	"math"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
)

// question is something to be found out before a unit is worked on.
type question struct{ id, words string }

// ruledOut says why a unit cannot serve, as far as is known; "" where nothing
// speaks against it.
func (s *search) ruledOut(u *Unit) string {
	w := s.in.Wanted
	switch {
	case said(w.Rotation) && said(u.Rotation) && w.Rotation != u.Rotation:
		return fmt.Sprintf("Its rotor turns %s, the car wants %s: cam, weights and points are made for one way.",
			u.Rotation, w.Rotation)
	case w.Cylinders != nil && u.Cylinders != nil && *w.Cylinders != *u.Cylinders:
		return fmt.Sprintf("It fires %d cylinders, the car has %d: its cam has another number of lobes.",
			*u.Cylinders, *w.Cylinders)
	case u.DriveRatio != nil && math.Abs(*u.DriveRatio-s.ratio) > 1e-6:
		return fmt.Sprintf("It is made for %g engine turns a turn of its shaft, the car drives it at %g.",
			*u.DriveRatio, s.ratio)
	case said(w.Capsule) && said(u.Capsule) && w.Capsule != u.Capsule:
		return fmt.Sprintf("Its capsule is %s, the car wants %s.", capsuleWords[u.Capsule], capsuleWords[w.Capsule])
	}
	return ""
}

func said(word string) bool { return word != "" && word != "unknown" }

var capsuleWords = map[string]string{"none": "none at all", "advance": "one that advances",
	"retard": "one that retards", "twin": "a twin"}

// beyondHelp says why no change helps a unit that is well read.
func (s *search) beyondHelp(j *judged) string {
	if !j.known || j.attempt.inBook >= leastShare {
		return ""
	}
	g := j.cloud.Middle
	worst, _ := s.reach(j.ways).Worst(&g)
	if worst <= hopeless { // not known well enough to be refused
		return ""
	}
	return fmt.Sprintf("Nothing that may be changed brings its curve into the book: as it is, it misses the worst row by "+
		"%.1f distributor degrees.", worst*advance.HalfSpeed(j.ratio))
}

// enoughError: readings worse than this are to be taken again (chosen: twice what
// is stated).
const enoughError = 2

// questions lists what is not known of a unit, what rules it out first.
func (s *search) questions(j *judged) (all []question) {
	ask := func(is bool, id, words string) {
		if is {
			all = append(all, question{id, words})
		}
	}
	u, w := j.unit, s.in.Wanted
	ask(said(w.Rotation) && !said(u.Rotation), "rotation",
		fmt.Sprintf("Which way its rotor turns, seen from the cap end: the car wants %s.", w.Rotation))
	if w.Cylinders != nil && u.Cylinders == nil {
		ask(true, "cylinders", fmt.Sprintf("How many lobes its cam has: the car has %d cylinders.", *w.Cylinders))
	}
	ask((w.DriveRatio != nil || s.in.Spec.DriveRatio != nil) && u.DriveRatio == nil, "drive",
		fmt.Sprintf("Whether its drive fits: %g engine turns a turn of its shaft.", s.ratio))
	ask(said(w.Capsule) && !said(u.Capsule), "capsule",
		fmt.Sprintf("Which capsule it has: the car wants %s.", capsuleWords[w.Capsule]))
	ask(s.book.BaseUnknown, "base", "The base of the book: its table holds one, and which is not said.")
	if len(j.run.Readings) == 0 {
		ask(true, "curve", "Its curve: no reading is on file. Read it on the bench, up and down, at the book's speeds.")
		return all
	}
	return append(all, s.runQuestions(j)...)
}

// runQuestions lists what the readings leave open.
func (s *search) runQuestions(j *judged) (all []question) {
	ask := func(is bool, id, words string) {
		if is {
			all = append(all, question{id, words})
		}
	}
	lowest, n := math.Inf(1), len(j.run.Readings)
	for _, r := range j.run.Readings {
		lowest = min(lowest, 2*r.DistRPM)
	}
	dist := func(engineRPM float64) float64 { return engineRPM / j.ratio }
	ask(!j.known, "curve", fmt.Sprintf("Its curve: only %d readings are on file. Read it at the book's speeds.", n))
	// a twentieth short of the last row counts as read (chosen)
	ask(j.run.TopRPM < 0.95*s.top, "top", fmt.Sprintf("Its top: no reading above %.0f distributor rpm, the book goes to %.0f.",
		dist(j.run.TopRPM), dist(s.top)))
	ask(lowest > 1.3*s.first && j.startOpen(lowest), "start", fmt.Sprintf( // three tenths above the first row (chosen)
		"Its start: no reading below %.0f distributor rpm, the book begins at %.0f.", dist(lowest), dist(s.first)))
	ask(!j.run.PipeSaid, "pipe", "Whether the vacuum pipe was off and plugged when it was read on the car.")
	ask(j.cloud.Beside > enoughError, "readings", fmt.Sprintf(
		"Its readings again: they lie %.1f times as far as stated from any curve of springs. Something may drag, or the "+
			"units be mistaken.", j.cloud.Beside))
	return all
}

// startOpen tells whether the weights were out already at the lowest speed.
func (j *judged) startOpen(lowestRPM float64) bool { return j.cloud.Middle.At(lowestRPM/2) > 0.5 }

// speedAt is the speed that holds the weights at an advance, both of one shaft.
func speedAt(g infer.Governor, a float64) float64 {
	u := (g.U0 + g.K1*a + g.K2*max(0, a-g.Knee)) / (1 + g.Growth*a)
	return 1000 * math.Sqrt(max(0, u))
}
