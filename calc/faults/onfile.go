package faults

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// evidence is one thing known: what it says of a test's outcomes, or (test
// none) a likelihood of its own.
type evidence struct {
	id, kind, text string
	test           int
	weights        []float64
	likelihood     []float64
}

// file turns what is on file into evidence. What a person measured beats what
// a check concluded of the same test; an observation of this hunt beats both.
type file struct {
	k     *knowledge
	in    In
	g     figures
	known map[int]bool // tests that are answered already
	all   []evidence
}

// add puts one row in, unless its test is answered.
func (f *file) add(kind, id, test, text string, weights []float64) {
	at := f.k.testAt[test]
	if weights == nil || f.known[at] {
		return
	}
	f.known[at] = true
	f.all = append(f.all, evidence{id: id, kind: kind, text: text, test: at, weights: weights})
}

// figure puts in a figure that the test itself judges.
func (f *file) figure(id, test string, v *float64, unit string) {
	if v == nil {
		return
	}
	t := f.k.tests[f.k.testAt[test]]
	if w, known := t.judged(*v, f.in.Car, f.g); known {
		f.add("fact", id, test, fmt.Sprintf("%s: %.3g %s, %s", t.Name, *v, unit, t.likeliest(w)), w)
	}
}

// limited puts in a figure that may be limit at most, or else gives an outcome.
func (f *file) limited(id, test, outcome string, v *float64, limit float64, unit string) {
	if v == nil {
		return
	}
	t := f.k.tests[f.k.testAt[test]]
	w := t.between(t.outcomeAt(outcome), over(*v, limit))
	f.add("fact", id, test, fmt.Sprintf("%s: %.3g %s, %s", t.Name, *v, unit, t.likeliest(w)), w)
}

// seen puts in an outcome.
func (f *file) seen(id, test, outcome string) {
	if outcome == "" {
		return
	}
	t := f.k.tests[f.k.testAt[test]]
	f.add("fact", id, test, t.Name+": "+t.Outcomes[t.outcomeAt(outcome)].Says, t.only(t.outcomeAt(outcome)))
}

// likeliest says in words the outcome that weights speak for most.
func (t test) likeliest(w []float64) string {
	best := 0
	for o := range w {
		if w[o] > w[best] {
			best = o
		}
	}
	return t.Outcomes[best].Says
}

// gather reads all facts, the ones that are most direct first.
func (f *file) gather() {
	x := f.in.Facts
	f.volts(x)
	f.seen("polarity", "T34", map[string]string{"right": "right", "reversed": "reversed"}[x.Polarity])
	f.figure("dwellVariationDistDeg", "T9", x.DwellVariationDistDeg, "distributor degrees")
	f.figure("gapMm", "T33", x.GapMm, "mm")
	f.dwell(x.DwellDistDeg)
	f.condenser(x)
	f.figure("jitterCrankDeg", "T10", x.JitterCrankDeg, "crank degrees")
	f.figure("markErrorCrankDeg", "T13", x.MarkErrorCrankDeg, "crank degrees")
	f.accounts(x)
	f.figure("baseFoundCrankDeg", "T11", x.BaseFoundCrankDeg, "crank degrees before TDC")
	f.limited("scatterWorstDistDeg", "F.scatter", "uneven", x.ScatterWorstDistDeg, scatterMost, "distributor degrees")
	f.compression(x)
	f.seen("capsule", "T14", map[string]string{"pass": "holds", "fail": "leaks"}[x.Capsule])
	if x.Capsule == "watch" {
		t := f.k.tests[f.k.testAt["T14"]]
		f.add("fact", "capsule", "T14", "the capsule is to be watched", t.between(t.outcomeAt("leaks"), watched))
	}
	f.manifold(x.ManifoldKPa)
	f.spark(x.Spark)
	f.plugs(x.Plugs)
	f.checks(x.Checks)
}

// volts are those along the feed, of the battery and of the charging.
func (f *file) volts(x Facts) {
	f.feedDrop(x)
	f.feedV(x.FeedV)
	if f.in.Car.is("plain") && x.FeedRunningDropV != nil {
		f.lost("feedRunningDropV", *x.FeedRunningDropV, runningDrop, fmt.Sprintf("%.3g V lost, engine running",
			*x.FeedRunningDropV))
	}
	f.figure("pointsDropV", "T3", x.PointsDropV, "V")
	f.limited("bodyDropV", "F.body-earth", "loses", x.BodyDropV, bodyDrop, "V")
	f.figure("chargingV", "T30", x.ChargingV, "V")
	f.figure("crankingV", "T38", x.CrankingV, "V")
	f.limited("strapDropV", "T38", "bad", x.StrapDropV, strapDrop, "V")
}

// feedDrop is the loss along the feed. Where the current was read beside it, the
// loss is reckoned up to the current that this car's coil takes:
//
//	loss at full current = loss · current by the ohms / current read
func (f *file) feedDrop(x Facts) {
	if x.FeedDropV == nil || x.FeedA != nil && *x.FeedA < leastFlow {
		return
	}
	lost := *x.FeedDropV
	text := fmt.Sprintf("%.3g V lost from battery to coil", lost)
	if !f.in.Car.is("plain") {
		at := f.g["batteryV"] - lost
		f.feedV(&at)
		return
	}
	if full, has := f.g["currentA"]; has && x.FeedA != nil {
		lost *= full / *x.FeedA
		text += fmt.Sprintf(" at %.3g A, %.3g V at the coil's %.3g A", *x.FeedA, lost, full)
	}
	f.lost("feedDropV", lost, f.g["feedDropV"], text)
}

// lost puts in a loss along a feed without ballast, which tells of nothing but
// the feed; the volts at the coil need not be asked then.
func (f *file) lost(id string, volts, limit float64, text string) {
	if f.known[f.k.testAt["T2"]] {
		return
	}
	t := f.k.tests[f.k.testAt["F.feed-loss"]]
	w := t.between(1, over(volts, limit))
	f.add("fact", id, t.ID, text+": "+t.likeliest(w), w)
	f.known[f.k.testAt["T2"]] = true
}

// feedV is the volts at the coil, points closed.
func (f *file) feedV(v *float64) {
	switch {
	case v != nil && f.in.Car.is("plain"):
		f.lost("feedV", f.g["batteryV"]-*v, f.g["feedDropV"], fmt.Sprintf("%.3g V at the coil of %.3g V", *v,
			f.g["batteryV"]))
	case v != nil:
		f.figure("feedV", "T2", v, "V")
	}
}

// dwell against the book's, where no gap is on file: more dwell is less gap.
func (f *file) dwell(v *float64) {
	low, hasLow := f.g["dwellMin"]
	high, hasHigh := f.g["dwellMax"]
	if v == nil || !hasLow || !hasHigh {
		return
	}
	t := f.k.tests[f.k.testAt["T33"]]
	w := t.between(t.outcomeAt("closed"), beyond(*v-high, 2*(high-low)))
	if *v < (low+high)/2 {
		w = t.between(t.outcomeAt("wide"), beyond(low-*v, 2*(high-low)))
	}
	f.add("fact", "dwellDistDeg", "T33", fmt.Sprintf("dwell %.3g distributor degrees, book %g to %g: %s", *v, low, high,
		t.likeliest(w)), w)
}

// condenser: a leak tells more than a size.
func (f *file) condenser(x Facts) {
	switch {
	case x.CondenserLeaks != nil && *x.CondenserLeaks:
		f.seen("condenserLeaks", "F.condenser", "leaks")
	case x.CondenserMicroF != nil:
		t := f.k.tests[f.k.testAt["F.condenser"]]
		off := max(condLow-*x.CondenserMicroF, *x.CondenserMicroF-condHigh)
		w := t.between(t.outcomeAt("size"), beyond(off, condHigh))
		if x.CondenserLeaks == nil {
			w = t.blind(w, "leaks")
		}
		f.add("fact", "condenserMicroF", "F.condenser", fmt.Sprintf("condenser %.3g µF, %g to %g is usual",
			*x.CondenserMicroF, condLow, condHigh), w)
	case x.CondenserLeaks != nil:
		t := f.k.tests[f.k.testAt["F.condenser"]]
		f.add("fact", "condenserLeaks", "F.condenser", "the condenser does not leak", t.blind(t.only(0), "size"))
	}
}

// compression: the lowest against the highest; oil, and whether two neighbours
// are low, tell which.
func (f *file) compression(x Facts) {
	if len(x.CompressionKPa) < 2 {
		return
	}
	t := f.k.tests[f.k.testAt["T16"]]
	highest, lowest := slices.Max(x.CompressionKPa), slices.Min(x.CompressionKPa)
	if highest <= 0 {
		return
	}
	below := 100 * (highest - lowest) / highest
	outcome := "valve"
	at := slices.Index(x.CompressionKPa, lowest)
	isLow := func(i int) bool {
		return i >= 0 && i < len(x.CompressionKPa) && x.CompressionKPa[i] < highest*(1-spread/100.0)
	}
	switch {
	case len(x.CompressionOiledKPa) == len(x.CompressionKPa) &&
		x.CompressionOiledKPa[at] > lowest+0.5*(highest-lowest): // half of it back: judgement
		outcome = "rings"
	case isLow(at) && (isLow(at-1) || isLow(at+1)):
		outcome = "neighbours"
	}
	w := t.between(t.outcomeAt(outcome), over(below, spread))
	f.add("fact", "compressionKPa", "T16", fmt.Sprintf("compression %.3g to %.3g kPa, the lowest %.0f %% down", lowest,
		highest, below), w)
}

// manifold vacuum by itself tells only whether it is low.
func (f *file) manifold(v *float64) {
	if v == nil {
		return
	}
	t := f.k.tests[f.k.testAt["T17"]]
	w := t.blind(t.between(t.outcomeAt("low"), over(-*v, -f.g["vacLow"])), "flicks falls drifts")
	f.add("fact", "manifoldKPa", "T17", fmt.Sprintf("manifold vacuum %.3g kPa at idle, at least %.3g", *v,
		f.g["vacLow"]), w)
}

// spark as seen: none, weak where short or of a weak colour, else good.
func (f *file) spark(s Spark) {
	none := s.Colour == "none" || s.LengthMm != nil && *s.LengthMm == 0
	weak := s.Colour == "yellow" || s.Colour == "red" || s.LengthMm != nil && *s.LengthMm < sparkMm
	switch {
	case none:
		f.seen("spark", "T6", "none")
	case weak:
		f.seen("spark", "T6", "weak")
	case s.LengthMm != nil || s.Colour != "":
		f.seen("spark", "T6", "good")
	}
}

// plugs as found: what all show, or that one differs.
func (f *file) plugs(plugs []PlugFound) {
	if len(plugs) == 0 {
		return
	}
	looks := map[string]int{}
	for _, p := range plugs {
		looks[p.Look]++
	}
	all := func(names ...string) bool {
		n := 0
		for _, name := range names {
			n += looks[name]
		}
		return n == len(plugs)
	}
	outcome := "one"
	switch {
	case looks["specks"] > 0:
		outcome = "specks"
	case looks["damaged"] > 0:
		outcome = "wrong"
	case looks["oily"] > 0:
		outcome = "oily"
	case all("good"):
		outcome = "alike"
	case all("sooty", "wet"):
		outcome = "sooty"
	case all("white"):
		outcome = "white"
	}
	f.seen("plugs", "T21", outcome)
}

// checks of the condition room; two of one test each tell their part.
func (f *file) checks(checks []Checked) {
	made := map[int]int{} // test: its place in all
	done := map[string]bool{}
	for _, c := range checks {
		row, is := checkOf(c.ID)
		if !is || c.Result == "unknown" {
			continue
		}
		done[row.check] = true
		at := f.k.testAt[row.test]
		t := f.k.tests[at]
		w := row.weights(t, c.Result)
		text := "check " + strings.ToUpper(c.ID) + ", " + t.Name + ": " + c.Result
		if i, twice := made[at]; twice {
			f.all[i].text += "; " + text
			for o := range w {
				f.all[i].weights[o] = math.Min(f.all[i].weights[o], w[o])
			}
			continue
		}
		made[at] = len(f.all)
		before := len(f.all)
		f.add("check", row.check, row.test, text, w)
		if len(f.all) == before {
			delete(made, at)
		}
	}
	for test, needed := range answeredByChecks {
		if !slices.ContainsFunc(needed, func(id string) bool { return !done[id] }) {
			f.known[f.k.testAt[test]] = true
		}
	}
}
