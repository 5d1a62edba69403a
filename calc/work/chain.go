package work

// link is one step of the chain.
type link struct {
	id, name string
	// needs are steps that must be done before this one.
	needs []string
	// stops are steps that stop this one only once they have failed: not
	// having been looked at, they come first but do not forbid it.
	stops []string
	// beside is looked at beside the chain: it does not come next before the
	// others are done, unless it has failed.
	beside bool
	why    string
}

// chain is the order of work (common practice: mechanical before ignition,
// dwell before timing, timing before the carburettor).
var chain = []link{
	{id: "fit", name: "engine fit to tune",
		why: "no timing cures low compression, wrong valve clearances or an air leak"},
	{id: "wear", name: "wear of the distributor", stops: []string{"fit"}, why: "no setting cures wear"},
	{id: "feed", name: "volts along the feed", beside: true,
		why: "half a volt lost in a switch looks like a bad coil"},
	{id: "points", name: "points: gap and dwell", stops: []string{"fit", "wear"},
		why: "one degree of dwell is one crank degree of timing, so dwell comes first"},
	{id: "spark", name: "spark: coil and polarity", beside: true,
		why: "a weak or reversed spark fails first under load"},
	{id: "static", name: "static timing", needs: []string{"points"}, stops: []string{"fit", "wear"},
		why: "it proves the base with the weights fully in, and lets the engine start"},
	{id: "base", name: "base by strobe", needs: []string{"points"}, stops: []string{"fit", "wear"},
		why: "the base moves every speed alike"},
	{id: "curve", name: "advance curve", needs: []string{"points"}, stops: []string{"fit", "wear"},
		why: "a right figure at idle proves nothing about the curve"},
	{id: "vacuum", name: "vacuum capsule", stops: []string{"wear"},
		why: "a dead capsule is hardly noticed when driving, so it must be tested"},
	{id: "idle", name: "idle speed", needs: []string{"base"}, stops: []string{"fit", "curve"},
		why: "timing and capsule move the idle"},
	{id: "mixture", name: "mixture", needs: []string{"base", "idle"},
		stops: []string{"fit", "feed", "spark", "curve", "vacuum"},
		why:   "the carburettor comes last: most trouble blamed on it is ignition"},
}

// change is something done to the car, with the steps it makes to be done
// again.
type change struct {
	id, said string
	again    []string
}

// changes and what they undo. Dwell moves timing, the body moves the base,
// timing moves the idle (all common practice; the first is arithmetic).
var changes = []change{
	{"engine-work", "work on the engine", []string{"fit", "static", "base", "idle", "mixture"}},
	{"distributor-rebuilt", "the distributor rebuilt",
		[]string{"wear", "points", "static", "base", "curve", "idle", "mixture"}},
	{"points-fitted", "new points", []string{"points", "static", "base", "idle", "mixture"}},
	{"dwell-set", "a change of gap or dwell", []string{"static", "base", "idle", "mixture"}},
	{"distributor-fitted", "the distributor taken out and fitted", []string{"static", "base", "idle", "mixture"}},
	{"distributor-moved", "the distributor turned", []string{"static", "base", "idle", "mixture"}},
	{"mark-moved", "a new timing mark", []string{"static", "base"}},
	{"curve-changed", "a change of springs, posts, weights or stop", []string{"curve", "base", "idle", "mixture"}},
	{"capsule-changed", "a change of capsule", []string{"vacuum", "idle", "mixture"}},
	{"pipe-moved", "the vacuum pipe moved to another port", []string{"vacuum", "idle", "mixture"}},
	{"idle-set", "a change of idle speed", []string{"mixture"}},
	{"fuel-changed", "another fuel", []string{"curve"}},
}

// Re-check of new points: the heel beds in, mostly within the first 100 to
// 500 miles (owners' forums, common practice).
const (
	recheckFromMiles = 100
	recheckToMiles   = 500
)

func changeOf(id string) *change {
	for i := range changes {
		if changes[i].id == id {
			return &changes[i]
		}
	}
	return nil
}

func stepName(id string) string {
	for _, l := range chain {
		if l.id == id {
			return l.name
		}
	}
	return id
}
