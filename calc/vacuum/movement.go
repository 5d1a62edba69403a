package vacuum

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
)

const (
	partDiaphragm = "diaphragm of the capsule"
	partPlate     = "baseplate and link"
	partCapsule   = "capsule"

	armyLeak  = "leak test at 16 inHg: TM 5-4210-230-14&P-1 p. 556"
	armyPlate = "short going up and over coming down means a plate that sticks; short both ways means a spring too strong: US Army TM 9-4910-622-14&P, reading of an excerpt"
)

// Limits of the leak test: a drop under 1 inHg in 10 to 30 seconds is good
// (common practice).
const (
	leastSeconds = 10
	goodDrop     = inHg
)

// holdFinding judges the leak test.
func (c *court) holdFinding() {
	h := c.in.Hold
	if h == nil {
		c.ask("Does it hold vacuum? Pump to 54 kPa (16 inHg), seal, wait 10 to 30 seconds and read again. A holed capsule is hardly noticed on the road, so it has to be tested.")
		return
	}
	drop := h.StartKPa - h.EndKPa
	c.out.HoldDropKPa = &drop
	c.say("Leak test: %s, after %.0f s %s: %.1f kPa lost; good is at most %s in 10 to 30 s.", both(h.StartKPa),
		h.Seconds, both(h.EndKPa), drop, both(goodDrop))
	f := finding.Finding{Part: partDiaphragm, Sources: []string{"limit: common practice", armyLeak},
		DisprovedBy: "the same test with hose and pump sealed off from the capsule: if it still falls, the leak is in hose or pump"}
	switch {
	case drop <= goodDrop && h.Seconds >= leastSeconds:
		c.concluded = finding.Worse(c.concluded, finding.Pass)
	case drop <= goodDrop:
		c.ask(fmt.Sprintf("Wait longer: %.0f seconds do not show a slow leak; at least %d are wanted.", h.Seconds,
			leastSeconds))
	case drop > h.StartKPa*0.8: // all but gone
		f.Code, f.Title, f.Sureness, f.Direction = "holed", "The diaphragm is holed", "likely", "leaks fast"
		f.Text = "The vacuum was gone at once. There is no advance at light throttle: the engine runs hotter, uses more fuel and draws air through the hole. Fit another capsule; until then plug the pipe."
		f.Caution = "Fuel vapour can come through a hole into the distributor, where there are sparks. Do not run it long with the pipe on."
		c.add(finding.Fail, f)
	default:
		f.Code, f.Title, f.Sureness, f.Direction = "leaks", "The capsule leaks", "likely", "leaks slowly"
		f.Text = "It moves, but does not hold. The leak grows. Check the hose first, then plan another capsule."
		v := finding.Watch
		if h.Seconds <= 30 && drop > 3*goodDrop {
			v = finding.Fail
		}
		c.add(v, f)
	}
}

// movementFindings says what is wrong with how it moves.
func (c *court) movementFindings() {
	if len(c.out.Points) == 0 {
		c.ask(
			"How far does it move? Pump it up in steps and read the degrees, then let it down through the same steps.")
		return
	}
	least := math.Inf(1)
	for _, p := range c.out.Points {
		least = math.Min(least, p.MeasuredDistDeg)
	}
	most := *c.out.Measured.MaxDistDeg
	switch {
	case len(c.band) > 0:
		c.byAccounts()
	case least < -2*readingError && most <= readingError:
		c.wrongWay("likely", finding.Fail)
	case most <= readingError && c.pulledEnough():
		c.dead("likely", finding.Fail)
	case most <= readingError:
		c.pumpHigher()
	default:
		c.stickingByHysteresis()
	}
}

// pumpHigher asks for more vacuum where nothing moved yet and nothing need have.
func (c *court) pumpHigher() {
	c.concluded = finding.Worse(c.concluded, finding.Unknown)
	to := "50 kPa (15 inHg), where most capsules have moved"
	if s, f := c.out.Spec.StartKPa, c.out.Spec.FullKPa; s != nil && f != nil {
		to = fmt.Sprintf("%s; by its figures it begins at %s", both(*f), both(*s))
	}
	c.ask("The vacuum never came high enough to move it, so nothing is known yet. Pump on to " + to + ".")
}

// pulledEnough tells whether the vacuum applied should have moved it.
func (c *court) pulledEnough() bool {
	most := 0.0
	for _, p := range c.out.Points {
		most = math.Max(most, p.KPa)
	}
	if c.out.Spec.FullKPa != nil {
		return most >= *c.out.Spec.FullKPa-rounding
	}
	return most >= 50 // about 15 inHg; most capsules are all the way there (from memory)
}

func (c *court) dead(sureness, verdict string) {
	f := finding.Finding{Code: "dead", Part: partCapsule, Direction: "does not move", Sureness: sureness,
		Title:       "The capsule does nothing",
		Text:        "Full vacuum moves nothing. Either the diaphragm is holed, the link has come off, or the plate is seized. See whether the link moves when you push the plate by hand.",
		DisprovedBy: "the plate moved by hand and the pipe blocked: a sound capsule keeps it there"}
	if c.out.Findings.Has("holed") {
		f.Text = "Full vacuum moves nothing, and it does not hold: the diaphragm is holed."
	} else if h := c.in.Hold; h != nil && *c.out.HoldDropKPa <= goodDrop {
		f.Part, f.Text = partPlate, "Full vacuum moves nothing, though it holds: the link is off or the baseplate is seized. Free and oil the plate before buying a capsule."
	}
	c.add(verdict, f)
}

func (c *court) wrongWay(sureness, verdict string) {
	other := map[string]string{"advance": "retards", "retard": "advances"}[c.in.Capsule.Kind]
	c.add(verdict, finding.Finding{Code: "wrong-way", Part: partCapsule, Direction: "moves the wrong way",
		Sureness: sureness, Title: "It " + other + " instead",
		Text:        "Vacuum moves it against what this unit should do. An advance unit pulls the plate against the rotation of the rotor, a retard unit with it. Either the unit is the other kind, or the distributor turns the other way from what was meant.",
		DisprovedBy: "the direction of the rotor, seen by cranking, and the direction the plate is pulled"})
}

// stickingByHysteresis compares rising and falling where the book's figures are
// not known: normal to 1, watch to 2 distributor degrees (common practice, as for
// the centrifugal curve).
func (c *court) stickingByHysteresis() {
	h := c.out.HysteresisDistDeg
	if h == nil || math.Abs(*h) <= 1+rounding {
		return
	}
	v := finding.Watch
	if math.Abs(*h) > 2+rounding {
		v = finding.Fail
	}
	c.sticking("likely", v)
}

func (c *court) sticking(sureness, verdict string) {
	h := c.out.HysteresisDistDeg
	lines := []string{}
	if h != nil {
		lines = append(lines, fmt.Sprintf("Coming down %+.1f distributor degrees against going up; normal to 1, "+
			"watch to 2.", *h))
	}
	c.add(verdict, finding.Finding{Code: "sticking", Part: partPlate, Direction: "late both ways", Sureness: sureness,
		Title:       "The plate sticks",
		Text:        "At the same vacuum it stands elsewhere coming down than going up. Clean and oil the plate and its pivot, see that the link is not bent, and read again. On the road it surges, or knocks when the throttle is opened.",
		DisprovedBy: "the same readings with the pump let settle at each step",
		Sources:     []string{armyPlate, "limits: common practice"},
		Working:     lines})
}
