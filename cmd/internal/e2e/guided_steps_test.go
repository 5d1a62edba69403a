//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// The gap of an earlier step is no verdict on a dwell that nobody has read.
func TestNoVerdictBeforeTheFigure(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/do/points/gap")
	verdict := func() string { return eval[string](p, `document.querySelector(".step-verdict-room")?.innerText ?? ""`) }
	p.tap("button", "Read: now enter it")
	for _, key := range "15" {
		p.tap("button", "Keypad > "+string(key))
	}
	until(t, "the gap is judged", func() bool { return verdict() != "" })
	p.open(car + "/do/points/dwell")
	p.tap("button", "Read: now enter it")
	p.find("button", "Keypad > 5")
	there := eval[string](p,
		`new Promise((done) => setTimeout(() => done(document.querySelector(".step-verdict-room").innerText), 800))`)
	if there != "" {
		t.Errorf("no dwell is entered, and the step says %q", there)
	}
	for _, key := range "59" {
		p.tap("button", "Keypad > "+string(key))
	}
	until(t, "the dwell is judged", func() bool { return verdict() != "" })
}

// A car known to have no ballast is not asked to bridge one, and what needs a
// running engine waits until it runs.
func TestAFirstStartThatFiresOnlyAtKeyOff(t *testing.T) {
	p, car := newDemo(t)
	p.open(car + "/do/first-start")
	p.tap("button", "Begin")
	goes := func(next, title string) {
		t.Helper()
		p.tap("button", next)
		until(t, title, func() bool { return strings.HasPrefix(stepTitle(p), title) })
	}
	goes("Done: next step", "Go round the cap")
	goes("Done: next step", "Doors open")
	goes("Done: next step", "Start it")
	goes("Tried: next step", "How does it run?")
	p.tap("radio", "fires only as the key is let go")
	p.sees("ignition switch gives the coil nothing in its start position")
	goes("Next step", "Pull the coil lead")
	goes("Done: next step", "Measure the volts at the coil")
	p.sees("coil lead out of the cap, on earth")
	goes("Done: next step", "Coil lead pushed fully")
	goes("Put back: next step", "The cause put right?")
	p.tap("radio", "no")
	goes("Next step", "Finish")
}
