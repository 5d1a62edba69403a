package points

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

func (w Twin) check(cylinders int) *refuse.Error {
	for _, f := range []struct {
		name string
		deg  float64
	}{{"twin.firstDistDeg", w.FirstDistDeg}, {"twin.secondDistDeg", w.SecondDistDeg},
		{"twin.pairDistDeg", w.PairDistDeg}} {
		if bad := OverPitch(f.name, cylinders, f.deg); bad != nil {
			return bad
		}
	}
	if w.PairDistDeg < math.Max(w.FirstDistDeg, w.SecondDistDeg) || w.PairDistDeg > w.FirstDistDeg+w.SecondDistDeg {
		return refuse.Input("twin.pairDistDeg",
			fmt.Sprintf("%.4g° for the pair cannot come from sets of %.4g° and %.4g°", w.PairDistDeg, w.FirstDistDeg,
				w.SecondDistDeg),
			"at least the larger set and at most the sum of both",
			"read each set with the other blocked open by a clean card, then both together")
	}
	if bad := w.Each.check("twin.each"); bad != nil {
		return bad
	}
	return w.Pair.check("twin.pair")
}

// twin judges two sets on one plate. One closes the circuit early, the other
// keeps it closed late: together they give more dwell than either.
func (c *court) twin() {
	w := c.in.Twin
	if w == nil {
		return
	}
	overlap := w.FirstDistDeg + w.SecondDistDeg - w.PairDistDeg
	c.say(fmt.Sprintf("Twin points: %.4g° and %.4g° alone, %.4g° together: both are closed at once for %.4g°, and the pair gains %.4g° over the larger.",
		w.FirstDistDeg, w.SecondDistDeg, w.PairDistDeg, overlap, w.PairDistDeg-max(w.FirstDistDeg, w.SecondDistDeg)))
	if w.Each == nil || w.Pair == nil {
		c.out.Ask = append(c.out.Ask, "What does the book say for each set alone and for the pair? From memory of eight-cylinder figures: 26 to 28 each, 32 to 36 together; never taken as this car's without asking.")
		c.find("unknown", finding.Finding{Code: "twin-no-book", Title: "Twin points without the book's figures",
			Part: "points", Sureness: "sure",
			Text: "Without its ranges for each set and for the pair, these cannot be judged."})
		return
	}
	if c.twinPercent() {
		return
	}
	good := true
	for i, deg := range []float64{w.FirstDistDeg, w.SecondDistDeg} {
		if !w.Each.holds(deg) {
			good = false
			c.twinOut([]string{"first", "second"}[i]+" set", deg, *w.Each,
				"Block the other set open with a clean card and set this one alone, by its dwell.")
		}
	}
	if !w.Pair.holds(w.PairDistDeg) {
		advice := "Set each alone first."
		if good {
			advice = "Each alone is right, so their places on the plate, or a worn cam, are at fault: the two no longer overlap as designed. Compare plate and cam with the type number."
		}
		c.twinOut("pair", w.PairDistDeg, *w.Pair, advice)
		return
	}
	if good {
		c.find("pass", finding.Finding{Code: "twin-good", Title: "Both sets and the pair are in the book's range",
			Part: "points", Sureness: "sure",
			Text: "Leave them. The pair decides the charge, the later-opening set the timing."})
	}
}

func (c *court) twinOut(what string, deg float64, r Range, advice string) {
	c.find("fail", finding.Finding{Code: "twin-out", Title: "The " + what + " is out of the book's range",
		Part: "points, " + what, Sureness: "sure", Text: advice + " Timing is to be done again afterwards.",
		DisprovedBy: "the same reading with a fresh card under the other set",
		Working:     []string{fmt.Sprintf("%s: %.4g°, book %.4g to %.4g.", what, deg, r.Min, r.Max)},
		Sources:     []string{"one set at a time, the other blocked open: US Army TM 9-4910-622-14&P"}})
}

// conclude puts the verdict and the one sentence.
func (c *court) conclude() {
	c.out.Findings.Sort()
	c.out.Verdict = c.verdict
	if c.verdict == "" {
		c.out.Verdict = "unknown"
	}
	c.out.Sources = append(c.out.Sources, "limits stand with each finding", "the book's own ranges where given")
	c.out.Summary = "There is not enough here to judge the points: give gap or dwell with the book's range, or dwell at two speeds."
	lead := ""
	for _, f := range c.out.Findings {
		if f.Code == "suspect-meter-scale" || f.Code == "suspect-percent" {
			c.out.Verdict = "unknown"
			c.out.Summary = f.Title + ". Settle that first."
			return
		}
		if lead == "" && f.Verdict != finding.Pass {
			lead = f.Title + "."
		}
	}
	switch {
	case lead != "":
		c.out.Summary = lead
	case len(c.out.Findings) > 0:
		c.out.Summary = "What was measured on the points is in order."
	}
}
