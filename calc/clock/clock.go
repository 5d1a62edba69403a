package clock

import "pointsmith/calc/refuse"

// CrankIn asks for a time in degrees or an angle in time.
type CrankIn struct {
	EngineRPM float64  `json:"engineRPM" need:"yes" over:"0" max:"20000" unit:"engine rpm" help:"engine speed"`
	Ms        *float64 `json:"ms,omitempty" min:"0" max:"100000" unit:"milliseconds" help:"a time, to be given in crank degrees"`
	CrankDeg  *float64 `json:"crankDeg,omitempty" min:"0" max:"1000000" unit:"crank degrees" help:"an angle, to be given in time"`
}

// CrankOut holds the answer; Ms and CrankDeg are the same stretch of turning.
type CrankOut struct {
	RevMs    float64  `json:"revMs" unit:"milliseconds" help:"one crank turn"`
	DegPerMs float64  `json:"degPerMs" unit:"crank degrees per millisecond" help:"turning rate"`
	Ms       float64  `json:"ms" unit:"milliseconds" help:"the time asked for or given; one turn when neither was given"`
	CrankDeg float64  `json:"crankDeg" unit:"crank degrees" help:"the angle asked for or given; 360 when neither was given"`
	Working  []string `json:"working" help:"the rule with these figures in it"`
}

// Crank relates time and angle:
//
//	degrees per ms = 360 N / 60000 = 6 N / 1000,  one turn = 60000 / N ms
//
// N is engine rpm, above 0 and at most 20000. At most one of ms and crankDeg
// may be given. Both given is refused. Source: arithmetic; 36 000 degrees a
// second at 6000 rpm is also printed on an amateur engineer's page on ignition.
func Crank(in CrankIn) (CrankOut, error) {
	if in.Ms != nil && in.CrankDeg != nil {
		return CrankOut{}, refuse.Input("ms", "both ms and crankDeg are given", "one of ms and crankDeg",
			"leave one of them out")
	}
	out := CrankOut{RevMs: 60000 / in.EngineRPM, DegPerMs: 6 * in.EngineRPM / 1000, CrankDeg: 360}
	switch {
	case in.Ms != nil:
		out.CrankDeg = *in.Ms * out.DegPerMs
	case in.CrankDeg != nil:
		out.CrankDeg = *in.CrankDeg
	}
	out.Ms = out.CrankDeg / out.DegPerMs
	out.Working = crankWorking(in.EngineRPM, out)
	return out, nil
}
