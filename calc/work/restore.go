package work

import "fmt"

// temporary is a thing undone for a while, to be put back before finishing.
type temporary struct {
	id, what string
	putBack  string
	// noStart: the engine must not be started while it stands.
	noStart string
	// noIgnition: what needs the ignition cannot be done while it stands.
	noIgnition string
	// afterMinutes: say so by itself after that long.
	afterMinutes float64
}

// temporaries are what people leave behind (common practice). 40 minutes is
// chosen: longer than any one check with the pipe off.
var temporaries = []temporary{
	{id: "vacuum-pipe", what: "vacuum pipe off and plugged",
		putBack: "unplug the pipe and put it back on the capsule", afterMinutes: 40},
	{id: "retard-hose", what: "retard pipe off and plugged", putBack: "unplug the pipe and put it back",
		afterMinutes: 40},
	{id: "piston-stop", what: "piston stop in the plug hole", putBack: "screw out the stop and fit the plug",
		noStart: "turning against the stop breaks piston and thread"},
	{id: "plugs-out", what: "plugs out", putBack: "fit the plugs", noStart: "the holes are open"},
	{id: "plug-leads", what: "plug leads off", putBack: "put the leads on, each on its own plug"},
	{id: "king-lead", what: "coil lead out of the cap, on earth",
		putBack: "push the coil lead fully into the cap and the coil", noStart: "the spark of the coil goes to earth"},
	{id: "coil-feed", what: "coil feed off", putBack: "put the feed back on the coil",
		noStart:    "the coil has no current",
		noIgnition: "the coil has no current: a test lamp or a meter shows nothing"},
	{id: "clamp-loose", what: "clamp of the distributor loose", putBack: "tighten the clamp and strobe again",
		noStart: "the body can turn by itself and the timing with it; hold it, or tighten the clamp"},
	{id: "clamp-light", what: "clamp of the distributor only lightly tight",
		putBack: "engine stopped: tighten the clamp, then strobe again"},
	{id: "card-in-points", what: "card between the points", putBack: "pull the card out"},
	{id: "ballast-bridged", what: "ballast bridged", putBack: "take the bridge off", afterMinutes: 5},
	{id: "ignition-on", what: "ignition on, engine still", putBack: "switch off", afterMinutes: 2},
	{id: "lamp-lead", what: "test lamp connected", putBack: "take the test lamp off"},
	{id: "strobe-leads", what: "strobe connected", putBack: "take its leads off, clear of the fan"},
	{id: "idle-screw", what: "idle screw turned away from its place", putBack: "set the idle speed"},
	{id: "cap-off", what: "distributor cap off", putBack: "fit the cap, both clips on", noStart: "the cap is off"},
	{id: "battery-off", what: "battery disconnected", putBack: "connect it, earth lead last",
		noStart:    "the starter has no current",
		noIgnition: "the ignition has no current: a test lamp or a meter shows nothing"},
	{id: "bonnet-prop", what: "bonnet on a prop of its own", putBack: "take the prop away"},
	{id: "other", what: "something else off or loose", putBack: "put it back"},
}

func temporaryOf(id string) temporary {
	for _, t := range temporaries {
		if t.id == id {
			return t
		}
	}
	return temporaries[len(temporaries)-1]
}

// restoreList walks the events and keeps what was undone and not put back.
func (j *job) restoreList() {
	for _, e := range j.events {
		for _, id := range e.Restored {
			j.drop(id, e.What)
		}
		for _, id := range e.Undone {
			j.drop(id, e.What)
			t := temporaryOf(id)
			r := Restore{ID: id, What: t.what, PutBack: t.putBack, Since: e.At, BlocksStart: t.noStart != "",
				BlocksIgnition: t.noIgnition != ""}
			if id == "other" && e.What != "" {
				r.What = e.What
			}
			j.out.RestoreList = append(j.out.RestoreList, r)
		}
	}
	for i := range j.out.RestoreList {
		j.age(&j.out.RestoreList[i])
	}
}

// drop takes an entry off; of the kind "other" the one with the same words.
func (j *job) drop(id, what string) {
	kept := []Restore{}
	for _, r := range j.out.RestoreList {
		if r.ID != id || id == "other" && what != "" && r.What != what {
			kept = append(kept, r)
		}
	}
	j.out.RestoreList = kept
}

// age says how long an entry has stood, when the time now is known.
func (j *job) age(r *Restore) {
	t := temporaryOf(r.ID)
	if t.noStart != "" {
		j.out.MayStart = false
		j.out.MayNotStartBecause = append(j.out.MayNotStartBecause, r.What+": "+t.noStart)
	}
	if j.now == nil {
		return
	}
	since, bad := minutesOf("", r.Since)
	if bad != nil || len(r.Since) <= len("2024-05-18") { // a day alone does not say how many minutes
		return
	}
	minutes := max(0, *j.now-since)
	r.Minutes = &minutes
	if t.afterMinutes > 0 && minutes >= t.afterMinutes {
		r.Overdue = true
		r.Say = fmt.Sprintf("%s for %.0f minutes now.", sentence(r.What), minutes)
	}
}
