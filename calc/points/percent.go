package points

import (
	"fmt"
	"slices"

	"pointsmith/calc/finding"
)

// percent doubts a dwell that is out of the book's range as degrees and inside
// it as a percent of the pitch, or whose book fits as percent: dwell meters
// show both. A gap that accounts for the dwell as degrees settles it, and so does
// a dwell over speed that lies in the book's range as degrees.
func (c *court) percent() {
	in := c.in
	if slices.ContainsFunc(in.Speeds, func(r SpeedReading) bool { return in.DwellBook.holds(r.DwellDistDeg) }) {
		return
	}
	pitch := Pitch(in.Cylinders)
	dwell, book := *in.DwellDistDeg, *in.DwellBook
	if in.GapMm != nil && in.GapBook != nil && !in.GapBook.holds(*in.GapMm) &&
		in.GapBook.side(*in.GapMm) == -book.side(dwell) {
		return
	}
	if meant := dwell * pitch / 100; book.holds(meant) {
		c.suspectPercent(
			fmt.Sprintf("%.4g percent of the pitch would be %.4g × %.4g / 100 = %.4g°; book %.4g to %.4g°.",
				dwell, dwell, pitch, meant, book.Min, book.Max), fmt.Sprintf("the dwell of %.4g", dwell))
	} else if share := 100 * dwell / pitch; book.holds(share) {
		c.suspectPercent(fmt.Sprintf("%.4g° is 100 × %.4g / %.4g = %.4g percent of the pitch; book %.4g to %.4g.",
			dwell, dwell, pitch, share, book.Min, book.Max),
			fmt.Sprintf("the book's dwell of %.4g to %.4g", book.Min, book.Max))
	}
}

// twinPercent is the same for twin sets: true where every figure fits its
// range as a percent and not all of them do as degrees.
func (c *court) twinPercent() bool {
	w, share := c.in.Twin, Pitch(c.in.Cylinders)/100
	asDegrees := w.Each.holds(w.FirstDistDeg) && w.Each.holds(w.SecondDistDeg) && w.Pair.holds(w.PairDistDeg)
	asPercent := w.Each.holds(w.FirstDistDeg*share) && w.Each.holds(w.SecondDistDeg*share) &&
		w.Pair.holds(w.PairDistDeg*share)
	if asDegrees || !asPercent {
		return false
	}
	c.suspectPercent(
		fmt.Sprintf("As percent of the pitch they would be %.4g°, %.4g° and %.4g°: all in the book's ranges.",
			w.FirstDistDeg*share, w.SecondDistDeg*share, w.PairDistDeg*share), "the dwell of the twin sets")
	return true
}

func (c *court) suspectPercent(line, what string) {
	c.doubt = true
	c.out.Ask = append(c.out.Ask,
		"Is "+what+" in degrees or in percent? Look at the meter's scale and at the book, then "+
			"type it in its own unit.")
	c.find("unknown", finding.Finding{Code: "suspect-percent", Title: "This looks like percent typed as degrees",
		Part:      "the figure as entered",
		Direction: "check before touching anything", Sureness: "possible", Working: []string{line},
		Text: "As degrees the dwell is out of the book's range, as percent it is inside it. Set nothing by this " +
			"figure until its unit is known.",
		DisprovedBy: "the meter's scale is marked in degrees, and so is the book's figure"})
}
