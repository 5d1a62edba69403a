package turn

import (
	"pointsmith/calc/advance"
	"pointsmith/calc/coil"
	"pointsmith/calc/engine"
	"pointsmith/calc/points"
	"pointsmith/calc/vacuum"
)

// Engine is what is known of the engine. What is missing leaves out what hangs on it.
type Engine struct {
	BoreMm           *float64 `json:"boreMm,omitempty" min:"40" max:"150" unit:"mm" help:"bore; for the burning"`
	StrokeMm         *float64 `json:"strokeMm,omitempty" min:"40" max:"180" unit:"mm" help:"stroke; for the piston and the burning"`
	RodMm            *float64 `json:"rodMm,omitempty" min:"60" max:"400" unit:"mm" help:"connecting rod, centre to centre; 1.75 strokes unless said"`
	DisplacementCc   *float64 `json:"displacementCc,omitempty" min:"50" max:"12000" unit:"cubic centimetres" help:"of all cylinders; gives a bore not known"`
	CompressionRatio *float64 `json:"compressionRatio,omitempty" min:"4" max:"14" unit:"ratio" help:"compression ratio; for the burning and the plug's need"`
	Chamber          string   `json:"chamber,omitempty" enum:"|side-valve|bathtub|wedge|hemispherical|pent-roof" help:"combustion chamber; for the burning"`
	Cam              string   `json:"cam,omitempty" enum:"|standard|mild|hot" help:"camshaft, by its overlap; standard unless said"`
}

// Points is what opens and closes the primary.
type Points struct {
	DwellDistDeg  *float64      `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"points closed; or give dwellPercent"`
	DwellPercent  *float64      `json:"dwellPercent,omitempty" over:"0" under:"100" unit:"percent of the pitch" help:"points closed; or give dwellDistDeg"`
	GapMm         *float64      `json:"gapMm,omitempty" over:"0" max:"2" unit:"mm" help:"gap of the points, where the dwell was not read; with pairs"`
	Pairs         []points.Pair `json:"pairs,omitempty" maxItems:"50" help:"gap and dwell read together here, for the dwell of gapMm"`
	BounceDistDeg *float64      `json:"bounceDistDeg,omitempty" min:"0" max:"90" unit:"distributor degrees" help:"dwell lost to bounce; none unless said"`
}

// In is a car at one speed and vacuum.
type In struct {
	EngineRPM float64  `json:"engineRPM" need:"yes" min:"20" max:"12000" unit:"engine rpm" help:"speed"`
	VacuumKPa *float64 `json:"vacuumKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"manifold vacuum; 0 is full throttle"`
	PipeKPa   *float64 `json:"pipeKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"vacuum in the capsule's own pipe; vacuumKPa unless said"`

	Cylinders   *int     `json:"cylinders,omitempty" min:"1" max:"16" help:"cylinders fired by this set of points: lobes of the cam"`
	FiringOrder []int    `json:"firingOrder,omitempty" min:"1" max:"16" maxItems:"16" help:"cylinders in the order they fire, No. 1 first"`
	DriveRatio  *float64 `json:"driveRatio,omitempty" min:"1" max:"2" unit:"engine turns per distributor turn" help:"2 unless said"`

	Engine  Engine     `json:"engine,omitempty" help:"the engine"`
	Mixture *float64   `json:"mixture,omitempty" min:"0.75" max:"1.4" unit:"ratio" help:"fuel over what the air burns; unless said 1, at full throttle 1.12"`
	Air     engine.Air `json:"air,omitempty" help:"the air it breathes"`

	BaseCrankDeg  *float64        `json:"baseCrankDeg,omitempty" min:"-40" max:"60" unit:"crank degrees before TDC" help:"base as set; the book's unless said"`
	Spec          *advance.Spec   `json:"spec,omitempty" help:"the book's curve: the middle of its band is taken"`
	Model         *advance.Model  `json:"model,omitempty" help:"the governor as measured, from advance.fit; in place of the book's curve"`
	SparkCrankDeg *float64        `json:"sparkCrankDeg,omitempty" min:"-40" max:"80" unit:"crank degrees before TDC" help:"the timing, as read"`
	Capsule       *vacuum.Capsule `json:"capsule,omitempty" help:"the vacuum capsule; the plate is at rest unless given"`

	SupplyV  *float64  `json:"supplyV,omitempty" min:"3" max:"30" unit:"volts" help:"battery volts running; up to 9 V is taken as a 6 V car"`
	StoppedV *float64  `json:"stoppedV,omitempty" min:"3" max:"30" unit:"volts" help:"battery volts with the engine stopped; beside feed.closedV"`
	Points   Points    `json:"points,omitempty" help:"dwell and bounce"`
	Coil     coil.Coil `json:"coil,omitempty" help:"coil, ballast, condenser"`
	Feed     coil.Feed `json:"feed,omitempty" help:"volts measured at the coil's feed terminal"`
	Plug     coil.Plug `json:"plug,omitempty" help:"the plug"`
	SparkMs  *float64  `json:"sparkMs,omitempty" over:"0" max:"10" unit:"milliseconds" help:"how long the spark burns, by oscilloscope"`
}
