package cycle

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// HeatLoss is how heat goes to the walls, and gas past the rings.
type HeatLoss struct {
	Law         string   `json:"law" need:"yes" enum:"fixed|woschni" help:"fixed: one coefficient all the way; woschni: it follows pressure, temperature and speed, and asks for bore, stroke, startKPa and startK"`
	EngineRPM   *float64 `json:"engineRPM,omitempty" over:"0" max:"12000" unit:"engine rpm" help:"speed; needed by woschni and by a leak"`
	Coefficient *float64 `json:"coefficient,omitempty" min:"0" max:"5" unit:"ratio" help:"for fixed: coefficient times the area of head and piston times T1, over p1 V1 and crank speed in radians"`
	AreaGrowth  *float64 `json:"areaGrowth,omitempty" min:"0" max:"10" unit:"ratio" help:"how the wetted area grows: 1 + this times V/V1; for woschni from bore and stroke unless said, for fixed needed"`
	WallRatio   float64  `json:"wallRatio" need:"yes" over:"0" max:"5" unit:"ratio" help:"temperature of the walls over that of the charge at the start, both in kelvin"`
	LeakPerS    float64  `json:"leakPerS,omitempty" min:"0" max:"20" unit:"per second" help:"part of the gas that leaks away in a second; none unless said"`
	BoreMm      *float64 `json:"boreMm,omitempty" min:"20" max:"300" unit:"mm" help:"for woschni: bore"`
	StrokeMm    *float64 `json:"strokeMm,omitempty" min:"20" max:"400" unit:"mm" help:"for woschni: stroke"`
	StartKPa    *float64 `json:"startKPa,omitempty" min:"10" max:"400" unit:"kPa absolute" help:"for woschni: pressure p1 at the start of compression"`
	StartK      *float64 `json:"startK,omitempty" min:"220" max:"600" unit:"kelvin" help:"for woschni: temperature T1 at the start of compression"`
}

// CycleIn is one cylinder in ratios.
type CycleIn struct {
	CompressionRatio     float64   `json:"compressionRatio" need:"yes" min:"2" max:"20" unit:"ratio" help:"compression ratio"`
	Gamma                float64   `json:"gamma" need:"yes" over:"1" max:"1.67" unit:"ratio" help:"ratio of specific heats, one for the whole cycle"`
	HeatRatio            float64   `json:"heatRatio" need:"yes" min:"0" max:"60" unit:"ratio" help:"heat of the fuel over p1 V1"`
	BurnStartCrankDeg    float64   `json:"burnStartCrankDeg" need:"yes" min:"-150" max:"120" unit:"crank degrees" help:"start of burning; before TDC negative"`
	BurnDurationCrankDeg float64   `json:"burnDurationCrankDeg" need:"yes" min:"1" max:"200" unit:"crank degrees" help:"duration of burning, y from 0 to 1"`
	WiebeA               *float64  `json:"wiebeA,omitempty" min:"1" max:"20" unit:"ratio" help:"a of the burning; 5 unless said"`
	WiebeM               *float64  `json:"wiebeM,omitempty" min:"0" max:"8" unit:"ratio" help:"m of the burning; 2 unless said (books that write n mean m + 1)"`
	CutOff               bool      `json:"cutOff,omitempty" help:"true: burning stops at the end of its duration, with 99.33 % burned for a = 5; false: it goes on to the last of the charge"`
	RodRatio             *float64  `json:"rodRatio,omitempty" min:"1.5" max:"20" unit:"ratio" help:"connecting rod over half the stroke; a rod without end unless said"`
	HeatLoss             *HeatLoss `json:"heatLoss,omitempty" help:"heat to the walls and gas past the rings; none unless said"`
	FindBest             bool      `json:"findBest,omitempty" help:"true: find also the start of burning that gives most work"`
}

// CycleOut is what the cycle gives.
type CycleOut struct {
	PMaxRatio         float64  `json:"pMaxRatio" unit:"ratio" help:"highest pressure over p1"`
	PMaxCrankDeg      float64  `json:"pMaxCrankDeg" unit:"crank degrees" help:"where it stands, after TDC positive"`
	WorkRatio         float64  `json:"workRatio" unit:"ratio" help:"work of compression and expansion over p1 V1"`
	Efficiency        float64  `json:"efficiency" unit:"ratio" help:"work over the heat of the fuel; 0 without fuel"`
	OttoEfficiency    float64  `json:"ottoEfficiency" unit:"ratio" help:"what burning all at once at TDC without loss would give"`
	ImepRatio         float64  `json:"imepRatio" unit:"ratio" help:"mean effective pressure over p1"`
	CA50CrankDeg      float64  `json:"ca50CrankDeg" unit:"crank degrees" help:"where half of the charge is burned, after TDC positive"`
	HeatLostRatio     float64  `json:"heatLostRatio" unit:"ratio" help:"heat to the walls over p1 V1"`
	MassLostRatio     float64  `json:"massLostRatio" unit:"ratio" help:"part of the gas that leaked away"`
	BestStartCrankDeg *float64 `json:"bestStartCrankDeg,omitempty" unit:"crank degrees" help:"where asked: start of burning that gives most work, before TDC negative"`
	BestCA50CrankDeg  *float64 `json:"bestCA50CrankDeg,omitempty" unit:"crank degrees" help:"where half is burned then"`
	Working           []string `json:"working" help:"the rule with these figures in it"`
	Sources           []string `json:"sources" help:"where the rule comes from"`
}

// Cycle takes one cylinder of one zone from bottom to bottom dead centre:
//
//	dp/dθ = −γ p/V dV/dθ + (γ−1)/V (Q dx/dθ − dq/dθ)
//	x     = 1 − e^(−a y^(m+1)), y = (θ − start)/duration
//	dq/dθ = h (1 + βV)(T − Tw);  leak: dm/dθ = −m c/ω
//	h     = 3.26 B^−0.2 p^0.8 T^−0.55 w^0.8 for woschni, w in gas.go
//
// Pressures, volumes, temperatures and heats are over p1, V1, T1 and p1 V1 at
// the start. By steps of adaptive length (solve.go), to 1e-9 of the state.
// Refused: figures outside the fields' limits; a woschni without its sizes.
// Without heat loss the best phasing lies at CA50 = 0, not 8 to 10 after TDC:
// only what is lost moves it late. Sources: Ferguson & Kirkpatrick, Internal
// Combustion Engines, Applied Thermosciences, ch 2; G. Woschni, SAE 670931, as
// given in several public sources.
func Cycle(in CycleIn) (CycleOut, error) {
	g, bad := in.gas()
	if bad != nil {
		return CycleOut{}, bad
	}
	out := g.run()
	in.finish(&out, g.burn)
	if in.FindBest {
		start := in.bestStart()
		w := g.burn
		w.Start = start
		half := w.At(0.5)
		out.BestStartCrankDeg, out.BestCA50CrankDeg = &start, &half
	}
	return out, nil
}

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}

func (in CycleIn) wiebe() Wiebe {
	return Wiebe{in.BurnStartCrankDeg, in.BurnDurationCrankDeg, or(in.WiebeA, 5), or(in.WiebeM, 2), in.CutOff}
}

func (in CycleIn) gas() (gas, *refuse.Error) {
	g := gas{crank: Crank{in.CompressionRatio, or(in.RodRatio, 0)}, burn: in.wiebe(), gamma: in.Gamma,
		heat: in.HeatRatio}
	if in.HeatLoss == nil {
		return g, nil
	}
	l := *in.HeatLoss
	if bad := l.check(); bad != nil {
		return g, bad.Under("heatLoss")
	}
	g.wall = l.WallRatio
	if l.LeakPerS > 0 {
		g.leak = l.LeakPerS / (*l.EngineRPM * 6)
	}
	if l.Law == "woschni" {
		g.loss = in.woschni(l)
	} else {
		g.loss = fixedLoss(*l.Coefficient, *l.AreaGrowth)
	}
	return g, nil
}

// check wants what the law needs.
func (l HeatLoss) check() *refuse.Error {
	type need struct {
		name  string
		given *float64
	}
	needs := []need{{"coefficient", l.Coefficient}, {"areaGrowth", l.AreaGrowth}}
	if l.Law == "woschni" {
		needs = []need{{"engineRPM", l.EngineRPM}, {"boreMm", l.BoreMm}, {"strokeMm", l.StrokeMm},
			{"startKPa", l.StartKPa}, {"startK", l.StartK}}
	} else if l.LeakPerS > 0 {
		needs = append(needs, need{"engineRPM", l.EngineRPM})
	}
	for _, n := range needs {
		if n.given == nil {
			return refuse.Input(n.name, "is missing", "needed where the law is "+l.Law,
				"give it, or choose the other law")
		}
	}
	return nil
}

// run goes the whole way.
func (g gas) run() CycleOut {
	var out CycleOut
	f := slope(g.slope)
	y := g.steps(f, func(s taken) { out.seePeak(f, s) })
	out.WorkRatio, out.HeatLostRatio, out.MassLostRatio = y[1], y[2], 1-y[3]
	return out
}

// steps goes from break to break of the burning and shows seen each step.
func (g gas) steps(f slope, seen func(taken)) state {
	y := state{1, 0, 0, 1}
	from := -180.0
	breaks := []float64{g.burn.Start, 180}
	if g.burn.CutOff {
		breaks = []float64{g.burn.Start, min(180, g.burn.Start+g.burn.Duration), 180}
	}
	for _, to := range breaks {
		y = f.run(from, to, y, seen)
		from = to
	}
	return y
}

// seePeak keeps the highest pressure; inside a step it is where the change of
// pressure goes through zero.
func (out *CycleOut) seePeak(f slope, s taken) {
	if s.first[0] > 0 && s.after[0] < 0 {
		low, high := 0.0, s.h
		for range 30 {
			mid := (low + high) / 2
			at, slope, _ := f.try(s.deg, mid, s.y, s.first)
			if slope[0] > 0 {
				low = mid
			} else {
				high = mid
			}
			s.next, s.h = at, mid
		}
	}
	for _, p := range []struct{ deg, p float64 }{{s.deg, s.y[0]}, {s.deg + s.h, s.next[0]}} {
		if p.p > out.PMaxRatio {
			out.PMaxRatio, out.PMaxCrankDeg = p.p, p.deg
		}
	}
}

func (in CycleIn) finish(out *CycleOut, w Wiebe) {
	r := in.CompressionRatio
	if in.HeatRatio > 0 {
		out.Efficiency = out.WorkRatio / in.HeatRatio
	}
	out.OttoEfficiency = 1 - math.Pow(r, 1-in.Gamma)
	out.ImepRatio = out.WorkRatio * r / (r - 1)
	out.CA50CrankDeg = w.At(0.5)
	burned := "all of it"
	if w.CutOff {
		burned = fmt.Sprintf("%.4g %%, where it is cut off", -100*math.Expm1(-w.A))
	}
	out.Working = []string{
		fmt.Sprintf("Burning from %.4g° to %.4g° (before TDC negative), half burned at %.4g°, in the end %s.", w.Start,
			w.Start+w.Duration, out.CA50CrankDeg, burned),
		fmt.Sprintf("Work %.5g of p1 V1 from heat %.5g: efficiency %.4g; all at once at TDC without loss: 1 − %.4g^(1 − %.4g) = %.4g.",
			out.WorkRatio, in.HeatRatio, out.Efficiency, r, in.Gamma, out.OttoEfficiency),
		fmt.Sprintf("Mean effective pressure: %.5g × %.4g / (%.4g − 1) = %.5g of p1.", out.WorkRatio, r, r,
			out.ImepRatio),
	}
	out.Sources = []string{"single zone with Wiebe burning: Ferguson & Kirkpatrick, Internal Combustion Engines, ch 2"}
	if in.HeatLoss != nil && in.HeatLoss.Law == "woschni" {
		out.Sources = append(out.Sources, "heat loss: G. Woschni, SAE 670931, as given in several public sources")
	}
}

// bestStart looks for the start of burning with most work by golden section:
// work has one peak over it.
func (in CycleIn) bestStart() float64 {
	work := func(start float64) float64 {
		in.BurnStartCrankDeg = start
		g, _ := in.gas() // was accepted before
		return g.run().WorkRatio
	}
	half := in.wiebe().Fraction(0.5) * in.BurnDurationCrankDeg
	return Golden(work, -half-20, -half+50, 0.005)
}

// Golden finds where f is greatest between low and high, to within the width
// given, by golden section; f must have one peak there.
func Golden(f func(float64) float64, low, high, within float64) float64 {
	const part = 0.6180339887498949 // (√5 − 1)/2
	a, b := high-part*(high-low), low+part*(high-low)
	fa, fb := f(a), f(b)
	for high-low > within {
		if fa > fb {
			high, b, fb = b, a, fa
			a = high - part*(high-low)
			fa = f(a)
		} else {
			low, a, fa = a, b, fb
			b = low + part*(high-low)
			fb = f(b)
		}
	}
	return (low + high) / 2
}
