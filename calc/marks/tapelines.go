package marks

import (
	"fmt"
	"math"
	"slices"
)

// lines gives every line of the scale, left to right.
func (t tape) lines() []Line {
	var out []Line
	first, last := int(math.Ceil(-t.in.AfterCrankDeg/t.step-1e-9)), int(math.Floor(t.in.BeforeCrankDeg/t.step+1e-9))
	for i := first; i <= last; i++ {
		out = append(out, t.line(float64(i)*t.step))
	}
	if t.sign < 0 {
		slices.Reverse(out)
	}
	return out
}

func (t tape) line(deg float64) Line {
	l := Line{CrankDeg: deg, XMm: t.sign * deg * t.perDeg, Kind: "one", Side: "before"}
	switch {
	case deg == 0:
		l.Kind, l.Side, l.Label, l.XMm = "zero", "zero", "0", 0
	case multiple(deg, 10):
		l.Kind, l.Label = "ten", fmt.Sprintf("%.0f", math.Abs(deg))
	case multiple(deg, 5):
		l.Kind = "five"
	}
	if deg < 0 {
		l.Side = "after"
	}
	return l
}

func multiple(deg, of float64) bool { return math.Abs(math.Remainder(deg, of)) < 1e-6 }

// pages cuts the strip into pages, as few as will do.
func (t tape) pages(lines []Line, left, right float64) []Page {
	var out []Page
	for from := left; ; from += t.in.PageLengthMm - t.in.OverlapMm {
		p := Page{Number: len(out) + 1, FromMm: from, ToMm: math.Min(right, from+t.in.PageLengthMm), Lines: []Line{}}
		if p.Number > 1 {
			p.GlueMm = t.in.OverlapMm
		}
		for _, l := range lines {
			if l.XMm >= p.FromMm-1e-9 && l.XMm <= p.ToMm+1e-9 {
				l.XMm -= p.FromMm
				p.Lines = append(p.Lines, l)
			}
		}
		out = append(out, p)
		if p.ToMm >= right-1e-9 {
			return out
		}
	}
}

func (t tape) explain(out *TapeOut) {
	ahead := map[bool]string{true: "clockwise", false: "anticlockwise"}[t.in.CrankRotation == "clockwise"]
	if t.in.Carrier == "case" {
		out.SideWhy = fmt.Sprintf("The tape stands still and the notch comes past it, turning %s: it meets the lines before TDC first, so they lie on the %s, the side it comes from.", ahead, out.BeforeSide)
	} else {
		out.SideWhy = fmt.Sprintf("The pulley turns %s and its marks come past the pointer: those before TDC come first, so they lie ahead of the zero, on the %s when you stand in front and look at the top of the rim.", ahead, out.BeforeSide)
	}
	out.Instructions = []string{
		"Print at 100 %, without fitting to the page.",
		fmt.Sprintf("Lay a steel rule on the paper: from 0 to %.0f must be %.2f mm.", out.CheckCrank, out.CheckMm),
		"Prove true TDC by the positive stop first, and put the 0 there, not at the old mark.",
		"Clean the rim with the engine off and cold. Wrap the paper round it, do not stretch it, the lower edge of the figures towards you as you stand in front.",
		"Turn the crank by hand in its running direction: the figures before TDC must pass the pointer before the 0 does.",
	}
	if len(out.Pages) > 1 {
		out.Instructions = append(out.Instructions,
			"Glue the pages so that the lines in the overlap lie on one another.")
	}
	d := t.in.DiameterMm + 2*t.in.TapeThicknessMm
	out.Working = []string{fmt.Sprintf("One degree = π × %.5g / 360 = %.4f mm; %.0f degrees = %.2f mm.", d,
		out.MmPerDeg, out.CheckCrank, out.CheckMm)}
	if t.in.TapeThicknessMm > 0 {
		out.Working = append(out.Working, fmt.Sprintf("The outside of the tape is %g + 2 × %g = %.5g mm across.",
			t.in.DiameterMm, t.in.TapeThicknessMm, d))
	}
}
