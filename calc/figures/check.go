package figures

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
)

// checkRows asks of what only shows when all rows stand together.
func (r *reader) checkRows() {
	if r.bands > 0 && r.out.What == readings && r.answer("bands") == "" {
		r.ask("bands", fmt.Sprintf("Some readings (%d) are bands, such as 12 to 14. What is to be taken?", r.bands),
			"A reading is one figure.", option{"middle", "the middle of the band"},
			option{"leave", "leave those rows out"})
	}
	if r.reversed > 0 && r.ordered == 0 && r.answer("leastMost") == "" {
		r.ask("leastMost", "Are the columns of least and most swapped?",
			"In every row where they differ the least is more than the most.", option{"swap", "yes, swap them"},
			option{"leave", "no, leave those rows out"})
	}
	switch r.out.What {
	case spec:
		r.checkRepeats()
	case readings:
		r.checkDirection()
	}
}

// checkRepeats: a book has one row for each speed.
func (r *reader) checkRepeats() {
	at := map[float64]int{}
	answer := r.answer("repeats")
	var kept []Row
	n := 0
	for _, row := range r.built {
		i, again := at[row.RPM]
		if !again {
			at[row.RPM] = len(kept)
			kept = append(kept, row)
			continue
		}
		same := sameBound(kept[i].MinDeg, row.MinDeg) && sameBound(kept[i].MaxDeg, row.MaxDeg)
		switch {
		case same || answer == "first":
		case answer == "last":
			kept[i] = row
		case answer == "widest":
			kept[i] = widest(kept[i], row)
		default:
			n++
			kept = append(kept, row)
			continue
		}
		r.leave(record{line: row.Line, raw: r.say(row, "")}, fmt.Sprintf("the speed %g rpm stands in the table twice", row.RPM))
	}
	r.built = kept
	if n > 0 {
		r.ask("repeats", fmt.Sprintf("Some speeds stand in the table twice with other figures (%d rows). Which hold?", n),
			"A book's table has one row for each speed.", option{"first", "the first of each"},
			option{"last", "the last of each"}, option{"widest", "the widest band of each"})
	}
}

func sameBound(a, b *float64) bool { return a == b || a != nil && b != nil && *a == *b }

func widest(a, b Row) Row {
	if a.MinDeg != nil && (b.MinDeg == nil || *b.MinDeg < *a.MinDeg) {
		a.MinDeg = b.MinDeg
	}
	if a.MaxDeg != nil && (b.MaxDeg == nil || *b.MaxDeg > *a.MaxDeg) {
		a.MaxDeg = b.MaxDeg
	}
	return a
}

// checkDirection asks whether readings listed with rising or falling speeds
// were read so.
func (r *reader) checkDirection() {
	if slices.ContainsFunc(r.cols, func(c column) bool {
		return c.is == isDirection || c.is == isRising || c.is == isFalling
	}) {
		return
	}
	up, down, turns := r.runs()
	if down == 0 {
		return
	}
	switch answer := r.answer("direction"); answer {
	case "order":
		r.byOrder()
		return
	case rising, falling:
		for i := range r.built {
			r.built[i].Direction = answer
		}
		return
	}
	const mostTurns = 3 // judgement: with more the order tells nothing
	if turns > mostTurns {
		r.noteOnce("direction-unknown", "The speeds go up and down many times, so their order does not tell whether a "+
			"reading was taken rising or falling. None is said; it counts as rising.")
		return
	}
	options := []option{{falling, "all falling"}, {rising, "all rising"}}
	if up > 0 {
		options = []option{{"order", "as they are listed: rising where the speed goes up, falling where it goes down"},
			{rising, "all rising"}, {falling, "all falling"}}
	}
	r.ask("direction", "Were the readings taken with the speed rising or falling?",
		"The speeds go down in the list, and no column says the direction.", options...)
}

// runs counts the steps up and down, and how often one follows the other.
func (r *reader) runs() (up, down, turns int) {
	last := 0
	for i := 1; i < len(r.built); i++ {
		step := cmp.Compare(r.built[i].RPM, r.built[i-1].RPM)
		if step == 0 {
			continue
		}
		up, down = up+one(step > 0), down+one(step < 0)
		turns += one(last != 0 && step != last)
		last = step
	}
	return up, down, turns
}

// byOrder says rising where the speed went up to a reading; the first is as the
// second.
func (r *reader) byOrder() {
	now := ""
	for i := range r.built {
		if i > 0 && r.built[i].RPM > r.built[i-1].RPM {
			now = rising
		} else if i > 0 && r.built[i].RPM < r.built[i-1].RPM {
			now = falling
		}
		r.built[i].Direction = now
	}
	first := slices.IndexFunc(r.built, func(row Row) bool { return row.Direction != "" })
	for i := range max(first, 0) {
		r.built[i].Direction = r.built[first].Direction
	}
}

// steps of speed that are offered where there are too many rows (judgement).
var steps = []int{10, 25, 50, 100, 200, 250, 500, 1000}

const mostSteps = 4 // offered at once; judgement

// limitRows asks which rows to keep where there are more than a table or a set
// of readings may have.
func (r *reader) limitRows() {
	r.out.RowCount = len(r.built)
	most := maxReadings
	if r.out.What == spec {
		most = maxSpecRows
	}
	if answer := r.answer("keep"); answer != "" && len(r.built) > most {
		if kept := r.thin(answer, most); kept != nil {
			r.leave(record{line: r.built[0].Line}, fmt.Sprintf("%d rows of %d were not kept, as you said",
				len(r.built)-len(kept), len(r.built)))
			r.built = kept
		}
	}
	if len(r.built) <= most {
		return
	}
	var options []option
	for _, step := range steps {
		if len(options) == mostSteps {
			break
		}
		if n := len(r.thin(strconv.Itoa(step), most)); n > 1 {
			options = append(options, option{strconv.Itoa(step), fmt.Sprintf("the row nearest to every %d rpm: %d rows", step, n)})
		}
	}
	r.ask("keep", fmt.Sprintf("The table has %d rows, and at most %d can be kept. Which?", len(r.built), most),
		"More rows than that do not make a curve surer. No figures are averaged: the rows kept stand as they are.",
		append(options, option{"first", fmt.Sprintf("the first %d", most)})...)
	r.built = r.built[:most]
}

// thin keeps, for each multiple of a step of speed, the row nearest to it and
// not further than a quarter of the step; each direction, place and state of
// the pipe by itself. Nil where these are more than most.
func (r *reader) thin(answer string, most int) []Row {
	step, err := strconv.Atoi(answer)
	if err != nil {
		return r.built[:min(most, len(r.built))]
	}
	best := map[int]int{}
	off := func(i int) float64 { return math.Abs(math.Remainder(r.built[i].RPM, float64(step))) }
	for i, row := range r.built {
		spot := int(math.Round(row.RPM/float64(step)))<<6 | row.run()
		if j, has := best[spot]; off(i)*4 <= float64(step) && (!has || off(i) < off(j)) {
			best[spot] = i
		}
		if len(best) > most {
			return nil
		}
	}
	var kept []Row
	for _, i := range slices.Sorted(maps.Values(best)) {
		kept = append(kept, r.built[i])
	}
	return kept
}

// run is a number, less than 64, for direction, place and pipe together.
func (row Row) run() int {
	n := one(row.Direction == rising) + 2*one(row.Direction == falling)
	n = n<<2 + one(row.Place == "bench") + 2*one(row.Place == "car")
	return n<<2 + one(row.Vacuum == "off") + 2*one(row.Vacuum == "connected")
}
