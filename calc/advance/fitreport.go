package advance

import (
	"fmt"
	"math"
	"slices"
)

// parameters are the reported quantities, in the order of the contract.
var parameters = []struct {
	name string
	of   func(theta, Model) float64
}{
	{"startDistRPM", func(th theta, _ Model) float64 { return th[startAt] }},
	{"primaryRate", func(_ theta, m Model) float64 { return m.PrimaryRate }},
	{"secondaryRate", func(_ theta, m Model) float64 { return m.SecondaryRate }},
	{"kneeDistDeg", func(th theta, _ Model) float64 { return th[kneeAngle] }},
	{"limitDistDeg", func(th theta, _ Model) float64 { return th[limitAngle] }},
	{"frictionDistDeg", func(th theta, _ Model) float64 { return th[friction] }},
	{"weightGrowth", func(th theta, _ Model) float64 { return th[growth] }},
	{"kneeDistRPM", func(th theta, _ Model) float64 { return th[kneeSpeed] }},
	{"limitDistRPM", func(th theta, _ Model) float64 { return th[limitSpeed] }},
}

// solve finds the likeliest governor and the samples about it. Fit and
// Prescribe both go through here, so that a mend is reckoned from the governor
// that is shown.
func (p *fitProblem) solve() (theta, []theta) {
	starts := p.search()
	samples := p.sample(p.around(starts))
	best, bestLog := starts[0], p.logPosterior(starts[0])
	for _, s := range samples {
		if l := p.logPosterior(s); l > bestLog {
			best, bestLog = s, l
		}
	}
	best = p.downhill(best)
	if !p.falling || !p.rising {
		best = p.asRead(best)
	}
	return best, samples
}

// asRead is the likeliest governor without friction. Read in one direction,
// friction only moves the whole curve off the readings: what was believed of it
// beforehand would draw a line beside them and call it the one that fits.
func (p *fitProblem) asRead(best theta) theta {
	free := *p
	free.frictionless = true
	for range 3 { // the search narrows each time it is begun anew
		best[friction] = 0
		best = free.downhill(best)
	}
	best[friction] = 0
	return best
}

// report turns samples into the answer: the likeliest governor, intervals,
// what is undecided and which readings were slips.
func (p *fitProblem) report(best theta, samples []theta, basis string) FitOut {
	m := best.model()
	out := FitOut{Model: m, KneeDistRPM: best[kneeSpeed], LimitDistRPM: best[limitSpeed], Intervals: map[string][2]float64{}, StatedRate: statedRate,
		Curve: m.curve(1.05 * p.topRPM), Undecided: []Undecided{}, Wild: []WildReading{}, Basis: basis}
	for _, par := range parameters {
		out.Intervals[par.name] = interval(samples, par.of)
	}
	if f := out.Intervals["frictionDistDeg"]; f[0] > m.FrictionDistDeg {
		out.Intervals["frictionDistDeg"] = [2]float64{m.FrictionDistDeg, f[1]} // none was taken, and none is possible
	}
	p.findSlips(best, &out)
	out.Undecided = p.undecided(out)
	out.Working, out.Sources = p.working(out)
	return out
}

// interval is the middle 90 % of a parameter over the samples.
func interval(samples []theta, of func(theta, Model) float64) [2]float64 {
	values := make([]float64, len(samples))
	for i, s := range samples {
		values[i] = of(s, s.model())
	}
	slices.Sort(values)
	tail := (1 - statedRate) / 2
	last := float64(len(values) - 1)
	return [2]float64{values[int(tail*last)], values[int((1-tail)*last)]}
}

// findSlips sets aside readings that the model holds for slips rather than
// scatter, and reckons the root mean square of the rest.
func (p *fitProblem) findSlips(best theta, out *FitOut) {
	sd := p.deviation * math.Exp(best[spread])
	peak := (1 - slipShare) / (sd * math.Sqrt(2*math.Pi))
	sum, n := 0.0, 0.0
	for _, r := range p.run {
		off := r.deg - out.Model.reads(r.rpm, r.falling)
		if z := off / sd; peak*math.Exp(-z*z/2) < p.outlier {
			out.Wild = append(out.Wild, WildReading{Set: r.set, Point: r.point, DistRPM: r.rpm, DeviationDistDeg: off})
			continue
		}
		sum, n = sum+off*off, n+1
	}
	out.RMSDistDeg = math.Sqrt(sum / max(n, 1))
}

// undecided names the parameters whose interval is hardly narrower than what
// was believed before any reading.
func (p *fitProblem) undecided(out FitOut) []Undecided {
	width := func(name string) float64 { return out.Intervals[name][1] - out.Intervals[name][0] }
	list := []Undecided{}
	add := func(name, why, take string) { list = append(list, Undecided{name, why, take}) }
	lowest := math.Inf(1)
	for _, r := range p.run {
		lowest = min(lowest, r.rpm)
	}
	if width("startDistRPM") > 0.5*out.Model.StartDistRPM || out.Model.reads(lowest, false) > 1 {
		add("startDistRPM", "no reading stands below the start of the advance", fmt.Sprintf("readings below %.0f distributor rpm, down to where the mark stops moving", lowest))
	}
	if width("limitDistDeg") > 3 || out.Intervals["limitDistRPM"][1] > 1.05*p.topRPM {
		add("limitDistDeg", "the readings were still climbing, or only just level, at the fastest speed", fmt.Sprintf("readings beyond %.0f distributor rpm, until two stand level", p.topRPM))
	}
	if width("kneeDistDeg") > 0.5*out.Model.LimitDistDeg || width("kneeDistRPM") > 0.5*p.topRPM {
		add("kneeDistDeg", "one straight run in speed squared fits nearly as well as two: the secondary spring may take up anywhere, or from the start", "closer readings between the start and the stop")
		add("secondaryRate", "it hangs on where the secondary spring takes up", "closer readings between the start and the stop")
	}
	if !p.falling || !p.rising {
		add("frictionDistDeg", "only one direction was read: none is taken, and the curve is the one read that way", "the same speeds while slowing down")
	}
	if width("weightGrowth") > 0.7*2*1.645*growthSpread {
		add("weightGrowth", "the curve's bend is smaller than the reading error", "nothing needed: it hardly changes what to do")
	}
	return list
}

func (p *fitProblem) working(out FitOut) (lines, sources []string) {
	m := out.Model
	lines = []string{
		"Balance: U (1 + g a) = U0 + k1 a + k2 (a − knee beyond the knee), U = (distributor rpm / 1000)².",
		fmt.Sprintf("U0 = (%.0f / 1000)² = %.4f; k1 = %.4f, k2 = %.4f per degree; knee %.1f, limit %.1f distributor degrees; g = %.3f per degree.",
			m.StartDistRPM, speedSquared(m.StartDistRPM), m.PrimaryRate, m.SecondaryRate, m.KneeDistDeg, m.LimitDistDeg, m.WeightGrowth),
		fmt.Sprintf("%d readings used: %s. Root mean square of reading less model %.2f distributor degrees; stated reading error ±%.2f.", len(p.run)-len(out.Wild), out.Basis, out.RMSDistDeg, 2*p.deviation),
	}
	for _, name := range []string{"startDistRPM", "kneeDistDeg", "limitDistDeg"} {
		lines = append(lines, fmt.Sprintf("%s lies between %.4g and %.4g in %.0f cases of 100.", name, out.Intervals[name][0], out.Intervals[name][1], 100*out.StatedRate))
	}
	return lines, []string{"balance of m ω² r against springs: T. Bevan, Theory of Machines, ch 13",
		"intervals: affine-invariant ensemble sampler, Goodman & Weare 2010", "ranges believed beforehand: chosen, stated in the code"}
}
