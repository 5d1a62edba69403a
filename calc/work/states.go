package work

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// states gives each step its state, in the order of the chain, so that a step
// can ask for those before it.
func (j *job) states() {
	state := map[string]string{}
	for _, l := range chain {
		s := Step{ID: l.id, Name: l.name, Why: l.why, Needs: append([]string{}, l.needs...)}
		if e := j.judged[l.id]; e != nil {
			s.At, s.Verdict = e.At, e.Verdict
		}
		s.State, s.Because = j.own(l)
		if s.State == "due" {
			if why := j.blockedBy(l, state); why != "" {
				s.State, s.Because = "blocked", why
			}
		}
		state[l.id] = s.State
		j.out.Steps = append(j.out.Steps, s)
	}
}

// own is the state of a step for itself, whatever the others are.
func (j *job) own(l link) (state, because string) {
	if state, because = j.notThere(l.id); state != "" {
		return state, because
	}
	e := j.judged[l.id]
	touch := j.touched[l.id]
	switch {
	case touch != nil && e != nil:
		return "again", sentence(changeOf(touch.Changed).said) + " on " + day(touch.At) + words(touch) +
			" came after it was last judged."
	case e == nil && touch != nil:
		return "due", "Not judged since " + changeOf(touch.Changed).said + " on " + day(touch.At) + "."
	case e == nil:
		return "due", "Nothing is recorded yet."
	case e.Verdict == finding.Fail:
		return "again", "It failed on " + day(e.At) + words(e) + "."
	case e.Partly:
		return "due", "Begun on " + day(e.At) + words(e) + "; the rest is to be looked at."
	case e.Verdict == finding.Unknown:
		return "unknown", "It was looked at on " + day(e.At) + words(e) + " but could not be judged."
	case l.id == "points" && j.recheck != "":
		return "again", j.recheck
	}
	return "done", "Judged " + e.Verdict + " on " + day(e.At) + words(e) + "."
}

// notThere covers steps that this car may not have. A thing judged is there.
func (j *job) notThere(id string) (state, because string) {
	switch {
	case id == "points" && j.in.Car.Trigger == "electronic":
		return "done", "An electronic trigger has no gap or dwell to set."
	case id == "spark" && j.in.Car.Trigger == "electronic" && j.judged[id] == nil:
		return "done", "An electronic trigger sets its own charge."
	case id == "vacuum" && j.in.Car.Capsule == "none":
		return "done", "This distributor has no capsule."
	case id == "vacuum" && j.in.Car.Capsule == "" && j.judged[id] == nil:
		return "unknown", "It is not known whether there is a vacuum capsule."
	}
	return "", ""
}

// blockedBy names what is in the way of a step that is due.
func (j *job) blockedBy(l link, state map[string]string) string {
	var first []string
	for _, id := range l.needs {
		if state[id] != "done" {
			first = append(first, stepName(id))
		}
	}
	if len(first) > 0 {
		return "First: " + strings.Join(first, ", ") + "."
	}
	for _, id := range l.stops {
		if e := j.judged[id]; e != nil && e.Verdict == finding.Fail {
			return sentence(stepName(id)) + " failed on " + day(e.At) + words(e) + "; repair that first."
		}
	}
	return ""
}

// planRecheck looks for the last new points and for a judgement of the points
// after the heel has bedded in.
func (j *job) planRecheck() {
	fitted := -1
	for i, e := range j.events {
		if e.Changed == "points-fitted" {
			fitted = i
		}
	}
	if fitted < 0 || j.in.Car.Trigger == "electronic" || j.recheckDone(fitted) {
		return
	}
	e := j.events[fitted]
	p := Planned{Step: "points", State: "unknown", What: fmt.Sprintf("Dwell of the points fitted on %s, %d to %d miles later: a new heel beds in, the gap closes and the timing goes late.",
		day(e.At), recheckFromMiles, recheckToMiles)}
	if e.OdometerMiles != nil {
		from, to := *e.OdometerMiles+recheckFromMiles, *e.OdometerMiles+recheckToMiles
		p.FromMiles, p.ToMiles = &from, &to
		if now := j.in.NowOdometerMiles; now != nil {
			p.State = "planned"
			if *now >= from {
				p.State, j.recheck = "due",
					fmt.Sprintf("New points on %s have run %.0f miles: the heel has bedded in, check the dwell again.",
						day(e.At), *now-*e.OdometerMiles)
			}
			if *now > to {
				p.State = "overdue"
			}
		}
	}
	j.out.Planned = append(j.out.Planned, p)
}

// recheckDone tells whether points were judged good after the heel bedded in:
// by the distance where both distances were noted, else on a later day.
func (j *job) recheckDone(fitted int) bool {
	f := j.events[fitted]
	for _, e := range j.events[fitted+1:] {
		e := e
		if e.Step != "points" || !good(&e) {
			continue
		}
		if f.OdometerMiles != nil && e.OdometerMiles != nil {
			if *e.OdometerMiles >= *f.OdometerMiles+recheckFromMiles {
				return true
			}
			continue
		}
		if day(e.At) != day(f.At) {
			return true
		}
	}
	return false
}

// next is the first step that can be done, then what is looked at beside the
// chain; when none is left, what is to be put back.
func (j *job) next() Next {
	var later *Step
	for i, s := range j.out.Steps {
		if s.State == "done" || s.State == "blocked" {
			continue
		}
		if chain[i].beside && s.Verdict != finding.Fail {
			if later == nil {
				later = &j.out.Steps[i]
			}
			continue
		}
		return Next{Step: s.ID, Say: sentence(s.Name) + ". " + s.Because}
	}
	if later != nil {
		return Next{Step: later.ID, Say: sentence(later.Name) + ". " + later.Because}
	}
	if len(j.out.RestoreList) > 0 {
		r := j.out.RestoreList[0]
		return Next{Restore: r.ID, Say: sentence(r.What) + ": " + r.PutBack + "."}
	}
	return Next{Say: "Nothing is left to do."}
}

func words(e *Event) string {
	if e.What == "" {
		return ""
	}
	return " (" + e.What + ")"
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
