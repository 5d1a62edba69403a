package faults

// Facts is what is on file: measured elsewhere in the garage, or concluded
// there. Each becomes an outcome of a test, or of a row of data/evidence.json;
// onfile.go says which. None is asked again.
type Facts struct {
	BatteryV              *float64    `json:"batteryV,omitempty" min:"0" max:"30" unit:"volts" help:"battery at rest (B22): T38; and what other volts are held against"`
	CrankingV             *float64    `json:"crankingV,omitempty" min:"0" max:"30" unit:"volts" help:"battery while cranking (B22): T38"`
	StrapDropV            *float64    `json:"strapDropV,omitempty" min:"0" max:"30" unit:"volts" help:"engine block to the battery's earth post, cranking: T38"`
	FeedV                 *float64    `json:"feedV,omitempty" min:"0" max:"30" unit:"volts" help:"volts at the coil's feed, points closed (supply.judge feedV): T2"`
	FeedDropV             *float64    `json:"feedDropV,omitempty" min:"-1" max:"30" unit:"volts" help:"volts lost from battery to coil, points closed (supply.judge feedDropV, the sum over the stretches): T2"`
	FeedA                 *float64    `json:"feedA,omitempty" min:"0" max:"60" unit:"ampere" help:"current in the feed while feedDropV was read: the loss is reckoned up to the current this car's coil takes; below 0.3 A nothing flowed and the loss tells nothing"`
	FeedRunningDropV      *float64    `json:"feedRunningDropV,omitempty" min:"-1" max:"30" unit:"volts" help:"volts lost from battery to coil, engine running, on a car without ballast: T2"`
	PointsDropV           *float64    `json:"pointsDropV,omitempty" min:"-1" max:"30" unit:"volts" help:"volts at the distributor's terminal, points closed (B11): T3"`
	BodyDropV             *float64    `json:"bodyDropV,omitempty" min:"-1" max:"30" unit:"volts" help:"distributor's body to the battery's earth post (B12)"`
	ChargingV             *float64    `json:"chargingV,omitempty" min:"0" max:"40" unit:"volts" help:"battery at fast idle (B23): T30"`
	Polarity              string      `json:"polarity,omitempty" enum:"|right|reversed" help:"which way round the spark jumps: T34"`
	DwellDistDeg          *float64    `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"dwell at idle, against the book's: T33"`
	DwellVariationDistDeg *float64    `json:"dwellVariationDistDeg,omitempty" min:"0" max:"180" unit:"distributor degrees" help:"largest change of dwell from idle to 1500: T9"`
	GapMm                 *float64    `json:"gapMm,omitempty" over:"0" max:"3" unit:"mm" help:"points gap, against the book's: T33"`
	CondenserMicroF       *float64    `json:"condenserMicroF,omitempty" min:"0" max:"10" unit:"microfarad" help:"condenser by a meter (B15)"`
	CondenserLeaks        *bool       `json:"condenserLeaks,omitempty" help:"whether it leaks, tried hot (B15.insulation)"`
	JitterCrankDeg        *float64    `json:"jitterCrankDeg,omitempty" min:"0" max:"60" unit:"crank degrees" help:"how far the strobe mark jumps: T10"`
	BaseFoundCrankDeg     *float64    `json:"baseFoundCrankDeg,omitempty" min:"-60" max:"60" unit:"crank degrees before TDC" help:"base as found, against the book's: T11"`
	MarkErrorCrankDeg     *float64    `json:"markErrorCrankDeg,omitempty" min:"-60" max:"60" unit:"crank degrees" help:"how far the mark is off true TDC (marks.tdc): T13"`
	Accounts              []Account   `json:"accounts,omitempty" maxItems:"60" help:"accounts of the curve (advance.judge accounts): T12, and T11 where the base was read"`
	BaseRead              bool        `json:"baseRead,omitempty" help:"the readings behind the accounts show the base, so that a base which is not among them is right"`
	ScatterWorstDistDeg   *float64    `json:"scatterWorstDistDeg,omitempty" min:"0" max:"90" unit:"distributor degrees" help:"largest distance of a flash from the mean (scatter.analyse worstDistDeg)"`
	CompressionKPa        []float64   `json:"compressionKPa,omitempty" min:"0" max:"3000" maxItems:"16" unit:"kPa" help:"compression by cylinder, dry, in the order along the engine (B27): T16"`
	CompressionOiledKPa   []float64   `json:"compressionOiledKPa,omitempty" min:"0" max:"3000" maxItems:"16" unit:"kPa" help:"the same with oil: T16"`
	Capsule               string      `json:"capsule,omitempty" enum:"|pass|watch|fail|unknown" help:"verdict on the capsule (vacuum.judge): T14"`
	ManifoldKPa           *float64    `json:"manifoldKPa,omitempty" min:"0" max:"102" unit:"kPa below ambient" help:"manifold vacuum at warm idle (B30): T17"`
	Spark                 Spark       `json:"spark,omitempty" help:"the spark from the coil lead as seen: T6"`
	Plugs                 []PlugFound `json:"plugs,omitempty" maxItems:"16" help:"plugs as found, by cylinder (B19): T21"`
	Checks                []Checked   `json:"checks,omitempty" maxItems:"40" help:"condition checks with their verdicts (condition.judge)"`
}

// Account is one account of the curve.
type Account struct {
	ID    string  `json:"id" need:"yes" maxLen:"80" help:"as advance.judge gives it; parts are joined by +"`
	Share float64 `json:"share" need:"yes" min:"0" max:"1" help:"its share"`
}

// Spark is the spark from the coil lead to bare metal, as seen.
type Spark struct {
	LengthMm *float64 `json:"lengthMm,omitempty" min:"0" max:"50" unit:"mm" help:"how far it jumps; 0: none"`
	Colour   string   `json:"colour,omitempty" enum:"|blue|white|yellow|red|none" help:"blue and white are strong, yellow and red weak"`
}

// PlugFound is one plug as it came out.
type PlugFound struct {
	Cylinder int    `json:"cylinder" need:"yes" min:"1" max:"16" help:"its cylinder"`
	Look     string `json:"look" need:"yes" enum:"good|sooty|wet|white|oily|damaged|specks" help:"good: light brown, dry; damaged: cracked, bridged, wrong gap or grade; specks: of metal or pepper"`
}

// Checked is one condition check with its verdict.
type Checked struct {
	ID     string `json:"id" need:"yes" maxLen:"20" help:"B1 to B30, or one of its figures such as B15.insulation"`
	Result string `json:"result" need:"yes" enum:"pass|watch|fail|unknown" help:"how it came out"`
}
