package scatter

import (
	"math"

	"pointsmith/calc/finding"
)

// split finds mean, waves and residuals.
func (p *pattern) split() {
	n := float64(len(p.mean))
	for _, e := range p.mean {
		p.out.MeanDistDeg += e / n
	}
	a, b := p.oneWave()
	c, d := p.harmonic(2)
	p.out.FirstHarmonicDistDeg, p.out.SecondHarmonicDistDeg = math.Hypot(a, b), math.Hypot(c, d)
	if p.out.FirstHarmonicDistDeg > rounding {
		p.out.PhaseDeg = math.Mod(math.Atan2(b, a)*180/math.Pi+360, 360)
	}
	var all, waves float64
	for i, e := range p.mean {
		sin, cos := math.Sincos(p.angle(i))
		wave := a*cos + b*sin
		f := Flash{Position: i + 1, Cylinder: p.cylinder(i), ErrorDistDeg: e, DesignDistDeg: p.design[i],
			WaveDistDeg:     p.out.MeanDistDeg + wave,
			ResidualDistDeg: e - p.out.MeanDistDeg - wave, SpreadDistDeg: p.spread(i),
			Verdict: verdict(e - p.out.MeanDistDeg)}
		p.out.Flashes = append(p.out.Flashes, f)
		p.out.ResidualMaxDistDeg = math.Max(p.out.ResidualMaxDistDeg, math.Abs(f.ResidualDistDeg))
		p.out.WorstDistDeg = math.Max(p.out.WorstDistDeg, math.Abs(e-p.out.MeanDistDeg))
		all += (e - p.out.MeanDistDeg) * (e - p.out.MeanDistDeg)
		waves += wave * wave
	}
	if all > rounding {
		p.wave = waves / all
	}
	p.alternate(all)
	p.repeatSpread()
}

// oneWave gives the cosine and sine part of one wave a turn. Where the flashes
// do not come evenly it is the wave of least squares about the mean; fewer than
// four of those tell none.
func (p *pattern) oneWave() (a, b float64) {
	if !p.in.uneven() {
		return p.harmonic(1)
	}
	if len(p.mean) < 4 {
		return 0, 0
	}
	var cc, cs, ss, ec, es float64
	for i, e := range p.mean {
		sin, cos := math.Sincos(p.angle(i))
		e -= p.out.MeanDistDeg
		cc, cs, ss, ec, es = cc+cos*cos, cs+cos*sin, ss+sin*sin, ec+e*cos, es+e*sin
	}
	det := cc*ss - cs*cs
	if det < rounding {
		return 0, 0
	}
	return (ec*ss - es*cs) / det, (es*cc - ec*cs) / det
}

// harmonic gives the cosine and sine part of k waves a turn. Where the wave
// is as short as the flashes can tell (2 k = N) both its turns fall on the
// same figures and count once; shorter ones cannot be told at all.
func (p *pattern) harmonic(k int) (a, b float64) {
	n := len(p.mean)
	if 2*k > n {
		return 0, 0
	}
	scale := 2 / float64(n)
	if 2*k == n {
		scale /= 2
	}
	for i, e := range p.mean {
		sin, cos := math.Sincos(2 * math.Pi * float64(k*i) / float64(n))
		a += scale * (e - p.out.MeanDistDeg) * cos
		b += scale * (e - p.out.MeanDistDeg) * sin
	}
	return a, b
}

func (p *pattern) cylinder(i int) int {
	if len(p.in.FiringOrder) == 0 {
		return 0
	}
	return p.in.FiringOrder[i]
}

// spread is the largest less the smallest error of one flash over the runs.
func (p *pattern) spread(i int) float64 {
	low, high := p.runs[0][i], p.runs[0][i]
	for _, run := range p.runs {
		low, high = math.Min(low, run[i]), math.Max(high, run[i])
	}
	return high - low
}

func (p *pattern) repeatSpread() {
	if len(p.runs) < 2 {
		return
	}
	most := 0.0
	for _, f := range p.out.Flashes {
		most = math.Max(most, f.SpreadDistDeg)
	}
	p.out.RepeatSpreadDistDeg = &most
}

// together is how much of the spread all flashes share: the range of the
// runs' means.
func (p *pattern) together() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, run := range p.runs {
		mean := 0.0
		for _, e := range run {
			mean += e / float64(len(run))
		}
		low, high = math.Min(low, mean), math.Max(high, mean)
	}
	return high - low
}

// extremes names the earliest and the latest cylinder against No. 1.
func (p *pattern) extremes() {
	early, late := 0, 0
	for i, e := range p.mean {
		if e > p.mean[early] {
			early = i
		}
		if e < p.mean[late] {
			late = i
		}
	}
	p.out.Earliest = p.against(early)
	p.out.Latest = p.against(late)
	if p.in.MarginCrankDeg != nil {
		left := *p.in.MarginCrankDeg - p.out.Earliest.CrankDeg
		p.out.RealMarginCrankDeg = &left
	}
}

func (p *pattern) against(i int) Earliest {
	return Earliest{Position: i + 1, Cylinder: p.cylinder(i), CrankDeg: p.ratio * (p.mean[i] - p.mean[0])}
}

func verdict(off float64) string {
	switch d := math.Abs(off); {
	case d <= good+rounding:
		return finding.Pass
	case d <= fair+rounding:
		return finding.Watch
	}
	return finding.Fail
}
