package card

import "pointsmith/calc/advance"

// Card is the setup card. Everything but the car's name may be unknown and is
// then left out.
type Card struct {
	Car         Car           `json:"car" need:"yes" help:"the car"`
	Distributor *Distributor  `json:"distributor,omitempty" help:"the distributor that was set"`
	Spec        *advance.Spec `json:"spec,omitempty" help:"what the book says"`
	SpecSource  string        `json:"specSource,omitempty" maxLen:"120" help:"the book the table comes from"`
	AsSet       *AsSet        `json:"asSet,omitempty" help:"the figures as they were left"`
	Curves      []advance.Set `json:"curves,omitempty" maxItems:"4" help:"up to four named sets of readings, such as before and after"`
	SetBy       string        `json:"setBy,omitempty" maxLen:"80" help:"who set it"`
	CheckedBy   string        `json:"checkedBy,omitempty" maxLen:"80" help:"who checked it"`
	Date        string        `json:"date,omitempty" maxLen:"10" help:"when it was set, YYYY-MM-DD"`
	Odometer    string        `json:"odometer,omitempty" maxLen:"40" help:"distance on the clock, as typed, with its unit"`
	Fuel        string        `json:"fuel,omitempty" maxLen:"80" help:"the fuel it was set for"`
	Warnings    []string      `json:"warnings,omitempty" maxLen:"200" maxItems:"12" help:"what the next person must know first"`
	LeftUndone  []string      `json:"leftUndone,omitempty" maxLen:"200" maxItems:"12" help:"what was not done"`
	NextCheck   string        `json:"nextCheck,omitempty" maxLen:"120" help:"when to look at it again, and at what"`
	State       *State        `json:"state,omitempty" help:"how the car stands, as the sender's garage had it"`
	Work        []Work        `json:"work,omitempty" maxItems:"6" help:"the last that was done, the newest first"`
}

// Work is one thing that was done to the car or its distributor. It says a
// part, or in words what was done, or both.
type Work struct {
	Date string `json:"date,omitempty" maxLen:"10" help:"when, YYYY-MM-DD"`
	Part string `json:"part,omitempty" maxLen:"80" help:"which part"`
	What string `json:"what,omitempty" maxLen:"200" help:"what was done: replaced, adjusted, cleaned, found, or in words"`
	From string `json:"from,omitempty" maxLen:"80" help:"the old figure, as typed with its unit"`
	To   string `json:"to,omitempty" maxLen:"80" help:"the new figure, as typed with its unit"`
}

// State is the worst of all that was known of the car when the card was made.
type State struct {
	Verdict string `json:"verdict" need:"yes" enum:"pass|watch|fail|unknown" help:"the worst verdict"`
	Summary string `json:"summary" need:"yes" maxLen:"300" help:"why, in a sentence"`
	Next    string `json:"next,omitempty" maxLen:"120" help:"what to do next"`
}

// Fact is one figure as the person typed it, with where it came from.
type Fact struct {
	Value  string `json:"value" need:"yes" maxLen:"200" help:"the figure as typed"`
	Unit   string `json:"unit,omitempty" maxLen:"40" help:"its unit as chosen"`
	Source string `json:"source,omitempty" enum:"|book|measured|common practice|guess" help:"where it came from; empty when unknown"`
	Note   string `json:"note,omitempty" maxLen:"200" help:"a remark"`
}

// Car is the car and its engine.
type Car struct {
	Name  string          `json:"name" need:"yes" maxLen:"80" help:"what the car is called"`
	Facts map[string]Fact `json:"facts,omitempty" maxItems:"60" help:"facts of car and engine as typed, by name"`
}

// Distributor is the unit that was set.
type Distributor struct {
	Name        string          `json:"name,omitempty" maxLen:"80" help:"what the distributor is called"`
	TypeNumber  string          `json:"typeNumber,omitempty" maxLen:"80" help:"the number on its body"`
	Rotation    string          `json:"rotation,omitempty" enum:"|clockwise|anticlockwise" help:"which way the rotor turns, seen from the cap end"`
	FiringOrder []int           `json:"firingOrder,omitempty" min:"1" max:"16" maxItems:"16" help:"cylinders in the order they fire"`
	Facts       map[string]Fact `json:"facts,omitempty" maxItems:"60" help:"facts of the distributor as typed, by name"`
}

// Strobe is one figure read by strobe.
type Strobe struct {
	EngineRPM float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" unit:"engine rpm" help:"speed"`
	CrankDeg  float64 `json:"crankDeg" need:"yes" min:"-60" max:"90" unit:"crank degrees before TDC" help:"what was read"`
	Vacuum    string  `json:"vacuum,omitempty" enum:"|off|connected" help:"the vacuum pipe: off and plugged, or connected"`
}

// AsSet is the state the car was left in.
type AsSet struct {
	Gap               *Fact    `json:"gap,omitempty" help:"points gap as typed, with its unit"`
	GapMm             *float64 `json:"gapMm,omitempty" over:"0" max:"5" unit:"mm" help:"points gap"`
	DwellDistDeg      *float64 `json:"dwellDistDeg,omitempty" over:"0" max:"180" unit:"distributor degrees" help:"dwell"`
	StaticCrankDeg    *float64 `json:"staticCrankDeg,omitempty" min:"-40" max:"60" unit:"crank degrees before TDC" help:"static timing, proved with the test lamp"`
	Strobe            *Strobe  `json:"strobe,omitempty" help:"strobe figure at idle or at a stated speed"`
	Total             *Strobe  `json:"total,omitempty" help:"total at the speed where the advance is all in"`
	CruiseCrankDeg    *float64 `json:"cruiseCrankDeg,omitempty" min:"-40" max:"120" unit:"crank degrees before TDC" help:"total at light throttle, capsule included"`
	KnockCrankDeg     *float64 `json:"knockCrankDeg,omitempty" min:"-40" max:"90" unit:"crank degrees before TDC" help:"total at which it began to knock"`
	MarginCrankDeg    *float64 `json:"marginCrankDeg,omitempty" min:"0" max:"40" unit:"crank degrees" help:"kept between the total and the knock"`
	MarkErrorCrankDeg *float64 `json:"markErrorCrankDeg,omitempty" min:"-60" max:"60" unit:"crank degrees" help:"where true TDC stands on the marks, after TDC positive; see marks.tdc"`
	Mark              string   `json:"mark,omitempty" maxLen:"120" help:"the mark that was used"`
	Vernier           string   `json:"vernier,omitempty" maxLen:"80" help:"where the vernier stands"`
	IdleEngineRPM     *float64 `json:"idleEngineRPM,omitempty" over:"0" max:"4000" unit:"engine rpm" help:"idle speed afterwards"`
	IdleVacuumKPa     *float64 `json:"idleVacuumKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"manifold vacuum at idle afterwards"`
	Capsule           *Capsule `json:"capsule,omitempty" help:"the vacuum capsule as measured"`
}

// Capsule is the vacuum capsule as it was found or left.
type Capsule struct {
	Source     string   `json:"source,omitempty" enum:"|ported|manifold|venturi|none" help:"where the pipe goes"`
	Code       string   `json:"code,omitempty" maxLen:"40" help:"the code on it"`
	StartKPa   *float64 `json:"startKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"where it begins to move"`
	FullKPa    *float64 `json:"fullKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"where it has moved all the way"`
	MaxDistDeg *float64 `json:"maxDistDeg,omitempty" min:"-30" max:"30" unit:"distributor degrees" help:"how far it moves, retard negative"`
	Holds      *bool    `json:"holds,omitempty" help:"whether it held vacuum when tested"`
}
