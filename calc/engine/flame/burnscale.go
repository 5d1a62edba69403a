package flame

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// BurnScaleIn is a burning known at one speed, and what changes.
type BurnScaleIn struct {
	DelayCrankDeg float64  `json:"delayCrankDeg" need:"yes" min:"0" max:"90" unit:"crank degrees" help:"from the spark to the start of burning, at the speed known"`
	BurnCrankDeg  float64  `json:"burnCrankDeg" need:"yes" over:"0" max:"150" unit:"crank degrees" help:"from the start to the end of burning"`
	EndCrankDeg   float64  `json:"endCrankDeg" need:"yes" min:"-30" max:"90" unit:"crank degrees" help:"where burning is to end, after TDC positive"`
	SpeedRatio    float64  `json:"speedRatio" need:"yes" over:"0" max:"20" unit:"ratio" help:"new speed over the speed known"`
	DelayFactor   *float64 `json:"delayFactor,omitempty" over:"0" max:"10" unit:"ratio" help:"what else makes the delay longer, in time: 1.15 for 15 % longer at part throttle; 1 unless said"`
}

// BurnScaleOut is the spark that keeps the end of burning where it was.
type BurnScaleOut struct {
	SparkCrankDeg      float64  `json:"sparkCrankDeg" unit:"crank degrees" help:"spark at the new speed, before TDC positive"`
	KnownSparkCrankDeg float64  `json:"knownSparkCrankDeg" unit:"crank degrees" help:"spark at the speed known, before TDC positive"`
	DelayCrankDeg      float64  `json:"delayCrankDeg" unit:"crank degrees" help:"delay at the new speed"`
	Working            []string `json:"working" help:"the rule with these figures in it"`
	Sources            []string `json:"sources" help:"where the rule comes from"`
}

// BurnScale is the classroom's rule of advance and speed: the delay stays the
// same in time, the burning in crank degrees, because turbulence grows with
// speed, and burning is to end at the same place:
//
//	spark = delay × speed ratio × delay factor + burn − end
//
// Refused: figures outside the fields' limits, and a spark later than the end.
// It is a rule for the desk: combustion.best counts chamber, load and loss.
// Source: R. K. Rajput, A Textbook of Internal Combustion Engines, Ex 5.2.
func BurnScale(in BurnScaleIn) (BurnScaleOut, error) {
	factor := or(in.DelayFactor, 1)
	delay := in.DelayCrankDeg * in.SpeedRatio * factor
	out := BurnScaleOut{SparkCrankDeg: delay + in.BurnCrankDeg - in.EndCrankDeg, DelayCrankDeg: delay,
		KnownSparkCrankDeg: in.DelayCrankDeg + in.BurnCrankDeg - in.EndCrankDeg}
	if out.SparkCrankDeg > 180 {
		return BurnScaleOut{}, refuse.Input("speedRatio",
			fmt.Sprintf("the spark would come %.4g degrees before TDC", out.SparkCrankDeg),
			"180 crank degrees, the whole of compression", "check delay and speedRatio")
	}
	out.Working = []string{
		fmt.Sprintf("Delay, the same in time: %.4g° × %.4g × %.4g = %.4g°.", in.DelayCrankDeg, in.SpeedRatio,
			factor, delay),
		fmt.Sprintf("Spark: %.4g° of delay + %.4g° of burning − %.4g° after TDC = %.4g° before TDC (was %.4g°).", delay,
			in.BurnCrankDeg, in.EndCrankDeg, out.SparkCrankDeg, out.KnownSparkCrankDeg),
	}
	out.Sources = []string{"R. K. Rajput, A Textbook of Internal Combustion Engines, Ex 5.2, as re-worked in the FOSSEE companion"}
	return out, nil
}

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}
