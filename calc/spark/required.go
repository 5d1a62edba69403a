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
	UniformKV    float64  `json:"uniformKV" unit:"kilovolts" help:"the uniform-field law alone"`
	PaschenKV    float64  `json:"paschenKV" unit:"kilovolts" help:"Paschen's law for air on iron alone"`
	PressureKPa  float64  `json:"pressureKPa" unit:"kPa absolute" help:"pressure at the spark"`
	TemperatureC float64  `json:"temperatureC" unit:"degrees Celsius" help:"temperature at the spark"`
	Assumed      []string `json:"assumed" help:"what was not given, and what was taken instead"`
	Text         string   `json:"text" help:"what the range means"`
	Working      []string `json:"working" help:"the rule with these figures in it"`
	Sources      []string `json:"sources" help:"where the rule comes from"`
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
// Systems, chapter abstract) lie inside or at the edge of the range.
func Required(in RequiredIn) (RequiredOut, error) {
	kPa, celsius, assumed, bad := in.state()
	if bad != nil {
		return RequiredOut{}, bad
	}
	out := RequiredOut{PressureKPa: kPa, TemperatureC: celsius, Assumed: assumed}
	g := gas{in.GapMm / 10, density(kPa, celsius)}
	field := "pressureKPa"
	if in.Engine != nil {
		field = "engine.manifoldKPa"
		out.Working = append(out.Working, in.Engine.working(kPa, celsius))
	}
	if bad := g.tooDense(field); bad != nil {
		return RequiredOut{}, bad
	}
	_, leastPd := airOnIron.least()
	if g.density*g.cm < uniformLeast || g.torrCm() < leastPd {
		return RequiredOut{}, refuse.Input("gapMm", fmt.Sprintf("density times gap is %.3g cm, too small for either law", g.density*g.cm),
			fmt.Sprintf("a gap of %.3g mm or more at this pressure", 10*uniformLeast/g.density), "check gap and pressure")
	}
	out.UniformKV, out.PaschenKV = g.uniformKV(), airOnIron.volts(g.torrCm())/1000
	out.span(in, g)
	out.Sources = []string{"uniform field: Kamaraju & Naidu, High Voltage Engineering, Ex 2.1", "Paschen, air on iron: E. Nasser, Fundamentals of Gaseous Ionization and Plasma Electronics, as tabled in public source",
		"15 % up: spread of published methods; 30 % down for sharp, hot electrodes: our judgement, so that published plug figures lie inside", "wrong polarity 10 to 15 %: a plug maker's text quoted on a forum"}
	return out, nil
}

func (out *RequiredOut) span(in RequiredIn, g gas) {
	low, high := math.Min(out.UniformKV, out.PaschenKV), math.Max(out.UniformKV, out.PaschenKV)
	out.LowKV, out.HighKV = sharpHot*low, (1+spread)*high
	out.Working = append(out.Working,
		fmt.Sprintf("Density at the spark %.4g times free air; gap %.4g mm. Uniform-field law %.4g kV, Paschen's %.4g kV.", g.density, in.GapMm, out.UniformKV, out.PaschenKV),
		fmt.Sprintf("From %g × %.4g to %g × %.4g: %.3g to %.3g kV.", sharpHot, low, 1+spread, high, out.LowKV, out.HighKV))
	switch in.Polarity {
	case "wrong":
		out.LowKV, out.HighKV = out.LowKV*wrongWayLow, out.HighKV*wrongWay
		out.Working = append(out.Working, fmt.Sprintf("Centre electrode positive asks for 10 to 15 %% more: %.3g to %.3g kV.", out.LowKV, out.HighKV))
	case "", "unknown":
		out.HighKV *= wrongWay
		out.Working = append(out.Working, fmt.Sprintf("Polarity not known: the upper end with 15 %% for the wrong way round, %.3g kV.", out.HighKV))
	}
	out.Text = fmt.Sprintf("This plug may ask for %.0f to %.0f kV here. Sharp, hot, new electrodes and a good mixture lie near the low end; worn, cold ones near the high end, and a weak mixture can go past it.", out.LowKV, out.HighKV)
}

func (in RequiredIn) state() (kPa, celsius float64, assumed []string, bad *refuse.Error) {
	given := in.PressureKPa != nil || in.TemperatureC != nil
	switch {
	case given && in.Engine != nil:
		return 0, 0, nil, refuse.Input("engine", "pressure or temperature is given, and an engine as well", "either pressureKPa with temperatureC, or engine", "leave one way out")
	case in.Engine != nil:
		kPa, celsius = in.Engine.AtSpark()
		return kPa, celsius, in.Engine.Assumed("engine."), nil
	case in.PressureKPa == nil || in.TemperatureC == nil:
		return 0, 0, nil, refuse.Input("pressureKPa", "the state of the gas at the spark is not given", "pressureKPa with temperatureC, or engine", "give both, or an engine to work them out from")
	}
	return *in.PressureKPa, *in.TemperatureC, []string{}, nil
}
