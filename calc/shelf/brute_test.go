package shelf

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
)

// oneFault does one realistic fault to a governor (sizes as in
// calc/advance/truth), and names its part.
func oneFault(g infer.Governor, k int, size float64) (infer.Governor, string) {
	switch k {
	case 0:
		by := 0.4 + 0.3*size
		g.U0, g.K1 = g.U0*by, g.K1*by
		return g, "primary"
	case 1:
		g.U0 *= 1.6 + 1.5*size
		return g, "primary"
	case 2:
		g.K2 *= 0.35 + 0.3*size
		return g, "secondary"
	case 3:
		g.Knee = math.Max(0.5, g.Knee-1.5-2*size)
		return g, "secondary"
	case 4:
		g.Limit += 1.5 + 3*size
		return g, "stop"
	}
	g.Limit = math.Max(g.Knee+0.5, g.Limit-1.5-3*size)
	return g, "stop"
}

// parts lists what a change touches.
func parts(c *advance.MendChange) (all []string) {
	if c == nil {
		return nil
	}
	if c.PrimarySpring != nil || c.PrimaryPreload != nil || slices.Contains(c.Replace, "primary") {
		all = append(all, "primary")
	}
	if c.SecondarySpring != nil || c.SlackDistDeg != nil || slices.Contains(c.Replace, "secondary") {
		all = append(all, "secondary")
	}
	if c.LimitDistDeg != nil {
		all = append(all, "stop")
	}
	return all
}

// The full inference, which takes a thousand times as long, is asked the same:
// does the unit lie in the book, and which part is to be touched first?
func TestTheFullInferenceAgrees(t *testing.T) {
	var verdicts, agreed, kinds, same, held, right, fullRight int
	for i := range uint64(bruteTried) {
		rng := random(14, i)
		spec, g := bookAndUnit(rng)
		part := ""
		if k := int(i % 7); k < 6 {
			g, part = oneFault(g, k, rng.Float64())
		}
		sets := readBench(rng, rising(g), benchSpeeds...)
		full, err := advance.Prescribe(advance.PrescribeIn{Spec: spec, Readings: sets})
		if err != nil {
			t.Fatal(err)
		}
		out, err := Nearest(NearestIn{Spec: spec, Units: []Unit{{ID: "one", Readings: sets}}})
		if err != nil {
			t.Fatal(err)
		}
		if len(out.Ranked) == 0 {
			t.Logf("%d %s: refused: %s; in full: %s", i, part, out.Refused[0].Because, full.Summary)
			continue
		}
		r := out.Ranked[0]
		if full.Verdict == "pass" || len(full.Options) > 0 {
			if verdicts++; (full.Verdict == "pass") == (r.Standing == "as-it-is") {
				agreed++
			}
		}
		if len(full.Options) == 0 || r.Change == nil {
			continue
		}
		quick, whole := strings.Join(parts(r.Change), " "), strings.Join(parts(&full.Options[0].Change), " ")
		if kinds++; strings.Contains(quick, whole) {
			held++
		}
		if quick == whole {
			same++
		} else {
			t.Logf("%d: at fault %q; quick %q (%.2f), in full %q (%.2f)", i, part, quick, r.InBookShare, whole,
				full.Options[0].InBookShare)
		}
		if quick == part {
			right++
		}
		if whole == part {
			fullRight++
		}
	}
	t.Logf("in the book or not: agreed in %d of %d; of %d changes the same parts in %d, more than those in %d; "+
		"the part at fault alone: quick %d, in full %d", agreed, verdicts, kinds, same, held-same, right, fullRight)
	if bruteTried >= 21 && (10*agreed < 9*verdicts || 2*same <= kinds || 10*held < 7*kinds || kinds < bruteTried/4) {
		t.Errorf("want nine of ten verdicts, most changes alike, and in seven of ten the full one's parts among the quick one's")
	}
}
