package faults

import (
	"fmt"
	"math"
	"strings"

	"pointsmith/calc/refuse"
)

// certain: of a hundred outcomes tapped or read, so many are what was seen
// (judgement); the rest is a slip.
const certain = 0.97

// measured is the same of a figure well beyond its limit (judgement).
const measured = 0.99

// atLimit: within this share of its limit a figure is as good as either side
// of it (chosen: what a meter of the trade is out by).
const atLimit = 0.1

// only gives the weights of a test of which one outcome was seen.
func (t test) only(at int) []float64 {
	w := make([]float64, len(t.Outcomes))
	for o := range w {
		w[o] = (1 - certain) / float64(len(w)-1)
	}
	w[at] = certain
	return w
}

// notExpected gives those of a test of which it is only known that it was not
// as expected.
func (t test) notExpected() []float64 {
	w := make([]float64, len(t.Outcomes))
	for o := range w {
		w[o] = certain
	}
	w[0] = 1 - certain
	return w
}

// between lies between the expected outcome and another: share is how far.
func (t test) between(other int, share float64) []float64 {
	share = min(max(share, 1-measured), measured)
	w := make([]float64, len(t.Outcomes))
	for o := range w {
		w[o] = (1 - measured) / 2
	}
	w[0], w[other] = 1-share, share
	return w
}

// blind gives outcomes that a reading could not show the weight of the
// expected one.
func (t test) blind(w []float64, outcomes string) []float64 {
	for id := range strings.FieldsSeq(outcomes) {
		w[t.outcomeAt(id)] = w[0]
	}
	return w
}

// outcomeAt finds an outcome of a test by its id.
func (t test) outcomeAt(id string) int {
	for o, one := range t.Outcomes {
		if one.ID == id {
			return o
		}
	}
	return -1
}

// beyond is how surely a figure lies beyond its limit: 0 well inside, 1 well
// outside, a half at the limit. size is what the tenth is taken of.
func beyond(excess, size float64) float64 {
	return min(max(0.5+excess/(2*atLimit*max(size, 1e-9)), 0), 1)
}

// over is the same for a figure that may be limit at most.
func over(v, limit float64) float64 { return beyond(v-limit, math.Abs(limit)) }

// judged makes weights of a figure that was read; known is false where the car
// has no limit for it.
func (t test) judged(v float64, c Car, g figures) (weights []float64, known bool) {
	f := t.Figure
	if f == nil {
		return nil, false
	}
	limit, has := g[f.Limit]
	low, hasLow := g[f.Low]
	high, hasHigh := g[f.High]
	base, hasBase := g["base"]
	out := t.outcomeAt(f.Outcome)
	switch {
	case f.Kind == "most" && has:
		return t.between(out, over(v, limit)), true
	case f.Kind == "either" && has:
		return t.between(out, over(math.Abs(v), limit)), true
	case f.Kind == "least" && has:
		return t.between(out, over(-v, -limit)), true
	case f.Kind == "between" && hasLow && hasHigh:
		if v < (low+high)/2 {
			return t.between(t.outcomeAt(f.Below), beyond(low-v, 2*(high-low))), true
		}
		return t.between(out, beyond(v-high, 2*(high-low))), true
	case f.Kind == "base" && hasBase:
		side := "early"
		if v < base {
			side = "late"
		}
		return t.blind(t.between(t.outcomeAt(side), beyond(math.Abs(v-base)-baseWithin, 5)), "jumps dead"), true
	case f.Kind == "feed":
		return t.feed(v, c, g)
	}
	return nil, false
}

// feed judges the volts at the coil's feed, points closed. With a ballast of
// known ohms a quarter either way is allowed, else 5 to 8 V of 12 (common
// practice). Whether there is a ballast has to be known.
func (t test) feed(v float64, c Car, g figures) ([]float64, bool) {
	low, high := t.outcomeAt("low"), t.outcomeAt("high")
	switch {
	case c.Ballasted == nil:
		return nil, false
	case !*c.Ballasted:
		return t.between(low, over(g["batteryV"]-v, g["batteryV"]-g["feedMinV"])), true
	}
	least, most := 5*g["nominalV"]/12, 8*g["nominalV"]/12
	if at, has := g["ballastFeedV"]; has {
		least, most = 0.75*at, 1.25*at
	}
	if v < (least+most)/2 {
		return t.between(low, over(-v, -least)), true
	}
	return t.between(high, over(v, most)), true
}

// widest is what a figure of a unit can be at all; beyond it is a slip of pen
// or meter (chosen wide).
var widest = map[string][2]float64{"V": {-40, 40}, "mm": {0, 5}, "crank degrees": {-90, 90},
	"crank degrees before TDC": {-90, 90}, "distributor degrees": {0, 180}, "kPa": {0, 102}, "kΩ": {0, 100000}}

// observed makes weights of a test that was done.
func (t test) observed(path string, o Observation, c Car, g figures) ([]float64, *refuse.Error) {
	if bad := t.figureFits(path, o); bad != nil {
		return nil, bad
	}
	if o.Value != nil {
		if w, known := t.judged(*o.Value, c, g); known {
			return w, nil
		}
	}
	if o.Seen != "" {
		return t.seenAs(path, o)
	}
	switch o.Result {
	case "expected":
		return t.only(0), nil
	case "not":
		return t.notExpected(), nil
	}
	problem := "nothing is said of how it came out"
	if o.Value != nil {
		problem = fmt.Sprintf("there is no limit on this car to hold %g against", *o.Value)
	}
	return nil, refuse.Input(path+".result", problem, "expected, not or undone; or seen",
		"say whether it was as expected")
}

// seenAs takes the outcome that was named.
func (t test) seenAs(path string, o Observation) ([]float64, *refuse.Error) {
	at := t.outcomeAt(o.Seen)
	ids := ""
	for i, one := range t.Outcomes {
		if i > 0 {
			ids += ", "
		}
		ids += one.ID
	}
	if at < 0 {
		return nil, refuse.Input(path+".seen", fmt.Sprintf("%.40q is no outcome of %s", o.Seen, t.ID), ids,
			"name one of them, or leave it out and give the result")
	}
	if o.Result == "expected" && at > 0 || o.Result == "not" && at == 0 {
		return nil, refuse.Input(path+".seen", fmt.Sprintf("%s and result %s contradict each other", o.Seen, o.Result),
			ids, "the first of these is the expected one; give one of the two fields")
	}
	return t.only(at), nil
}

// figureFits refuses a figure of another unit, or one that cannot be.
func (t test) figureFits(path string, o Observation) *refuse.Error {
	if o.Value == nil {
		return nil
	}
	if t.Figure == nil {
		return refuse.Input(path+".value", t.ID+" has no figure", "none", "give the result, or which outcome was seen")
	}
	if o.Unit != "" && o.Unit != t.Figure.Unit {
		return refuse.Input(path+".unit", fmt.Sprintf("%.40q is not the unit of %s", o.Unit, t.ID), t.Figure.Unit,
			"give the figure in this unit")
	}
	if w := widest[t.Figure.Unit]; *o.Value < w[0] || *o.Value > w[1] {
		return refuse.Input(path+".value", fmt.Sprintf("%g %s cannot be", *o.Value, t.Figure.Unit),
			fmt.Sprintf("%g to %g", w[0], w[1]), "look at the meter's range and the unit")
	}
	return nil
}
