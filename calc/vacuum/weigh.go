package vacuum

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/finding"
)

// Shares at which a story is called sure and likely, as in the room of the
// curve, and from which it is named at all (chosen).
const (
	sureShare   = 0.97
	likelyShare = 0.75
	namedShare  = 0.5
	askShare    = 0.03 // of a story about the sheet, beside a fault
)

func surenessOf(share float64) string {
	switch {
	case share >= sureShare:
		return "sure"
	case share >= likelyShare:
		return "likely"
	}
	return "possible"
}

// stories in words, by account.
var stories = map[string]string{
	"sound": "it does what its figures allow", "dead": "it does not move", "wrong-way": "it moves the wrong way",
	"long-travel": "it goes on beyond its stop", "more-travel": "it moves more at every vacuum",
	"short-travel": "it is stopped early", "less-travel": "it moves less at every vacuum",
	"spring-strong": "its spring is too strong", "preload-more": "its spring is wound too tight",
	"spring-weak": "its spring is too weak", "preload-less": "its spring is wound too slack",
	"sticking": "plate or link sticks", "other": "none of the usual faults",
	"crank-as-distributor": "crank degrees were typed as distributor degrees",
	"distributor-as-crank": "distributor degrees were typed as crank degrees",
	"totals":               "the figures hold base and advance, not the movement from rest",
	"totals-at-the-crank": "the figures are " +
		"whole timing in crank degrees, not the movement from rest",
	"vacuum-unit": "the vacuum was typed in another unit than it was read in",
}

// benchOf gathers what the accounts need of the book.
func (c *court) benchOf() *bench {
	deg, kPa := c.tolerances()
	b := &bench{tolerance: deg, shift: kPa, ratio: c.ratio}
	if len(c.in.Capsule.Table) == 0 {
		b.start, b.full, b.most = *c.out.Spec.StartKPa, *c.out.Spec.FullKPa, *c.out.Spec.MaxDistDeg
		return b
	}
	last := c.band[len(c.band)-1]
	b.table, b.full, b.most = c.band, last.kPa, math.Max(0.5, (last.low+last.high)/2)
	for _, k := range c.band {
		if k.low <= 0 {
			b.start = k.kPa
		}
	}
	return b
}

// byAccounts weighs the stories and says what they come to.
func (c *court) byAccounts() {
	b := c.benchOf()
	p := c.infer(b)
	c.listAccounts(p)
	slipped := c.slipFindings(p)
	if c.sheetFinding(p) {
		return
	}
	switch family, share := p.best(); {
	case family == "sound" && !c.reached(b.start+b.shift):
		c.pumpHigher()
	case family == "sound":
		c.soundVerdict(p, b, slipped)
	case share < namedShare:
		c.undecided(p)
	default:
		c.fault(family, share, p)
		c.askOfSheet(p)
	}
}

// best is the family with the largest share.
func (p posterior) best() (family string, share float64) {
	for _, a := range accounts { // in their order, so that the answer is always the same
		if s := p.family[a.family]; s > share {
			family, share = a.family, s
		}
	}
	return family, share
}

func (c *court) reached(kPa float64) bool {
	return slices.ContainsFunc(c.out.Points, func(p JudgedPoint) bool { return p.KPa >= kPa-rounding })
}

func (c *court) listAccounts(p posterior) {
	for i, a := range accounts {
		if p.shares[i] >= 0.01 {
			c.out.Accounts = append(c.out.Accounts, Account{a.id, p.shares[i], stories[a.id]})
		}
	}
	slices.SortStableFunc(c.out.Accounts, func(a, b Account) int { return cmp.Compare(b.Share, a.Share) })
	var words []string
	for _, a := range c.out.Accounts {
		words = append(words, fmt.Sprintf("%s %.0f %%", a.Words, 100*a.Share))
	}
	c.say("Weighed by all readings together: %s.", strings.Join(words, "; "))
}

// slipFindings puts aside readings that look mistyped.
func (c *court) slipFindings(p posterior) bool {
	found := false
	for i := range c.out.Points {
		r := &c.out.Points[i]
		ten, any := p.ten[i], p.slip[i]
		if ten+any < namedShare {
			continue
		}
		f := finding.Finding{Code: "suspect-reading", Title: fmt.Sprintf("Reading %d stands alone", r.Reading+1),
			Part: "the figure as entered", Direction: "check before touching anything",
			Sureness: atMostLikely(ten + any), DisprovedBy: "the same reading taken again, alike",
			Text:    "It does not go with the others. Read it again; until then nothing is judged by it.",
			Working: []string{fmt.Sprintf("%s: %.3g distributor degrees.", both(r.KPa), r.MeasuredDistDeg)}}
		question := fmt.Sprintf("Is reading %d at %s right?", r.Reading+1, both(r.KPa))
		c.suspect("reading")
		if ten > any {
			f.Code, f.Title = "suspect-tenfold", fmt.Sprintf("Reading %d may have its decimal point in the wrong place",
				r.Reading+1)
			question = fmt.Sprintf("Is the decimal point of reading %d right: %.3g degrees at %s?", r.Reading+1,
				r.MeasuredDistDeg, both(r.KPa))
			c.suspect("tenfold")
		}
		r.Verdict = finding.Unknown
		c.ask(question)
		c.add(finding.Unknown, f)
		found = true
	}
	return found
}

func (c *court) suspect(what string) {
	if c.out.Suspicion == "none" || what == "tenfold" {
		c.out.Suspicion = what
	}
}

// atMostLikely: a doubt about a figure is never sure; only the sheet tells.
func atMostLikely(share float64) string { return surenessOf(math.Min(share, sureShare-0.01)) }

// sheetQuestions by family.
var sheetQuestions = map[string]string{
	"suspect-crank": "Were the degrees read at the crank, by strobe? They would then be crank degrees and count " +
		"half at the distributor.",
	"suspect-distributor": "Were the degrees read at the distributor? They would then count twice as much as typed.",
	"suspect-totals": "Do the degrees hold the base and the centrifugal advance? What is wanted is the movement " +
		"from rest: 0 with the pipe off.",
	"suspect-vacuum-unit": "In which unit was the vacuum read: inHg, mmHg or kPa?",
}

// sheetFinding: a story about the sheet that outweighs every other is a question
// and no fault.
func (c *court) sheetFinding(p posterior) bool {
	family, share := p.best()
	if sheetQuestions[family] == "" {
		return false
	}
	title := map[string]string{"suspect-crank": "These look like crank degrees typed as distributor degrees",
		"suspect-distributor": "These look like distributor degrees typed as crank degrees",
		"suspect-totals":      "These look like whole timing, not the movement of the capsule",
		"suspect-vacuum-unit": "The vacuum looks as if typed in another unit"}[family]
	c.out.Suspicion = map[string]string{"suspect-crank": "crank-as-distributor",
		"suspect-distributor": "distributor-as-crank", "suspect-totals": "totals",
		"suspect-vacuum-unit": "vacuum-unit"}[family]
	c.ask(sheetQuestions[family])
	c.add(finding.Unknown, finding.Finding{Code: family, Title: title, Part: "the figures as entered",
		Direction: "check before touching anything", Sureness: atMostLikely(share),
		Text:        "Read so, the capsule would be in order. Settle that first; nothing is bought or bent before.",
		DisprovedBy: "one reading taken again with its unit looked at: as typed",
		Working:     []string{fmt.Sprintf("%.0f in 100 speak for this.", 100*share)}})
	return true
}

// askOfSheet puts the question beside a fault where the sheet may be to blame.
func (c *court) askOfSheet(p posterior) {
	for _, family := range []string{"suspect-crank", "suspect-distributor", "suspect-totals", "suspect-vacuum-unit"} {
		if p.family[family] >= askShare {
			c.ask(sheetQuestions[family])
		}
	}
}

// soundVerdict: pass where the story of a sound unit is at least likely, watch
// where a reading lies outside the figures or the story is only possible.
func (c *court) soundVerdict(p posterior, b *bench, slipped bool) {
	verdict := finding.Pass
	for _, point := range c.out.Points {
		if point.Verdict == finding.Watch || point.Verdict == finding.Fail {
			verdict = finding.Watch
		}
	}
	if p.family["sound"] < likelyShare {
		verdict = finding.Watch
		c.ask("These readings fit a sound capsule best, and something else nearly as well. Read it again in smaller steps, " +
			"up and down.")
	}
	if slipped { // a question stands open: the rest is neither passed nor doubted for it
		verdict = finding.Unknown
	}
	c.concluded = finding.Worse(c.concluded, verdict)
	if !c.reached(b.full - b.shift) {
		c.ask(fmt.Sprintf("How far it goes in all was not read: pump on to %s.", both(b.full+b.shift)))
	}
}

// fault names a family, as sure as its share.
func (c *court) fault(family string, share float64, p posterior) {
	sureness, verdict := surenessOf(share), finding.Watch
	if share >= likelyShare {
		verdict = finding.Fail
	}
	switch family {
	case "dead":
		c.dead(sureness, verdict)
	case "wrong-way":
		c.wrongWay(sureness, verdict)
	case "too-much":
		c.tooMuch(sureness, verdict)
	case "short":
		c.short(sureness, verdict, p.share("spring-strong")+p.share("preload-more") > p.share("short-travel")+
			p.share("less-travel"))
	case "early-start":
		c.early(sureness, verdict)
	case "sticking":
		c.sticking(sureness, verdict)
	default:
		c.erratic(sureness)
	}
}

func (p posterior) share(id string) float64 {
	return p.shares[slices.IndexFunc(accounts, func(a account) bool { return a.id == id })]
}

// undecided names no part: the stories stand side by side with their shares.
func (c *court) undecided(p posterior) {
	var words []string
	for _, a := range c.out.Accounts[:min(3, len(c.out.Accounts))] {
		words = append(words, fmt.Sprintf("%s (%.0f of 100)", a.Words, 100*a.Share))
	}
	c.askOfSheet(p)
	c.add(finding.Watch, finding.Finding{Code: "undecided", Title: "The readings do not decide what it is",
		Part: partCapsule, Sureness: "possible",
		Text: "Most weight have: " + strings.Join(words, "; ") + ". Read it again in smaller steps, going up and " +
			"coming down through the same vacuums, to full travel and past it.",
		DisprovedBy: "a second set of readings in smaller steps"})
}
