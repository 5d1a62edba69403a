package coil

import (
	"pointsmith/calc/finding"
	"pointsmith/calc/points"
	"pointsmith/calc/refuse"
	"pointsmith/calc/spark"
)

// Points is what closes the circuit.
type Points struct {
	DwellDistDeg *float64 `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"points closed; or give dwellPercent"`
	DwellPercent *float64 `json:"dwellPercent,omitempty" over:"0" under:"100" unit:"percent of the pitch" help:"points closed; or give dwellDistDeg"`
	MaxA         *float64 `json:"maxA,omitempty" min:"0.5" max:"20" unit:"amperes" help:"what these points may carry; 5 unless said, above which points burn, 5.5 on 6 V (common practice)"`
}

// Plug is the gap the coil has to jump.
type Plug struct {
	GapMm       *float64 `json:"gapMm,omitempty" min:"0.2" max:"2" unit:"mm" help:"gap; 0.6 unless said"`
	LeakMegaOhm *float64 `json:"leakMegaOhm,omitempty" min:"0.05" max:"10000" unit:"megohms" help:"leak of a dirty plug, for the low end of what is available; 1 unless said"`
	Polarity    string   `json:"polarity,omitempty" enum:"right|wrong|unknown" help:"right: centre electrode negative; unknown unless said"`
}

// SparkAt is the timing at a speed, so that the need can follow it.
type SparkAt struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed"`
	CrankDeg  float64 `json:"crankDeg" need:"yes" min:"-40" max:"70" unit:"crank degrees before TDC" help:"timing there"`
}

// Engine is what decides the need.
type Engine struct {
	spark.Cylinder
	Timing []SparkAt `json:"timing,omitempty" maxItems:"64" help:"timing over speed by rising speed, straight lines between; sparkCrankDeg everywhere when there is none"`
}

// Cranking is the start, on a low battery.
type Cranking struct {
	BatteryV  *float64 `json:"batteryV,omitempty" over:"0" max:"30" unit:"volts" help:"battery while cranking; 9.6 for 12 V, 4.8 for 6 V unless said: the least a sound one gives"`
	EngineRPM *float64 `json:"engineRPM,omitempty" min:"20" max:"600" unit:"engine rpm" help:"cranking speed; 150 unless said"`
	CrankDeg  *float64 `json:"crankDeg,omitempty" min:"-40" max:"40" unit:"crank degrees before TDC" help:"timing at the start; 5 unless said"`
	ChargeC   *float64 `json:"chargeC,omitempty" min:"-40" max:"60" unit:"degrees Celsius" help:"temperature of the air drawn in, cold; 10 unless said"`
	ChargeKPa *float64 `json:"chargeKPa,omitempty" min:"10" max:"110" unit:"kPa absolute" help:"pressure that stands for the start of compression when cranking, where the inlet closes late; 80 unless said"`
}

// SweepIn is the car as it is.
type SweepIn struct {
	SupplyV   float64   `json:"supplyV" need:"yes" min:"3" max:"30" unit:"volts" help:"battery volts running; up to 9 V is taken as a 6 V car"`
	StoppedV  *float64  `json:"stoppedV,omitempty" min:"3" max:"30" unit:"volts" help:"battery volts with ignition on and engine stopped; 12.6, or 6.3 on 6 V, unless said"`
	Cylinders int       `json:"cylinders" need:"yes" min:"1" max:"16" help:"cylinders fired by this set of points"`
	EngineRPM []float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" minItems:"1" maxItems:"400" unit:"engine rpm" help:"the speeds asked for"`
	Coil      Coil      `json:"coil,omitempty" help:"coil, ballast, condenser"`
	Points    Points    `json:"points" need:"yes" help:"dwell"`
	Plug      Plug      `json:"plug,omitempty" help:"the plug"`
	Engine    Engine    `json:"engine,omitempty" help:"the cylinder"`
	Cranking  Cranking  `json:"cranking,omitempty" help:"the start"`

	Feed   Feed   `json:"feed,omitempty" help:"volts measured at the coil's feed terminal; they take the place of the ohms of ballast and leads"`
	Losses Losses `json:"losses,omitempty" help:"what a real coil loses of the peak"`

	DriveRatio *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said; 1 where the lobes turn with the crankshaft"`
}

// Row is the spark at one speed.
type Row struct {
	EngineRPM      float64 `json:"engineRPM" unit:"engine rpm" help:"speed"`
	ChargeMs       float64 `json:"chargeMs" unit:"milliseconds" help:"how long the coil charges"`
	CurrentA       float64 `json:"currentA" unit:"amperes" help:"current when the points open, from none at each closing"`
	EnergyMilliJ   float64 `json:"energyMilliJ" unit:"millijoules" help:"energy stored then"`
	AvailableKV    float64 `json:"availableKV" unit:"kilovolts" help:"what the coil reaches at best, as coil.break"`
	AvailableLowKV float64 `json:"availableLowKV" unit:"kilovolts" help:"the same with the leak of a dirty plug"`
	RequiredKV     float64 `json:"requiredKV" unit:"kilovolts" help:"upper end of what the plug may ask for"`
	RequiredLowKV  float64 `json:"requiredLowKV" unit:"kilovolts" help:"lower end of what the plug may ask for"`
	MarginKV       float64 `json:"marginKV" unit:"kilovolts" help:"availableKV less requiredKV: at best, against the highest need"`
	MarginLowKV    float64 `json:"marginLowKV" unit:"kilovolts" help:"availableLowKV less requiredKV: dirty plug, highest need"`
	Verdict        string  `json:"verdict" enum:"pass|watch|fail" help:"losses taken off. pass: enough for the highest need with a clean plug, and for a good plug's need when dirty; watch: perhaps; fail: not enough for the highest need even with the least losses"`

	RealLowKV        float64 `json:"realLowKV" unit:"kilovolts" help:"what a real coil gives, clean plug, heaviest losses"`
	RealHighKV       float64 `json:"realHighKV" unit:"kilovolts" help:"the same with the least losses; availableKV is a bound that is not reached"`
	DirtyLowKV       float64 `json:"dirtyLowKV" unit:"kilovolts" help:"the same with the leak of a dirty plug, heaviest losses"`
	DirtyHighKV      float64 `json:"dirtyHighKV" unit:"kilovolts" help:"with a dirty plug and the least losses"`
	RequiredGoodKV   float64 `json:"requiredGoodKV" unit:"kilovolts" help:"upper end of what a good plug may ask for"`
	RealMarginLowKV  float64 `json:"realMarginLowKV" unit:"kilovolts" help:"realLowKV less requiredKV"`
	RealMarginHighKV float64 `json:"realMarginHighKV" unit:"kilovolts" help:"realHighKV less requiredKV"`
	DirtyPlug        string  `json:"dirtyPlug" enum:"enough|perhaps|short" help:"a dirty plug against the highest need: enough with the heaviest losses, perhaps, short even with the least"`
}

// CrankingRow is the spark at the start.
type CrankingRow struct {
	Row
	BatteryV float64 `json:"batteryV" unit:"volts" help:"battery while cranking"`
	Bypass   bool    `json:"bypass" help:"whether the ballast is bypassed by the starter circuit"`

	Measured bool     `json:"measured" help:"true for the row worked from feed.crankingV"`
	FeedV    *float64 `json:"feedV" unit:"volts" help:"what was measured at the coil; null in the other rows"`
}

// SweepOut is the spark over speed.
type SweepOut struct {
	Rows             []Row         `json:"rows" help:"the spark at each speed asked for"`
	Cranking         []CrankingRow `json:"cranking" help:"the spark at the start: without bypass, and with it where there is a ballast"`
	TotalOhm         float64       `json:"totalOhm" unit:"ohms" help:"coil, ballast and leads together; where the feed was measured, as its volts tell it"`
	MostA            float64       `json:"mostA" unit:"amperes" help:"the most the points ever carry: at a slow idle on charge"`
	StoppedV         float64       `json:"stoppedV" unit:"volts" help:"battery with the engine stopped, as given or taken"`
	StalledA         float64       `json:"stalledA" unit:"amperes" help:"ignition on, engine stopped, points closed, on the battery alone"`
	StalledWatts     float64       `json:"stalledWatts" unit:"watts" help:"heat of the whole circuit then"`
	StalledCoilWatts float64       `json:"stalledCoilWatts" unit:"watts" help:"the coil's part"`
	StalledBallastW  float64       `json:"stalledBallastWatts" unit:"watts" help:"the ballast's part"`
	FeedOhm          *float64      `json:"feedOhm" unit:"ohms" help:"battery to coil as the measured volts tell it; null when none were measured"`
	Losses           []Loss        `json:"losses" help:"what was taken off the peak, each with its source"`
	Assumed          []string      `json:"assumed" help:"what was not given, and what was taken instead"`
	Findings         finding.List  `json:"findings" help:"what is concluded, weightiest first"`
	Verdict          string        `json:"verdict" enum:"pass|watch|fail" help:"the whole in one word"`
	Summary          string        `json:"summary" help:"the whole in one sentence"`
	Ask              []string      `json:"ask" help:"questions only the person can answer"`
	Working          []string      `json:"working" help:"the rules with this car's figures in them"`
	Sources          []string      `json:"sources" help:"where the rules come from"`
}

// Sweep works the spark of a car over speed: the charge from the dwell, the
// current from none at each closing (Charge), the kilovolts when the points
// open (Break, at best and with a leaking plug), what a real coil gives of that,
//
//	real = share × peak, from 0.65 × the peak with 75 pF to 0.85 × the peak with 50 pF
//
// clean and with a dirty plug, the need of the plug (spark.Required) and the
// margin between. The peak at best is a bound and passes nothing. Volts measured
// at the coil take the place of the ohms before it, and a spark the wrong way
// round fails; the same at the starter on a low
// battery with and without the ballast; and the heat with ignition on and
// engine stopped, V² / R of the battery alone. What is not given is taken from common practice and
// listed in assumed. Refused: both or neither of the two dwells, a dwell of
// the whole pitch, timing not by rising speed, a coil that does not swing, a
// gas too dense for the sparking laws. Sources stand with each finding; the
// trade's current limit of 4 to 5 A on points: US Army TM 9-8000.
func Sweep(in SweepIn) (SweepOut, error) {
	if bad := in.Coil.check(); bad != nil {
		return SweepOut{}, bad
	}
	r := run{in: in, sixVolt: in.SupplyV <= 9, circuit: in.Coil.complete(in.SupplyV <= 9)}
	if bad := r.prepare(); bad != nil {
		return SweepOut{}, bad
	}
	for _, rpm := range in.EngineRPM {
		row, bad := r.row(rpm, in.SupplyV, r.loopOhm, r.cylinder(rpm))
		if bad != nil {
			return SweepOut{}, bad
		}
		r.out.Rows = append(r.out.Rows, row)
	}
	if bad := r.start(); bad != nil {
		return SweepOut{}, bad
	}
	r.stalled()
	r.conclude()
	return r.out, nil
}

// run holds one sweep while it is worked.
type run struct {
	in      SweepIn
	sixVolt bool
	circuit circuit
	dwell   float64
	gap     float64
	leak    float64
	loopOhm float64 // coil and all before it, measured at the coil or added up
	feed    float64 // battery to coil as measured there
	out     SweepOut
}

func (r *run) prepare() *refuse.Error {
	dwell, err := points.Dwell(points.DwellIn{Cylinders: r.in.Cylinders, DwellDistDeg: r.in.Points.DwellDistDeg,
		DwellPercent: r.in.Points.DwellPercent, EngineRPM: 1000})
	if err != nil {
		return under("points", err)
	}
	r.dwell = dwell.DwellDistDeg
	r.out = SweepOut{Cranking: []CrankingRow{}, Findings: finding.List{}, Ask: dwell.Ask, TotalOhm: r.circuit.total()}
	r.out.Assumed = r.circuit.assumed
	r.gap, r.leak = r.take("plug.gapMm", "mm", r.in.Plug.GapMm, 0.6, "common practice for points"),
		r.take("plug.leakMegaOhm", "MΩ", r.in.Plug.LeakMegaOhm, 1, "the load of inductive test standards, from memory")
	for i, t := range r.in.Engine.Timing {
		if i > 0 && t.EngineRPM <= r.in.Engine.Timing[i-1].EngineRPM {
			return refuse.Input("engine.timing", "the speeds do not rise from line to line",
				"each speed above the one before", "sort the lines by speed and leave doubles out")
		}
	}
	resting := batteryAtRest
	if r.sixVolt {
		resting /= 2
	}
	r.out.StoppedV = r.take("stoppedV", "V", r.in.StoppedV, resting,
		"a sound battery that nothing charges, common practice")
	r.takeFeed()
	r.out.Losses = r.stated()
	r.out.Assumed = append(r.out.Assumed, r.cylinder(1000).Assumed("engine.")...)
	return nil
}
