package vacuum

import (
	"fmt"

	"pointsmith/calc/finding"
)

// At idle a ported or venturi pipe has next to nothing, a manifold pipe has
// what the gauge shows. 2 inHg tells them apart (chosen), and full travel on a
// manifold pipe is wanted about 2 inHg below idle vacuum (common practice).
const nextToNothing = 2 * inHg

// pipeFindings says whether the pipe goes where it should.
func (c *court) pipeFindings() {
	if c.in.Source == "" {
		c.ask(
			"Where does the pipe go: above the closed throttle (ported), to the manifold, to the venturi, or nowhere?")
		return
	}
	if c.in.BookSource != "" && c.in.BookSource != c.in.Source {
		c.add(finding.Watch, finding.Finding{Code: "wrong-port", Part: "vacuum pipe",
			Direction: "goes to the wrong place", Sureness: "sure",
			Title: fmt.Sprintf("The pipe is on %s, the book has it on %s", place(c.in.Source),
				place(c.in.BookSource)),
			Text:        "Put it where the maker had it, unless someone changed it on purpose and set idle speed and base for it. Set the idle speed again afterwards.",
			DisprovedBy: "a note of whoever changed it, or a book for another carburettor"})
	}
	c.pipeAtIdle()
	c.manifoldMargin()
	if c.in.Source == "none" && c.in.Capsule.Kind == "advance" {
		c.add(finding.Watch, finding.Finding{Code: "no-pipe", Part: "vacuum pipe", Direction: "missing",
			Sureness: "sure", Title: "The capsule has no pipe",
			Text: "There is no advance at light throttle: more fuel, a hotter engine. Connect it, or know why not."})
	}
}

func place(source string) string {
	return map[string]string{"ported": "the port above the throttle", "manifold": "the manifold",
		"venturi": "the venturi", "none": "nothing"}[source]
}

// pipeAtIdle compares what the pipe has at idle with its source.
func (c *court) pipeAtIdle() {
	has := c.in.PipeAtIdleKPa
	if has == nil || c.in.Source == "none" {
		return
	}
	c.say("At idle the pipe has %s.", both(*has))
	manifold := c.in.Source == "manifold"
	switch {
	case !manifold && *has > nextToNothing:
		c.add(finding.Watch, finding.Finding{Code: "vacuum-at-idle", Part: "vacuum pipe or throttle stop",
			Direction: "vacuum where there should be none", Sureness: "likely",
			Title:       "The pipe has vacuum at idle, though it should have none",
			Text:        fmt.Sprintf("From %s there should be next to nothing at idle. Either the pipe is on the manifold after all, or the throttle stands open past the port because the idle is screwed up to make up for something else, often late timing.", place(c.in.Source)),
			DisprovedBy: "the throttle closed by hand for a moment: if the vacuum goes, the throttle stood open"})
	case manifold && c.in.IdleVacuumKPa != nil && *has < *c.in.IdleVacuumKPa-nextToNothing:
		c.add(finding.Watch, finding.Finding{Code: "no-vacuum-at-idle", Part: "vacuum pipe",
			Direction: "less vacuum than the manifold", Sureness: "likely",
			Title:       "The pipe has less vacuum than the manifold",
			Text:        "It should have the same. The pipe is blocked, split, or not on the manifold.",
			DisprovedBy: "the gauge on the manifold itself at the same moment",
			Working:     []string{fmt.Sprintf("Pipe %s, manifold %s.", both(*has), both(*c.in.IdleVacuumKPa))}})
	}
}

// manifoldMargin wants full travel well below idle vacuum on a manifold pipe.
func (c *court) manifoldMargin() {
	full := c.out.Measured.FullKPa
	if full == nil || c.out.Suspicion != "none" {
		full = c.out.Spec.FullKPa
	}
	if c.in.Source != "manifold" || c.in.Capsule.Kind != "advance" || full == nil {
		return
	}
	if c.in.IdleVacuumKPa == nil {
		c.ask("What is the manifold vacuum at warm idle? On a manifold pipe the capsule must be all the way well below it.")
		return
	}
	margin := *c.in.IdleVacuumKPa - *full
	c.say("Full travel at %s, idle vacuum %s: %.1f kPa between; about %s are wanted.", both(*full),
		both(*c.in.IdleVacuumKPa), margin, both(nextToNothing))
	if margin >= nextToNothing-rounding {
		return
	}
	c.add(finding.Watch, finding.Finding{Code: "idle-hunts", Part: partCapsule,
		Direction: "needs more vacuum than idle has", Sureness: "likely",
		Title:       "The capsule is not all the way at idle",
		Text:        "On the manifold it should have its full travel about 2 inHg below idle vacuum. Here it stands on its slope at idle, so every change of vacuum moves the timing and the idle hunts. Take a capsule that is full at less vacuum, or the port above the throttle if the maker used that.",
		DisprovedBy: "timing watched by strobe at idle with the pipe on: if it stands still, the margin is enough",
		Working: []string{fmt.Sprintf("%.1f − %.1f = %.1f kPa (%.1f inHg).", *c.in.IdleVacuumKPa, *full, margin,
			margin/inHg)}})
}
