//go:build e2e

package e2e

import "testing"

// An engine that fires unevenly by design is asked about on the page of its
// cylinders; what is said there is kept with the car and taken off the errors.
func TestHowTheEngineFiresIsAskedAndKept(t *testing.T) {
	p, car := invented(t, "Brindlecote Stour Six")
	p.open(car + "/scatter")
	p.tap("radio", "The engine fires > unevenly, by design")
	p.enters("Crank degrees from each firing to the next", "90 140")
	p.sees("does not make one round of 6 firings", "720 crank degrees, or 360 for a two-stroke")
	p.enters("Crank degrees from each firing to the next", "90 150")
	p.seesNot("does not make one round of 6 firings")
	p.tap("radio", "Under the cap there is > two sets, each fires every other cylinder")
	p.reload()
	p.holds("Crank degrees from each firing to the next", "90 150")
	p.isChosen("two sets, each fires every other cylinder")
}
