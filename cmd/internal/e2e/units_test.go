//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// units has the invented distributor on the bench.
func units(t testing.TB) (*page, []screen) {
	t.Helper()
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("DisclosureTriangle", "More invented cars")
	p.tap("button", "Put in the Spare unit D4-4140")
	p.sees("The order of the bench", "The curve stops too soon")
	unit := p.hash()
	p.open("#/")
	p.tap("DisclosureTriangle", "More invented cars")
	p.tap("button", "Put in the Hartsmere Linnet 1250")
	car := waitForCar(p)
	takesPhotos(p, car, 1, 2, 3, 4)
	one := eval[string](p, `document.querySelector(".photo-grid a").hash`)
	return p, []screen{
		{"photos", car + "/photos", "4 photos on this phone", true},
		{"one photo", one, "What is on it", true},
		{"which fits", car + "/fits", "refused, and why", true},
		{"car's history", car + "/history", "How it drifts", true},
		{"unit", strings.Replace(unit, "/car/", "/unit/", 1), "The order of the bench", true},
		{"unit's work", unit + "/work", "Which part was worked on?", true},
		{"unit's facts", unit + "/facts", "Type number on the distributor", true},
		{"unit's condition", unit + "/condition", "Is the distributor fit to set?", true},
		{"unit's readings", unit + "/readings", "Taken so far", true},
		{"unit's verdict", unit + "/verdict", "The repair", true},
		{"unit's sheet", unit + "/card", "Send this sheet", true},
		{"unit's wall", unit + "/wall", "The order of work", false},
		{"unit's history", unit + "/history", "Day by day", true},
		{"unit's figures", unit + "/figures", "Pass figures on", true},
		{"library", "#/library/" + strings.TrimPrefix(unit, "#/car/"), "The library is empty", false},
		{"came in", "#/figures", "Nothing came in", false},
		{"unit's runs", unit + "/compare", "Speed by speed", true},
	}
}

// takeOnBench takes a distributor on the bench by its name, for its owner, and
// gives its address.
func takeOnBench(p *page, name, owner string) string {
	p.t.Helper()
	p.open("#/")
	p.writes("Name or number of the distributor", name)
	p.tap("button", "Take it on the bench")
	p.sees("The order of the bench", "Nothing is judged yet")
	fills(p, "Whose it is", owner)
	p.sees("Saved here")
	return p.hash()
}

// pagesOf turns the address of a distributor into that which its other pages
// begin with.
func pagesOf(unit string) string { return strings.Replace(unit, "#/unit/", "#/car/", 1) }

// fills writes into a field of words. Keys that follow a tap at once, faster
// than any hand, are now and then taken by no field: they are typed again.
func fills(p *page, field, text string) {
	p.t.Helper()
	until(p.t, field+" holds "+text, func() bool {
		p.rewrites(field, text)
		return p.reads(field) == text
	})
}

// Three units of three owners lie on the bench without a car, with the server
// dead, from the first tap to handing back; two of them change places between
// two cars; a second phone has all of it.
func TestDistributorsAreWorkedOnWithoutACar(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	srv.kill()

	one := takeOnBench(p, "First unit", "Anna")
	two := takeOnBench(p, "Second unit", "Ben")
	three := takeOnBench(p, "Third unit", "Clara")
	p.open("#/")
	p.sees("First unit On the bench · Anna", "Second unit On the bench · Ben", "Third unit On the bench · Clara")

	p.open(one)
	p.tap("link", "Enter the book’s figures")
	enterBook(p)
	enterBench(p)
	seeTheVerdict(p)
	p.seesNot("The base has not been proved")
	p.open(one)
	p.sees("Fail", "The curve comes in too early")
	springIsReplaced(p, one)
	p.tap("button", "Handed back to its owner")
	p.sees("Handed back to Anna")

	inTwoCarsAndSwapped(p, two, three)
	p.open("#/")
	p.sees("First unit Handed back to Anna · Anna", "Second unit In Blue one · Ben", "Third unit In Red one · Clara")

	srv.start()
	p.tap("link", "Saved here")
	p.tap("button", "Sync now")
	p.sees("Nothing waits to be sent")
	q := shared(t).visitor(t, srv.origin())
	q.starts()
	q.sees("First unit Handed back to Anna · Anna", "Second unit In Blue one · Ben", "Red one", "Blue one")
	q.open(pagesOf(one) + "/history")
	q.sees("Primary spring replaced: 12 mm → 9 mm", "14 readings")
}

// springIsReplaced notes it as work done: what was read before stands apart,
// and what is read now is judged alone.
func springIsReplaced(p *page, unit string) {
	p.t.Helper()
	p.tap("link", "Work done")
	p.tap("button", "Primary spring")
	p.tap("button", "Save this work")
	p.sees("Not said yet: what was done")
	p.tap("radio", "What was done > replaced")
	fills(p, "Old figure", "12 mm")
	fills(p, "New figure", "9 mm")
	p.tap("button", "Save this work")
	p.sees("Primary spring replaced: 12 mm → 9 mm", "Readings before and after it are kept apart")
	p.open(unit)
	p.sees("1 noted")
}

// inTwoCarsAndSwapped fits two units to two cars, and then the other way round.
func inTwoCarsAndSwapped(p *page, two, three string) {
	p.t.Helper()
	for _, name := range []string{"Red one", "Blue one"} {
		p.open("#/")
		addCar(p, name)
	}
	fitted(p, two, "Second unit", "Red one")
	fitted(p, three, "Third unit", "Blue one")
	fitted(p, two, "Second unit", "Blue one")
	noCarIsWithoutOne(p) // the red one has given its own away
	p.open(three)
	p.sees("On the bench")
	fitted(p, three, "Third unit", "Red one")
	if n := len(p.all("button", "Remove from the bench")); n != 0 {
		p.t.Errorf("a distributor that is in a car can be removed from under it")
	}
	noCarIsWithoutOne(p)
}

// noCarIsWithoutOne: each car names a distributor that is there, so that what
// is typed on its pages has a document to go to.
func noCarIsWithoutOne(p *page) {
	p.t.Helper()
	lost := eval[string](p, `import("/js/kept/garage.js").then(({garage}) => garage.cars().filter(({body}) => {
		const unit = garage.get("distributor", body.distributorId);
		return !unit || unit.deleted;
	}).map(({body}) => body.name).join(", "))`)
	if lost != "" {
		p.t.Errorf("without a distributor: %s", lost)
	}
}

func fitted(p *page, unit, name, car string) {
	p.t.Helper()
	p.open(unit)
	p.tap("button", car)
	p.sees(name+" is in "+car, "Where it is In "+car)
}

// The shelf is held against a car's book: the nearest first, what is to be
// found out before, and what cannot serve with its reason; what may not be
// changed is not proposed.
func TestTheShelfIsHeldAgainstABook(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/fits")
	p.sees("Nothing on the shelf", "To the garage")
	p.open("#/")
	p.tap("DisclosureTriangle", "More invented cars")
	p.tap("button", "Put in the Spare unit D4-4140")
	p.sees("The order of the bench")
	takeOnBench(p, "Wrong way round", "Emil")
	eval[bool](p, `import("/js/kept/garage.js").then(async ({garage}) => {
		const unit = garage.units().find(({body}) => body.name === "Wrong way round");
		const fact = {value: "clockwise", unit: "", source: "measured", note: ""};
		await garage.update("distributor", unit.id, (body) => { body.facts = {...body.facts, rotation: fact}; });
		return true;
	})`)
	p.open(car + "/fits")
	p.sees("None of the 2 can serve here", "Refused", "2 refused, and why", "turns clockwise")
	turnsTheOtherWay(p)
	p.open(car + "/fits")
	p.sees("1. Spare unit D4-4140", "1 refused, and why")
	p.tap("DisclosureTriangle", "What to do")
	p.sees("stop", "read again")
	p.tap("DisclosureTriangle", "What may be changed")
	p.tap("radio", "The stop may be changed > no")
	p.tap("radio", "Other springs may go in > no")
	p.tap("radio", "Posts may be bent > no")
	p.sees("2 refused, and why", "nothing that may be changed brings its curve into the book")
}

// turnsTheOtherWay makes the spare unit turn as the demo car's does.
func turnsTheOtherWay(p *page) {
	p.t.Helper()
	eval[bool](p, `import("/js/kept/garage.js").then(async ({garage}) => {
		await garage.update("distributor", "demospareunit4140000", (body) => { body.facts.rotation = {...body.facts.rotation, value: "anticlockwise"}; });
		return true;
	})`)
}
