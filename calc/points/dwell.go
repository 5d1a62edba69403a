package points

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// DwellIn asks what a dwell means in time.
type DwellIn struct {
	Cylinders    int      `json:"cylinders" need:"yes" min:"1" max:"16" help:"how many lobes the cam has: cylinders fired by this set of points"`
	DwellDistDeg *float64 `json:"dwellDistDeg,omitempty" over:"0" max:"360" unit:"distributor degrees" help:"points closed, as an angle"`
	DwellPercent *float64 `json:"dwellPercent,omitempty" over:"0" under:"100" unit:"percent of the pitch" help:"points closed, as a share of the pitch"`
	EngineRPM    float64  `json:"engineRPM" need:"yes" over:"0" max:"20000" unit:"engine rpm" help:"engine speed"`
	DriveRatio   *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// DwellOut is that dwell in every measure.
type DwellOut struct {
	PitchDistDeg    float64  `json:"pitchDistDeg" unit:"distributor degrees" help:"from one opening to the next"`
	DwellDistDeg    float64  `json:"dwellDistDeg" unit:"distributor degrees" help:"points closed"`
	DwellPercent    float64  `json:"dwellPercent" unit:"percent of the pitch" help:"points closed"`
	OpenDistDeg     float64  `json:"openDistDeg" unit:"distributor degrees" help:"points open"`
	ChargeMs        float64  `json:"chargeMs" unit:"milliseconds" help:"how long the coil charges for one spark"`
	PeriodMs        float64  `json:"periodMs" unit:"milliseconds" help:"from one spark to the next"`
	SparksPerSecond float64  `json:"sparksPerSecond" unit:"sparks per second" help:"sparks of this set of points"`
	Ask             []string `json:"ask" help:"questions only the person can answer"`
	Working         []string `json:"working" help:"the rule with these figures in it"`
	Sources         []string `json:"sources" help:"where the rule comes from"`
}

// Dwell takes a dwell to percent and time:
//
//	pitch = 360 / cylinders,  percent = 100 × dwell / pitch
//	period = 60000 × ratio / (cylinders × N) ms,  charge = dwell / pitch × period
//
// which for the ordinary four-stroke (ratio 2) is dwell / (3 N) seconds. N is
// engine rpm, above 0 and at most 20000. Refused: both or neither of the two
// dwells, a dwell of the whole pitch or more. A dwell outside 25 to 75 percent
// of the pitch is asked about: the meter may be on another scale.
// Source: arithmetic; the rows of the ignition physics pages and the period of
// an amateur engineer's page on ignition agree.
func Dwell(in DwellIn) (DwellOut, error) {
	deg, bad := dwellOf(in.Cylinders, in.DwellDistDeg, in.DwellPercent)
	if bad != nil {
		return DwellOut{}, bad
	}
	pitch := Pitch(in.Cylinders)
	out := DwellOut{PitchDistDeg: pitch, DwellDistDeg: deg, DwellPercent: 100 * deg / pitch, OpenDistDeg: pitch - deg,
		PeriodMs: 60000 * ratio(in.DriveRatio) / (float64(in.Cylinders) * in.EngineRPM), Ask: []string{}}
	out.ChargeMs = deg / pitch * out.PeriodMs
	out.SparksPerSecond = 1000 / out.PeriodMs
	if q := scaleQuestion(in.Cylinders, deg); q != "" {
		out.Ask = append(out.Ask, q)
	}
	out.Working = []string{
		fmt.Sprintf("Pitch from one opening to the next: 360 / %d = %.4g distributor degrees; closed %.4g, open %.4g.",
			in.Cylinders, pitch, deg, out.OpenDistDeg),
		fmt.Sprintf("Dwell as a share: 100 × %.4g / %.4g = %.4g %%.", deg, pitch, out.DwellPercent),
		fmt.Sprintf("One spark every 60 000 × %.3g / (%d × %.6g) = %.4g ms, that is %.4g a second.",
			ratio(in.DriveRatio), in.Cylinders, in.EngineRPM, out.PeriodMs, out.SparksPerSecond),
		fmt.Sprintf("The coil charges for %.4g / %.4g of that: %.4g ms.", deg, pitch, out.ChargeMs),
	}
	out.Sources = []string{"arithmetic of the cam and the shaft speed",
		"a dwell outside a quarter to three quarters of the pitch is asked about: common practice"}
	return out, nil
}

// Pitch is the distributor angle from one opening to the next: 360 / cylinders.
func Pitch(cylinders int) float64 { return 360 / float64(cylinders) }

// ChargeMs is how long the points stay closed for one spark, milliseconds:
// dwell in distributor degrees over the distributor's turning rate, ratio
// engine turns to one of its own.
func ChargeMs(dwellDistDeg, engineRPM, ratio float64) float64 {
	return dwellDistDeg * ratio / (6 * engineRPM) * 1000
}

func ratio(x *float64) float64 {
	if x == nil {
		return 2
	}
	return *x
}

// dwellOf reads a dwell given as one of angle and percent.
func dwellOf(cylinders int, deg, percent *float64) (float64, *refuse.Error) {
	pitch := Pitch(cylinders)
	switch {
	case deg != nil && percent != nil:
		return 0, refuse.Input("dwellDistDeg", "both dwellDistDeg and dwellPercent are given", "one of the two",
			"leave one of them out")
	case deg == nil && percent == nil:
		return 0, refuse.Input("dwellDistDeg", "no dwell is given", "one of dwellDistDeg and dwellPercent",
			"give the dwell the meter shows, or the book's")
	case percent != nil:
		return pitch * *percent / 100, nil
	}
	return *deg, OverPitch("dwellDistDeg", cylinders, *deg)
}

// OverPitch refuses a dwell of the whole pitch or more: points that never open.
func OverPitch(field string, cylinders int, deg float64) *refuse.Error {
	if pitch := Pitch(cylinders); deg >= pitch {
		return refuse.Input(field,
			fmt.Sprintf("%.4g distributor degrees is the whole pitch of a %d-lobe cam or more: these points would never open", deg, cylinders),
			fmt.Sprintf("less than %.4g distributor degrees", pitch),
			fmt.Sprintf("check the number of cylinders and the scale "+
				"of the meter; "+
				"%.4g percent of the pitch would be %.4g degrees", deg, deg*pitch/100))
	}
	return nil
}

// scaleQuestion asks about a dwell that lies outside 25 to 75 percent of its
// pitch (common practice), naming the other meter scale that would fit.
func scaleQuestion(cylinders int, deg float64) string {
	share := deg / Pitch(cylinders)
	if share >= 0.25 && share <= 0.75 {
		return ""
	}
	return fmt.Sprintf("%.4g degrees is %.0f %% of the pitch of a %d-lobe cam; breaker points usually stay closed for 25 to 75 %%. Was the meter on the scale for %d cylinders, and does it show degrees rather than percent?",
		deg, 100*share, cylinders, cylinders)
}
