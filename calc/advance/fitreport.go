package advance

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/refuse"
)

// parameters are the reported quantities, in the order of the contract.
var parameters = []struct {
	name string
	of   func(Model) float64
}{
	{"startDistRPM", func(m Model) float64 { return m.StartDistRPM }},
	{"primaryRate", func(m Model) float64 { return m.PrimaryRate }},
	{"secondaryRate", func(m Model) float64 { return m.SecondaryRate }},
	{"kneeDistDeg", func(m Model) float64 { return m.KneeDistDeg }},
	{"limitDistDeg", func(m Model) float64 { return m.LimitDistDeg }},
	{"frictionDistDeg", func(m Model) float64 { return m.FrictionDistDeg }},
	{"weightGrowth", func(m Model) float64 { return m.WeightGrowth }},
	{"kneeDistRPM", Model.kneeRPM},
	{"limitDistRPM", Model.limitRPM},
}

// startDiffers is how much further than the samples say the start may lie,
// as a share: weights on pivots leave rest by another law than this model's
// (chosen on a simulator with that physics: without it 87 of 100 intervals hold
// the start, with it 90).
const startDiffers = 0.04

// report turns samples into the answer: the likeliest governor, intervals,
// what is undecided and which readings were slips. Refused: readings of which
// more than half are slips to every governor.
func (run runToFit) report(f infer.Fitted, asked []reading, both bool) (FitOut, *refuse.Error) {
	m := modelOf(f.Likeliest)
	out := FitOut{Model: m, KneeDistRPM: m.kneeRPM(), LimitDistRPM: m.limitRPM(),
		Intervals: map[string][2]float64{}, StatedRate: statedRate,
		Undecided: []Undecided{}, Wild: []WildReading{}, Basis: run.basis, BaseCrankDeg: run.base}
	samples := make([]Model, len(f.Samples))
	for i, g := range f.Samples {
		samples[i] = modelOf(g)
	}
	for _, p := range parameters {
		out.Intervals[p.name] = interval(samples, m, p.of)
	}
	start := out.Intervals["startDistRPM"]
	out.Intervals["startDistRPM"] = [2]float64{start[0] * (1 - startDiffers), start[1] * (1 + startDiffers)}
	slips := out.setAside(f, asked, len(asked) == len(run.readings))
	if 2*slips > len(asked) {
		return FitOut{}, refuse.Input("readings", fmt.Sprintf("lie beside every governor: %d of %d "+
			"fit no curve", slips, len(asked)),
			"advance that rises with speed, up to 25 distributor degrees",
			"check the units of degrees and speeds, and "+
				"the figures themselves")
	}
	out.Curve = m.curve(1.05 * run.topRPM())
	out.Undecided = run.undecided(out, both)
	out.Working, out.Sources = run.working(out, len(asked)-slips)
	return out, nil
}

func (run runToFit) topRPM() float64 {
	top := 0.0
	for _, r := range run.readings {
		top = max(top, r.rpm)
	}
	return top
}

// interval is the middle 90 % of a parameter over the samples; the likeliest
// is always in it.
func interval(samples []Model, likeliest Model, of func(Model) float64) [2]float64 {
	values := make([]float64, len(samples))
	for i, s := range samples {
		values[i] = of(s)
	}
	slices.Sort(values)
	tail, x := (1-statedRate)/2, of(likeliest)
	last := float64(len(values) - 1)
	return [2]float64{min(x, values[int(tail*last)]), max(x, values[int((1-tail)*last)])}
}

// setAside names the readings that are slips more likely than not, and reckons
// the root mean square of the rest. Middles of many readings are not named.
func (out *FitOut) setAside(f infer.Fitted, asked []reading, single bool) (slips int) {
	sum, n := 0.0, 0.0
	for k, r := range asked {
		off := r.deg - f.Likeliest.Reads(r.rpm, r.falling)
		if f.Slips[k] > 0.5 {
			slips++
			if !single {
				continue
			}
			out.Wild = append(out.Wild, WildReading{Set: r.set, Point: r.point, DistRPM: r.rpm, DeviationDistDeg: off})
			continue
		}
		sum, n = sum+off*off, n+1
	}
	out.RMSDistDeg = math.Sqrt(sum / max(n, 1))
	return slips
}

// undecided names the parameters whose interval is hardly narrower than what
// was believed before any reading.
func (run runToFit) undecided(out FitOut, both bool) []Undecided {
	width := func(name string) float64 { return out.Intervals[name][1] - out.Intervals[name][0] }
	list := []Undecided{}
	add := func(name, why, take string) { list = append(list, Undecided{name, why, take}) }
	lowest, top := math.Inf(1), run.topRPM()
	for _, r := range run.readings {
		lowest = min(lowest, r.rpm)
	}
	if width("startDistRPM") > 0.5*out.Model.StartDistRPM || out.Model.reads(lowest, false) > 1 {
		add("startDistRPM", "no reading stands below the start of the advance", fmt.Sprintf("readings below %.0f "+
			"distributor rpm, down to where the mark stops moving", lowest))
	}
	if width("limitDistDeg") > 3 || out.Intervals["limitDistRPM"][1] > 1.05*top {
		add("limitDistDeg", "the readings were still climbing, or only just level, at the "+
			"fastest speed", fmt.Sprintf("readings beyond %.0f distributor rpm, until two stand level", top))
	}
	if width("kneeDistDeg") > 0.5*out.Model.LimitDistDeg || width("kneeDistRPM") > 0.5*top {
		const closer = "closer readings between the start and the stop"
		add("kneeDistDeg", "one straight run in speed squared fits nearly as well as two: the secondary spring may "+
			"take up anywhere, or from the start", closer)
		add("secondaryRate", "it hangs on where the secondary spring takes up", closer)
	}
	if !both {
		add("frictionDistDeg", "only one direction was read: none is taken, and the curve is the one "+
			"read that way", "the same speeds while slowing down")
	}
	if width("weightGrowth") > 0.7*2*1.645*infer.GrowthSpread { // seven tenths of what was believed
		add("weightGrowth", "the curve's bend is smaller than the reading error", "nothing needed: it hardly "+
			"changes what to do")
	}
	return list
}

func (run runToFit) working(out FitOut, used int) (lines, sources []string) {
	m, stated := out.Model, 0.0
	for _, r := range run.readings {
		stated += r.err / float64(len(run.readings))
	}
	lines = []string{
		"Balance: U (1 + g a) = U0 + k1 a + k2 (a − knee beyond the knee), U = (distributor rpm / 1000)².",
		fmt.Sprintf("U0 = (%.0f / 1000)² = %.4f; k1 = %.4f, k2 = %.4f per degree; knee %.1f, stop %.1f distributor "+
			"degrees; g = %.3f per degree.",
			m.StartDistRPM, speedSquared(m.StartDistRPM), m.PrimaryRate, m.SecondaryRate,
			m.KneeDistDeg, m.LimitDistDeg, m.WeightGrowth),
		fmt.Sprintf("%d readings used: %s. Root mean square of reading less model %.2f distributor degrees; stated "+
			"reading error ±%.2f.",
			used, out.Basis, out.RMSDistDeg, stated),
	}
	for _, name := range []string{"startDistRPM", "kneeDistDeg", "limitDistDeg"} {
		lines = append(lines, fmt.Sprintf("%s lies between %.4g and %.4g in %.0f "+
			"cases of 100.", name, out.Intervals[name][0], out.Intervals[name][1], 100*out.StatedRate))
	}
	return lines, []string{"balance of m ω² r against springs: T. Bevan, Theory of Machines, ch 13",
		"intervals: sequential Monte Carlo, Del Moral, Doucet & Jasra 2006", "ranges believed beforehand: chosen, " +
			"stated in the code"}
}
