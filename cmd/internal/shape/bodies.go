package shape

// The bodies of the garage's documents. Figures a person typed are kept as
// they were typed, as text: "12,5" stays "12,5". Whether they make sense is
// for the calculation to say; here only shape and size are checked.

// A car is one car of the garage.
type car struct {
	Name          string          `json:"name" need:"yes" maxLen:"80" help:"what its people call it" heading:"yes"`
	Owner         string          `json:"owner" maxLen:"80"`
	DistributorID string          `json:"distributorId" maxLen:"32" help:"the distributor that is on it, or empty"`
	Facts         map[string]fact `json:"facts" maxItems:"200"`
	Demo          bool            `json:"demo" help:"an invented car, to try things on"`
	Chosen        chosen          `json:"chosen,omitempty" help:"the curve chosen for this engine, beside the book's"`
}

// A chosen curve is one that somebody accepted for this engine as it is now.
type chosen struct {
	Sheet sheet  `json:"sheet" help:"the curve as a table"`
	At    string `json:"at" maxLen:"40" help:"when"`
	Basis string `json:"basis" maxLen:"400" help:"what it was chosen for, in words"`
	Off   bool   `json:"off,omitempty" help:"the book's table is judged by again; kept, so that it can be taken up"`
}

// A fact is one figure of a car, a distributor or a visit and where it came from.
type fact struct {
	Value  string `json:"value" maxLen:"4000" help:"as typed; some facts are told in words"`
	Unit   string `json:"unit" maxLen:"40"`
	Source string `json:"source" enum:"book|measured|common practice|guess|" help:"empty: not known"`
	Note   string `json:"note" maxLen:"2000"`
}

// A distributor is a unit with its own history; it may move between cars.
type distributor struct {
	Name        string          `json:"name" maxLen:"80" heading:"yes"`
	TypeNumber  string          `json:"typeNumber" maxLen:"80" help:"as stamped on the body"`
	Facts       map[string]fact `json:"facts" maxItems:"200"`
	Sheet       sheet           `json:"sheet" help:"the book's table as printed"`
	SheetSource string          `json:"sheetSource" maxLen:"400" help:"book and page"`

	Bench bool   `json:"bench,omitempty" help:"worked on as a thing of its own, with or without a car"`
	Owner string `json:"owner,omitempty" maxLen:"80" help:"whose it is, where it is not the car's owner's"`
	Where string `json:"where,omitempty" maxLen:"80" help:"where it is while it is in no car: a shelf, with whom"`
	Back  string `json:"back,omitempty" maxLen:"10" help:"the day it was handed back, year-month-day"`
	Demo  bool   `json:"demo,omitempty" help:"an invented unit, to try things on"`

	Library bool   `json:"library,omitempty" help:"no unit but a table of the library of curves: type, stamped figures and table alone"`
	GivenBy string `json:"givenBy,omitempty" maxLen:"80" help:"of a table of the library: who gave it"`
}

// A sheet is the book's advance table as printed; empty: not known.
type sheet struct {
	AngleUnit             string `json:"angleUnit" enum:"crank|distributor|"`
	SpeedUnit             string `json:"speedUnit" enum:"engine|distributor|"`
	Base                  string `json:"base" enum:"included|excluded|" help:"whether the angles carry the base"`
	BaseCrankDeg          string `json:"baseCrankDeg" maxLen:"40" figure:"advance.judge spec.baseCrankDeg"`
	BaseSide              string `json:"baseSide" enum:"before|after|" help:"of top dead centre"`
	BaseToleranceCrankDeg string `json:"baseToleranceCrankDeg" maxLen:"40" figure:"advance.judge spec.baseToleranceCrankDeg"`
	NoAdvanceBelow        string `json:"noAdvanceBelow" maxLen:"40" help:"in the sheet's speed unit" figure:"advance.judge spec.noAdvanceBelowRPM"`
	DriveRatio            string `json:"driveRatio" maxLen:"40" help:"engine turns for one of the distributor" figure:"advance.judge spec.driveRatio"`
	ListedWhile           string `json:"listedWhile" enum:"either|rising|falling|"`
	LimitDistDeg          string `json:"limitDistDeg" maxLen:"40" help:"as stamped on the limit plate" figure:"advance.judge spec.limitDistDeg"`
	ConfirmedTotal        string `json:"confirmedTotal,omitempty" maxLen:"40" help:"timing in all, crank degrees before TDC, that a person has confirmed beyond the limit of ordinary entry"`
	Rows                  []row  `json:"rows" maxItems:"200"`
}

type row struct {
	RPM string `json:"rpm" maxLen:"40" figure:"advance.judge spec.points.rpm"`
	Min string `json:"min" maxLen:"40" figure:"advance.judge spec.points.minDeg"`
	Max string `json:"max" maxLen:"40" figure:"advance.judge spec.points.maxDeg"`
}

// A visit is a dated set of readings and work.
type visit struct {
	CarID         string     `json:"carId" maxLen:"32"`
	DistributorID string     `json:"distributorId" maxLen:"32"`
	Date          string     `json:"date" maxLen:"10" help:"year-month-day, or empty"`
	Title         string     `json:"title" maxLen:"400"`
	Notes         string     `json:"notes" maxLen:"20000"`
	Sets          []visitSet `json:"sets" maxItems:"100"`

	Facts map[string]fact `json:"facts,omitempty" maxItems:"400" help:"what was measured or seen that day besides the curve, by name"`

	Events []workEvent `json:"events,omitempty" maxItems:"1000" help:"what was judged, changed, undone and put back that day, for the order of work"`

	Heard []listening `json:"heard,omitempty" maxItems:"100" help:"knock listened for that day, and timing found best by trying"`

	Photos []photo `json:"photos,omitempty" maxItems:"100" help:"what was photographed that day; the pictures are kept apart"`
}

// A listening is one pull with somebody listening, or one timing found best by
// trying. Its figures are as typed; what they mean is in combustion.best.
type listening struct {
	ID          string `json:"id" need:"yes" maxLen:"32"`
	At          string `json:"at" maxLen:"40" help:"when it was typed"`
	Kind        string `json:"kind" enum:"knock|best|"`
	RPM         string `json:"rpm" maxLen:"40" help:"engine rpm" figure:"combustion.best records.knock.engineRPM"`
	Deg         string `json:"deg" maxLen:"40" help:"timing then, all of it, crank degrees before TDC" figure:"combustion.best records.knock.crankDeg"`
	Vacuum      string `json:"vacuum" maxLen:"40" help:"manifold vacuum; empty: full throttle"`
	VacuumUnit  string `json:"vacuumUnit" enum:"inHg|mmHg|kPa|"`
	Heard       string `json:"heard" enum:"none|trace|rattle|heavy|" help:"of knock: what was heard"`
	How         string `json:"how" enum:"idle-vacuum|hill-time|" help:"of best timing: by what"`
	Octane      string `json:"octane" maxLen:"40" help:"of what was in the tank" figure:"combustion.best records.knock.fuel.octane"`
	Scale       string `json:"scale" enum:"RON|AKI|MON|"`
	AirC        string `json:"airC" maxLen:"40" help:"temperature of the air, degrees Celsius" figure:"combustion.best records.knock.air.temperatureC"`
	Distributor string `json:"distributor" enum:"sound|scattered|" help:"which was fitted; empty: not said"`
	Earliest    string `json:"earliest" maxLen:"40" help:"of a scattered one: crank degrees its earliest cylinder fires before No. 1" figure:"combustion.best records.knock.earliestCrankDeg"`
	By          string `json:"by" maxLen:"80" help:"who listened"`
	Removed     bool   `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A photo is what is said of one picture. The picture itself is under its id.
type photo struct {
	ID      string `json:"id" need:"yes" maxLen:"32" help:"the first half of the picture's SHA-256, hexadecimal"`
	Of      string `json:"of" enum:"cap|points|mark|book|other|" help:"mark: the timing mark; book: a page of it"`
	Note    string `json:"note" maxLen:"400"`
	At      string `json:"at" maxLen:"40" help:"when it was taken in"`
	Bytes   string `json:"bytes" maxLen:"12" help:"its size, a whole number"`
	Removed bool   `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A workEvent is one thing judged, changed, undone for a while or put back. Its
// words are those of the method work.order, which says what they mean.
type workEvent struct {
	ID       string   `json:"id" need:"yes" maxLen:"32"`
	At       string   `json:"at" maxLen:"40" help:"when"`
	Step     string   `json:"step" maxLen:"40" help:"the step of the order of work that was judged"`
	Verdict  string   `json:"verdict" enum:"pass|watch|fail|unknown|"`
	What     string   `json:"what" maxLen:"200" help:"in words"`
	Changed  string   `json:"changed" maxLen:"40"`
	Undone   []string `json:"undone" maxItems:"16" maxLen:"40"`
	Restored []string `json:"restored" maxItems:"16" maxLen:"40"`
	Odometer string   `json:"odometer" maxLen:"40" help:"distance on the clock, as typed"`
	Removed  bool     `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`

	Part string `json:"part,omitempty" maxLen:"40" help:"of work done: the part, by name or in words"`
	Did  string `json:"did,omitempty" enum:"replaced|adjusted|cleaned|found|" help:"what was done to the part"`
	From string `json:"from,omitempty" maxLen:"80" help:"the old figure, as typed with its unit"`
	To   string `json:"to,omitempty" maxLen:"80" help:"the new figure, as typed with its unit"`
	Note string `json:"note,omitempty" maxLen:"400"`
}

// A visitSet is one run, on the bench or on the car.
type visitSet struct {
	ID                   string    `json:"id" need:"yes" maxLen:"32"`
	Place                string    `json:"place" enum:"bench|car|"`
	AngleUnit            string    `json:"angleUnit" enum:"crank|distributor|"`
	SpeedUnit            string    `json:"speedUnit" enum:"engine|distributor|"`
	Base                 string    `json:"base" enum:"included|excluded|"`
	Vacuum               string    `json:"vacuum" enum:"off|connected|"`
	ReadingErrorCrankDeg string    `json:"readingErrorCrankDeg" maxLen:"40" figure:"advance.judge readings.readingErrorCrankDeg"`
	StaticCrankDeg       string    `json:"staticCrankDeg" maxLen:"40" help:"proved with the test lamp, engine stopped" figure:"advance.judge readings.staticCrankDeg"`
	StaticSide           string    `json:"staticSide" enum:"before|after|"`
	Readings             []reading `json:"readings" maxItems:"1000"`
	Removed              bool      `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A reading is one pair of speed and angle.
type reading struct {
	ID        string `json:"id" need:"yes" maxLen:"32"`
	RPM       string `json:"rpm" maxLen:"40" figure:"advance.judge readings.points.rpm"`
	Deg       string `json:"deg" maxLen:"40" figure:"advance.judge readings.points.deg"`
	Side      string `json:"side" enum:"before|after|"`
	Direction string `json:"direction" enum:"rising|falling|"`
	At        string `json:"at" maxLen:"40" help:"when it was typed"`
	Removed   bool   `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}
