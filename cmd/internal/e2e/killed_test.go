//go:build e2e

package e2e

import (
	"path/filepath"
	"strings"
	"testing"
)

// A frailPhone is killed again and again, and comes back to where it was.
type frailPhone struct {
	*page
	t       *testing.T
	profile string
	browser *browser
}

// dies kills the browser without warning and starts it again on the same
// profile, at the same address.
func (f *frailPhone) dies() {
	f.t.Helper()
	stored(f.page)
	where, origin := f.hash(), f.origin
	f.browser.kill(f.t, f.profile)
	f.browser = launch(f.t, f.profile)
	f.page = f.browser.phone(f.t, origin)
	f.watch.expectNoServer()
	f.open(where)
}

// Nothing typed is lost when the browser dies without warning. No server
// answers meanwhile, so that nothing can come back from there.
func TestNothingTypedIsLostWhenTheBrowserIsKilled(t *testing.T) {
	s := newSite(t)
	p := &frailPhone{t: t, profile: filepath.Join(t.TempDir(), "phone")}
	p.browser = launch(t, p.profile)
	p.page = p.browser.phone(t, s.origin())
	p.firstRun()
	p.watch.expectNoServer()
	s.shut()

	p.writes("Name of the car", "Brindlec")
	p.dies()
	p.holds("Name of the car", "Brindlec")
	p.writes("Name of the car", "ote")
	p.tap("button", "Add this car")
	p.sees("The degrees are")

	p.tap("radio", "The degrees are > crank degrees")
	p.writes("Speed, row 1", "1000")
	p.writes("Least degrees, row 1", "8.")
	p.dies()
	p.isChosen("The degrees are > crank degrees")
	holdsRow(p.page, 0, [3]string{"1000", "8.", ""})

	car := strings.TrimSuffix(p.hash(), "/book")
	losesNoReading(p, car)
	p.open("#/")
	p.tap("DisclosureTriangle", "More for Brindlecote")
	p.writes("Rename", " mk")
	p.dies()
	p.holds("Rename", "Brindlecote mk")
	p.open(car + "/facts")
	p.tap("DisclosureTriangle", "Cylinders")
	p.writes("Value", "6")
	p.dies()
	p.tap("DisclosureTriangle", "Cylinders 6")
	p.tap("button", "Next unknown")
	p.focusIs("Value") // the one row that is open now
}

// losesNoReading dies in the middle of a reading, and after it is saved.
func losesNoReading(p *frailPhone, car string) {
	p.t.Helper()
	p.open(car + "/readings")
	p.tap("button", "Measure on the car, by strobe")
	p.tap("button", "I have read the caution: begin")
	p.writes("Engine rpm", "1000")
	p.tap("button", "to degrees")
	keypad(p.page, "10.")
	p.dies()
	p.holds("Engine rpm", "1000")
	p.holds("Crank degrees", "10.")

	keypad(p.page, "5")
	p.tap("button", "Save reading")
	p.find("button", "Correct 10.5 at 1000, rising")
	p.dies()
	p.find("button", "Correct 10.5 at 1000, rising")
}

// stored waits until the phone's store has done what it was asked before. It
// reads on a transaction of its own, which the browser lets begin only then,
// and writes nothing. It stands for the few milliseconds between a key and the
// store, which no program can take away.
func stored(p hands) {
	p.test().Helper()
	p.value(`new Promise((done, fail) => {
		const opening = indexedDB.open("pointsmith");
		opening.onerror = () => fail(opening.error);
		opening.onsuccess = () => {
			const db = opening.result, reading = db.transaction([...db.objectStoreNames], "readonly").objectStore("drafts").count();
			reading.onsuccess = () => { db.close(); done(true); };
		};
	})`)
}
