//go:build e2e

package e2e

import "testing"

// What the walk along the feed measured, the tired switch with it, is what the
// spark is worked from, marked so; one tap sets it back, and nothing is lost.
func TestTheVoltsPageFeedsTheSpark(t *testing.T) {
	p, car := invented(t, "Wexcombe Dabchick Ten")
	p.open(car + "/spark")
	p.sees("1.5 Ω in all", "This car’s: 0.2 Ω measured on the volts page")
	p.tap("button", "Back to the assumed figure: Leads, switch and points together")
	p.sees("1.4 Ω in all; 4.5 A with the engine stopped, on 6.25 V", "Assumed: 0.1 Ω taken",
		"Kept, not used: 0.2 Ω measured on the volts page")
	p.reload()
	p.sees("1.4 Ω in all")
	p.tap("button", "Use this car’s own again: Leads, switch and points together")
	p.sees("1.5 Ω in all")
	p.open(car + "/volts")
	p.enters("3. Ignition switch, out", "6.2") // the switch is mended
	p.enters("4. Coil, feed terminal", "6.15")
	p.open(car + "/spark")
	p.seesNot("0.2 Ω measured on the volts page")
}

// Each assumed figure can be replaced, says where it comes from, and goes back
// in one tap with what was typed kept.
func TestEveryAssumedFigureCanBeThisCarsOwn(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/spark")
	if read := eval[int](p, `document.querySelectorAll(".basis-line .taken").length - [...document.querySelectorAll(".basis-line")].filter((each) => each.querySelector(".taken") && each.querySelector("details.fact")).length`); read != 0 {
		t.Errorf("%d assumed figures are only to be read", read)
	}
	p.tap("DisclosureTriangle", "finer figures, mostly assumed")
	p.tap("DisclosureTriangle", "Cold start: temperature of the air")
	p.enters("Value", "90")
	p.sees("90 °C cannot be worked with", "−40 to 60 °C")
	p.enters("Value", "-15")
	p.tap("radio", "Comes from > guess")
	p.reload()
	p.find("button", "Back to the assumed figure: Cold start: temperature of the air")
	p.tap("button", "Back to the assumed figure: Cold start: temperature of the air")
	p.sees("Kept, not used: -15 °C")
	p.reload()
	p.sees("Kept, not used: -15 °C")
	p.tap("DisclosureTriangle", "Cold start: temperature of the air")
	p.holds("Value", "-15")
	p.enters("Value", "-16") // who types, means it
	p.reload()
	p.find("button", "Back to the assumed figure: Cold start: temperature of the air")
}
