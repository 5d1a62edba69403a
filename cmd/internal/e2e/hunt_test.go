//go:build e2e

package e2e

import "testing"

// huntBegins tells one thing the car does, and that nothing was changed.
func huntBegins(p *page, when, what string) {
	p.t.Helper()
	p.sees("What does it do, and when?", when)
	p.tap("checkbox", what)
	p.tap("button", "Go on: 1 told")
	p.tap("button", "Nothing, or not known")
	p.sees("What it can be")
}

// A six-volt car with a tired switch, its feed on file: the story is told in
// three taps, and the feed comes first although nobody asked for it again. An
// answer is kept, can be taken back, and outlives the app.
func TestTheHuntKnowsWhatIsOnFile(t *testing.T) {
	p, car := invented(t, "Wexcombe Dabchick Ten")
	p.open(car + "/hunt")
	huntBegins(p, "When it is started", "Cold, it will not start, though the starter spins it well")
	p.sees("Resistance in the low-tension feed", "V lost from battery to coil", "on no list here", "Expect:")
	p.seesNot("Volts at the coil’s feed, points closed About")
	p.tap("button", "Could not do it")
	p.sees("Tests so far 1 answered")
	p.reload()
	p.sees("Tests so far 1 answered", "Resistance in the low-tension feed")
	p.tap("button", "Take this answer back")
	p.seesNot("Tests so far")
	p.tap("button", "It was this resistance in the low-tension feed")
	p.sees("It was: resistance in the low-tension feed")
}

// Early advance with a retarded base, on file from bench and strobe: both stand
// among the causes before any test, and nothing on file is refused.
func TestTheHuntReadsTheCurve(t *testing.T) {
	p, car := newDemo(t)
	p.open(car + "/hunt")
	huntBegins(p, "When it has to pull", "Pinks when it pulls hard from low speed")
	p.sees("What it can be", "Centrifugal advance too early or too much", "Base timing late")
}
