package condition

import (
	"fmt"
	"math"
)

// Check is one thing to look at.
type Check struct {
	ID       string    `json:"id" help:"B1 to B30"`
	Title    string    `json:"title" help:"what is looked at"`
	Group    string    `json:"group" enum:"engine|distributor|electrics" help:"the part of the order it belongs to"`
	Place    string    `json:"place" enum:"bench|car|either" help:"where it is done"`
	How      string    `json:"how" help:"how, by hand"`
	Caution  string    `json:"caution,omitempty" help:"read this before starting"`
	FailText string    `json:"failText" help:"what a fail means"`
	Measures []Measure `json:"measures" help:"what is read or seen; a figure with limits, or a look"`
}

// Measure is one figure of a check, or one look.
type Measure struct {
	ID       string    `json:"id" help:"name for condition.judge"`
	Title    string    `json:"title" help:"what is read or seen"`
	Kind     string    `json:"kind" enum:"figure|look" help:"figure: a number against limits; look: good, doubtful or bad by eye"`
	Unit     string    `json:"unit,omitempty" help:"unit of the figure, as condition.judge takes it"`
	Limit    *Limit    `json:"limit,omitempty" help:"the general limit for this car; none where only the maker's figure counts"`
	Possible *Possible `json:"possible,omitempty" help:"what the figure can be on this car; outside it is a slip of pen, unit or meter and is not judged"`
	Accept   string    `json:"accept" help:"the limit in words"`
}

// Limit is what passes and what is watched; beyond that is a fail. An end
// that is null sets no bound.
type Limit struct {
	PassMin  *float64 `json:"passMin,omitempty" min:"-100000" max:"100000" unit:"of the figure" help:"least that passes"`
	PassMax  *float64 `json:"passMax,omitempty" min:"-100000" max:"100000" unit:"of the figure" help:"most that passes"`
	WatchMin *float64 `json:"watchMin,omitempty" min:"-100000" max:"100000" unit:"of the figure" help:"least that is still only watched"`
	WatchMax *float64 `json:"watchMax,omitempty" min:"-100000" max:"100000" unit:"of the figure" help:"most that is still only watched"`
	Source   string   `json:"source,omitempty" maxLen:"400" help:"where the limit comes from"`
	Thumb    bool     `json:"ruleOfThumb,omitempty" help:"true where it is general and not this car's own"`
}

func at(x float64) *float64 { return &x }

// most passes up to pass, is watched up to watch.
func most(pass, watch float64, source string) *Limit {
	return &Limit{PassMax: at(pass), WatchMax: at(watch), Source: source, Thumb: true}
}

// least passes from pass, is watched from watch.
func least(pass, watch float64, source string) *Limit {
	return &Limit{PassMin: at(pass), WatchMin: at(watch), Source: source, Thumb: true}
}

// between passes from low to high, is watched a little outside.
func between(watchLow, low, high, watchHigh float64, source string) *Limit {
	return &Limit{PassMin: at(low), PassMax: at(high), WatchMin: at(watchLow), WatchMax: at(watchHigh),
		Source: source, Thumb: true}
}

// verdict holds x against the limit.
func (l Limit) verdict(x float64) string {
	inside := func(low, high *float64) bool {
		return (low == nil || x >= *low-1e-9) && (high == nil || x <= *high+1e-9)
	}
	watchLow, watchHigh := l.WatchMin, l.WatchMax
	if watchLow == nil {
		watchLow = l.PassMin
	}
	if watchHigh == nil {
		watchHigh = l.PassMax
	}
	switch {
	case inside(l.PassMin, l.PassMax):
		return "pass"
	case inside(watchLow, watchHigh):
		return "watch"
	}
	return "fail"
}

// words says the limit with its unit.
func (l Limit) words(unit string) string {
	one := func(low, high *float64) string {
		switch {
		case low != nil && high != nil:
			return fmt.Sprintf("%.4g to %.4g %s", *low, *high, unit)
		case high != nil:
			return fmt.Sprintf("at most %.4g %s", *high, unit)
		case low != nil:
			return fmt.Sprintf("at least %.4g %s", *low, unit)
		}
		return "no bound"
	}
	text := "pass " + one(l.PassMin, l.PassMax)
	if l.WatchMin != nil && (l.PassMin == nil || *l.WatchMin != *l.PassMin) || l.WatchMax != nil &&
		(l.PassMax == nil || *l.WatchMax != *l.PassMax) {
		text += ", watch " + one(l.WatchMin, l.WatchMax)
	}
	return text
}

// scaled multiplies every end: 6 V limits from 12 V ones.
func (l Limit) scaled(by float64) *Limit {
	times := func(x *float64) *float64 {
		if x == nil {
			return nil
		}
		return at(math.Round(*x*by*1000) / 1000)
	}
	l.PassMin, l.PassMax, l.WatchMin, l.WatchMax = times(l.PassMin), times(l.PassMax), times(l.WatchMin),
		times(l.WatchMax)
	return &l
}

func figure(id, title, unit string, limit *Limit, accept string) Measure {
	m := Measure{ID: id, Title: title, Kind: "figure", Unit: unit, Limit: limit, Accept: accept}
	if m.Accept == "" && limit != nil {
		m.Accept = limit.words(unit)
	}
	return m
}

func look(id, title, accept string) Measure {
	return Measure{ID: id, Title: title, Kind: "look", Accept: accept}
}
