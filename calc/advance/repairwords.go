package advance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/advance/infer"
)

// startWords: below some sixty distributor rpm (chosen; an engine cranks
// faster) the weights have no tension to overcome at rest.
func startWords(distRPM float64) string {
	if distRPM < 60 {
		return "as soon as it turns"
	}
	return fmt.Sprintf("at about %.0f", distRPM)
}

// step says move i of an attempt in the trade's words, with the figures as they
// are before and after that step alone.
func (r *repair) step(a attempt, i int) string {
	was := func(q func(infer.Governor) float64) float64 { return r.of(a, i, q) }
	is := func(q func(infer.Governor) float64) float64 { return r.of(a, i+1, q) }
	return stepWords(a.moves[i].part+" "+a.moves[i].kind, a.x[i], was, is, r.spec.LimitDistDeg != nil)
}

// ofGovernor works out a quantity before or after a step.
type ofGovernor func(func(infer.Governor) float64) float64

// stepWords says one move by an amount; plated: to the number of its plate.
func stepWords(move string, x float64, was, is ofGovernor, plated bool) string {
	start := func(g infer.Governor) float64 { return 1000 * math.Sqrt(math.Max(0, g.U0)) }
	limit := func(g infer.Governor) float64 { return g.Limit }
	ratio := math.Exp(x)
	switch move {
	case "primary post":
		return fmt.Sprintf("Bend the primary spring's post %s until the advance starts %s distributor rpm; now it "+
			"starts %s. The spring stays.",
			outIn(ratio), startWords(is(start)), startWords(was(start)))
	case "primary spring":
		return fmt.Sprintf("Fit a primary spring %.2g times as stiff as the one in it: the same weight stretches it "+
			"%.2g times as far. The advance then starts %s distributor rpm.",
			ratio, 1/ratio, startWords(is(start)))
	case "primary new spring":
		return fmt.Sprintf("Fit a primary spring as the book names it: the one in it is lost or has no strength left. "+
			"Any will do that starts the advance %s distributor rpm.", startWords(is(start)))
	case "secondary spring":
		return fmt.Sprintf("Fit a secondary spring %.2g times as stiff as the one in it: the same weight stretches it "+
			"%.2g times as far.", ratio, 1/ratio)
	case "secondary new spring":
		return fmt.Sprintf(
			"Fit a secondary spring as the book names it: the one in it is lost, never takes up, or has no strength "+
				"left. It takes up at about %.0f distributor rpm.", is(takeUpRPM))
	case "secondary post":
		return slackWords(was, is, x)
	}
	words := "another plate, a thicker or thinner bush, or a repaired slot"
	if plated {
		words = "the number of its plate: " + words
	}
	return fmt.Sprintf("Change the stop from %.1f to %.1f distributor degrees: %s.", was(limit), is(limit), words)
}

func takeUpRPM(g infer.Governor) float64 { return modelOf(g).kneeRPM() }

func slackWords(was, is ofGovernor, x float64) string {
	knee := func(g infer.Governor) float64 { return g.Knee }
	way, cause := "in", ""
	if x < 0 {
		way, cause = "out", " A worn hook or a stretched loop is the usual cause."
	}
	return fmt.Sprintf("Bend the secondary spring's post %s so that it takes up at %.1f instead of %.1f "+
		"distributor degrees, at about %.0f distributor rpm instead of %.0f.%s",
		way, is(knee), was(knee), is(takeUpRPM), was(takeUpRPM), cause)
}

// scaleWords says how to measure a spring against another in a kitchen.
func scaleWords(c MendChange) string {
	var lines []string
	say := func(name string, ratio *float64) {
		if ratio != nil {
			lines = append(lines, fmt.Sprintf("%s spring: where the old one stretches 10 mm, the new one "+
				"stretches %.1f mm.", name, 10 / *ratio))
		}
	}
	say("Primary", c.PrimarySpring)
	say("Secondary", c.SecondarySpring)
	if len(lines) == 0 {
		return ""
	}
	return "On a kitchen scale weigh two things, a light one that just opens the coils and a heavier one. Hang the " +
		"light one from the old spring and measure, " +
		"add the heavier one and measure again: what lies between is its stretch. Do the same with the new spring and " +
		"the same two. " + strings.Join(lines, " ")
}

// mostSaid is how many speeds a step names (chosen: what a man keeps in his head).
const mostSaid = 4

// readWords says what should be read after the first n moves, for each place
// that was read, in its own units and at its own speeds.
func (r *repair) readWords(a attempt, n int, base float64, places ...string) string {
	var all []string
	for _, place := range places {
		for i := len(r.sets) - 1; i >= 0; i-- { // the newest of each place
			if s := r.sets[i]; s.Place == place && s.Vacuum != "connected" && len(s.Points) > 0 {
				all = append(all, r.placeWords(s, a, n, base))
				break
			}
		}
	}
	if len(all) == 0 {
		return "Then read again, up and down."
	}
	return "Then read again. " + strings.Join(all, " ")
}

func (r *repair) placeWords(s Set, a attempt, n int, base float64) string {
	var speeds []float64
	for _, p := range s.Points {
		speeds = append(speeds, p.RPM)
	}
	slices.Sort(speeds)
	speeds = slices.Compact(speeds)
	var picked []string
	for k := range min(mostSaid, len(speeds)) {
		rpm := speeds[k*(len(speeds)-1)/max(1, min(mostSaid, len(speeds))-1)]
		deg := r.shows(a, n, rpm*factor(s.SpeedUnit, r.band.ratio)/r.band.ratio) * r.band.ratio
		if s.Base == "included" {
			deg += base
		}
		picked = append(picked, fmt.Sprintf("%.1f at %.0f", deg/factor(s.AngleUnit, r.band.ratio), rpm))
	}
	where := map[string]string{"bench": "On the bench", "car": "On the car"}[s.Place]
	with := map[string]string{"included": "with the base", "excluded": "without the base"}[s.Base]
	return fmt.Sprintf("%s, %s degrees %s at %s rpm: about %s.", where, s.AngleUnit, with, s.SpeedUnit,
		strings.Join(picked, ", "))
}

// shows is the advance that should be read at a speed with the first n moves
// done, distributor degrees: the middle of the governors, in the direction
// that was read, between the two where both were.
func (r *repair) shows(a attempt, n int, distRPM float64) float64 {
	return r.of(a, n, func(g infer.Governor) float64 {
		if r.ways.Rising == r.ways.Falling {
			return g.At(distRPM)
		}
		return g.Reads(distRPM, r.ways.Falling)
	})
}
