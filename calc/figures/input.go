package figures

// Hints is what the person has said already. Answers to questions weigh most,
// then the other hints, then the heads of the table.
type Hints struct {
	What      string            `json:"what,omitempty" enum:"spec|readings" help:"what the table is: the book's table, or readings"`
	AngleUnit string            `json:"angleUnit,omitempty" enum:"crank|distributor" help:"which shaft the degrees belong to"`
	SpeedUnit string            `json:"speedUnit,omitempty" enum:"engine|distributor" help:"which shaft the speeds belong to"`
	Base      string            `json:"base,omitempty" enum:"included|excluded" help:"whether the degrees hold the base timing"`
	Separator string            `json:"separator,omitempty" enum:"comma|semicolon|tab|pipe|blanks|words" help:"what stands between two cells; words: each line is a sentence, such as “1000: 7 to 9”; found out unless said"`
	Decimal   string            `json:"decimal,omitempty" enum:"point|comma" help:"the decimal mark; found out unless said"`
	Columns   []string          `json:"columns,omitempty" enum:"speed|deg|minDeg|maxDeg|risingDeg|fallingDeg|direction|place|vacuum|note|skip" maxItems:"64" help:"what each column is, from the left; found out unless said"`
	Answers   map[string]string `json:"answers,omitempty" maxItems:"40" maxLen:"400" help:"answers to earlier asks: the ask's id, and the answer of the choice"`
}

// ReadIn is the text of a table.
type ReadIn struct {
	Text  string `json:"text" need:"yes" help:"the text of the table, at most 8,000,000 bytes: a CSV file, or what was pasted"`
	Hints Hints  `json:"hints,omitempty" help:"what is known of the table beforehand"`
}

// Column is one column of the table.
type Column struct {
	Index    int    `json:"index" help:"its place from the left, from 0"`
	Head     string `json:"head" help:"what stands above it; empty where nothing does"`
	Is       string `json:"is" enum:"speed|deg|minDeg|maxDeg|risingDeg|fallingDeg|direction|place|vacuum|note|skip" help:"what it was taken for; skip: it is not read"`
	Unit     string `json:"unit" help:"the shaft its figures belong to: engine, crank or distributor; empty where it has none or none is known"`
	Sureness string `json:"sureness" enum:"sure|likely|possible" help:"sure: said by a person or by its head; likely: by the size of its figures; possible: it has to be asked"`
}

// Row is one row as read, in the table's own units.
type Row struct {
	Line      int      `json:"line" help:"the line of the text it stands on, from 1"`
	RPM       float64  `json:"rpm" unit:"rpm, engine or distributor as speedUnit says" help:"speed"`
	MinDeg    *float64 `json:"minDeg,omitempty" unit:"degrees, crank or distributor as angleUnit says" help:"of a spec: the least the book allows"`
	MaxDeg    *float64 `json:"maxDeg,omitempty" unit:"degrees, crank or distributor as angleUnit says" help:"of a spec: the most the book allows"`
	Deg       *float64 `json:"deg,omitempty" unit:"degrees, crank or distributor as angleUnit says" help:"of readings: what was read"`
	Direction string   `json:"direction,omitempty" enum:"rising|falling" help:"of readings: whether speed was being raised or lowered"`
	Place     string   `json:"place,omitempty" enum:"bench|car" help:"of readings: where"`
	Vacuum    string   `json:"vacuum,omitempty" enum:"off|connected" help:"of readings: the vacuum pipe"`
	Note      string   `json:"note,omitempty" help:"what was written beside the row"`
}

// Choice is one answer to a question.
type Choice struct {
	Answer  string   `json:"answer" help:"what to give in hints.answers"`
	Text    string   `json:"text" help:"the answer in plain words"`
	Preview []string `json:"preview" help:"the first rows this answer would give"`
}

// Ask is a question that must be answered before anything is stored.
type Ask struct {
	ID       string   `json:"id" help:"name of the question, for hints.answers"`
	Question string   `json:"question" help:"the question in plain words"`
	Why      string   `json:"why" help:"why the text alone does not answer it"`
	Choices  []Choice `json:"choices" help:"the answers it allows"`
}

// Left is a piece of the text that became no row.
type Left struct {
	Line    int    `json:"line" help:"the line of the text, from 1"`
	Text    string `json:"text" help:"what stood there, shortened"`
	Because string `json:"because" help:"why it was left out"`
}

// Note is something that was mended or taken for granted.
type Note struct {
	Code string `json:"code" help:"name of the note"`
	Text string `json:"text" help:"what was done, in plain words"`
}

// ReadOut is the table as read. While asks is not empty, rows are only a
// picture of what may become of it.
type ReadOut struct {
	What              string   `json:"what" enum:"spec|readings|" help:"what the table is; empty while it is asked"`
	AngleUnit         string   `json:"angleUnit" enum:"crank|distributor|" help:"which shaft the degrees belong to; empty while it is asked"`
	SpeedUnit         string   `json:"speedUnit" enum:"engine|distributor|" help:"which shaft the speeds belong to; empty while it is asked"`
	Base              string   `json:"base" enum:"included|excluded|" help:"whether the degrees hold the base timing; empty while it is asked"`
	Separator         string   `json:"separator" enum:"comma|semicolon|tab|pipe|blanks|words" help:"what stands between two cells; words: each line is a sentence, such as “1000: 7 to 9”"`
	Decimal           string   `json:"decimal" enum:"point|comma|mixed|none" help:"the decimal mark found; none: no figure has one; mixed: both are met, and each figure can be read in one way only"`
	Columns           []Column `json:"columns" help:"the columns, from the left"`
	Rows              []Row    `json:"rows" help:"the rows; while there are more than may be kept, only the first of them"`
	RowCount          int      `json:"rowCount" help:"how many rows the table has, those not shown included"`
	NoAdvanceBelowRPM *float64 `json:"noAdvanceBelowRPM,omitempty" unit:"rpm, engine or distributor as speedUnit says" help:"of a spec: the speed below which the text says there is no advance"`

	Asks    []Ask    `json:"asks" help:"what must be answered before anything is stored"`
	LeftOut []Left   `json:"leftOut" help:"what became no row, in the order of the text; at most 200 of them, the last then says how many more"`
	Notes   []Note   `json:"notes" help:"what was mended or taken for granted"`
	Sources []string `json:"sources" help:"where the rules come from"`
}

// The names of what a column may be.
const (
	isSpeed     = "speed"
	isDeg       = "deg"
	isMin       = "minDeg"
	isMax       = "maxDeg"
	isRising    = "risingDeg"
	isFalling   = "fallingDeg"
	isDirection = "direction"
	isPlace     = "place"
	isVacuum    = "vacuum"
	isNote      = "note"
	isSkip      = "skip"
)

// Other words of the contract.
const (
	spec        = "spec"
	readings    = "readings"
	crank       = "crank"
	distributor = "distributor"
	engine      = "engine"
	included    = "included"
	excluded    = "excluded"
	rising      = "rising"
	falling     = "falling"
	sure        = "sure"
	likely      = "likely"
	possible    = "possible"
)

// degrees tells whether a column of this kind holds degrees.
func degrees(is string) bool {
	switch is {
	case isDeg, isMin, isMax, isRising, isFalling:
		return true
	}
	return false
}

// Limits. Those of the rows are the ones the calculations and the garage's
// documents have (advance.Spec, advance.Set); the others are judgement.
const (
	maxText     = 8_000_000 // bytes; judgement: a hundred thousand rows have about 2 million
	maxColumns  = 64        // judgement
	maxSpecRows = 64        // advance.Spec.points
	maxReadings = 400       // advance.Set.points
	maxLeftOut  = 200       // judgement: more is not read by anyone
	maxTables   = 20        // judgement: choices of one question
	maxCell     = 1000      // bytes of a quoted cell with line breaks; judgement
	maxShown    = 60        // characters of a line shown in leftOut; judgement

	leastRPM = 50    // judgement: bench tables begin at about 100 distributor rpm (common practice)
	mostRPM  = 12000 // advance.SpecPoint.rpm

	leastSpecDeg = -40 // advance.SpecPoint.minDeg
	mostSpecDeg  = 90
	leastDeg     = -60 // advance.ReadingPoint.deg
	mostDeg      = 120

	// A whole column is taken for degrees below 60, and for speeds when it reaches
	// 200: idle is 300 to 1800 engine rpm, totals are below 60 (common practice).
	mostDegColumn   = 60
	leastTopOfSpeed = 200
)
