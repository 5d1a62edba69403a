//go:build e2e

package e2e

import "testing"

// takeOnBench takes a distributor on the bench by its name, for its owner, and
// gives its address.
func takeOnBench(p *page, name, owner string) string {
	p.t.Helper()
	p.open("#/")
	p.writes("Name or number of the distributor", name)
	p.tap("button", "Take it on the bench")
	p.sees("The order of the bench", "Nothing is judged yet")
	p.writes("Whose it is", owner)
	p.sees("Saved here")
	return p.hash()
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
	p.seesNot("engine fit to tune")
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
	q.firstRun()
	q.sees("First unit Handed back to Anna · Anna", "Second unit In Blue one · Ben", "Red one", "Blue one")
	q.open(one)
	q.sees("Primary spring replaced: 12 mm → 9 mm", "1 set of readings")
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
	p.writes("Old figure", "12 mm")
	p.writes("New figure", "9 mm")
	p.tap("button", "Save this work")
	p.sees("Primary spring replaced: 12 mm → 9 mm", "Readings before and after it are kept apart")
	p.open(unit)
	p.sees("1 noted", "Primary spring replaced")
}

// inTwoCarsAndSwapped fits two units to two cars, and then the other way round.
func inTwoCarsAndSwapped(p *page, two, three string) {
	p.t.Helper()
	for _, name := range []string{"Red one", "Blue one"} {
		p.open("#/")
		addCar(p, name)
	}
	fitted(p, two, "Red one")
	fitted(p, three, "Blue one")
	fitted(p, two, "Blue one")
	p.open(three)
	p.sees("On the bench")
	fitted(p, three, "Red one")
}

func fitted(p *page, unit, car string) {
	p.t.Helper()
	p.open(unit)
	p.tap("button", car)
	p.sees("In " + car)
}
