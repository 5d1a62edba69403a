package advance

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/refuse"
)

// SpecPoint is one line of the book's table, in the spec's own units.
type SpecPoint struct {
	RPM    float64  `json:"rpm" need:"yes" over:"0" max:"12000" unit:"rpm, engine or distributor as speedUnit says" help:"speed"`
	MinDeg *float64 `json:"minDeg,omitempty" min:"-40" max:"90" unit:"degrees, crank or distributor as angleUnit says" help:"least advance the book allows here; left out where it names only a most"`
	MaxDeg *float64 `json:"maxDeg,omitempty" min:"-40" max:"90" unit:"degrees, crank or distributor as angleUnit says" help:"most advance the book allows here; left out where it names only a least"`
}

// Spec is what the book says, as the book says it. The points may come in any
// order; between them the band is a straight line, above them it holds the
// end value. The last point is thus also the maximum. Below the first the book
// is silent, unless it says that there is no advance.
type Spec struct {
	AngleUnit             string      `json:"angleUnit" need:"yes" enum:"crank|distributor" help:"which shaft the table's degrees belong to"`
	SpeedUnit             string      `json:"speedUnit" need:"yes" enum:"engine|distributor" help:"which shaft the table's speeds belong to"`
	Base                  string      `json:"base" need:"yes" enum:"included|excluded" help:"whether the table's figures already hold the base timing"`
	BaseCrankDeg          *float64    `json:"baseCrankDeg,omitempty" min:"-30" max:"40" unit:"crank degrees" help:"base timing with no advance, before TDC positive"`
	BaseToleranceCrankDeg float64     `json:"baseToleranceCrankDeg,omitempty" min:"0" max:"10" unit:"crank degrees" help:"allowed either side of the base; widens a table whose base is excluded"`
	Points                []SpecPoint `json:"points" need:"yes" minItems:"1" maxItems:"64" help:"the table"`
	NoAdvanceBelowRPM     *float64    `json:"noAdvanceBelowRPM,omitempty" min:"0" max:"12000" unit:"rpm, engine or distributor as speedUnit says" help:"the book says there is no advance below this speed, nor at it unless the table has a row there"`
	DriveRatio            *float64    `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
	ListedWhile           string      `json:"listedWhile,omitempty" enum:"either|rising|falling" help:"whether the book's table is read while speed rises or falls; either unless said"`
	LimitDistDeg          *float64    `json:"limitDistDeg,omitempty" over:"0" max:"30" unit:"distributor degrees" help:"the number on the stop's plate"`
	VacuumMaxDistDeg      *float64    `json:"vacuumMaxDistDeg,omitempty" over:"0" max:"30" unit:"distributor degrees" help:"the most the vacuum capsule gives, to recognise a pipe left on"`
}

// fallTolerance is how far, in crank degrees, a book's table may fall from one
// speed to the next and still be taken as printed rounding rather than as a
// mistake: one reading error of a strobe (common practice).
const fallTolerance = 1

// sorted gives the table by rising speed with the place each row had, so that
// a refusal can name the row as it was typed.
func (s Spec) sorted() (points []SpecPoint, row []int) {
	row = make([]int, len(s.Points))
	for i := range row {
		row[i] = i
	}
	slices.SortStableFunc(row, func(a, b int) int {
		switch {
		case s.Points[a].RPM < s.Points[b].RPM:
			return -1
		case s.Points[a].RPM > s.Points[b].RPM:
			return 1
		}
		return 0
	})
	for _, i := range row {
		points = append(points, s.Points[i])
	}
	return points, row
}

// check refuses a table that cannot be what the book means.
func (s Spec) check() *refuse.Error {
	points, row := s.sorted()
	for i, p := range points {
		at := fmt.Sprintf("points[%d]", row[i])
		if p.MinDeg == nil && p.MaxDeg == nil {
			return refuse.Input(at+".maxDeg", fmt.Sprintf("the line at %g %s has neither a least nor a most",
				p.RPM, s.rpm()),
				"one of the two at least", "give the figure the book prints, or remove the line")
		}
		if p.MinDeg != nil && p.MaxDeg != nil && *p.MinDeg > *p.MaxDeg {
			return refuse.Input(at+".minDeg", fmt.Sprintf("the least advance %g is more than the most %g",
				*p.MinDeg, *p.MaxDeg),
				"minDeg at most maxDeg", "swap the two figures or correct one")
		}
		if i == 0 {
			continue
		}
		before := points[i-1]
		if p.RPM == before.RPM {
			return refuse.Input(at+".rpm", fmt.Sprintf("two lines of the table are at %g %s", p.RPM, s.rpm()),
				"one line for each speed",
				fmt.Sprintf("correct the speed or remove one (the other is line %d)", row[i-1]+1))
		}
		if bad := s.checkFall(at, before, p); bad != nil {
			return bad
		}
	}
	return s.checkNoAdvance(points, row)
}

func (s Spec) checkFall(at string, before, p SpecPoint) *refuse.Error {
	fall := math.Inf(-1) // a most may follow a least at any height, and no row falls by what it does not say
	if before.MinDeg != nil && p.MaxDeg != nil {
		fall = *before.MinDeg - *p.MaxDeg
	}
	if before.MinDeg != nil && before.MaxDeg != nil && p.MinDeg != nil && p.MaxDeg != nil {
		fall = (*before.MinDeg + *before.MaxDeg - *p.MinDeg - *p.MaxDeg) / 2
	}
	if fall *= s.angleFactor(); fall <= fallTolerance {
		return nil
	}
	return refuse.Input(at+".maxDeg",
		fmt.Sprintf("the table falls by %.3g crank degrees between %g and %g %s; centrifugal advance never falls as speed rises", fall, before.RPM, p.RPM, s.rpm()),
		fmt.Sprintf("a fall of at most %d crank degree", fallTolerance),
		"check both lines against the book; a table printed from high speed to low is fine as it stands")
}

func (s Spec) checkNoAdvance(points []SpecPoint, row []int) *refuse.Error {
	if s.NoAdvanceBelowRPM == nil || s.Base == "included" {
		return nil
	}
	for i, p := range points {
		if p.RPM <= *s.NoAdvanceBelowRPM && p.MinDeg != nil && *p.MinDeg > 0 {
			return refuse.Input("noAdvanceBelowRPM",
				fmt.Sprintf("says no advance at %g %s, but line %d of the table has at least %g degrees there", p.RPM,
					s.rpm(), row[i]+1, *p.MinDeg),
				"a speed below the first line with advance", "correct one of the two")
		}
	}
	return nil
}

// rpm names the shaft that the table's speeds belong to.
func (s Spec) rpm() string { return s.SpeedUnit + " rpm" }

// ratio is engine turns per distributor turn; two for a four-stroke whose
// distributor is driven at half speed.
func (s Spec) ratio() float64 {
	if s.DriveRatio == nil {
		return 2
	}
	return *s.DriveRatio
}

// angleFactor takes the table's degrees to crank degrees.
func (s Spec) angleFactor() float64 { return factor(s.AngleUnit, s.ratio()) }

// speedFactor takes the table's speeds to engine rpm.
func (s Spec) speedFactor() float64 { return factor(s.SpeedUnit, s.ratio()) }

func factor(unit string, ratio float64) float64 {
	if unit == "distributor" {
		return ratio
	}
	return 1
}
