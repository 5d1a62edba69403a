package sound

import (
	"fmt"
	"math"
	"strings"
)

func (h hearing) report(heard clip) RPMOut {
	out := RPMOut{
		EngineRPM: h.rpm(h.best.cycleHz), FiringHz: h.best.cycleHz * float64(h.cylinders), Clarity: h.best.shown(),
		Sureness:     h.sureness(),
		Alternatives: []Alternative{}, HeardSeconds: heard.seconds(), Firing: FiringTaken{h.intervals, !h.said},
	}
	for _, r := range h.rivals {
		if r.worth > leastWorth/2 && h.score(r) > h.score(h.best)-nameMargin {
			out.Alternatives = append(out.Alternatives, Alternative{EngineRPM: h.rpm(r.cycleHz), Clarity: r.shown(),
				Why: why(r.cycleHz / h.best.cycleHz)})
		}
	}
	if other, way := h.uneven(); other.worth > h.best.worth-unevenMargin && way != nil {
		out.Alternatives = append(out.Alternatives, Alternative{EngineRPM: h.rpm(other.cycleHz), Clarity: other.shown(),
			Why: "it may fire unevenly, as " + degrees(way) + ": say how it fires"})
	}
	out.Working = []string{
		h.saidHow(),
		fmt.Sprintf("The sound repeats %.2f times a second; one cycle is %g crank degrees: %.2f × %g / 6 = %.0f engine rpm.",
			h.best.cycleHz, h.cycleDeg, h.best.cycleHz, h.cycleDeg, out.EngineRPM),
		fmt.Sprintf("%d firings a cycle: %.2f firings a second.", h.cylinders, out.FiringHz),
	}
	out.Sources = []string{"speed from the cycle: arithmetic", "thresholds: chosen on made sounds"}
	return out
}

// saidHow tells how the engine was taken to fire.
func (b beat) saidHow() string {
	if !b.said {
		return fmt.Sprintf("How it fires was not said. Taken as evenly, every %.4g crank degrees.", b.intervals[0])
	}
	return "It fires as said, " + degrees(b.intervals) + " crank degrees."
}

func degrees(intervals []float64) string {
	var words []string
	for _, d := range intervals {
		words = append(words, fmt.Sprintf("%.4g", d))
	}
	return strings.Join(words, "-")
}

// shown is the worth of an account as a share. Chosen: 50 gives two thirds.
func (a account) shown() float64 { return 1 - math.Exp(-math.Max(0, a.worth)/50) }

// why says how two speeds can be taken for one another.
func why(ratio float64) string {
	switch {
	case math.Abs(ratio-0.5) < 0.02:
		return "half the speed: each firing may sound twice (an echo, an intake heard with the exhaust)"
	case math.Abs(ratio-2) < 0.05:
		return "double the speed: every second firing may sound alike and the others not (two pipes, two carburettors)"
	}
	return fmt.Sprintf("%.2g times the speed: some firings sound alike and others do not, as with a cylinder that misses", ratio)
}
