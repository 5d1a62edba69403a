package truth_test

import (
	"math"
	"math/rand/v2"
	"slices"

	"pointsmith/calc/advance"
)

// state is a distributor as it stands: its governor, the body as it is turned
// (crank degrees before TDC), and how far the bench's degree wheel is off.
type state struct {
	unit        unit
	curve       *curve
	base        float64
	benchZeroBy float64 // distributor degrees
}

// ratio is engine turns per distributor turn; all these engines are
// four-strokes.
const ratio = 2

// bookRow is a printed row in crank degrees at distributor rpm; advance alone,
// or totals where the book's figures hold the base. low is −Inf for a row
// with only a most.
type bookRow struct{ distRPM, low, high float64 }

// book is what is printed and what that means.
type book struct {
	spec            advance.Spec
	rows            []bookRow
	total           bool
	base, tolerance float64 // crank degrees
	quietRPM        float64 // no advance below this, distributor rpm; 0 when unsaid
	plate           float64 // number on the limit plate; 0 when unsaid
	beforeStop      bool    // the table ends before the stop
}

// row is one row of a spec. min is NaN for a row that has only a most.
func row(rpm, min, max float64) advance.SpecPoint {
	p := advance.SpecPoint{RPM: rpm, MaxDeg: &max}
	if !math.IsNaN(min) {
		p.MinDeg = &min
	}
	return p
}

// rowCounts is how often a book has so many rows, in parts of 40.
var rowCounts = []struct{ rows, parts int }{{1, 2}, {2, 4}, {3, 7}, {4, 8}, {5, 6}, {6, 5}, {7, 4}, {8, 4}}

func drawRowCount(rng *rand.Rand) int {
	n := rng.IntN(40)
	for _, r := range rowCounts {
		if n -= r.parts; n < 0 {
			return r.rows
		}
	}
	return 4
}

// printed prints a book for a design and draws a sound unit of that make, off
// the middle of its band but inside every row, both as speed rises and as it
// falls. ok is false where none of 60 units was.
func printed(rng *rand.Rand, design unit, rows int, rubs bool) (b book, sound state, ok bool) {
	b = printBook(rng, design, rows)
	for try := range 60 {
		u := design.another(rng, math.Pow(0.985, float64(try)))
		if rubs {
			u = u.rubbing(rng)
		}
		sound = state{unit: u, curve: u.curve(), base: b.base + b.tolerance*between(rng, -1, 1)}
		if b.holds(sound) {
			return b, sound, true
		}
	}
	return b, sound, false
}

func printBook(rng *rand.Rand, design unit, rows int) book {
	b := book{total: rng.IntN(3) == 0, base: float64(rng.IntN(15) - 2),
		tolerance: float64([]int{0, 0, 1, 2}[rng.IntN(4)])}
	spec := advance.Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	spec.BaseCrankDeg, spec.BaseToleranceCrankDeg = &b.base, b.tolerance
	if b.total || rng.IntN(2) == 0 {
		spec.AngleUnit = "crank"
	}
	if rng.IntN(2) == 0 {
		spec.SpeedUnit = "engine"
	}
	if b.total {
		spec.Base = "included"
	}
	half := between(rng, 0.75, 1.5)
	c := design.curve()
	onlyMost := -1
	if rng.IntN(100) < 15 {
		onlyMost = rng.IntN(rows)
		if rows < 3 {
			onlyMost = rows - 1
		}
	}
	b.beforeStop = rows > 1 && rng.IntN(5) == 0
	for i, rpm := range rowSpeeds(rng, design, rows, b.beforeStop, spec.SpeedUnit) {
		spec.Points = append(spec.Points, b.printRow(spec, rpm, c.free(rpm), half, i == onlyMost))
	}
	if rng.IntN(4) == 0 {
		slices.Reverse(spec.Points)
	}
	if rng.IntN(3) == 0 {
		b.printQuiet(&spec, c)
	}
	if rng.IntN(2) == 0 {
		b.plate = math.Round(2*design.limit) / 2
		spec.LimitDistDeg = &b.plate
	}
	b.spec = spec
	return b
}

// printRow prints the band at one speed, rounded to half a degree of the
// book's own unit, and keeps what that means.
func (b *book) printRow(spec advance.Spec, rpm, deg, half float64, onlyMost bool) advance.SpecPoint {
	low, high, least := ratio*(deg-half), ratio*(deg+half), 0.0
	if b.total {
		low, high, least = low+b.base, high+b.base, b.base-b.tolerance
	}
	unit, speed := 1.0, 1.0
	if spec.AngleUnit == "distributor" {
		unit = ratio
	}
	if spec.SpeedUnit == "engine" {
		speed = ratio
	}
	printedAs := func(crank float64) float64 { return math.Round(2*crank/unit) / 2 }
	minimum, maximum := printedAs(math.Max(low, least)), printedAs(high)
	r := bookRow{rpm, minimum * unit, maximum * unit}
	if onlyMost {
		r.low, minimum = math.Inf(-1), math.NaN()
	}
	b.rows = append(b.rows, r)
	return row(rpm*speed, minimum, maximum)
}

// printQuiet adds "no advance below", rounded down to 50 of the book's rpm and
// below the speed at which a falling unit is home.
func (b *book) printQuiet(spec *advance.Spec, c *curve) {
	speed := 1.0
	if spec.SpeedUnit == "engine" {
		speed = ratio
	}
	quiet := 50 * math.Floor(0.95*speed*perMinute(math.Sqrt(c.falling[0]))/50)
	saysMore := func(r bookRow) bool { return r.distRPM <= quiet/speed && r.low > 0 }
	if quiet < 100*speed || !b.total && slices.ContainsFunc(b.rows, saysMore) {
		return
	}
	spec.NoAdvanceBelowRPM, b.quietRPM = &quiet, quiet/speed
}

// rowSpeeds draws the book's speeds, distributor rpm: from about the start of
// the advance to past the stop, or to well before it.
func rowSpeeds(rng *rand.Rand, design unit, rows int, beforeStop bool, unit string) []float64 {
	start, stop := design.startRPM(), design.limitRPM()
	last := stop * between(rng, 1, 1.3)
	if beforeStop {
		last = start + (stop-start)*between(rng, 0.55, 0.9)
	}
	first := start * between(rng, 0.7, 1.3)
	switch rows {
	case 2:
		first = start + between(rng, 0.1, 0.4)*(last-start)
	case 3:
		first = start * between(rng, 1, 1.5)
	}
	nice := 50.0 // distributor rpm
	if unit == "engine" {
		nice = 100 / ratio
	}
	var speeds []float64
	for i := range rows {
		part := 1.0
		if rows > 1 {
			part = math.Pow(float64(i)/float64(rows-1), 1.3)
		}
		rpm := first + (last-first)*part
		if i > 0 && i < rows-1 {
			rpm += between(rng, -0.25, 0.25) * (last - first) / float64(rows-1)
		}
		rpm = nice * math.Round(rpm/nice)
		if len(speeds) > 0 {
			rpm = math.Max(rpm, speeds[len(speeds)-1]+nice)
		}
		speeds = append(speeds, rpm)
	}
	return speeds
}

// outside is how far an advance at a row's speed lies outside that row, crank
// degrees: of totals as the car shows them, or of advance alone.
func (b book) outside(r bookRow, advanceDeg, base float64, onCar bool) float64 {
	low, high, value := r.low, r.high, ratio*advanceDeg
	switch {
	case b.total && onCar:
		value += base
	case b.total: // the bench shows advance alone; any allowed base may stand under it
		low, high = low-b.base-b.tolerance, high-b.base+b.tolerance
	case onCar:
		value += base
		low, high = low+b.base-b.tolerance, high+b.base+b.tolerance
	}
	return math.Max(0, math.Max(low-value, value-high))
}

// shows is how far the worst row is missed, crank degrees, as the given
// evidence sees it.
func (b book) shows(s state, e evidence) float64 {
	worst := 0.0
	for _, r := range b.rows {
		for _, w := range e.ways() {
			deg := s.curve.at(r.distRPM, w.falling)
			if !w.car {
				deg += s.benchZeroBy
			}
			worst = math.Max(worst, b.outside(r, deg, s.base, w.car))
		}
	}
	return worst
}

// plateSlack is how far a unit's stop may lie from the number on its plate,
// distributor degrees: half a degree (common practice).
const plateSlack = 0.5

// holds tells whether a unit is sound by all the book says, rows, plate,
// speed below which nothing moves, and base; whichever way it is read.
func (b book) holds(s state) bool {
	if b.shows(s, evidence{bench: true, car: true, falling: true}) > 0 || math.Abs(s.base-b.base) > b.tolerance {
		return false
	}
	if b.quietRPM > 0 && s.curve.at(b.quietRPM, true) > 0 {
		return false
	}
	return b.plate == 0 || math.Abs(s.curve.limit-b.plate) <= plateSlack
}

// isLeft tells whether what the evidence sees breaks anything the book says.
func (b book) isLeft(s state, e evidence, plan []moment) bool {
	if b.shows(s, e) > 0 || e.lamp && math.Abs(s.base-b.base) > b.tolerance {
		return true
	}
	for _, m := range plan {
		value, allowed := m.crank(s), 0.0
		if m.car {
			value, allowed = value-b.base, b.tolerance
		}
		if m.distRPM < b.quietRPM && math.Abs(value) > allowed {
			return true
		}
		if !m.car && b.plate > 0 && value > ratio*(b.plate+plateSlack) {
			return true
		}
	}
	return false
}
