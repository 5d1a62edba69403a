package advance

import (
	"fmt"
	"math"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/refuse"
)

// FitIn is what was measured; the spec supplies drive ratio and book base.
type FitIn struct {
	Readings Sets  `json:"readings" need:"yes" maxItems:"50" help:"one set of readings or a list of them"`
	Spec     *Spec `json:"spec,omitempty" help:"what the book says: its drive ratio, and its base for readings that hold one"`
}

// Undecided is a parameter these readings cannot pin down.
type Undecided struct {
	Name string `json:"name" help:"the parameter"`
	Why  string `json:"why" help:"why the readings cannot decide it"`
	Take string `json:"take" help:"the readings that would"`
}

// WildReading is a reading set aside as a slip.
type WildReading struct {
	Set              int     `json:"set" help:"index of its set"`
	Point            int     `json:"point" help:"index of the reading in its set"`
	DistRPM          float64 `json:"distRPM" unit:"distributor rpm" help:"speed"`
	DeviationDistDeg float64 `json:"deviationDistDeg" unit:"distributor degrees" help:"reading less model"`
}

// FitOut is the governor behind the readings.
type FitOut struct {
	Model        Model                 `json:"model" help:"the likeliest governor"`
	KneeDistRPM  float64               `json:"kneeDistRPM" unit:"distributor rpm" help:"speed at which the secondary spring takes up"`
	LimitDistRPM float64               `json:"limitDistRPM" unit:"distributor rpm" help:"speed at which the stop is met"`
	RMSDistDeg   float64               `json:"rmsDistDeg" unit:"distributor degrees" help:"root mean square of reading less model, wild readings left out"`
	Intervals    map[string][2]float64 `json:"intervals" help:"low and high of each parameter at the stated rate"`
	StatedRate   float64               `json:"statedRate" help:"share of cases in which an interval holds the truth"`
	Curve        []CurvePoint          `json:"curve" help:"the likeliest governor's curve: between rising and falling where both were read, else the one that was read"`
	Undecided    []Undecided           `json:"undecided" help:"parameters these readings cannot decide"`
	Wild         []WildReading         `json:"wild" help:"readings set aside"`
	BaseCrankDeg *float64              `json:"baseCrankDeg" unit:"crank degrees before TDC" help:"the base that was taken off the readings; on it the curve passes through them; null where they hold none"`
	Basis        string                `json:"basis" help:"which readings were used, and where their base came from"`
	Working      []string              `json:"working" help:"the rule with these figures in it"`
	Sources      []string              `json:"sources" help:"where the rule comes from"`
}

// statedRate is the share of cases in which an interval is to hold the truth.
const statedRate = 0.9

// leastReadings is how few readings a fit is tried on: fewer than four cannot
// even show a start, a slope and a stop.
const leastReadings = 4

// Fit finds the two-spring governor behind readings, the book left aside: any
// governor, drawn from the posterior of the same likelihood that Judge weighs
// accounts by (package infer; slips and a misfit of the model allowed for). The
// model is the likeliest of them; an interval is the middle 90 % of all.
//
// Readings without base are used when there are at least four; else the car's
// readings less the base Judge finds in them, else less a static figure, else
// less the book's base, and the answer says so. More than 160 readings are
// taken together by their middles. The seed is fixed, so that the same
// readings always give the same answer.
//
// Refused: fewer than four usable readings, all at one speed, speeds that are
// no distributor's; readings with base when no base is known; readings of which
// more than half lie beside every governor.
func Fit(in FitIn) (FitOut, error) {
	run, bad := fitRun(in)
	if bad != nil {
		return FitOut{}, bad
	}
	asked := thinned(run.readings)
	both := run.goes(true) && run.goes(false)
	f := infer.FitGovernor(asInferred(asked), !both, 0)
	out, bad := run.report(f, asked, both)
	if bad != nil {
		return FitOut{}, bad
	}
	return out, nil
}

// asInferred hands readings over; they are in distributor degrees already.
func asInferred(readings []reading) []infer.Reading {
	out := make([]infer.Reading, len(readings))
	for i, r := range readings {
		out[i] = infer.Reading{DistRPM: r.rpm, Deg: r.deg, Falling: r.falling, Error: r.err}
	}
	return out
}

// runToFit is the readings a governor is fitted to, distributor degrees, and
// the base that was taken off them.
type runToFit struct {
	readings []reading
	basis    string
	base     *float64
}

// goes tells whether readings were taken that way.
func (run runToFit) goes(falling bool) bool {
	for _, r := range run.readings {
		if r.falling == falling {
			return true
		}
	}
	return false
}

// fitRun picks the readings to fit and takes the base off where they hold it.
func fitRun(in FitIn) (runToFit, *refuse.Error) {
	if bad := in.Readings.check(); bad != nil {
		return runToFit{}, bad
	}
	ratio := 2.0
	if in.Spec != nil {
		ratio = in.Spec.ratio()
	}
	var alone, withBase []reading
	for i, set := range in.Readings {
		if set.Vacuum == "connected" {
			continue
		}
		for _, r := range set.inCrank(i, ratio) {
			r.deg, r.rpm, r.err = r.deg/ratio, r.rpm/ratio, r.err/ratio // distributor degrees and rpm from here on
			if r.withBase {
				withBase = append(withBase, r)
			} else {
				alone = append(alone, r)
			}
		}
	}
	if len(alone) >= leastReadings {
		return checkedRun(runToFit{readings: alone, basis: "the readings without base"})
	}
	if len(withBase) < leastReadings {
		return runToFit{}, tooFew(max(len(alone), len(withBase)))
	}
	base, from, bad := fitBase(in)
	if bad != nil {
		return runToFit{}, bad
	}
	for i := range withBase {
		withBase[i].deg -= base / ratio
	}
	basis := fmt.Sprintf("the car's readings less a base of %s, %s", before(base), from)
	return checkedRun(runToFit{withBase, basis, &base})
}

func tooFew(usable int) *refuse.Error {
	return refuse.Input("readings", fmt.Sprintf("hold %d usable readings", usable),
		fmt.Sprintf("at least %d at different speeds, vacuum pipe off", leastReadings),
		"take more readings, from below the start of the advance to beyond the stop")
}

// fitBase finds the base to take off the car's readings: as Judge finds it in
// the same readings; else proved static; else the book's, which is then said
// to be unproved.
func fitBase(in FitIn) (base float64, from string, bad *refuse.Error) {
	if in.Spec != nil {
		if j, bad := judged(*in.Spec, in.Readings, nil); bad == nil && j.base.known() {
			return j.base.value, "as found: " + basisWords[j.base.how], nil
		}
	}
	for _, set := range in.Readings {
		if set.StaticCrankDeg != nil {
			return *set.StaticCrankDeg, "proved static", nil
		}
	}
	if in.Spec == nil || in.Spec.BaseCrankDeg == nil {
		return 0, "", refuse.Input("readings", "hold the base, and no base is known", "a static figure in the "+
			"readings or baseCrankDeg in the spec",
			"prove the static timing, or give the book's base")
	}
	return *in.Spec.BaseCrankDeg, "taken from the book and not proved: if the base was moved, start and stop are " +
		"off with it", nil
}

// leastTop is how fast the fastest reading has to be, distributor rpm: below
// 100 no governor is past its start (common practice: starts of 150 to 600).
const leastTop = 100

func checkedRun(run runToFit) (runToFit, *refuse.Error) {
	least, most := math.Inf(1), 0.0
	for _, r := range run.readings {
		least, most = min(least, r.rpm), max(most, r.rpm)
	}
	if most < leastTop {
		return runToFit{}, refuse.Input("readings", fmt.Sprintf("end at %.3g "+
			"distributor rpm", most), fmt.Sprintf("a fastest reading of %d distributor rpm or more", leastTop),
			"give the speeds in revolutions a minute, not in thousands")
	}
	if most < 1.2*least { // a fifth apart (chosen): less cannot show a curve
		return runToFit{}, refuse.Input("readings", "are all at nearly one speed", "speeds at least a fifth apart",
			"read from below the start of the advance to beyond the stop")
	}
	return run, nil
}
