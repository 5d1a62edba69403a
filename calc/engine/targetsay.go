package engine

import (
	"fmt"

	"pointsmith/calc/advance"
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// idleVacuum by cam, kPa: 17, 14 and 11 inHg (common practice: 17 to 21 sound, less
// with overlap).
var idleVacuum = map[string]float64{"": 57, "standard": 57, "mild": 47, "hot": 37}

// place looks at one state of part throttle.
func (t *target) place(w where) (TargetPlace, *refuse.Error) {
	load, bad := Load{VacuumKPa: &w.vacuumKPa}.ratio(t.in.Air)
	if bad != nil {
		bad.Field = w.field
		return TargetPlace{}, bad
	}
	p := t.point(w.rpm, load)
	return TargetPlace{w.rpm, w.vacuumKPa, p.AdviceCrankDeg, t.gives(w.rpm)}, nil
}

// places looks at idle, cruise and tip-in, and sizes the capsule.
func (t *target) places() (bad *refuse.Error) {
	if t.out.Idle, bad = t.place(t.in.idle(t.in.Engine.Cam)); bad != nil {
		return bad
	}
	if t.out.Cruise, bad = t.place(t.in.cruise()); bad != nil {
		return bad
	}
	tip, bad := t.place(tipIn)
	if bad != nil {
		return bad
	}
	more := min(t.out.Cruise.AdviceCrankDeg-t.out.Cruise.WithoutCrankDeg, tip.AdviceCrankDeg-tip.WithoutCrankDeg)
	t.out.CapsuleMostDistDeg = min(mostCapsule, float64(int(max(0, more)/t.ratio/stopStep))*stopStep)
	t.out.Working = append(t.out.Working, fmt.Sprintf(
		"Capsule: cruise is advised %.1f and has %.1f without it, tip-in %.1f and %.1f; the lesser difference over %.3g: %.3g distributor degrees at most.",
		t.out.Cruise.AdviceCrankDeg, t.out.Cruise.WithoutCrankDeg, tip.AdviceCrankDeg, tip.WithoutCrankDeg, t.ratio,
		t.out.CapsuleMostDistDeg))
	return nil
}

// mostCapsule: capsules of the kind give 4 to 12 distributor degrees (common practice).
const mostCapsule = 12.0

// finish puts the spec, the conclusions and what was assumed.
func (t *target) finish() {
	o := &t.out
	limit, base, never := o.LimitDistDeg, o.BaseCrankDeg, begins
	o.StraightFromRPM = begins
	if o.TotalCrankDeg > base {
		o.StraightFromRPM = t.straight()
	}
	o.Spec = advance.Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: &base,
		BaseToleranceCrankDeg: 1, NoAdvanceBelowRPM: &never, DriveRatio: t.in.DriveRatio}
	if limit > 0 {
		o.Spec.LimitDistDeg = &limit
	}
	for _, p := range o.Points {
		low, high := p.MinCrankDeg, p.MaxCrankDeg
		o.Spec.Points = append(o.Spec.Points, advance.SpecPoint{RPM: p.EngineRPM, MinDeg: &low, MaxDeg: &high})
	}
	for _, a := range []struct {
		given *float64
		line  string
	}{{t.in.AllInEngineRPM, fmt.Sprintf("allInEngineRPM not given: %g taken (common practice for the chamber)",
		o.AllInEngineRPM)},
		{t.in.MostBaseCrankDeg, "mostBaseCrankDeg not given: what is usual for the chamber taken (common practice)"},
		{t.in.IdleVacuumKPa, fmt.Sprintf("idleVacuumKPa not given: %g taken (common practice)", o.Idle.VacuumKPa)},
		{t.in.CruiseVacuumKPa, fmt.Sprintf("cruiseVacuumKPa not given: %g taken (common practice)",
			o.Cruise.VacuumKPa)}} {
		if a.given == nil {
			o.Assumed = append(o.Assumed, a.line)
		}
	}
	o.Working = append(o.Working, fmt.Sprintf("Total %.4g = base %.4g + %.3g × stop %.4g, all in at %.0f rpm.",
		o.TotalCrankDeg,
		base, t.ratio, limit, o.AllInEngineRPM))
	o.Sources = sources
	t.conclude()
}

func (t *target) conclude() {
	o := &t.out
	by := map[string]int{}
	for _, p := range o.Points {
		by[p.LimitedBy]++
	}
	o.Findings.Add(finding.Finding{Code: "target", Title: "A target to start from", Part: "advance curve",
		Sureness: "possible",
		Text: fmt.Sprintf("Base %.4g, stop %.4g distributor degrees, total %.4g at %.0f rpm; knock holds it at %d of %d speeds. %s %s",
			o.BaseCrankDeg, o.LimitDistDeg, o.TotalCrankDeg, o.AllInEngineRPM, by["knock"], len(o.Points), t.start(),
			estimate),
		DisprovedBy: "knock, or more pull with less or more advance, on the road",
		Caution:     "Stop at the first trace of knock and go back two to three degrees; never repeat a pull that knocked.",
		Sources:     sources})
	if t.at[0].AdviceCrankDeg < o.BaseCrankDeg {
		o.Findings.Add(finding.Finding{Code: "lugging", Title: "Do not lug it", Verdict: finding.Watch,
			Sureness: "possible",
			Text: fmt.Sprintf("At full throttle at %.0f rpm the low end of the knock limit is %.0f, less than the base. Change down before opening the throttle.",
				lugging, t.at[0].AdviceCrankDeg), DisprovedBy: "no knock there with this base", Sources: sources})
	}
	if short := o.Idle.AdviceCrankDeg - o.Idle.WithoutCrankDeg; short > 4 {
		o.Findings.Add(finding.Finding{Code: "idle-wants-more", Title: "Idle would like more", Sureness: "possible",
			Text: fmt.Sprintf("Idle would like some %.0f crank degrees more than the base. A capsule on manifold vacuum gives them; more base with a smaller stop does too, as long as it does not kick back in the starter.",
				short), DisprovedBy: "no rise of vacuum at idle with more advance", Sources: []string{"common practice; the model's own burning"}})
	}
}

// start says where the road test begins.
func (t *target) start() string {
	for _, l := range t.heard {
		if l.heard {
			return "Start the road test four to six degrees below, and go up by twos."
		}
	}
	return "Nothing was heard on this engine yet, so this is the low end of what may be: start the road test with it, and go up by twos."
}
