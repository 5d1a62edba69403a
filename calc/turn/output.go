package turn

import (
	"pointsmith/calc/coil"
	"pointsmith/calc/engine/cycle"
)

// Series is the cycle at angles that rise; each list has one figure for each angle, or none at all where it is left
// out.
type Series struct {
	CrankDeg     []float64 `json:"crankDeg" unit:"crank degrees" help:"from −360 to 360, rising; 0 is top dead centre of No. 1 between compression and expansion, before it negative. At most 500"`
	PistonMm     []float64 `json:"pistonMm" unit:"mm" help:"piston of No. 1 below its top"`
	ShaftDistDeg []float64 `json:"shaftDistDeg" unit:"distributor degrees" help:"drive shaft of the distributor, 0 at that dead centre"`
	RotorDistDeg []float64 `json:"rotorDistDeg" unit:"distributor degrees" help:"cam and rotor arm, which the weights carry ahead of the shaft; 0 where the points open with the plate at rest, so at the spark it is less by what the capsule has turned the plate"`
	Closed       []bool    `json:"closed" help:"points closed, from this angle to the next"`
	PrimaryA     []float64 `json:"primaryA" unit:"amperes" help:"current in the primary of the coil: through the points, then into the condenser"`
	PrimaryV     []float64 `json:"primaryV" unit:"volts" help:"across points and condenser; 0 while closed"`
	SecondaryKV  []float64 `json:"secondaryKV" unit:"kilovolts" help:"turns ratio times primaryV, at best and as if no plug fired: coil.break"`
	Burnt        []float64 `json:"burnt" min:"0" max:"1" unit:"part" help:"part of the charge of No. 1 that is burnt; 0 on the inlet stroke"`
	PressureKPa  []float64 `json:"pressureKPa" unit:"kPa absolute" help:"in cylinder No. 1"`
}

// The names of events, as the trade says them.
const (
	PointsBounce = "points touch and bounce"
	PointsClose  = "points close"
	PointsOpen   = "points open"
	Spark        = "spark"
	WastedSpark  = "wasted spark"
	SparkEnds    = "spark ends"
	TenBurnt     = "10 % burnt"
	HalfBurnt    = "50 % burnt"
	NinetyBurnt  = "90 % burnt"
	PeakPressure = "peak pressure"
	TDCFiring    = "TDC, compression"
	TDCOverlap   = "TDC, valve overlap"
	BDCInlet     = "BDC, inlet"
	BDCPower     = "BDC, power"
)

// Event is one moment of the cycle.
type Event struct {
	CrankDeg float64 `json:"crankDeg" unit:"crank degrees" help:"where, as in the series"`
	Name     string  `json:"name" enum:"points touch and bounce|points close|points open|spark|wasted spark|spark ends|10 % burnt|50 % burnt|90 % burnt|peak pressure|TDC, compression|TDC, valve overlap|BDC, inlet|BDC, power" help:"what happens. Spark: the rotor at that cylinder's segment, the points just opened"`
	Place    int     `json:"place" min:"1" max:"16" help:"place of the cylinder in the firing order; 1 is No. 1"`
	Cylinder *int    `json:"cylinder" help:"the cylinder; null where the firing order is not known"`
}

// Timing is where the spark stands and what has put it there.
type Timing struct {
	SparkCrankDeg       float64  `json:"sparkCrankDeg" unit:"crank degrees before TDC" help:"base, weights and capsule together"`
	LowCrankDeg         float64  `json:"lowCrankDeg" unit:"crank degrees before TDC" help:"the least that the book allows curve and capsule"`
	HighCrankDeg        float64  `json:"highCrankDeg" unit:"crank degrees before TDC" help:"the most"`
	BaseCrankDeg        *float64 `json:"baseCrankDeg" unit:"crank degrees before TDC" help:"base; null where it is not known apart"`
	CentrifugalCrankDeg *float64 `json:"centrifugalCrankDeg" unit:"crank degrees" help:"by the weights; null where it is not known apart"`
	VacuumCrankDeg      *float64 `json:"vacuumCrankDeg" unit:"crank degrees" help:"by the capsule, a retard negative; null without one"`
	WeightsDistDeg      *float64 `json:"weightsDistDeg" unit:"distributor degrees" help:"how far the weights have carried the cam ahead of the shaft"`
	PlateDistDeg        *float64 `json:"plateDistDeg" unit:"distributor degrees" help:"how far the capsule has turned the plate against the shaft's rotation, a retard negative"`
}

// Fires is when the swing of the secondary comes to what the plug asks for.
type Fires struct {
	LowKV        float64  `json:"lowKV" unit:"kilovolts" help:"lower end of what the plug may ask for, as spark.required"`
	HighKV       float64  `json:"highKV" unit:"kilovolts" help:"upper end"`
	LowMicroS    *float64 `json:"lowMicroS" unit:"microseconds" help:"after the points open, when the coil at best has the lower; null where never"`
	HighMicroS   *float64 `json:"highMicroS" unit:"microseconds" help:"when it has the upper; null where never"`
	HighCrankDeg *float64 `json:"highCrankDeg" unit:"crank degrees" help:"the crank turns so far in that time"`
}

// Gas is the burning in numbers.
type Gas struct {
	StartKPa      float64 `json:"startKPa" unit:"kPa absolute" help:"as compression begins"`
	PMaxKPa       float64 `json:"pMaxKPa" unit:"kPa absolute" help:"highest pressure"`
	PMaxCrankDeg  float64 `json:"pMaxCrankDeg" unit:"crank degrees" help:"where it stands, after TDC positive"`
	DelayCrankDeg float64 `json:"delayCrankDeg" unit:"crank degrees" help:"from the spark to the start of burning"`
	DelayMs       float64 `json:"delayMs" unit:"milliseconds" help:"the same in time"`
	BurnMs        float64 `json:"burnMs" unit:"milliseconds" help:"from the spark to nine tenths burnt"`
	BurnCrankDeg  float64 `json:"burnCrankDeg" unit:"crank degrees" help:"the same in crank degrees"`
}

// Asked is what the other calculations are to be asked for the same figures.
type Asked struct {
	Charge *coil.ChargeIn `json:"charge" help:"for coil.charge: the current when the points open; null where the coil is left out"`
	Break  *coil.BreakIn  `json:"break" help:"for coil.break: the first swing; null where the coil is left out"`
	Cycle  *cycle.CycleIn `json:"cycle" help:"for combustion.cycle: burning and pressure, in ratios to startKPa; null where burning is left out"`
}

// LeftOut is a part of the cycle that could not be given.
type LeftOut struct {
	What    string `json:"what" enum:"piston|timing|capsule|points|coil|plug's need|spark ends|burning|90 % burnt|cylinders by number" help:"which part"`
	Field   string `json:"field" help:"the field it hangs on"`
	Because string `json:"because" help:"why"`
	Limit   string `json:"limit" help:"what is wanted"`
	Do      string `json:"do" help:"what to do"`
}

// Out is one cycle.
type Out struct {
	RevMs    float64   `json:"revMs" unit:"milliseconds" help:"one crank turn; the cycle has two"`
	DegPerMs float64   `json:"degPerMs" unit:"crank degrees per millisecond" help:"turning rate"`
	Series   Series    `json:"series" help:"the cycle, angle by angle"`
	Events   []Event   `json:"events" help:"what happens, by rising angle: of No. 1, and the sparks of the others"`
	Timing   *Timing   `json:"timing" help:"where the spark stands; null where it is left out"`
	Coil     *coil.Row `json:"coil" help:"the spark at this speed, as coil.sweep; null where coil or need are left out"`
	Fires    *Fires    `json:"fires" help:"when the plug fires; null where coil or need are left out"`
	Gas      *Gas      `json:"gas" help:"the burning; null where it is left out"`
	Asked    Asked     `json:"asked" help:"what the other calculations are to be asked for the same figures"`
	LeftOut  []LeftOut `json:"leftOut" help:"what could not be given, why, and what to do"`
	Assumed  []string  `json:"assumed" help:"what was not given, and what was taken instead"`
	Ask      []string  `json:"ask" help:"questions only the person can answer"`
	Working  []string  `json:"working" help:"the rules with this car's figures in them"`
	Sources  []string  `json:"sources" help:"where the rules come from"`
}
