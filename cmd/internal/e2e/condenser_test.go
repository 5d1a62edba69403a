//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// The condenser: the caution first, measured, judged, kept, the same as in the
// condition check; and which contact builds up metal follows the earth.
func TestTheCondenserIsJudgedOnItsPage(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car)
	p.tap("link", "Condenser")
	p.sees("It stores a charge", "The facts of this car say 0.20 µF (book)",
		"A mound on The fixed contact, on the plate")
	if first := eval[bool](p, `document.querySelector(".caution").compareDocumentPosition(document.querySelector("main input")) === Node.DOCUMENT_POSITION_FOLLOWING`); !first {
		t.Error("a field stands before the caution")
	}
	p.enters("Capacity", "0,12")
	p.sees("The condenser is small: 0.12 µF", "Fail", "Fit one of 0.18 to 0.25 µF", "this one: 0.12 µF",
		"Next: the points")
	p.enters("Capacity", "12")
	p.sees("12 µF cannot be right here", "0 to 5 µF", "kept as typed, and not judged")
	p.seesNot("The condenser is large")
	p.holds("Capacity", "12")
	p.enters("Capacity", "0.21")
	p.seesNot("The condenser is small")
	p.tap("radio", "Warmed by a hair dryer, or the engine hot > worse")
	p.sees("The condenser gets worse when it is warm", "dies hot and starts again cold")
	p.tap("radio", "Warmed by a hair dryer, or the engine hot > all the same")
	p.enters("Leakage: insulation, warm", "0.5")
	p.sees("Poor insulation: 0.5 MΩ")
	p.enters("Resistance in series", "2")
	p.sees("Resistance in series: 2 Ω", "Clean its fixing")
	p.tap("radio", "Metal is lost from > the arm’s contact")
	p.sees("Metal lost from the arm contact: a weak hint of a condenser too small")
	p.sees("Saved here")
	p.reload()
	p.holds("Capacity", "0.21")
	p.isChosen("Metal is lost from > the arm’s contact")
	p.sees("Poor insulation: 0.5 MΩ")
	p.tap("DisclosureTriangle", "The size this car’s book wants")
	p.enters("From", "0.25")
	p.enters("To", "0.30")
	p.sees("Fit one of 0.25 to 0.3 µF")
	p.open(car + "/condition")
	p.tap("DisclosureTriangle", "Condenser")
	p.holds("Capacity", "0.21") // typed once, the same there
	p.sees("0.21 µF; pass 0.25 to 0.3 µF")
	p.tap("link", "More on the condenser")
	p.sees("What was measured and seen")
}

func TestWhichContactBuildsUpMetalTurnsWithTheEarth(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8") // negative earth
	p.open(car + "/condenser")
	p.sees("Too small", "A mound on")
	if words := eval[string](p,
		`document.querySelector(".condenser-effects section").innerText`); !strings.Contains(words,
		"A pit in\nThe fixed contact, on the plate") {
		t.Errorf("too small, negative earth: %q", words)
	}
}
