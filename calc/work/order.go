package work

import (
	"cmp"
	"fmt"
	"slices"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Car is what decides which steps there are.
type Car struct {
	Trigger string `json:"trigger,omitempty" enum:"|points|electronic" help:"what makes the spark; an electronic trigger has no gap or dwell to set; empty when unknown"`
	Capsule string `json:"capsule,omitempty" enum:"|fitted|none" help:"whether there is a vacuum capsule; empty when unknown"`
}

// Event is one thing measured or done.
type Event struct {
	At            string   `json:"at" need:"yes" maxLen:"40" help:"day (2024-05-18) or instant (2024-05-18T09:30:00Z); events of one moment count in the order given"`
	Step          string   `json:"step,omitempty" enum:"|fit|wear|feed|points|spark|static|base|curve|vacuum|idle|mixture" help:"the step this judged"`
	Verdict       string   `json:"verdict,omitempty" enum:"|pass|watch|fail|unknown" help:"how it came out"`
	Partly        bool     `json:"partly,omitempty" help:"the step was begun, and part of it is still to be looked at: it is not done, however good the rest"`
	What          string   `json:"what,omitempty" maxLen:"200" help:"what was found or done, in words"`
	Changed       string   `json:"changed,omitempty" enum:"|engine-work|distributor-rebuilt|points-fitted|dwell-set|distributor-fitted|distributor-moved|mark-moved|curve-changed|capsule-changed|pipe-moved|idle-set|fuel-changed" help:"what was changed on the car; a step judged in the same event counts as done after the change"`
	Undone        []string `json:"undone,omitempty" enum:"vacuum-pipe|retard-hose|piston-stop|plugs-out|plug-leads|king-lead|coil-feed|clamp-loose|clamp-light|card-in-points|ballast-bridged|ignition-on|lamp-lead|strobe-leads|idle-screw|cap-off|battery-off|bonnet-prop|other" maxItems:"19" help:"what was undone for a while"`
	Restored      []string `json:"restored,omitempty" enum:"vacuum-pipe|retard-hose|piston-stop|plugs-out|plug-leads|king-lead|coil-feed|clamp-loose|clamp-light|card-in-points|ballast-bridged|ignition-on|lamp-lead|strobe-leads|idle-screw|cap-off|battery-off|bonnet-prop|other" maxItems:"19" help:"what was put back"`
	OdometerMiles *float64 `json:"odometerMiles,omitempty" min:"0" max:"10000000" unit:"miles" help:"distance on the clock"`
}

// OrderIn is the car and what was done to it.
type OrderIn struct {
	Car              Car      `json:"car" need:"yes" help:"the car"`
	Visits           []Event  `json:"visits" need:"yes" maxItems:"2000" help:"events of all visits, in any order"`
	Now              string   `json:"now,omitempty" maxLen:"40" help:"the time now, to say how long something has been undone"`
	NowOdometerMiles *float64 `json:"nowOdometerMiles,omitempty" min:"0" max:"10000000" unit:"miles" help:"distance on the clock now, to say when to look again"`
}

// Step is one step of the chain as it stands.
type Step struct {
	ID      string   `json:"id" enum:"fit|wear|feed|points|spark|static|base|curve|vacuum|idle|mixture" help:"the step"`
	Name    string   `json:"name" help:"the step in words"`
	State   string   `json:"state" enum:"done|due|again|blocked|unknown" help:"done; due: not done yet, or done in part; again: done but undone by a change, or failed; blocked: something before it is missing; unknown: looked at, but it could not be judged, or not known whether the car has it"`
	Because string   `json:"because" help:"why it stands so"`
	Why     string   `json:"why" help:"why the step stands where it does in the chain"`
	At      string   `json:"at,omitempty" help:"when it was last judged"`
	Verdict string   `json:"verdict,omitempty" enum:"|pass|watch|fail|unknown" help:"how it came out then"`
	Needs   []string `json:"needs" help:"steps that must be done first"`
}

// Restore is one thing to put back.
type Restore struct {
	ID          string   `json:"id" help:"the thing"`
	What        string   `json:"what" help:"what is undone, in words"`
	PutBack     string   `json:"putBack" help:"what to do"`
	Since       string   `json:"since" help:"when it was undone"`
	Minutes     *float64 `json:"minutes" unit:"minutes" help:"how long ago; null when the time now or the hour is not known"`
	Overdue     bool     `json:"overdue,omitempty" help:"it has stood longer than any check takes"`
	Say         string   `json:"say,omitempty" help:"what to say when it is overdue"`
	BlocksStart bool     `json:"blocksStart,omitempty" help:"the engine must not be started while it stands"`

	BlocksIgnition bool `json:"blocksIgnition,omitempty" help:"what needs the ignition cannot be done while it stands"`
}

// Planned is a look to be taken later.
type Planned struct {
	Step      string   `json:"step" help:"the step to check"`
	What      string   `json:"what" help:"what to check, and why"`
	State     string   `json:"state" enum:"planned|due|overdue|unknown" help:"unknown when the distance is not known"`
	FromMiles *float64 `json:"fromMiles" unit:"miles" help:"from this distance on the clock; null when it was not noted"`
	ToMiles   *float64 `json:"toMiles" unit:"miles" help:"to this one; null when it was not noted"`
}

// Next is the one thing to do next.
type Next struct {
	Step    string `json:"step,omitempty" help:"a step of the chain; empty when nothing is left to do, or something has to be put back first"`
	Restore string `json:"restore,omitempty" help:"an entry of the restore list, when no step is left but something still stands undone"`
	Say     string `json:"say" help:"the same in words, with the reason"`
}

// OrderOut is the order of work as it stands.
type OrderOut struct {
	Steps              []Step    `json:"steps" help:"the chain, in order"`
	Next               Next      `json:"next" help:"what to do next"`
	RestoreList        []Restore `json:"restoreList" help:"what is undone now and has to be put back before finishing"`
	Planned            []Planned `json:"planned" help:"looks to be taken later"`
	MayStart           bool      `json:"mayStart" help:"whether the engine may be started"`
	MayNotStartBecause []string  `json:"mayNotStartBecause" help:"why not"`
	MayFinish          bool      `json:"mayFinish" help:"whether the restore list is empty"`
	Sources            []string  `json:"sources" help:"where the rules come from"`
}

// Order holds what was measured and done against the chain of work:
//
//	done     judged pass or watch after the last change that touches the step
//	again    failed, or touched by a change since
//	blocked  not done, and a step it needs is not done, or one that stops it failed
//	unknown  judged unknown, or not known whether the car has such a part
//	due      none of these; also a step begun and looked at in part
//
// The next thing is the first step in the chain that is due, again or
// unknown; when there is none, what is still to be put back. New points plan
// a re-check 100 to 500 miles later. Refused: a date that is none. Sources:
// common practice; the chain and what each change undoes stand in chain.go.
func Order(in OrderIn) (OrderOut, error) {
	j := &job{in: in, events: slices.Clone(in.Visits)}
	j.out = OrderOut{RestoreList: []Restore{}, Planned: []Planned{}, MayNotStartBecause: []string{}, MayStart: true,
		Sources: []string{"order of work and what each change undoes: common practice",
			"re-check of new points at 100 to 500 miles: owners' forums, common practice",
			"40 minutes with the pipe off: chosen"}}
	if bad := j.sort(); bad != nil {
		return OrderOut{}, bad
	}
	j.walk()
	j.planRecheck()
	j.states()
	j.restoreList()
	j.out.MayFinish = len(j.out.RestoreList) == 0
	j.out.Next = j.next()
	return j.out, nil
}

// job is one car while it is looked at.
type job struct {
	in      OrderIn
	events  []Event
	now     *float64
	judged  map[string]*Event // last judgement of each step
	touched map[string]*Event // last change that undid each step since then
	recheck string            // why points are to be looked at again, from the plan
	out     OrderOut
}

// sort puts the events in order of time and checks every date.
func (j *job) sort() *refuse.Error {
	at := map[string]float64{}
	for i, e := range j.in.Visits {
		minutes, bad := minutesOf(fmt.Sprintf("visits[%d].at", i), e.At)
		if bad != nil {
			return bad
		}
		at[e.At] = minutes
	}
	slices.SortStableFunc(j.events, func(a, b Event) int { return cmp.Compare(at[a.At], at[b.At]) })
	if j.in.Now == "" {
		return nil
	}
	minutes, bad := minutesOf("now", j.in.Now)
	if bad == nil {
		j.now = &minutes
	}
	return bad
}

// walk keeps, for each step, its last judgement and the last change after it.
func (j *job) walk() {
	j.judged, j.touched = map[string]*Event{}, map[string]*Event{}
	for i := range j.events {
		e := &j.events[i]
		if c := changeOf(e.Changed); c != nil {
			for _, id := range c.again {
				j.touched[id] = e
			}
		}
		if e.Step != "" && e.Verdict != "" {
			j.judged[e.Step] = e
			delete(j.touched, e.Step)
		}
	}
}

// good tells whether an event judged its whole step good enough to go on.
func good(e *Event) bool {
	return e != nil && !e.Partly && (e.Verdict == finding.Pass || e.Verdict == finding.Watch)
}
