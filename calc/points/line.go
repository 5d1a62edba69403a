package points

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

// line is the straight line through the pairs, with errors in both readings.
type line struct {
	n              int
	gap, dwell     float64 // the centre of the pairs
	sgg, sgd, sdd  float64 // sums of squares about the centre
	gapErr, dwlErr float64
	leastGap, most float64 // range of the gaps
	slope          float64
	chi2           float64 // at the slope
	low, high      float64 // interval of the slope; high is nearer zero
	told, bounded  bool    // a falling slope fits; the interval has a steep end
}

func lineThrough(in LearnIn) line {
	l := line{n: len(in.Pairs), gapErr: 0.013, dwlErr: 0.5, leastGap: math.Inf(1), most: math.Inf(-1)}
	if in.GapErrorMm != nil {
		l.gapErr = *in.GapErrorMm
	}
	if in.DwellErrorDistDeg != nil {
		l.dwlErr = *in.DwellErrorDistDeg
	}
	for _, p := range in.Pairs {
		l.gap += p.GapMm / float64(l.n)
		l.dwell += p.DwellDistDeg / float64(l.n)
		l.leastGap, l.most = math.Min(l.leastGap, p.GapMm), math.Max(l.most, p.GapMm)
	}
	for _, p := range in.Pairs {
		g, d := p.GapMm-l.gap, p.DwellDistDeg-l.dwell
		l.sgg += g * g
		l.sgd += g * d
		l.sdd += d * d
	}
	if l.n > 1 {
		l.solve()
	}
	return l
}

// squares is χ² of the slope b.
func (l line) squares(b float64) float64 {
	return (l.sdd - 2*b*l.sgd + b*b*l.sgg) / (l.dwlErr*l.dwlErr + b*b*l.gapErr*l.gapErr)
}

// solve finds the slope of least χ² in closed form and the two slopes at which
// χ² has risen by the allowance: roots of a quadratic, because χ² is a ratio
// of two.
func (l *line) solve() {
	u, v := l.dwlErr*l.dwlErr, l.gapErr*l.gapErr
	// Minimum of (sdd − 2 b sgd + b² sgg) / (u + b² v):
	//   v·sgd·b² + (u·sgg − v·sdd)·b − u·sgd = 0, the root with the sign of sgd.
	half := (u*l.sgg - v*l.sdd) / 2
	root := math.Sqrt(half*half + u*v*l.sgd*l.sgd)
	l.slope = (root - half) / (v * l.sgd)
	if half > 0 { // the same root without a difference of near equals
		l.slope = u * l.sgd / (root + half)
	}
	if l.sgd >= 0 || l.sgg <= 0 || math.IsNaN(l.slope) || math.IsInf(l.slope, 0) {
		return
	}
	l.chi2 = l.squares(l.slope)
	allow := l.chi2 + 3.84*math.Max(1, l.chi2/math.Max(1, float64(l.n-2)))
	// (sgg − allow·v) b² − 2 sgd b + (sdd − allow·u) = 0
	a, c := l.sgg-allow*v, l.sdd-allow*u
	root = math.Sqrt(math.Max(0, l.sgd*l.sgd-a*c))
	// Of the two ends, −(c/(−sgd+root)) is the one nearer zero in either case.
	l.high = math.Min(0, -c/(-l.sgd+root))
	l.told = l.high < 0
	if a > 0 {
		l.low, l.bounded = (l.sgd-root)/a, true
	}
}

func (l line) working(in LearnIn) []string {
	lines := []string{fmt.Sprintf("Centre of %s: gap %.4g mm (%.3g thou), dwell %.4g°.",
		finding.Count(l.n, "pair", "pairs"), l.gap, l.gap/mmPerThou, l.dwell)}
	if l.n > 1 {
		lines = append(lines,
			fmt.Sprintf("Reading errors: gap %.3g mm, dwell %.3g°. Sums about the centre: gap² %.4g, gap × dwell %.4g, dwell² %.4g.",
				l.gapErr, l.dwlErr, l.sgg, l.sgd, l.sdd))
	}
	if l.told {
		lines = append(lines, fmt.Sprintf("Best slope %.4g° for a millimetre, %.3g° for a thou.", l.slope,
			l.slope*mmPerThou))
	}
	return lines
}

// spread is the error of a foretold dwell, twice its standard deviation: the
// centre's own error and the slope's interval over the distance from it.
func (out *LearnOut) spread(away float64, l line) (down, up float64) {
	own := 1.96 * math.Hypot(l.dwlErr, *out.SlopeDistDegPerMm*l.gapErr) / math.Sqrt(float64(l.n))
	steep := *out.SlopeDistDegPerMm * 3 // the pairs set no steep bound: three times the best is taken, our judgement
	if out.SlopeLow != nil {
		steep = *out.SlopeLow
	}
	a, b := (steep-*out.SlopeDistDegPerMm)*away, (*out.SlopeHigh-*out.SlopeDistDegPerMm)*away
	return math.Hypot(own, math.Min(a, b)), math.Hypot(own, math.Max(a, b))
}

func (out *LearnOut) dwellAt(gap float64, in LearnIn, l line) Foretold {
	at := l.dwell + *out.SlopeDistDegPerMm*(gap-l.gap)
	down, up := out.spread(gap-l.gap, l)
	pitch := Pitch(in.Cylinders)
	return Foretold{GapMm: gap, DwellDistDeg: at, Low: math.Max(0, at-down), High: math.Min(pitch, at+up),
		Asked: "dwell", Outside: gap < l.leastGap || gap > l.most}
}

func (out *LearnOut) gapAt(dwell float64, in LearnIn, l line) Foretold {
	slope := *out.SlopeDistDegPerMm
	gap := l.gap + (dwell-l.dwell)/slope
	down, up := out.spread(gap-l.gap, l)
	return Foretold{GapMm: gap, DwellDistDeg: dwell, Low: math.Max(0, gap+down/slope), High: gap - up/slope,
		Asked: "gap", Outside: gap < l.leastGap || gap > l.most}
}
