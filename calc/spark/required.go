package spark

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// Cylinder is what decides pressure and temperature at the spark.
type Cylinder struct {
	CompressionRatio *float64 `json:"compressionRatio,omitempty" min:"3" max:"16" unit:"ratio" help:"compression ratio; 8 unless said"`
	ManifoldKPa      *float64 `json:"manifoldKPa,omitempty" min:"10" max:"300" unit:"kPa absolute" help:"pressure at the start of compression; 100, full throttle, unless said"`
	ChargeC          *float64 `json:"chargeC,omitempty" min:"-40" max:"200" unit:"degrees Celsius" help:"temperature at the start of compression; 60 unless said"`
	SparkCrankDeg    *float64 `json:"sparkCrankDeg,omitempty" min:"-40" max:"70" unit:"crank degrees before TDC" help:"when the spark comes; 25 unless said"`
	Exponent         *float64 `json:"exponent,omitempty" min:"1" max:"1.4" unit:"ratio" help:"exponent of the compression; 1.3 unless said"`
}

// RequiredIn is a plug in a cylinder.
type RequiredIn struct {
	GapMm        float64   `json:"gapMm" need:"yes" over:"0" max:"5" unit:"mm" help:"gap of the plug"`
	PressureKPa  *float64  `json:"pressureKPa,omitempty" over:"0" max:"10000" unit:"kPa absolute" help:"pressure at the spark, with temperatureC; or give engine"`
	TemperatureC *float64  `json:"temperatureC,omitempty" min:"-80" max:"2000" unit:"degrees Celsius" help:"temperature at the spark, with pressureKPa; or give engine"`
	Engine       *Cylinder `json:"engine,omitempty" help:"instead of pressure and temperature: what they are worked out from"`
	Polarity     string    `json:"polarity,omitempty" enum:"right|wrong|unknown" help:"right: centre electrode negative; wrong adds to the need; unknown unless said"`
}

// RequiredOut is what the plug asks for: a range.
type RequiredOut struct {
	LowKV        float64  `json:"lowKV" unit:"kilovolts" help:"a new, sharp, hot plug in a rich mixture may do with this"`
	HighKV       float64  `json:"highKV" unit:"kilovolts" help:"rounded, cold electrodes may ask for this"`
	GoodHighKV   float64  `json:"goodHighKV" unit:"kilovolts" help:"upper end for a good plug; above it only a worn or cold one asks"`
	UniformKV    float64  `json:"uniformKV" unit:"kilovolts" help:"the uniform-field law alone"`
	PaschenKV    float64  `json:"paschenKV" unit:"kilovolts" help:"Paschen's law for air on iron alone"`
	PressureKPa  float64  `json:"pressureKPa" unit:"kPa absolute" help:"pressure at the spark"`
	TemperatureC float64  `json:"temperatureC" unit:"degrees Celsius" help:"temperature at the spark"`
	Assumed      []string `json:"assumed" help:"what was not given, and what was taken instead"`
	Condition    string   `json:"condition" help:"the state of the engine that lowKV to highKV stand for"`
	Text         string   `json:"text" help:"what the range means"`

	Conditions []Condition `json:"conditions" help:"the same plug in the states an engine goes through, each with its own range"`

	Working []string `json:"working" help:"the rule with these figures in it"`
	Sources []string `json:"sources" help:"where the rule comes from"`
}

const (
	sharpHot    = 0.7  // of the lower law: our judgement, so that the published 8 kV for 0.6 mm at 8:1 lies inside
	wrongWayLow = 1.10 // centre positive: 10 to 15 %, a plug maker's text quoted on a forum
	wrongWay    = 1.15
)

// Required gives the range of voltage a plug asks for in the cylinder. The two
// laws of Breakdown are worked at the pressure and temperature of the spark;
// the range runs from 0.7 of the lower to 1.15 of the higher. From an engine:
//
//	V/V' = r / (1 + (r − 1)(1 − cos θ)/2)   (long rod),  p = p1 (V/V')^n,  T = T1 (V/V')^(n−1)
//
// Refused outside the range of the laws: density times gap from 0.01 cm, a
// density at most ten times free air. Wrong polarity adds 10 to 15 %. Sources:
// as Breakdown; the published 2 to 3 kV at 0.6 mm in free air and about 8 kV
// in an 8:1 cylinder (T. Denton, Automobile Electrical and Electronic
// Systems, chapter abstracts) lie inside or at the edge of the range. Each range
// belongs to a state of the engine, named in condition; conditions gives idle,
// light load, full throttle slow and fast, and the cold start, for a good plug
// (0.7 to 1 of the lower law) and a worn one (0.15 mm wider).
func Required(in RequiredIn) (RequiredOut, error) {
	n, bad := in.need()
	if bad != nil {
		return RequiredOut{}, bad
	}
	out := RequiredOut{LowKV: n.low, HighKV: n.high, GoodHighKV: n.good, Conditions: in.conditions(),
		Condition: "pressure and temperature as given", UniformKV: n.uniform, PaschenKV: n.paschen, PressureKPa: n.kPa,
		TemperatureC: n.celsius, Assumed: []string{}, Working: n.working(in)}
	if in.Engine != nil {
		out.Assumed = in.Engine.Assumed("engine.")
		out.Condition = fmt.Sprintf(
			"%.3g kPa in the cylinder as compression begins, spark at %.3g° before TDC, compression "+
				"ratio %.3g", in.Engine.manifold(), in.Engine.degrees(), in.Engine.ratio())
		out.Working = append([]string{in.Engine.working(n.kPa, n.celsius)}, out.Working...)
	}
	out.Text = fmt.Sprintf("This plug may ask for %.0f to %.0f kV at %s. A good plug stays under about %.0f kV; worn, "+
		"cold electrodes ask for more, and a weak mixture can go past the high end. Idle and light load ask for less: see "+
		"the conditions.",
		out.LowKV, out.HighKV, out.Condition, out.GoodHighKV)
	out.Sources = []string{"uniform field: Kamaraju & Naidu, High Voltage Engineering, Ex 2.1",
		"Paschen, air on iron: E. Nasser, Fundamentals of Gaseous Ionization and Plasma Electronics, as tabled in public source",
		"a good plug from 0.7 to 1 of the lower law: holds T. Denton's 2 to 3 kV at 0.6 mm and 3 to 4 kV at 1 mm in free " +
			"air, Automobile Electrical and Electronic Systems (chapter abstracts)",
		"15 % up: spread of published methods; 30 % down for sharp, hot electrodes: our judgement, so that published plug figures lie inside",
		"wrong polarity 10 to 15 %: a plug maker's text quoted on a forum"}
	return out, nil
}

// Need is the range of Required alone, without words, for a run over speeds.
func Need(in RequiredIn) (lowKV, goodHighKV, highKV float64, err error) {
	n, bad := in.need()
	if bad != nil {
		return 0, 0, 0, bad
	}
	return n.low, n.good, n.high, nil
}

// need is the figures behind a range.
type need struct {
	gas
	kPa, celsius, uniform, paschen, low, high, good float64
}

func (in RequiredIn) need() (need, *refuse.Error) {
	kPa, celsius, bad := in.state()
	if bad != nil {
		return need{}, bad
	}
	n := need{gas: gas{in.GapMm / 10, density(kPa, celsius)}, kPa: kPa, celsius: celsius}
	field := "pressureKPa"
	if in.Engine != nil {
		field = "engine.manifoldKPa"
	}
	if bad := n.tooDense(field); bad != nil {
		return need{}, bad
	}
	if _, leastPd := airOnIron.least(); n.density*n.cm < uniformLeast || n.torrCm() < leastPd {
		return need{}, refuse.Input("gapMm", fmt.Sprintf("density times gap is %.3g cm, too small for either law",
			n.density*n.cm),
			fmt.Sprintf("a gap of %.3g mm or more at this pressure", 10*uniformLeast/n.density),
			"check gap and pressure")
	}
	n.uniform, n.paschen = n.uniformKV(), airOnIron.volts(n.torrCm())/1000
	n.low, n.high = sharpHot*math.Min(n.uniform, n.paschen), (1+spread)*math.Max(n.uniform, n.paschen)
	n.good = goodHigh * math.Min(n.uniform, n.paschen)
	switch in.Polarity {
	case "wrong":
		n.low, n.high, n.good = n.low*wrongWayLow, n.high*wrongWay, n.good*wrongWay
	case "", "unknown":
		n.high *= wrongWay
	}
	return n, nil
}

func (n need) working(in RequiredIn) []string {
	low, high := math.Min(n.uniform, n.paschen), math.Max(n.uniform, n.paschen)
	lines := []string{
		fmt.Sprintf("Density at the spark %.4g times free air; gap %.4g mm. Uniform-field law %.4g kV, Paschen's %.4g kV.",
			n.density, in.GapMm, n.uniform, n.paschen),
		fmt.Sprintf("From %g × %.4g to %g × %.4g: %.3g to %.3g kV.", sharpHot, low, 1+spread, high, sharpHot*low,
			(1+spread)*high),
	}
	switch in.Polarity {
	case "wrong":
		lines = append(lines, fmt.Sprintf("Centre electrode positive asks for 10 to 15 %% more: %.3g to %.3g kV.",
			n.low, n.high))
	case "", "unknown":
		lines = append(lines,
			fmt.Sprintf("Polarity not known: the upper end with 15 %% for the wrong way round, %.3g kV.", n.high))
	}
	return lines
}

func (in RequiredIn) state() (kPa, celsius float64, bad *refuse.Error) {
	given := in.PressureKPa != nil || in.TemperatureC != nil
	switch {
	case given && in.Engine != nil:
		return 0, 0, refuse.Input("engine", "pressure or temperature is given, and an engine as well",
			"either pressureKPa with temperatureC, or engine", "leave one way out")
	case in.Engine != nil:
		kPa, celsius = in.Engine.AtSpark()
		return kPa, celsius, nil
	case in.PressureKPa == nil || in.TemperatureC == nil:
		return 0, 0, refuse.Input("pressureKPa", "the state of the gas at the spark is not given",
			"pressureKPa with temperatureC, or engine", "give both, or an engine to work them out from")
	}
	return *in.PressureKPa, *in.TemperatureC, nil
}
