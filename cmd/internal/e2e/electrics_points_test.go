//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

func TestTheOtherWayRoundADwellMarksTheTiming(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/points")
	p.enters("Dwell as left", "62")
	p.sees("The spark comes 3 crank degrees later", "Expected 1 for 1", "from 0.0 to 6.0", "Do the timing again")
	p.open(car)
	p.sees("Timing is to be done again: dwell went from 59 to 62")
	p.sees("The order of work")
	if due := eval[string](p, `[...document.querySelectorAll(".work-order .is-due, .work-order .is-again, .work-order .is-blocked")].map((each) => each.textContent).join(" / ")`); !strings.Contains(due,
		"Not judged since a change of gap or dwell") {
		t.Errorf("in the order of work: %q", due)
	}
	p.open(car + "/points")
	p.enters("Dwell as left", "59")
	p.seesNot("Do the timing again")
	p.open(car)
	p.seesNot("Timing is to be done again")
}

// A gap and a dwell that contradict each other, and a slope of its own.
func TestThePointsSayWhichToTrust(t *testing.T) {
	p, car := invented(t, "Brindlecote Stour Six")
	p.open(car + "/points")
	p.sees("Learned from this distributor’s own pairs", "95 of 100", "a thou more gap takes")
	p.tap("radio", "These points are > used")
	p.enters("Dwell as found", "28")
	p.sees("The dwell is less than this gap should give", "Today: Set by dwell", "pitted faces")
	p.enters("Dwell as found", "48")
	p.sees("Today: Set by neither yet", "75 %")
	p.enters("Dwell as found", "61")
	p.sees("with that dwell the points would never open")
	p.holds("Dwell as found", "61")
}

// Once set, the points are headed by how they were left; how they were found
// stays beside it, and takes the head again when the entry is taken back.
func TestThePointsAsLeftHaveTheLastWord(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/points")
	p.enters("Gap as found", "")
	p.enters("Dwell as found", "66") // the book says 60 ±3
	p.sees("Too much dwell")
	p.seesNot("The points, as left: Pass", "The points, as left: Fail")
	p.enters("Dwell as left", "61")
	p.sees("As found: fail. Too much dwell", "The points, as left: Pass", "What was measured on the points is in order")
	p.enters("Dwell as left", "54")
	p.sees("As found: fail. Too much dwell", "The points, as left: Fail", "Too little dwell")
	p.enters("Dwell as left", "")
	p.seesNot("The points, as left: Pass", "The points, as left: Fail")
	p.sees("Too much dwell")
}
