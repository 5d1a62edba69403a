package faults

import "strings"

// checkRow says what a condition check tells: which outcomes of a test are
// seen when it fails, and which are not when it passes.
type checkRow struct {
	check string // B22, or B15.insulation for one figure of several
	test  string
	fails string // outcomes, blank between
}

// checkRows are the checks of the condition room. A figure of a check that has
// no row of its own counts as its check.
var checkRows = []checkRow{
	{"B1", "F.side-play", "large"}, {"B2", "F.side-play", "large"}, {"B3", "F.drive-play", "large"},
	{"B4", "F.drive-play", "large"}, {"B5", "T39", "slow slack"}, {"B6", "F.travel", "off"},
	{"B7", "F.weights", "worn"}, {"B8", "T50", "burnt"}, {"B9", "T50", "weak"}, {"B10", "T50", "weak"},
	{"B11", "T3", "drop dead"}, {"B12", "F.body-earth", "loses"}, {"B13", "T53", "jumps"}, {"B14", "F.plate", "off"},
	{"B15.insulation", "F.condenser", "leaks"}, {"B15", "F.condenser", "size"}, {"B16", "T7", "leaks"},
	{"B17", "T55", "bad"}, {"B18", "T36", "added open"},
	{"B19", "T21", "wrong one sooty white oily specks"}, {"B20", "T14", "leaks"}, {"B21", "F.plate", "off"},
	{"B22", "T38", "bad"}, {"B23", "T30", "high low"}, {"B24", "T2", "low high"}, {"B25", "F.bypass", "loses"},
	{"B26", "T37", "coil mismatch"}, {"B27", "T16", "valve neighbours rings all-low"},
	{"B28", "F.clearances", "off"}, {"B29", "F.chain", "large"}, {"B30", "T17", "flicks low falls drifts"},
}

// answeredByChecks: a test that asks what these checks, all of them, have told.
var answeredByChecks = map[string][]string{"T26": {"B28", "B29"}}

// checkOf finds the row of a check or of one of its figures.
func checkOf(id string) (checkRow, bool) {
	id = strings.TrimSpace(id)
	id = strings.ToUpper(id[:min(1, len(id))]) + id[min(1, len(id)):]
	whole, _, _ := strings.Cut(id, ".")
	for _, try := range []string{id, whole} {
		for _, row := range checkRows {
			if row.check == try {
				return row, true
			}
		}
	}
	return checkRow{}, false
}

// watched: a check to be watched is this much of a fail (judgement).
const watched = 0.6

// weights of a check: passed, the outcomes it would show are not there; failed,
// one of them is.
func (r checkRow) weights(t test, result string) []float64 {
	bad := map[string]float64{"pass": 1 - certain, "watch": watched, "fail": certain}[result]
	w := make([]float64, len(t.Outcomes))
	for o := range w {
		w[o] = 1 - bad
	}
	for id := range strings.FieldsSeq(r.fails) {
		w[t.outcomeAt(id)] = bad
	}
	return w
}
