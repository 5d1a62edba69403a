package faults

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/refuse"
)

// Strange is what always stays with trouble that is on no list: one hunt in a
// hundred ends outside it, whatever the figures say (judgement). So nothing is
// ever certain.
const Strange = 0.01

// stillWorth: below one in a hundred a cause is no longer named as possible
// (chosen); it stays in the list.
const stillWorth = 0.01

// hunt is one case while it is worked at.
type hunt struct {
	k      *knowledge
	in     In
	g      figures
	all    []evidence
	done   map[int]bool // tests that are not asked
	start  belief
	now    belief
	likely [][]float64 // by evidence, by hypothesis
}

// Rank gives the likeliest causes of what a car does, with what moved each, and
// the tests that tell most for their minutes.
//
// Hypotheses are none of the causes listed, one, or two at once. Each starts
// with its share of all cars that run badly and is multiplied by the
// likelihood of what was told and measured, and all are gone through:
//
//	P(h | e1, e2, …) ∝ P(h) · P(e1 | h) · P(e2 | h) · …
//
// Symptoms: nine in ten are what the car has, one is misheard; what was not
// told says nothing. A cause whose part was changed before the trouble began
// counts three times. A test gives its outcome nine, seven or four and a half
// times in ten with a cause that is decisive, supporting or unreliable for it,
// and as often as its file says without. A figure near its limit speaks for
// both sides. One in a hundred always stays with what is on no list.
// The next test is the one with most expected bits a minute; where two differ
// by less than a tenth, the one with the engine off, then the shorter.
//
// Refused: an id that is not on the list, the same one twice, an outcome the
// test does not have, a figure of another unit or beyond what can be.
// Sources: the trade's priors and tests (judgement), data/*.json; the rule of
// choosing tests by what they tell for what they cost: D. Heckerman, J. Breese,
// K. Rommelse, Decision-Theoretic Troubleshooting, Comm. ACM 38 (1995).
func Rank(in In) (Out, error) {
	h, bad := newHunt(in)
	if bad != nil {
		return Out{}, bad
	}
	return h.out(), nil
}

func newHunt(in In) (*hunt, *refuse.Error) {
	h := &hunt{k: known(), in: in, g: figuresOf(in.Car, in.Facts), done: map[int]bool{}}
	if bad := in.check(); bad != nil {
		return nil, bad
	}
	t := h.k.told
	times := h.k.times(in.Car)
	h.start = h.k.net.start(t, times)
	h.now = slices.Clone(h.start)
	for _, step := range []func() *refuse.Error{h.symptoms, h.changed, h.observations} {
		if bad := step(); bad != nil {
			return nil, bad
		}
	}
	f := &file{k: h.k, in: h.in, g: h.g, known: map[int]bool{}}
	for _, e := range h.all {
		f.known[e.test] = true
	}
	f.gather()
	for test := range f.known {
		h.done[test] = true
	}
	h.all = append(h.all, f.all...)
	for _, e := range h.all {
		likelihood := e.likelihood
		if likelihood == nil {
			likelihood = h.k.net.nodes[e.test].seen(e.weights, make([]float64, len(h.now)))
		}
		h.likely = append(h.likely, likelihood)
		h.now.times(likelihood)
	}
	return h, nil
}

// times are the factors of the causes that a car cannot have: 0; else 1.
func (k *knowledge) times(c Car) []float64 {
	out := make([]float64, len(k.causes))
	for i, one := range k.causes {
		if !c.lacks(one.Needs) {
			out[i] = 1
		}
	}
	return out
}

// lacks tells whether a car is known not to have what a cause or test needs.
func (c Car) lacks(needs string) bool {
	switch needs {
	case "points":
		return c.Trigger == "electronic"
	case "electronic":
		return c.Trigger == "points"
	case "capsule":
		return c.Capsule == "none"
	case "carburettors":
		return c.Carburettors == 1
	}
	return false
}

// symptoms adds what was told.
func (h *hunt) symptoms() *refuse.Error {
	said := map[string]bool{}
	for i, id := range h.in.Symptoms {
		path := fmt.Sprintf("symptoms[%d]", i)
		e := evidence{id: "other", kind: "symptom", text: "something that is not on the list", test: none}
		likelihood := make([]float64, len(h.now))
		found, is := plain(id, h.k.symAt)
		switch {
		case strings.EqualFold(id, "other"):
			found, e.likelihood = "other", h.k.net.tellsUnlisted(likelihood)
		case is:
			at := h.k.symAt[found]
			e.id, e.text = found, h.k.symptoms[at].Name
			e.likelihood = h.k.net.tells(h.k.told, at, likelihood)
		default:
			return refuse.Input(path, fmt.Sprintf("%.20q is no symptom of the list", id), "S01 to S32, or other",
				"take the id from the list; other for what is not on it")
		}
		if said[found] {
			return twice(path, found)
		}
		said[found] = true
		h.all = append(h.all, e)
	}
	return nil
}

// changed weighs up what was changed before the trouble began.
func (h *hunt) changed() *refuse.Error {
	said := map[string]bool{}
	for i, id := range h.in.LastChanged {
		path := fmt.Sprintf("lastChanged[%d]", i)
		found, is := plain(id, h.k.causeAt)
		if !is {
			return refuse.Input(path, fmt.Sprintf("%.20q is no cause of the list", id),
				"IG01 to IG33, FU01 to FU11, ME01 to ME13", "name the cause whose part was changed")
		}
		if said[found] {
			return twice(path, found)
		}
		said[found] = true
		likelihood := make([]float64, len(h.now))
		for n, hyp := range h.k.net.hyps {
			likelihood[n] = 1
			if hyp.has(h.k.causeAt[found]) {
				likelihood[n] = changedLast
			}
		}
		h.all = append(h.all, evidence{id: found, kind: "changed", test: none, likelihood: likelihood,
			text: "changed before the trouble began: " + h.k.causes[h.k.causeAt[found]].Name})
	}
	return nil
}

// observations adds the tests that were done, and remembers those that could
// not be.
func (h *hunt) observations() *refuse.Error {
	for i, o := range h.in.Observations {
		path := fmt.Sprintf("observations[%d]", i)
		found, is := plain(o.ID, h.k.testAt)
		if !is || h.k.tests[h.k.testAt[found]].Minutes == 0 {
			return refuse.Input(path+".id", fmt.Sprintf("%.20q is no test of the list", o.ID), "T1 to T55",
				"take the id from nextTests")
		}
		at := h.k.testAt[found]
		if h.done[at] {
			return twice(path+".id", found)
		}
		h.done[at] = true
		if o.Result == "undone" {
			continue
		}
		t := h.k.tests[at]
		w, bad := t.observed(path, o, h.in.Car, h.g)
		if bad != nil {
			return bad
		}
		e := evidence{id: found, kind: "test", test: at, weights: w, text: t.Name + ": " + t.likeliest(w)}
		if found == "T2" && o.Value != nil && h.in.Car.is("plain") {
			// a loss that was measured, with no ballast between, tells of nothing but the feed
			e.test = h.k.testAt["F.feed-loss"]
			e.weights = h.k.tests[e.test].between(1, over(h.g["batteryV"]-*o.Value, h.g["feedDropV"]))
		}
		if o.Result == "not" && o.Seen == "" && o.Value == nil {
			e.text = t.Name + ": not as expected"
		}
		h.all = append(h.all, e)
	}
	return nil
}

func twice(path, id string) *refuse.Error {
	return refuse.Input(path, id+" is given twice", "once each", "keep the newest and leave the other out")
}

// check refuses what the tags cannot.
func (in In) check() *refuse.Error {
	if v := in.Car.NominalV; v != nil && *v != 6 && *v != 12 {
		return refuse.Input("car.nominalV", fmt.Sprintf("%g V is no system this knows", *v), "6 or 12",
			"give the car's nominal volts, not what was measured")
	}
	for _, pair := range []struct {
		name     string
		low, top *float64
	}{{"gapMaxMm", in.Car.GapMinMm, in.Car.GapMaxMm},
		{"dwellMaxDistDeg", in.Car.DwellMinDistDeg, in.Car.DwellMaxDistDeg}} {
		if pair.low != nil && pair.top != nil && *pair.top < *pair.low {
			return refuse.Input("car."+pair.name, fmt.Sprintf("%g is below the least, %g", *pair.top, *pair.low),
				"not below the least", "look at the book's two figures")
		}
	}
	for i, c := range in.Facts.Checks {
		if _, is := checkOf(c.ID); !is {
			return refuse.Input(fmt.Sprintf("facts.checks[%d].id", i), fmt.Sprintf("%.20q is no check", c.ID),
				"B1 to B30", "take the id from condition.list")
		}
	}
	sum := 0.0
	for _, a := range in.Facts.Accounts {
		sum += a.Share
	}
	if sum > 1.001 {
		return refuse.Input("facts.accounts", fmt.Sprintf("the shares add up to %.3g", sum), "1 in all",
			"give them as advance.judge gives them")
	}
	return nil
}

// shares gives for each cause what it has, and what is left for none: the
// belief, less the part that always stays with what is on no list.
func (h *hunt) shares(b belief) (causes []float64, rest float64) {
	causes = h.k.net.marginals(b)
	for i := range causes {
		causes[i] *= 1 - Strange
	}
	return causes, Strange + (1-Strange)*b[0]
}

// out puts the answer together.
func (h *hunt) out() Out {
	shares, rest := h.shares(h.now)
	why := h.because(shares)
	out := Out{None: Unlisted{Probability: rest, Says: "something that is on no list here"}, Sureness: "possible",
		Together: h.together(), NextTests: h.next(), StillPossible: []string{}, Assumed: h.assumed(),
		Working: h.working(),
		Sources: []string{"priors, likelihoods and minutes: judgement of the trade, no counts are known",
			"limits of figures: as in condition.list and supply.judge; each stands in the working of its own page",
			"choice of tests by what they tell for what they cost: Heckerman, Breese, Rommelse, Comm. ACM 38 (1995)"}}
	order := make([]int, len(shares))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(shares[b], shares[a]) })
	for _, i := range order {
		c := h.k.causes[i]
		out.Causes = append(out.Causes, Suspect{ID: c.ID, Name: c.Name, Family: c.Family, Probability: shares[i],
			About: c.About, Mend: c.Mend, Basis: c.Basis, Because: why[i]})
		if shares[i] >= stillWorth {
			out.StillPossible = append(out.StillPossible, c.ID)
		}
	}
	switch top := out.Causes[0].Probability; {
	case top >= 0.97:
		out.Sureness = "sure"
	case top >= 0.75:
		out.Sureness = "likely"
	}
	out.Summary = h.summary(out)
	return out
}

// together lists the likeliest pairs.
func (h *hunt) together() []Together {
	out := []Together{}
	for i, hyp := range h.k.net.hyps {
		if p := (1 - Strange) * h.now[i]; hyp.b != none && p >= stillWorth {
			a, b := h.k.causes[hyp.a], h.k.causes[hyp.b]
			out = append(out, Together{IDs: []string{a.ID, b.ID}, Names: []string{a.Name, b.Name}, Probability: p})
		}
	}
	slices.SortStableFunc(out, func(a, b Together) int { return cmp.Compare(b.Probability, a.Probability) })
	return out[:min(5, len(out))]
}

// summary says how it stands.
func (h *hunt) summary(out Out) string {
	first, second := out.Causes[0], out.Causes[1]
	in100 := func(p float64) string { return fmt.Sprintf("%.0f in 100", math.Floor(100*p)) }
	next := " Nothing is left to test here."
	if len(out.NextTests) > 0 {
		next = " Next: " + out.NextTests[0].Name + "."
	}
	switch {
	case out.None.Probability > first.Probability:
		return "Nothing on the list fits what was told and measured; look beyond it." + next
	case len(out.Together) > 0 && out.Together[0].Probability >= 0.5:
		t := out.Together[0]
		return "Two things at once: " + t.Names[0] + ", and " + t.Names[1] + ", " + in100(t.Probability) + "." + next
	case first.Probability >= 0.75:
		return "Most likely " + first.Name + ", " + in100(first.Probability) + "." + next
	case first.Probability >= 0.5:
		return "More likely than not " + first.Name + ", " + in100(first.Probability) + "." + next
	}
	return "Cannot tell yet. Likeliest: " + first.Name + ", " + in100(first.Probability) + "; then " +
		second.Name + ", " + in100(second.Probability) + "." + next
}

// assumed lists what was not said and taken.
func (h *hunt) assumed() []string {
	out := []string{}
	if h.in.Car.NominalV == nil {
		out = append(out, "car.nominalV not given: figures of a 12 V car")
	}
	if h.in.Facts.BatteryV == nil {
		out = append(out, fmt.Sprintf("facts.batteryV not given: %g V at the battery", h.g["batteryV"]))
	}
	if h.in.Car.Ballasted == nil {
		out = append(out, "car.ballasted not given: volts at the coil are held against nothing")
	}
	if h.in.Car.Trigger == "" {
		out = append(out, "car.trigger not given: points and an electronic trigger are both possible")
	}
	return out
}

// working says what was reckoned with.
func (h *hunt) working() []string {
	return []string{
		fmt.Sprintf("%d hypotheses: %d causes alone, every two of them, and none of them.", len(h.k.net.hyps),
			len(h.k.causes)),
		fmt.Sprintf("Two at once: %.0f in 100 beforehand. A symptom misheard: %.0f in 100. Changed last: ×%d. On no list: at least %.0f in 100.",
			100*double, 100*misheard, changedLast, 100*Strange),
		fmt.Sprintf("%d things told or measured, each multiplied in.", len(h.all)),
	}
}
