package figures

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
