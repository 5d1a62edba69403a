package shelf

import (
	"fmt"
	"math"
	"strings"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
)

var sources = []string{"force balance of springs and weights: T. Bevan, Theory of Machines, ch 13",
	"order of work, base and hard conditions: common practice",
	"work and share that decide: chosen, as in advance.prescribe"}

const againWords = "Then read again, up and down."

// ranked puts a unit into words and figures.
func (s *search) ranked(rank int, j *judged) Ranked {
	a := &j.attempt
	r := Ranked{Rank: rank, ID: j.unit.ID, InBookShare: figure(a.inBook), AsItIsShare: figure(j.asItIs),
		Effort: a.effort, Steps: s.steps(j), FindOutFirst: []string{}, Unknown: []string{}, Standing: j.standing(),
		Readings: len(j.run.Readings)}
	for _, q := range j.unknown {
		r.FindOutFirst, r.Unknown = append(r.FindOutFirst, q.words), append(r.Unknown, q.id)
	}
	if j.known {
		m := advance.ModelOf(j.own(j.cloud.Middle))
		r.Model = &m
	}
	if len(a.moves) > 0 {
		r.Change = &advance.MendChange{}
		for i, m := range a.moves {
			m.say(r.Change, s.amount(j, i))
		}
	}
	r.Why = why(j)
	return r
}

// figure drops what no share is known to.
func figure(share float64) float64 { return math.Round(1e4*share) / 1e4 }

// own is a governor in the degrees and speeds of its unit's own shaft.
func (j *judged) own(g infer.Governor) infer.Governor { return g.OnShaft(advance.HalfSpeed(j.ratio)) }

// amount is an amount as a change says it, distributor degrees; no slack below
// none.
func (s *search) amount(j *judged, i int) float64 {
	x, a := j.attempt.x[i], &j.attempt
	if a.moves[i] == secondaryPost {
		x = max(x, -j.cloud.Middle.Knee)
	}
	if m := a.moves[i]; m == secondaryPost || m == stop {
		x *= advance.HalfSpeed(j.ratio)
	}
	return x
}

// steps says what to do: each change by itself, then the base.
func (s *search) steps(j *judged) []string {
	if !j.known {
		return []string{"Read its curve first, up and down, at the book's speeds: nothing is to be bent or bought before."}
	}
	var all []string
	a := &j.attempt
	for i, m := range a.moves {
		k := kinds[m]
		step := advance.StepWords(k.part, k.kind, s.amount(j, i), j.own(a.after(j.cloud.Middle, i)),
			j.own(a.after(j.cloud.Middle, i+1)), s.book.Limit > 0)
		all = append(all, step+" "+againWords)
	}
	after := a.after(j.cloud.Middle, len(a.moves))
	then := "On the bench it should read about "
	if len(a.moves) > 0 {
		then = "On the bench it should then read about "
	}
	all = append(all, then+s.reads(j, after)+".")
	_, base := s.reach(j.ways).Worst(&after)
	switch {
	case s.in.Spec.BaseCrankDeg != nil && !s.book.BaseInRows:
		all = append(all, "Fit it to the car. "+advance.BaseWords(*s.in.Spec.BaseCrankDeg))
	case s.book.BaseInRows && !s.book.BaseUnknown:
		all = append(all, "Fit it to the car. "+advance.BaseWords(2*base)) // degrees of half speed are half of crank
	default:
		all = append(all, "Find out the base the book wants, fit it to the car, and set that static with the test lamp.")
	}
	return all
}

// mostSaid is how many speeds are named (as in advance.prescribe).
const mostSaid = 4

// reads says what should be read at the book's speeds.
func (s *search) reads(j *judged, g infer.Governor) string {
	rows, to := s.book.Rows, advance.HalfSpeed(j.ratio)
	n := min(mostSaid, len(rows))
	var all []string
	for k := range n {
		rpm := rows[k*(len(rows)-1)/max(1, n-1)].DistRPM
		deg := g.At(rpm)
		if j.ways.Rising != j.ways.Falling {
			deg = g.Reads(rpm, j.ways.Falling)
		}
		all = append(all, fmt.Sprintf("%.1f at %.0f", deg*to, rpm*to))
	}
	return strings.Join(all, ", ") + " distributor rpm, distributor degrees without the base"
}

// why is the reason of a unit's place.
func why(j *judged) string {
	switch j.standing() {
	case "unknown":
		return "Too little was read to say where it lies; it comes after all that were read."
	case "as-it-is":
		return fmt.Sprintf("As it is %.0f in 100 in the book.", 100*j.asItIs)
	case "changed":
		return fmt.Sprintf("As it is %.0f in 100 in the book, changed %.0f. Work %.1f: bending one post a little is 1.",
			100*j.asItIs, 100*j.attempt.inBook, j.attempt.effort)
	}
	return fmt.Sprintf("Doubtful: as it is %.0f in 100 in the book, by the best that is worth its work %.0f. "+
		"Read more, or take another unit.", 100*j.asItIs, 100*j.attempt.inBook)
}

// conclude says the whole in a sentence, and how it was found.
func (s *search) conclude(out *NearestOut) {
	switch {
	case len(out.Ranked) == 0 && len(out.Refused) == 1:
		out.Summary = "The one distributor compared cannot serve here."
	case len(out.Ranked) == 0:
		out.Summary = fmt.Sprintf("None of the %d can serve here.", len(out.Refused))
	default:
		first := out.Ranked[0]
		out.Summary = first.ID + " comes nearest."
		if len(first.FindOutFirst) > 0 {
			out.Summary += " First find out: " + lowerFirst(first.FindOutFirst[0])
		}
	}
	out.Working = []string{
		fmt.Sprintf("%d ranked, %d refused, of %d.", len(out.Ranked)+out.LeftOff, len(out.Refused), len(s.in.Units)),
		"In the book: every row within a quarter of a distributor degree, over the governors the readings leave likely.",
		"A change is taken where the share it brings is more than 0.02 for each unit of work and 0.2 for each part.",
		fmt.Sprintf("Drive reckoned with: %g engine turns a distributor turn.", s.ratio),
		"The unit that is chosen is to be judged by its own readings before anything is bent: this search is rough.",
	}
	for _, open := range []struct {
		is   bool
		what string
	}{{!said(s.in.Wanted.Rotation), "rotation"}, {s.in.Wanted.Cylinders == nil, "number of cylinders"},
		{!said(s.in.Wanted.Capsule), "capsule"}} {
		if open.is {
			out.Working = append(out.Working, "No "+open.what+" was asked for: none was ruled out by it.")
		}
	}
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
