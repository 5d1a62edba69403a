//go:build e2e

package e2e

import "testing"

// Something undone on this car and on another, and the ignition on: what
// sticks to the top leaves the page most of the screen, and every part of it
// is large enough for a glove.
func TestTheBarsAtTheTopLeaveRoomForThePage(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	p.open("#/")
	p.tap("DisclosureTriangle", "More invented cars")
	p.tap("button", "Put in the Wexcombe Dabchick Ten")
	waitForCar(p)
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/safety/standing.js")]).then(async ([{garage}, work]) => {
		for (const car of garage.cars()) await work.undo(car, ["vacuum-pipe"]);
		return true;
	})`)
	p.open(car + "/volts")
	p.enters("2. Ignition switch, in", "11") // a fault: the watch is the next thing to do
	p.tap("button", "Ignition on now: start the coil watch")
	p.sees("Remember: vacuum pipe off and plugged", "1 other car: something to put back",
		"Ignition on, engine still",
		"Kestlewood Ridgeway V8 · volts along the feed")
	if wide := eval[int](p, "innerWidth"); wide != 390 {
		t.Fatalf("%d px wide", wide)
	}
	// A passing notice may lie between them; it goes by itself.
	if high := eval[float64](p, `[...document.querySelectorAll("#notices > .undone, #notices > .coil-watch")].reduce((sum, bar) => sum + bar.getBoundingClientRect().height, 0)`); high < 150 || high > 260 {
		t.Errorf("the bars cover %g px", high)
	}
	// 14 mm, common practice for gloves
	for _, low := range eval[[]string](p, `[...document.querySelectorAll("#notices a, #notices button")].filter((each) => Math.min(each.offsetWidth, each.offsetHeight) < 53).map((each) => each.outerHTML)`) {
		t.Errorf("too small: %s", low)
	}
	p.tap("link", "1 other car: something to put back")
	p.sees("Put each back, then tick it", "Remember: vacuum pipe off and plugged")
	p.tap("button", "Ignition is off")
}
