package flame

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// TravelIn is a flame that crosses a chamber.
type TravelIn struct {
	BoreMm          float64  `json:"boreMm" need:"yes" min:"20" max:"300" unit:"mm" help:"bore"`
	PlugOffsetMm    float64  `json:"plugOffsetMm,omitempty" min:"0" max:"150" unit:"mm" help:"how far the plug stands from the middle of the bore; in the middle unless said"`
	EngineRPM       float64  `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed"`
	SparkCrankDeg   float64  `json:"sparkCrankDeg" need:"yes" min:"-40" max:"90" unit:"crank degrees" help:"spark, before TDC positive"`
	DevelopCrankDeg float64  `json:"developCrankDeg" need:"yes" min:"0" max:"60" unit:"crank degrees" help:"from the spark until the flame runs"`
	FlameMS         *float64 `json:"flameMS,omitempty" over:"0" max:"300" unit:"metres per second" help:"speed of the flame; either this or endCrankDeg"`
	EndCrankDeg     *float64 `json:"endCrankDeg,omitempty" min:"-60" max:"120" unit:"crank degrees" help:"where the flame has crossed, after TDC positive; either this or flameMS"`
}

// TravelOut is the time of the burning.
type TravelOut struct {
	DistanceMm  float64  `json:"distanceMm" unit:"mm" help:"longest way of the flame"`
	FlameMS     float64  `json:"flameMS" unit:"metres per second" help:"speed of the flame"`
	TravelMs    float64  `json:"travelMs" unit:"milliseconds" help:"time of the flame's way"`
	BurnMs      float64  `json:"burnMs" unit:"milliseconds" help:"the same with its development"`
	EndCrankDeg float64  `json:"endCrankDeg" unit:"crank degrees" help:"where the flame has crossed, after TDC positive"`
	Working     []string `json:"working" help:"the rule with these figures in it"`
	Sources     []string `json:"sources" help:"where the rule comes from"`
}

// Travel gives the end of burning from the speed of the flame, or the speed
// from the end:
//
//	way = bore/2 + offset,  end = −spark + development + 6 N way / flame
//
// Refused: both or neither of speed and end; an end before the flame runs; a
// plug outside the bore. Source: R. K. Rajput, A Textbook of Internal Combustion
// Engines, Ex 5.1.
func Travel(in TravelIn) (TravelOut, error) {
	if (in.FlameMS == nil) == (in.EndCrankDeg == nil) {
		return TravelOut{}, refuse.Input("flameMS", "speed and end of the flame are both given, or neither",
			"one of flameMS and endCrankDeg", "give the one that is known")
	}
	if in.PlugOffsetMm > in.BoreMm/2 {
		return TravelOut{}, refuse.Input("plugOffsetMm", fmt.Sprintf("%.4g mm is outside the bore", in.PlugOffsetMm),
			fmt.Sprintf("half the bore, %.4g mm", in.BoreMm/2), "measure from the middle of the bore")
	}
	perMs := in.EngineRPM * 6 / 1000
	runs := in.DevelopCrankDeg - in.SparkCrankDeg
	out := TravelOut{DistanceMm: in.BoreMm/2 + in.PlugOffsetMm}
	if in.FlameMS != nil {
		out.FlameMS = *in.FlameMS
		out.TravelMs = out.DistanceMm / out.FlameMS
	} else {
		out.TravelMs = (*in.EndCrankDeg - runs) / perMs
		if out.TravelMs <= 0 {
			return TravelOut{}, refuse.Input("endCrankDeg", "the flame would have crossed before it runs",
				fmt.Sprintf("more than %.4g crank degrees after TDC", runs), "check spark, development and end")
		}
		out.FlameMS = out.DistanceMm / out.TravelMs
	}
	out.BurnMs = out.TravelMs + in.DevelopCrankDeg/perMs
	out.EndCrankDeg = runs + out.TravelMs*perMs
	out.Working = []string{
		fmt.Sprintf("Way of the flame: %.4g / 2 + %.4g = %.4g mm; at %.4g m/s %.4g ms.", in.BoreMm, in.PlugOffsetMm,
			out.DistanceMm, out.FlameMS, out.TravelMs),
		fmt.Sprintf("The crank turns %.4g° a ms: development %.4g ms, in all %.4g ms; end at %.4g° after TDC.", perMs,
			in.DevelopCrankDeg/perMs, out.BurnMs, out.EndCrankDeg),
	}
	out.Sources = []string{"R. K. Rajput, A Textbook of Internal Combustion Engines, Ex 5.1, as re-worked in the FOSSEE companion"}
	return out, nil
}
