package record

import (
	"fmt"
	"strconv"

	"pointsmith/calc/refuse"
)

const (
	byMiles = "miles"
	byDate  = "date"
)

// What is known of the age of a heel.
const (
	heelUnsaid = iota
	heelNew
)

// history is the readings that are used, taken apart.
type history struct {
	axis    string
	x       []float64 // thousand miles or years since the first reading used
	y       []float64 // values
	line    []int     // which line a reading lies on: a setting begins a new one
	heel    []int     // which set of points it was read with
	heels   []heel
	index   []int   // place in the input
	first   float64 // miles, or day number, of the first reading used
	now     float64 // from the last reading used to now, in units of x
	lines   int
	leftOut []LeftOut
}

type heel struct {
	from float64 // x at which it was fitted, where that is known
	age  int
}

// units of x: miles or days in one.
const (
	milesPerX = 1000
	daysPerX  = 365.25
)

// unit is how many miles or days one of x is.
func (h history) unit() float64 {
	if h.axis == byDate {
		return daysPerX
	}
	return milesPerX
}

func at(i int, field string) string { return fmt.Sprintf("points[%d].%s", i, field) }

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// readHistory checks the input and takes it apart.
func readHistory(in DriftIn) (history, *refuse.Error) {
	if bad := in.check(); bad != nil {
		return history{}, bad
	}
	days, today, bad := readDays(in)
	if bad != nil {
		return history{}, bad
	}
	if bad := milesFall(in); bad != nil {
		return history{}, bad
	}
	h := history{axis: axisOf(in.Points), leftOut: []LeftOut{}}
	place := func(i int) (float64, bool) {
		p := in.Points[i]
		if h.axis == byDate {
			return float64(days[i]), p.Date != ""
		}
		if p.Miles == nil {
			return 0, false
		}
		return *p.Miles, true
	}
	h.take(in.Points, place)
	h.now = h.sinceLast(in, today)
	return h, nil
}

// axisOf: miles where all have them, else dates where all have those, else
// what more readings have.
func axisOf(points []Point) string {
	miles, dates := 0, 0
	for _, p := range points {
		if p.Miles != nil {
			miles++
		}
		if p.Date != "" {
			dates++
		}
	}
	if dates > miles {
		return byDate
	}
	return byMiles
}

// take puts the readings on lines, and on the sets of points they belong to.
func (h *history) take(points []Point, place func(int) (float64, bool)) {
	h.heels = []heel{{}}
	reset, last := "", -1
	for i, p := range points {
		if p.Reset == "new-points" || reset == "" { // also that of a reading left out
			reset = p.Reset
		}
		x, has := place(i)
		if !has {
			h.leave(i, "it has no "+h.axis+", which the others are placed by")
			continue
		}
		if last >= 0 && reset == "" && same(points[last], p) {
			h.leave(i, "it is the same as the one before it, and counted once")
			continue
		}
		if last < 0 {
			h.first = x
		}
		x = (x - h.first) / h.unit()
		h.begin(reset, x, last < 0)
		h.x, h.y, h.index = append(h.x, x), append(h.y, p.Value), append(h.index, i)
		h.line, h.heel = append(h.line, h.lines-1), append(h.heel, len(h.heels)-1)
		reset, last = "", i
	}
}

// begin opens a new line where something was done, and a new heel with points.
func (h *history) begin(reset string, x float64, isFirst bool) {
	if isFirst || reset != "" {
		h.lines++
	}
	if reset != "new-points" {
		return
	}
	if isFirst {
		h.heels[0] = heel{from: x, age: heelNew}
		return
	}
	h.heels = append(h.heels, heel{from: x, age: heelNew})
}

func (h *history) leave(i int, because string) {
	h.leftOut = append(h.leftOut, LeftOut{Index: i, Because: because})
}

func same(a, b Point) bool {
	sameMiles := (a.Miles == nil) == (b.Miles == nil) && (a.Miles == nil || *a.Miles == *b.Miles)
	return sameMiles && a.Date == b.Date && a.Value == b.Value
}

// sinceLast is how far it is from the last reading to now; 0 unless said.
func (h *history) sinceLast(in DriftIn, today int) float64 {
	last := h.first + h.x[len(h.x)-1]*h.unit()
	switch {
	case h.axis == byMiles && in.MilesNow != nil:
		return (*in.MilesNow - last) / h.unit()
	case h.axis == byDate && in.Today != "":
		return (float64(today) - last) / h.unit()
	}
	return 0
}

// silence says why these readings tell no drift, or nothing.
func (h history) silence() string {
	alone := "One reading tells no drift. Read it again later, and write down the miles."
	if len(h.x) == 1 {
		return alone
	}
	together, start := false, 0
	for i := 1; i < len(h.x); i++ {
		if h.line[i] != h.line[i-1] {
			start = i
			continue
		}
		together = true
		if h.x[i]-h.x[start] >= apart/milesPerX {
			return ""
		}
	}
	if together {
		return "These readings were all taken at the same place, with no " + distance[h.axis] +
			" between them, and tell no drift. Read it again later."
	}
	return "It was set again before every reading, so each stands alone. " + alone
}

// apart is the least that counts as a distance, miles: the last digit of an
// odometer (common practice). A day is always more in its units.
const apart = 0.1

var distance = map[string]string{byMiles: "miles", byDate: "days"}

// readDays reads all days and refuses those that run backwards or lie ahead.
func readDays(in DriftIn) (days []int, today int, bad *refuse.Error) {
	if in.Today != "" {
		if today, bad = dayOf("today", in.Today); bad != nil {
			return nil, 0, bad
		}
	}
	days = make([]int, len(in.Points))
	before := -1
	for i, p := range in.Points {
		if p.Date == "" {
			if p.Miles == nil {
				return nil, 0, refuse.Input(at(i, "miles"), "neither miles nor date is given", "one of them",
					"give what the odometer said, or the day")
			}
			continue
		}
		if days[i], bad = dayOf(at(i, "date"), p.Date); bad != nil {
			return nil, 0, bad
		}
		if today > 0 && days[i] > today {
			return nil, 0, refuse.Input(at(i, "date"), p.Date+" lies ahead", "at most today, "+in.Today,
				"check the day, and the clock of the phone")
		}
		if before >= 0 && days[i] < days[before] {
			return nil, 0, refuse.Input(at(i, "date"), p.Date+" is earlier than the reading before it",
				"not before "+in.Points[before].Date, "give the readings oldest first, or check the day")
		}
		before = i
	}
	return days, today, nil
}

// milesFall refuses an odometer that runs backwards.
func milesFall(in DriftIn) *refuse.Error {
	before := -1
	for i, p := range in.Points {
		if p.Miles == nil {
			continue
		}
		if before >= 0 && *p.Miles < *in.Points[before].Miles {
			return refuse.Input(at(i, "miles"), figure(*p.Miles)+" is less than the reading before it has",
				"at least "+figure(*in.Points[before].Miles),
				"check the figure and the order; if the odometer was changed, add what the old one had, or give dates instead")
		}
		before = i
	}
	if n := in.MilesNow; n != nil && before >= 0 && *n < *in.Points[before].Miles {
		return refuse.Input("milesNow", figure(*n)+" is less than the last reading has",
			"at least "+figure(*in.Points[before].Miles), "check both figures")
	}
	return nil
}
