package condition

import "fmt"

// Possible is what a figure can be at all, good or bad.
type Possible struct {
	Low  float64 `json:"low" unit:"of the figure" help:"least it can be"`
	High float64 `json:"high" unit:"of the figure" help:"most it can be"`
}

// possible by measure, in its unit, for 12 V. All chosen: wide enough for the
// worst part that still hangs together (a shaft of 0.018 in side play is the
// worst the notes on bush wear report), narrow enough that thou typed as
// inches, ohms as kilo-ohms or a lost decimal point falls outside.
var possible = map[string]Possible{
	"B1": {0, 0.1}, "B2": {0, 0.1}, "B3": {0, 0.3}, "B4": {0, 0.2}, "B6": {-15, 15}, "B8.mound": {0, 0.06},
	"B10": {1, 80}, "B14": {0, 45},
	"B11": {0, 15}, "B12": {0, 15}, // as much as the battery: an open joint
	"B15.capacity": {0, 5}, "B15.insulation": {0, 100_000}, "B15.series": {0, 1000}, "B17.brush": {0, 15},
	"B18": {0, 1000}, "B19.resistor": {0, 1000}, "B20": {0, 29},
	"B22.standing": {0, 15}, "B22.cranking": {0, 14}, "B23": {5, 18}, "B24": {0, 15}, "B25": {0, 14},
	"B26.primary": {0, 20}, "B26.secondary": {0, 100}, "B26.case": {0, 100_000},
	"B27": {0, 100}, "B29": {0, 45}, "B30": {0, 29}, // inHg: no vacuum is deeper than the air is heavy
}

// possible gives the bounds of a measure on this car; half the volts on 6 V.
func (c Car) possible(m Measure) *Possible {
	p, known := possible[m.ID]
	if !known {
		return nil
	}
	if m.Unit == "V" && c.sixVolt() {
		p = Possible{p.Low / 2, p.High / 2}
	}
	return &p
}

func (p *Possible) holds(x float64) bool { return p == nil || x >= p.Low-1e-9 && x <= p.High+1e-9 }

// refuses says why a figure is not judged.
func (p *Possible) refuses(x float64, unit string) string {
	return fmt.Sprintf("%.6g %s is not judged: it can be %.4g to %.6g %s here. Look at the unit and the meter's range, and correct it.", x, unit, p.Low, p.High, unit)
}
