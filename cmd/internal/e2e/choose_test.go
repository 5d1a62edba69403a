//go:build e2e

package e2e

import "testing"

// choosing is a phone with the invented V8 whose book no longer fits, and the
// pages of choosing a curve for it.
func choosing(t testing.TB) (*page, []screen) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	car := withRidgeway(p)
	hears(p, car, "3000", "38", "a trace")
	hears(p, car, "1600", "24", "a trace")
	return p, []screen{
		{"choose", car + "/choose", "As it is now", true},
		{"heard", car + "/heard", "Kept", true},
		{"map", car + "/map", "Tap a square", true},
		{"why", car + "/why", "before TDC", true},
		{"why, a chapter", car + "/why/4", "Not answered yet", true},
	}
}

// withRidgeway puts the V8 in the garage and gives its address.
func withRidgeway(p *page) string {
	p.t.Helper()
	p.tap("DisclosureTriangle", "More invented cars")
	p.tap("button", "Put in the Kestlewood Ridgeway V8")
	return waitForCar(p)
}

// hears writes down what was heard at full throttle with a sound distributor.
func hears(p *page, car, rpm, deg, heard string) {
	p.t.Helper()
	p.open(car + "/heard")
	fills(p, "Speed", rpm)
	fills(p, "Timing, all of it", deg)
	p.tap("radio", "Heard > "+heard)
	p.tap("radio", "The distributor then > a sound one")
	p.tap("button", "Keep it")
	p.sees(rpm + " rpm, full throttle, " + deg + " degrees")
}

func TestACurveIsChosenAndJudgedBy(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	car := withRidgeway(p)
	p.open(car + "/choose")
	p.sees("An estimate", "nothing yet", "As it is now")
	hears(p, car, "3000", "38", "a trace")
	hears(p, car, "1600", "24", "a trace")
	p.tap("button", "Keep it") // nothing typed: it says what is missing
	p.sees("is not filled in", "300 to 8000 engine rpm")
	srv.kill()
	p.open(car + "/choose")
	p.sees("Base 12 and total 34 crank degrees, stop 11", "As it is now, on the car", "Too early", "2")
	p.tap("DisclosureTriangle", "Try other figures")
	p.sees("Nowhere past what is advised", "Take these figures")
	for range 4 {
		p.tap("button", "Base: earlier")
	}
	p.sees("Past where knock may begin: it is not offered", "Base 16")
	p.tap("button", "Back to the target")
	p.sees("Take these figures")
	p.tap("button", "Take this curve")
	p.sees("Chosen for this engine", "2 heard or tried on the road")
	p.open(car + "/verdict")
	p.sees("Chosen for this engine")
	p.open(car + "/card")
	p.sees("By the curve chosen for this engine")
	p.open(car + "/map")
	p.tap("gridcell", "2000 rpm, full throttle")
	p.sees("short of where knock may begin")
	p.open(car + "/choose")
	p.tap("button", "Use the book again")
	p.sees("The book’s table is in use")
	p.open(car + "/verdict")
	p.seesNot("Chosen for this engine")
}

// mostChooseTaps: asked of the product.
const mostChooseTaps = 30

// A newcomer with raised compression and no book: from the garage to a target,
// its parts, and the strobe's table for it.
func TestANewcomerWithoutABookReachesATarget(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	w := &wayfarer{page: p}
	w.taps1("textbox", "Name of the car")
	w.keys("Raised four")
	w.taps1("button", "Add this car")
	w.taps1("link", "The job")
	w.taps1("DisclosureTriangle", "Also for this car")
	w.taps1("link", "Choose a curve")
	w.sees("Say first: compression ratio, combustion chamber, fuel octane, capacity, cylinders")
	w.taps1("DisclosureTriangle", "Compression ratio")
	w.taps1("textbox", "Value")
	w.keys("9.4")
	w.taps1("button", "Next unknown: Combustion chamber")
	w.taps1("radio", "Which > wedge")
	w.taps1("button", "Next unknown: Fuel octane")
	w.keys("98")
	w.taps1("radio", "In > RON")
	w.taps1("button", "Next unknown: Capacity")
	w.keys("1.8")
	w.taps1("button", "Next unknown: Cylinders")
	w.keys("4")
	w.sees("An estimate", "total", "all in at")
	w.taps1("button", "Take this curve")
	w.sees("Chosen for this engine", "compression 9.4; 98 RON; nothing heard on the road yet")
	t.Logf("%d taps", w.taps)
	if w.taps > mostChooseTaps {
		t.Errorf("%d taps; at most %d", w.taps, mostChooseTaps)
	}
}
