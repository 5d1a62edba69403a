package shelf

import (
	"fmt"
	"strings"

	"pointsmith/calc/advance"
	"pointsmith/calc/refuse"
)

// Unit is one distributor of the shelf. What is left out, or unknown, is not
// known.
type Unit struct {
	ID                string         `json:"id" need:"yes" maxLen:"80" help:"what it is called; no two alike"`
	Rotation          string         `json:"rotation,omitempty" enum:"unknown|clockwise|anticlockwise" help:"which way its rotor turns, seen from the cap end"`
	Cylinders         *int           `json:"cylinders,omitempty" min:"1" max:"16" help:"cylinders it fires: lobes of its cam, posts of its cap"`
	DriveRatio        *float64       `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"drive it is made for"`
	Readings          advance.Sets   `json:"readings,omitempty" maxItems:"50" help:"its last run, one set or a list of sets: what was read before it was worked on is not part of it"`
	Model             *advance.Model `json:"model,omitempty" help:"instead of readings: the governor as advance.fit found it in them"`
	ModelTopDistRPM   *float64       `json:"modelTopDistRPM,omitempty" over:"0" max:"6000" unit:"distributor rpm" help:"fastest speed read for the model; where its stop is met unless said"`
	ModelErrorDistDeg *float64       `json:"modelErrorDistDeg,omitempty" min:"0.05" max:"10" unit:"distributor degrees" help:"19 readings in 20 behind the model lay within this of it; 0.5 unless said (common practice for a bench)"`
	Capsule           string         `json:"capsule,omitempty" enum:"unknown|none|advance|retard|twin" help:"the vacuum capsule on it"`
}

// Wanted is what the car needs of a distributor whatever its curve: hard
// conditions. What is left out is not asked for.
type Wanted struct {
	Rotation   string   `json:"rotation,omitempty" enum:"unknown|clockwise|anticlockwise" help:"which way the rotor must turn, seen from the cap end"`
	Cylinders  *int     `json:"cylinders,omitempty" min:"1" max:"16" help:"cylinders of the engine"`
	DriveRatio *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"the engine's drive; the spec's unless said"`
	Capsule    string   `json:"capsule,omitempty" enum:"unknown|none|advance|retard|twin" help:"the capsule the car needs"`
}

// NearestIn is what is wanted, and the shelf.
type NearestIn struct {
	Spec   advance.Spec  `json:"spec" need:"yes" help:"what the book says the curve should be"`
	Units  []Unit        `json:"units" need:"yes" minItems:"1" maxItems:"2000" help:"the distributors"`
	Wanted Wanted        `json:"wanted,omitempty" help:"hard conditions"`
	Allow  advance.Allow `json:"allow,omitempty" help:"what may be changed, as advance.prescribe takes it; the base is set in any case, because another car has another"`
	Most   *int          `json:"most,omitempty" min:"1" max:"2000" help:"how many of the ranked are answered; 24 unless said"`
}

// mostUnits and usualMost: a shelf, and what a phone shows of it (chosen).
const (
	mostUnits = 2000
	usualMost = 24
)

func (in NearestIn) check() *refuse.Error {
	if len(in.Units) == 0 {
		return refuse.Input("units", "is empty: there is nothing on the shelf", "1 to 2000 distributors",
			"enter a distributor first")
	}
	if len(in.Units) > mostUnits {
		return refuse.Input("units", fmt.Sprintf("has %d distributors", len(in.Units)), "at most 2000",
			"leave out those known not to fit")
	}
	if bad := rotationKnown("wanted.rotation", in.Wanted.Rotation); bad != nil {
		return bad
	}
	seen := map[string]int{}
	for i, u := range in.Units {
		at := fmt.Sprintf("units[%d]", i)
		if strings.TrimSpace(u.ID) == "" {
			return refuse.Input(at+".id", "is blank", "a name of 1 to 80 characters", "give it a name")
		}
		if first, twice := seen[u.ID]; twice {
			return refuse.Input(at+".id", fmt.Sprintf("%.40q is units[%d] too", u.ID, first), "no two alike",
				"give one of them another name")
		}
		seen[u.ID] = i
		if bad := u.check(); bad != nil {
			return bad.Under(at)
		}
	}
	return nil
}

func (u Unit) check() *refuse.Error {
	if bad := rotationKnown("rotation", u.Rotation); bad != nil {
		return bad
	}
	if u.Model == nil {
		return nil
	}
	if len(u.Readings) > 0 {
		return refuse.Input("model", "is given beside readings", "one of the two",
			"leave the model out, or the readings it was made from")
	}
	m := u.Model
	if m.PrimaryRate <= 0 || m.StartDistRPM <= 0 || m.LimitDistDeg <= 0 {
		return refuse.Input("model", "has no start, no primary rate or no limit", "each more than 0",
			"take the model from advance.fit")
	}
	// a hundredth of the pull, as advance.whatif has it
	if 1+m.WeightGrowth*m.LimitDistDeg < 0.01 {
		return refuse.Input("model.weightGrowth", "leaves the weights no pull at the stop",
			"1 + weightGrowth × limitDistDeg at least 0.01", "take the model from advance.fit")
	}
	return nil
}

func rotationKnown(field, rotation string) *refuse.Error {
	switch rotation {
	case "", "unknown", "clockwise", "anticlockwise":
		return nil
	}
	return refuse.Input(field, fmt.Sprintf("%.40q is not known", rotation), "unknown, clockwise or anticlockwise",
		"look from the cap end which way the rotor turns")
}
