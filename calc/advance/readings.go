package advance

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"pointsmith/calc/refuse"
)

// ReadingPoint is one figure as measured, in its set's units.
type ReadingPoint struct {
	RPM       float64 `json:"rpm" need:"yes" over:"0" max:"12000" unit:"rpm, engine or distributor as speedUnit says" help:"speed at the reading"`
	Deg       float64 `json:"deg" need:"yes" min:"-60" max:"120" unit:"degrees, crank or distributor as angleUnit says" help:"what was read, before TDC positive"`
	Direction string  `json:"direction,omitempty" enum:"rising|falling" help:"whether speed was being raised or lowered; rising unless said"`
}

// Set is one run of readings taken in one way.
type Set struct {
	Name                 string         `json:"name,omitempty" maxLen:"80" help:"a name for the run"`
	Place                string         `json:"place" need:"yes" enum:"bench|car" help:"on the bench machine or on the car"`
	AngleUnit            string         `json:"angleUnit" need:"yes" enum:"crank|distributor" help:"which shaft the degrees belong to"`
	SpeedUnit            string         `json:"speedUnit" need:"yes" enum:"engine|distributor" help:"which shaft the speeds belong to"`
	Base                 string         `json:"base" need:"yes" enum:"included|excluded" help:"whether the figures hold the base timing"`
	Vacuum               string         `json:"vacuum,omitempty" enum:"off|connected" help:"the vacuum pipe: off and plugged, or connected"`
	ReadingErrorCrankDeg *float64       `json:"readingErrorCrankDeg,omitempty" min:"0" max:"10" unit:"crank degrees" help:"19 readings of 20 lie within this of the truth; 1 unless said (common practice: ±1 crank degree by strobe, ±0.5 distributor degree on the bench)"`
	StaticCrankDeg       *float64       `json:"staticCrankDeg,omitempty" min:"-40" max:"60" unit:"crank degrees before TDC" help:"static timing proved with the test lamp, engine stopped"`
	Points               []ReadingPoint `json:"points" maxItems:"400" help:"the readings"`
}

// Sets is one set of readings or a list of them.
type Sets []Set

// MayBeOne marks that the JSON may be one set alone.
func (Sets) MayBeOne() {}

// UnmarshalJSON takes one set or a list of sets.
func (s *Sets) UnmarshalJSON(in []byte) error {
	if bytes.HasPrefix(bytes.TrimSpace(in), []byte("{")) {
		*s = make(Sets, 1)
		return json.Unmarshal(in, &(*s)[0])
	}
	return json.Unmarshal(in, (*[]Set)(s))
}

// commonReadingError is the reading error when none is stated, crank degrees:
// ±1 by strobe and ±0.5 distributor degree on a bench (common practice).
const commonReadingError = 1

func (s Set) readingError() float64 {
	if s.ReadingErrorCrankDeg == nil {
		return commonReadingError
	}
	return *s.ReadingErrorCrankDeg
}

// reading is one figure in crank degrees at engine rpm.
type reading struct {
	set, point int
	rpm, deg   float64
	falling    bool
	withBase   bool
	bench      bool
	err        float64
}

func (r reading) direction() string {
	if r.falling {
		return "falling"
	}
	return "rising"
}

// inCrank turns one set into readings sorted by speed, rising before falling.
func (s Set) inCrank(index int, ratio float64) []reading {
	var out []reading
	for i, p := range s.Points {
		out = append(out, reading{
			set: index, point: i,
			rpm: p.RPM * factor(s.SpeedUnit, ratio), deg: p.Deg * factor(s.AngleUnit, ratio),
			falling: p.Direction == "falling", withBase: s.Base == "included", bench: s.Place == "bench",
			err: s.readingError(),
		})
	}
	slices.SortStableFunc(out, func(a, b reading) int {
		switch {
		case a.falling != b.falling:
			if b.falling {
				return -1
			}
			return 1
		case a.rpm < b.rpm:
			return -1
		case a.rpm > b.rpm:
			return 1
		}
		return 0
	})
	return out
}

// check refuses sets that hold nothing, and more readings than one sitting
// can have.
func (s Sets) check() *refuse.Error {
	if len(s) == 0 {
		return refuse.Input("readings", "is empty", "at least one set", "enter a reading")
	}
	if len(s) > 50 {
		return refuse.Input("readings", fmt.Sprintf("has %d sets", len(s)), "at most 50 sets",
			"judge fewer visits at once")
	}
	for i, set := range s {
		if len(set.Points) == 0 && set.StaticCrankDeg == nil {
			return refuse.Input(fmt.Sprintf("readings[%d].points", i), "has no readings and no static figure",
				"at least one of them", "enter a reading or leave the set out")
		}
	}
	return nil
}

// where names a set in words: "bench", "car", with its name when it has one.
func (s Set) where() string {
	place := map[string]string{"bench": "on the bench", "car": "on the car"}[s.Place]
	if s.Name != "" {
		return place + " (" + s.Name + ")"
	}
	return place
}
