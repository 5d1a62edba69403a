package scatter

import (
	"fmt"
	"math"

	"pointsmith/calc/cap"
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// AnalyseIn is one or more runs round the ring.
type AnalyseIn struct {
	Cylinders      int         `json:"cylinders" need:"yes" min:"2" max:"16" help:"flashes in one turn of the distributor"`
	ErrorsDistDeg  []float64   `json:"errorsDistDeg" need:"yes" min:"-90" max:"90" minItems:"2" maxItems:"16" unit:"distributor degrees" help:"error of each flash in firing order, early positive; No. 1 first, usually 0"`
	Repeats        [][]float64 `json:"repeats,omitempty" maxItems:"20" unit:"distributor degrees" help:"further runs of the same, to tell what repeats from what does not"`
	FiringOrder    []int       `json:"firingOrder,omitempty" min:"1" max:"16" maxItems:"16" help:"cylinders in the order they fire, to name the earliest"`
	Place          string      `json:"place,omitempty" enum:"bench|car" help:"on the bench the engine's drive plays no part"`
	MarginCrankDeg *float64    `json:"marginCrankDeg,omitempty" min:"-30" max:"60" unit:"crank degrees" help:"between the total as read on No. 1 and the knock, to see what is left of it on the earliest cylinder"`
	DriveRatio     float64     `json:"driveRatio,omitempty" min:"0" max:"4" unit:"engine turns per distributor turn" help:"2 unless said, 1 where the firing intervals add up to 360"`

	Firing  *Firing `json:"firing,omitempty" help:"how the engine is made to fire; even when left out, and then said so"`
	Points  string  `json:"points,omitempty" enum:"single|twin|unknown" help:"twin: two sets of points on one cam, each firing every other cylinder; asked unless said"`
	Against string  `json:"against,omitempty" enum:"even|own" help:"for uneven firing: errors read against an even ring, or against each cylinder's own mark; found out unless said"`
}

// Flash is one cylinder in the pattern.
type Flash struct {
	Position        int     `json:"position" help:"place in the firing order, from 1"`
	Cylinder        int     `json:"cylinder,omitempty" help:"its cylinder, when the firing order is known"`
	ErrorDistDeg    float64 `json:"errorDistDeg" unit:"distributor degrees" help:"error, mean of the runs, early positive, with the design taken off"`
	DesignDistDeg   float64 `json:"designDistDeg" unit:"distributor degrees" help:"what uneven firing by design puts here, early positive; it was taken off"`
	WaveDistDeg     float64 `json:"waveDistDeg" unit:"distributor degrees" help:"what one wave a turn gives here, the mean included"`
	ResidualDistDeg float64 `json:"residualDistDeg" unit:"distributor degrees" help:"what is left: this lobe's own error"`
	SpreadDistDeg   float64 `json:"spreadDistDeg" unit:"distributor degrees" help:"largest less smallest over the runs; 0 with one run"`
	Verdict         string  `json:"verdict" enum:"pass|watch|fail" help:"of its distance from the mean"`
}

// Earliest is the cylinder that decides the total.
type Earliest struct {
	Position int     `json:"position" help:"place in the firing order, from 1"`
	Cylinder int     `json:"cylinder,omitempty" help:"its number, when the firing order is known"`
	CrankDeg float64 `json:"crankDeg" unit:"crank degrees" help:"how much earlier it fires than No. 1, by which the engine is timed"`
}

// AnalyseOut is the pattern taken apart.
type AnalyseOut struct {
	MeanDistDeg           float64      `json:"meanDistDeg" unit:"distributor degrees" help:"mean of all flashes: an offset against No. 1, no fault in itself"`
	FirstHarmonicDistDeg  float64      `json:"firstHarmonicDistDeg" unit:"distributor degrees" help:"height of the one wave a turn: shaft or bush"`
	PhaseDeg              float64      `json:"phaseDeg" unit:"degrees of distributor turn" help:"where that wave is earliest, from No. 1 in firing order, 0 to under 360"`
	SecondHarmonicDistDeg float64      `json:"secondHarmonicDistDeg" unit:"distributor degrees" help:"height of two waves a turn: an oval path; it is part of the residual"`
	ResidualMaxDistDeg    float64      `json:"residualMaxDistDeg" unit:"distributor degrees" help:"largest error left when mean and wave are taken off: the lobes"`
	RepeatSpreadDistDeg   *float64     `json:"repeatSpreadDistDeg" unit:"distributor degrees" help:"largest spread of one flash over the runs; null with one run"`
	WorstDistDeg          float64      `json:"worstDistDeg" unit:"distributor degrees" help:"largest distance of a flash from the mean; this is judged"`
	Flashes               []Flash      `json:"flashes" help:"each flash, in firing order"`
	Earliest              Earliest     `json:"earliest" help:"the cylinder that fires earliest"`
	Latest                Earliest     `json:"latest" help:"the cylinder that fires latest"`
	RealMarginCrankDeg    *float64     `json:"realMarginCrankDeg" unit:"crank degrees" help:"the margin to knock on the earliest cylinder; null when no margin was given"`
	Findings              finding.List `json:"findings" help:"what is concluded, weightiest first"`
	Verdict               string       `json:"verdict" enum:"pass|watch|fail|unknown" help:"pass within ±1 distributor degree of the mean, watch within ±2, fail beyond; unknown where it hangs on how the engine fires"`
	Summary               string       `json:"summary" help:"the reason of the verdict in one sentence"`
	AlternatingDistDeg    float64      `json:"alternatingDistDeg" unit:"distributor degrees" help:"height of early and late by turns: uneven firing, two sets of points, or every other lobe; part of the residual"`
	Against               string       `json:"against" enum:"even|own" help:"what the errors were taken to be read against"`
	Ask                   []string     `json:"ask" help:"questions only the person can answer"`
	Working               []string     `json:"working" help:"the rule with these figures in it"`
	Sources               []string     `json:"sources" help:"where the rules come from"`
}

// Limits, distributor degrees from the mean: ±1 good, ±2 the end of watch
// (common practice for points). TM 5-4210-230-14&P-1 p. 556 asks for ±2 at
// 300 distributor rpm of a trigger-wheel distributor.
const (
	good     = 1
	fair     = 2
	rounding = 1e-6
)

// Analyse takes the pattern of a turn apart. For N flashes with errors e at
// θ = 360 i / N:
//
//	mean = Σ e / N
//	wave: a = 2/N Σ (e − mean) cos θ, b = 2/N Σ (e − mean) sin θ,
//	height √(a² + b²), earliest at atan2(b, a)
//	residual = e − mean − wave
//
// and the spread of each flash over repeated runs beside them. The wave is
// the shaft (bent, or running in a worn bush), the residual the lobes of the
// cam, the spread the play in bush or drive. Where the engine fires unevenly by
// design, that is taken off first, and θ is where each flash comes. Early and
// late by turns,
//
//	A = Σ ±residual / N, the sign changing from flash to flash,
//
// is what uneven firing and twin points out of step do, so the cam is called
// sure only where what was said leaves neither. Refused: intervals that do not
// add up to 720 or 360; runs that do not have
// one error for each cylinder; an error of more than a quarter of the pitch,
// which means a wrong lead or a wrong count. Sources: the limits are common
// practice; the division into waves is arithmetic; what each means is common
// practice.
func Analyse(in AnalyseIn) (AnalyseOut, error) {
	if bad := in.check(); bad != nil {
		return AnalyseOut{}, bad
	}
	p := newPattern(in)
	p.place()
	p.split()
	p.extremes()
	p.ask()
	p.conclude()
	p.explain()
	return p.out, nil
}

func (in AnalyseIn) check() *refuse.Error {
	if len(in.FiringOrder) > 0 {
		if bad := cap.CheckOrder("firingOrder", in.FiringOrder, in.Cylinders); bad != nil {
			return bad
		}
	}
	if bad := in.checkFiring(); bad != nil {
		return bad
	}
	if bad := in.checkRun("errorsDistDeg", in.ErrorsDistDeg); bad != nil {
		return bad
	}
	for i, run := range in.Repeats {
		if bad := in.checkRun(fmt.Sprintf("repeats[%d]", i), run); bad != nil {
			return bad
		}
	}
	return nil
}

func (in AnalyseIn) checkRun(field string, run []float64) *refuse.Error {
	if len(run) != in.Cylinders {
		return refuse.Input(field, fmt.Sprintf("has %d errors, the engine has %d cylinders", len(run), in.Cylinders),
			"one error for each cylinder", "add the missing flash, 0 for No. 1")
	}
	limit := 90 / float64(in.Cylinders)
	design := in.design(0)
	for i, e := range run {
		if math.Min(math.Abs(e), math.Abs(e-design[i])) > limit+rounding {
			return refuse.Input(fmt.Sprintf("%s[%d]", field, i),
				fmt.Sprintf("%g degrees is more than a quarter of the way to "+
					"the next flash", e),
				fmt.Sprintf("at most %.4g distributor degrees either way", limit),
				"check the lead, the number of cylinders, and whether this is the error and not the angle itself; for an engine "+
					"that fires unevenly by design give firing")
		}
	}
	return nil
}

// pattern is the case while it is taken apart.
type pattern struct {
	in    AnalyseIn
	runs  [][]float64
	mean  []float64 // of the runs, each flash
	wave  float64   // share of the variance that the one wave explains
	ratio float64
	out   AnalyseOut

	design      []float64 // what was taken off as uneven by design
	early       float64   // early and late by turns, the first flash early positive
	alternating float64   // share of the variance that this explains
	turned      bool      // errors and intervals do not belong together
	unclear     bool      // what the errors were read against is not clear
}

func newPattern(in AnalyseIn) *pattern {
	p := &pattern{in: in, runs: append([][]float64{in.ErrorsDistDeg}, in.Repeats...), ratio: in.turns()}
	p.mean = make([]float64, in.Cylinders)
	for i := range p.mean {
		for _, run := range p.runs {
			p.mean[i] += run[i] / float64(len(p.runs))
		}
	}
	return p
}
