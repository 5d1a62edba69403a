//go:build e2e

package e2e

import "testing"

// Nothing is read on the car while something forbids running the engine: the
// button that begins is not there before it is put back.
func TestNothingIsReadOnTheCarWhileTheClampIsLoose(t *testing.T) {
	p, car := newDemo(t)
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/safety/standing.js")]).then(async ([{garage}, {undo}]) => {
		await undo(garage.get("car", location.hash.split("/")[2]), ["clamp-loose"]);
		return true;
	})`)
	for _, way := range []struct{ page, open, begin, then string }{
		{"/readings", "Measure on the car, by strobe", "I have read the caution: begin", "Crank degrees"},
		{"/call", "", "We have read the caution: begin", "Hold, rising"},
	} {
		p.open(car + way.page)
		if way.open != "" {
			p.tap("button", way.open)
		}
		p.sees("Do not start the engine", "the body can turn by itself and the timing with it")
		if n := len(p.all("button", way.begin)); n != 0 {
			t.Errorf("%s: %q is there while the clamp is loose", way.page, way.begin)
		}
	}
	p.tap("button", "Done: tighten the clamp")
	p.tap("button", "We have read the caution: begin")
	p.sees("Hold, rising")
}

// A set is removed where it stands, not beside the arrow that opens it; the
// list says so and brings it back.
func TestASetThatIsRemovedCanBeBroughtBack(t *testing.T) {
	p, car := newDemo(t)
	p.open(car + "/readings")
	p.tap("link", "On the bench · 14 readings")
	p.tap("button", "Remove this set")
	p.sees("14 readings on the bench: removed.")
	p.seesNot("On the bench · 14 readings")
	p.tap("button", "Undo")
	p.sees("On the bench · 14 readings")
}
