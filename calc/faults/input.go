package faults

// Car is what of the car decides which causes it can have and what its figures
// should be. Unknown stays unknown.
type Car struct {
	NominalV        *float64 `json:"nominalV,omitempty" min:"6" max:"12" unit:"volts" help:"6 or 12; 12 is taken and said when it is not known"`
	Cylinders       int      `json:"cylinders,omitempty" min:"0" max:"16" help:"how many; 0 when unknown"`
	Trigger         string   `json:"trigger,omitempty" enum:"|points|electronic" help:"what switches the coil; empty when unknown"`
	Ballasted       *bool    `json:"ballasted,omitempty" help:"a ballast or resistance wire is in the feed"`
	Capsule         string   `json:"capsule,omitempty" enum:"|fitted|none" help:"whether there is a vacuum capsule"`
	Carburettors    int      `json:"carburettors,omitempty" min:"0" max:"12" help:"how many; 0 when unknown"`
	CoilOhm         *float64 `json:"coilOhm,omitempty" over:"0" max:"20" unit:"ohm" help:"the coil's low-tension winding, by its book or as measured"`
	BallastOhm      *float64 `json:"ballastOhm,omitempty" min:"0" max:"20" unit:"ohm" help:"the ballast"`
	GapMinMm        *float64 `json:"gapMinMm,omitempty" over:"0" max:"2" unit:"mm" help:"the book's least gap"`
	GapMaxMm        *float64 `json:"gapMaxMm,omitempty" over:"0" max:"2" unit:"mm" help:"the book's largest gap"`
	DwellMinDistDeg *float64 `json:"dwellMinDistDeg,omitempty" over:"0" max:"180" unit:"distributor degrees" help:"the book's least dwell"`
	DwellMaxDistDeg *float64 `json:"dwellMaxDistDeg,omitempty" over:"0" max:"180" unit:"distributor degrees" help:"the book's largest dwell"`
	BaseCrankDeg    *float64 `json:"baseCrankDeg,omitempty" min:"-40" max:"60" unit:"crank degrees before TDC" help:"the book's base"`
	IdleEngineRPM   *float64 `json:"idleEngineRPM,omitempty" min:"100" max:"3000" unit:"engine rpm" help:"the book's idle speed"`
	FiringOrder     string   `json:"firingOrder,omitempty" maxLen:"40" help:"as written in the book"`
	AltitudeM       *float64 `json:"altitudeM,omitempty" min:"-500" max:"6000" unit:"metres" help:"where the car stands; sea level unless said"`
	Runs            string   `json:"runs,omitempty" enum:"|yes|no" help:"whether the engine can be got to run now; when empty, taken from the symptoms"`
}

// Observation is one test done, or tried.
type Observation struct {
	ID     string   `json:"id" need:"yes" maxLen:"20" help:"the test, T1 to T55"`
	Result string   `json:"result,omitempty" enum:"|expected|not|undone" help:"expected: as a sound car gives it; not: otherwise; undone: it could not be done, it is not asked again; may be left out where seen or value tells it"`
	Seen   string   `json:"seen,omitempty" maxLen:"20" help:"which of the test's outcomes it was, where more than two are told apart"`
	Value  *float64 `json:"value,omitempty" min:"-100000" max:"100000" help:"the figure read; where it has a limit on this car the figure counts and not the result"`
	Unit   string   `json:"unit,omitempty" maxLen:"40" help:"the unit of the figure: the test's own"`
}

// In is what is told, what was changed, what was tried and what is on file.
type In struct {
	Car          Car           `json:"car,omitempty" help:"what is known of the car"`
	Symptoms     []string      `json:"symptoms" need:"yes" maxLen:"20" maxItems:"33" help:"what it does, S01 to S32; other for one that is not listed; may be empty"`
	LastChanged  []string      `json:"lastChanged,omitempty" maxLen:"20" maxItems:"60" help:"causes whose part was changed before the trouble began; what was fitted because of it does not belong here"`
	Observations []Observation `json:"observations,omitempty" maxItems:"80" help:"tests done in this hunt"`
	Facts        Facts         `json:"facts,omitempty" help:"what is on file of this car; a test that is answered by it is not asked"`
	NoStart      bool          `json:"noStart,omitempty" help:"something undone forbids starting: no test is named that turns the engine by its starter or runs it"`
	NoIgnition   bool          `json:"noIgnition,omitempty" help:"something undone leaves the ignition without current: no test is named that needs it"`
	MostTests    int           `json:"mostTests,omitempty" min:"0" max:"60" help:"how many next tests to name at most; 8 unless said"`
}

// Because is one thing that moved a cause.
type Because struct {
	ID     string  `json:"id" help:"the symptom, test, fact or check; changed for what was changed last"`
	Kind   string  `json:"kind" enum:"symptom|changed|test|fact|check" help:"what it is"`
	Text   string  `json:"text" help:"what was told or seen, in words"`
	Factor float64 `json:"factor" help:"odds of the cause with it, divided by its odds with everything else but it: 2 made it twice as likely, 0.5 half"`
}

// Suspect is one cause with its share.
type Suspect struct {
	ID          string    `json:"id" help:"the cause"`
	Name        string    `json:"name" help:"the cause in words"`
	Family      string    `json:"family" enum:"ignition|fuel|engine" help:"where it belongs"`
	Probability float64   `json:"probability" min:"0" max:"1" help:"that it is at work, alone or with another; two causes can be at work, so these add up to more than one"`
	About       string    `json:"about" help:"what it does"`
	Mend        string    `json:"mend" help:"what to do about it"`
	Basis       string    `json:"basis" help:"where the knowledge comes from"`
	Because     []Because `json:"because" help:"what moved it, the strongest first; what moved it by less than a tenth is left out"`
}

// Together is two causes at once.
type Together struct {
	IDs         []string `json:"ids" help:"the two causes"`
	Names       []string `json:"names" help:"the same in words"`
	Probability float64  `json:"probability" min:"0" max:"1" help:"that both are at work"`
}

// Unlisted is what is on no list.
type Unlisted struct {
	Probability float64 `json:"probability" min:"0" max:"1" help:"that the trouble is none of the causes listed; never below one in a hundred"`
	Says        string  `json:"says" help:"the same in words"`
}

// Answer is one way a test may come out.
type Answer struct {
	ID     string  `json:"id" help:"the outcome, for seen"`
	Says   string  `json:"says" help:"what is seen then"`
	Result string  `json:"result" enum:"expected|not" help:"what it is in an observation"`
	Chance float64 `json:"chance" min:"0" max:"1" help:"how likely it is, by what is known now"`
}

// NextTest is one test still worth doing.
type NextTest struct {
	ID         string   `json:"id" help:"the test"`
	Name       string   `json:"name" help:"the test in words"`
	Minutes    float64  `json:"minutes" unit:"minutes" help:"how long it takes"`
	Gain       float64  `json:"gain" unit:"bits" help:"what it is expected to tell of the causes"`
	PerMinute  float64  `json:"perMinute" unit:"bits per minute" help:"gain by minutes, with five more for fetching the tool and putting down what was seen; tests come in this order, those with the engine off first where it differs by less than a tenth"`
	Expected   string   `json:"expected" help:"what a sound car of this kind gives, with this car's figures"`
	How        string   `json:"how" help:"how it is done"`
	Engine     string   `json:"engine" enum:"off|cranking|running|road" help:"what the engine has to do"`
	Cautions   []string `json:"cautions" help:"ids of the cautions that stand before it"`
	Unit       string   `json:"unit,omitempty" help:"unit of the figure, where one is read"`
	Answers    []Answer `json:"answers" help:"how it may come out, the expected first"`
	Basis      string   `json:"basis" help:"where the knowledge comes from"`
	NeedsPower bool     `json:"needsPower,omitempty" help:"the ignition has to be on"`
}

// Out is the state of the hunt.
type Out struct {
	Causes        []Suspect  `json:"causes" help:"every cause, the likeliest first"`
	None          Unlisted   `json:"none" help:"what is on no list"`
	Together      []Together `json:"together" help:"the likeliest pairs, of one in a hundred or more"`
	NextTests     []NextTest `json:"nextTests" help:"what to do next, the most telling for its minutes first; empty when nothing is left to do"`
	StillPossible []string   `json:"stillPossible" help:"ids of the causes of one in a hundred or more"`
	Sureness      string     `json:"sureness" enum:"sure|likely|possible" help:"of the first cause: sure from 97 in 100, likely from 75"`
	Summary       string     `json:"summary" help:"how it stands in one sentence"`
	Assumed       []string   `json:"assumed" help:"what was not said, and what was taken instead"`
	Working       []string   `json:"working" help:"the rules with this input's figures"`
	Sources       []string   `json:"sources" help:"where the rules come from"`
}
