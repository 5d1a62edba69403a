package record

import "pointsmith/calc/refuse"

// DriftIn is one figure as read over miles or time, and its limit.
type DriftIn struct {
	Points       []Point  `json:"points" need:"yes" minItems:"1" maxItems:"60" help:"the readings in the order they were taken, oldest first"`
	Limit        *Limit   `json:"limit,omitempty" help:"what the figure must not pass; left out, only the rate is answered"`
	What         string   `json:"what,omitempty" enum:"|dwell|base|other" help:"what was read: dwell in distributor degrees; base in crank degrees, before TDC positive; other, or left out, any other figure, of which nothing is known beforehand"`
	Name         string   `json:"name,omitempty" maxLen:"40" help:"what to call the figure in sentences; for other"`
	Unit         string   `json:"unit,omitempty" maxLen:"20" help:"its unit in sentences; for other"`
	ReadingError *float64 `json:"readingError,omitempty" min:"0.000001" max:"1000000" unit:"of the value" help:"error of one reading, one standard deviation; unless said 0.5 for dwell and 1 for base (common practice), and learned from the scatter for other"`
	MilesNow     *float64 `json:"milesNow,omitempty" min:"0" max:"2000000" unit:"miles" help:"what the odometer says now; the last reading's miles unless said"`
	Today        string   `json:"today,omitempty" maxLen:"10" help:"today as 2024-05-18; a reading after it is refused; the last reading's day unless said"`
}

// Point is one reading.
type Point struct {
	Miles *float64 `json:"miles,omitempty" min:"0" max:"2000000" unit:"miles" help:"odometer when it was read"`
	Date  string   `json:"date,omitempty" maxLen:"10" help:"day it was read, as 2024-05-18"`
	Value float64  `json:"value" need:"yes" min:"-1000000000" max:"1000000000" help:"the figure read"`
	Reset string   `json:"reset,omitempty" enum:"|adjusted|new-points" help:"what was done just before this reading, which then begins a new line: the figure was set again or repaired, or new points were fitted"`
}

// Limit is the range the figure has to stay in; one end may be left out.
type Limit struct {
	Min *float64 `json:"min,omitempty" min:"-1000000000" max:"1000000000" unit:"of the value" help:"the least it may be"`
	Max *float64 `json:"max,omitempty" min:"-1000000000" max:"1000000000" unit:"of the value" help:"the most it may be"`
}

// DriftOut is the rate with its interval, and when the limit is met.
type DriftOut struct {
	PerThousandMiles *float64   `json:"perThousandMiles" unit:"of the value per 1,000 miles" help:"rate of drift by miles, as likely more as less; null when it goes by dates or nothing can be said"`
	PerYear          *float64   `json:"perYear" unit:"of the value per year" help:"rate of drift by dates; null when it goes by miles or nothing can be said"`
	Low              *float64   `json:"low" unit:"of the rate that is given" help:"hardly less than this; with high it holds the truth at the stated rate"`
	High             *float64   `json:"high" unit:"of the rate that is given" help:"hardly more than this"`
	StatedRate       float64    `json:"statedRate" help:"share of cases in which an interval, of the rate or of what is due, holds the truth"`
	State            string     `json:"state" enum:"due|ahead|no-limit-ahead|unknown" help:"due: most likely past the limit now; ahead: the limit lies ahead; no-limit-ahead: not met within the horizon; unknown: see why"`
	DueMiles         *MilesDue  `json:"dueMiles" help:"odometer at which the limit is met; null by dates, or with why"`
	DueDate          *DateDue   `json:"dueDate" help:"day on which the limit is met; null by miles, or with why"`
	Why              string     `json:"why" help:"why there is no rate, or no figure for due; empty when both are there"`
	Basis            string     `json:"basis" enum:"readings|both|usual|none" help:"what the rate rests on: this car's readings, both, or almost only what is usual; none without a rate"`
	Doubtful         []Doubtful `json:"doubtful" help:"readings more likely than not misread: take them again"`
	LeftOut          []LeftOut  `json:"leftOut" help:"readings that were not used, and why"`
	Text             string     `json:"text" help:"the whole in short sentences"`
	Notes            []string   `json:"notes" help:"what else is to be known about it"`
	Working          []string   `json:"working" help:"the rule with these figures in it"`
	Sources          []string   `json:"sources" help:"where the figures known beforehand come from"`
}

// MilesDue is when the limit is met, on the odometer.
type MilesDue struct {
	Low  float64  `json:"low" unit:"miles" help:"hardly sooner than this; check by then"`
	High *float64 `json:"high" unit:"miles" help:"hardly later than this; null when it may stay away beyond the horizon"`
}

// DateDue is when the limit is met, by the calendar.
type DateDue struct {
	Low  string `json:"low" help:"hardly sooner than this day; check by then"`
	High string `json:"high" help:"hardly later than this day; empty when it may stay away beyond the horizon"`
}

// Doubtful is a reading that does not go with the others.
type Doubtful struct {
	Index int     `json:"index" help:"place in points, from 0"`
	Share float64 `json:"share" min:"0" max:"1" help:"how likely it was misread"`
}

// LeftOut is a reading that was not used.
type LeftOut struct {
	Index   int    `json:"index" help:"place in points, from 0"`
	Because string `json:"because" help:"why"`
}

// statedRate of every interval; the tails are a twentieth each (contract).
const (
	statedRate = 0.9
	tail       = (1 - statedRate) / 2
)

// Drift weighs the readings against a line that every stretch between two
// settings shares in slope and not in height:
//
//	value = height of its line + rate × x + wander(x) + bedding-in + reading error
//
// x is in thousand miles, or in years where not all readings have miles. The
// rate has the usual wear as its prior (none for other); wander lets it vary
// with grease and dust, forgotten over a service interval; bedding-in is
// A (1 − exp(−x/L)) after new points; the error's size is learned; each reading
// may be a slip (one in thirty). Given the sizes all this is Gaussian and exact;
// over the sizes it is summed. The rate answered is that over the readings,
// bedding-in apart. For other there is no prior, wander, bedding-in or slip: the
// answer is that of ordinary least squares, Student's t where no reading error is
// given, and holds as far as the drift is straight.
//
// The limit is met where half of belief, and a twentieth at either end, has the
// value outside, looking at most 30,000 miles or 20 years ahead.
// Refused: a reading without miles and date, miles or dates that fall, days
// after today, values or limits no distributor has, a limit upside down.
// No rate, and why: no two readings on one line, or no distance between them.
// Source: Bayesian linear regression (textbook); priors in belief.go.
func Drift(in DriftIn) (DriftOut, error) {
	h, bad := readHistory(in)
	if bad != nil {
		return DriftOut{}, bad
	}
	b := beliefOf(in, h)
	out := DriftOut{StatedRate: statedRate, State: "unknown", Basis: "none", Doubtful: []Doubtful{},
		LeftOut: h.leftOut, Notes: []string{}, Sources: b.sources}
	w := words{in: in, h: h, b: b}
	m, why := mixture{}, h.silence()
	if why == "" {
		m, why = weigh(h, b)
	}
	if why != "" {
		out.Why, out.Text = why, why
		out.Notes, out.Working = w.notes(out), w.working(m, out)
		return out, nil
	}
	rate := m.rates()
	out.Low, out.High = &rate.low, &rate.high
	out.PerThousandMiles = &rate.middle
	if h.axis == byDate {
		out.PerThousandMiles, out.PerYear = nil, &rate.middle
	}
	out.Basis = b.basis(rate)
	out.Doubtful = m.doubtful(h)
	f := m.due(in)
	w.write(&out, m, rate, f)
	return out, nil
}

// check refuses values and limits that this figure cannot have.
func (in DriftIn) check() *refuse.Error {
	low, high, limit := -1e9, 1e9, ""
	switch in.What {
	case "dwell":
		low, high, limit = 0, 360, "0 to 360 distributor degrees"
	case "base":
		low, high, limit = -40, 60, "−40 to 60 crank degrees before TDC"
	}
	outside := func(x *float64) bool { return x != nil && (*x < low || *x > high) }
	const do = "check the figure, and what it is a figure of"
	for i, p := range in.Points {
		if outside(&p.Value) {
			return refuse.Input(at(i, "value"), figure(p.Value)+" is no "+in.What, limit, do)
		}
	}
	if e := in.ReadingError; e != nil && limit != "" && (*e < 0.01 || *e > 20) {
		return refuse.Input("readingError", figure(*e)+" is no reading error of "+in.What, "0.01 to 20 degrees",
			"give one standard deviation, or leave it out")
	}
	l := in.Limit
	switch {
	case l == nil:
		return nil
	case l.Min == nil && l.Max == nil:
		return refuse.Input("limit", "has neither min nor max", "at least one of them",
			"give the end it must not pass, or leave limit out")
	case outside(l.Min):
		return refuse.Input("limit.min", figure(*l.Min)+" is no "+in.What, limit, do)
	case outside(l.Max):
		return refuse.Input("limit.max", figure(*l.Max)+" is no "+in.What, limit, do)
	case l.Min != nil && l.Max != nil && *l.Min >= *l.Max:
		return refuse.Input("limit.min", figure(*l.Min)+" is not less than max", "less than "+figure(*l.Max),
			"check which is the lower end")
	}
	return nil
}
