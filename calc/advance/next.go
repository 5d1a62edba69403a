package advance

import (
	"fmt"
	"slices"

	"pointsmith/calc/advance/infer"
)

// NextReading is a reading not yet taken that would tell accounts apart.
type NextReading struct {
	Place     string        `json:"place" enum:"bench|car|lamp" help:"on the bench, on the car by strobe with the pipe off, or static with the test lamp, engine stopped"`
	RPM       float64       `json:"rpm" unit:"rpm, engine or distributor as speedUnit says" help:"speed; 0 by the lamp"`
	SpeedUnit string        `json:"speedUnit" enum:"engine|distributor" help:"which shaft the speed belongs to"`
	AngleUnit string        `json:"angleUnit" enum:"crank|distributor" help:"which shaft the degrees belong to"`
	Direction string        `json:"direction" enum:"rising|falling" help:"speed rising or falling"`
	Gain      float64       `json:"gain" unit:"bits" help:"how much it is expected to tell which account is right"`
	Expects   []Expectation `json:"expects" help:"what each of the leading accounts expects there"`
}

// Expectation is what one account expects of a reading.
type Expectation struct {
	Account string  `json:"account" help:"id of the account"`
	Deg     float64 `json:"deg" unit:"degrees, crank or distributor as angleUnit says" help:"what it expects to be read; with the base on the car and by the lamp"`
	Low     float64 `json:"low" unit:"degrees" help:"hardly less, 9 times in 10"`
	High    float64 `json:"high" unit:"degrees" help:"nor more"`
}

// mostNext is how many readings are offered (chosen: one to take, two to choose
// from where it cannot be taken).
const mostNext = 3

// nextReadings asks the posterior which reading would tell the accounts apart.
func (j *judgement) nextReadings() []NextReading {
	out := []NextReading{}
	if j.settled() {
		return out
	}
	bench, car := j.statedError(true), j.statedError(false)
	for _, n := range j.result.NextReadings(j.speedsToAsk(), bench/halfSpeed, car/halfSpeed) {
		r := j.nextReading(n)
		if len(out) < mostNext && !slices.ContainsFunc(out, func(o NextReading) bool { return o.Place == r.Place }) {
			out = append(out, r)
		}
	}
	return out
}

// settled: one account holds nearly all, so no reading is owed.
func (j *judgement) settled() bool {
	for _, share := range j.shares {
		if share >= sureShare {
			return true
		}
	}
	return false
}

// statedError is the reading error of a place, crank degrees.
func (j *judgement) statedError(bench bool) float64 {
	for _, set := range j.sets {
		if (set.Place == "bench") == bench {
			return set.readingError()
		}
	}
	return commonReadingError
}

// speedsToAsk are speeds at which a reading may be asked for, rpm of a shaft at
// half speed, in round figures: the book's, those between, and beyond the last.
func (j *judgement) speedsToAsk() []float64 {
	var out []float64
	add := func(engineRPM float64) {
		step := 50.0
		if rpm := step * float64(int(engineRPM/halfSpeed/step+0.5)); rpm > 0 && !slices.Contains(out, rpm) {
			out = append(out, rpm)
		}
	}
	k := j.band.total
	if len(k) == 0 {
		k = j.band.advance
	}
	for i, row := range k {
		add(row.rpm)
		if i > 0 {
			add((row.rpm + k[i-1].rpm) / 2)
		}
	}
	add(1.2 * k[len(k)-1].rpm)
	add(0.7 * k[0].rpm)
	return out
}

func (j *judgement) nextReading(n infer.Next) NextReading {
	dist := halfSpeed / j.band.ratio
	r := NextReading{Place: "bench", RPM: n.DistRPM * dist, SpeedUnit: "distributor", AngleUnit: "distributor",
		Direction: "rising", Gain: n.Gain, Expects: []Expectation{}}
	factor := dist
	if n.Place != infer.OnBench {
		r.Place, r.RPM, r.SpeedUnit, r.AngleUnit, factor = "car", n.DistRPM*halfSpeed, "engine", "crank", halfSpeed
	}
	if n.Place == infer.ByLamp {
		r.Place = "lamp"
	}
	if n.Falling {
		r.Direction = "falling"
	}
	for _, e := range n.Expects {
		r.Expects = append(r.Expects, Expectation{e.ID, e.Deg * factor, e.Low * factor, e.High * factor})
	}
	return r
}

// words says the reading and what each account expects of it.
func (r NextReading) words() string {
	where := fmt.Sprintf("On the bench at %.0f distributor rpm, %s", r.RPM, r.Direction)
	if r.Place == "car" {
		where = fmt.Sprintf("By strobe at %.0f engine rpm, %s, pipe off and plugged", r.RPM, r.Direction)
	}
	if r.Place == "lamp" {
		where = "Static timing with the test lamp, engine stopped and the weights fully in"
	}
	for i, e := range r.Expects[:min(3, len(r.Expects))] {
		sep := "; "
		if i == 0 {
			sep = ": "
		}
		where += fmt.Sprintf("%sabout %.1f if %s", sep, e.Deg, shortOf(e.Account))
	}
	return where + "."
}
