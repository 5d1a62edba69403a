//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// A run, two repairs and two more runs on one day: list, verdict, card, link
// and paper keep them apart; before and after stand on one figure. The server
// is dead from the start.
func TestRunsOfOneDayAreKeptApart(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	srv.kill()

	unit := takeOnBench(p, "Day unit", "Dora")
	p.tap("link", "Enter the book’s figures")
	enterBook(p)
	readsRun(p, "0.5", "2.5", "6.5", "11.0")
	p.open(unit)
	p.tap("link", "History")
	p.sees("Day by day", "On the bench · 4 readings")
	p.seesNot("as found", "Before and after") // nothing was changed, and there is one run

	notesWork(p, unit, "Primary spring", "replaced")
	readsRun(p, "0", "1.0", "5.0", "9.5")
	notesWork(p, unit, "Stop or its plate", "adjusted")
	readsRun(p, "0", "1.0", "5.0", "8.0")

	const first, second, third = "as found", "after primary spring replaced", "after stop or its plate adjusted"
	p.open(pagesOf(unit) + "/readings")
	p.sees("On the bench · "+first+" · 4 readings", "On the bench · "+second, "On the bench · "+third)
	p.open(pagesOf(unit) + "/history")
	p.sees("Day by day", first, "Primary spring replaced", second, "Stop or its plate adjusted", third)

	p.tap("link", "Before and after")
	p.sees("Before and after", "The second run has up to 3.0 crank degrees less", "Done between them: Stop or its plate adjusted",
		"first: "+second, "second: "+third)
	p.seesNot("Primary spring replaced Stop")
	selects(p, "First run", "As found, bench")
	p.sees("first: "+first, "Done between them: Primary spring replaced; Stop or its plate adjusted",
		"up to 6.0 crank degrees less")
	p.open(p.hash()) // an address of its own: it says the same after a reload
	p.reload()
	p.sees("first: "+first, "second: "+third)

	p.open(pagesOf(unit) + "/verdict")
	p.sees("What is judged")
	for _, name := range []string{third, second, first} {
		if !optionsSay(p, "Readings judged", name) {
			t.Errorf("the verdict offers no run %q", name)
		}
	}
	theCardNames(p, unit, third, second)
}

// theCardNames: sheet, paper and link name the newest run by what was done
// before it, and with the earlier ones those too.
func theCardNames(p *page, unit, newest, before string) {
	p.t.Helper()
	p.open(pagesOf(unit) + "/card")
	p.sees(newest + ", on the bench")
	p.seesNot(before + ", on the bench")
	link := linkOf(p, pagesOf(unit))
	p.open("#/card/" + link)
	p.sees(newest + ", on the bench")
	p.open(pagesOf(unit) + "/card")
	p.tap("radio", "Readings on the card > before and after")
	p.sees(newest+", on the bench", before+", on the bench")
}

// readsRun takes one run of readings on the bench while the speed rises.
func readsRun(p *page, degrees ...string) {
	p.t.Helper()
	p.tap("link", "Next: readings")
	p.tap("button", "Measure on the bench")
	p.tap("radio", "Vacuum at the capsule > none")
	p.tap("button", "I have read the caution: begin")
	for i, each := range degrees {
		p.holds("Distributor rpm", demoBook[i][0])
		keypad(p, each)
		p.tap("button", "Save reading")
		p.sees(number(float64(i+1)) + " reading")
	}
}

// notesWork notes what was done to a part, and leads to the readings.
func notesWork(p *page, unit, part, did string) {
	p.t.Helper()
	p.open(pagesOf(unit) + "/work")
	p.tap("button", part)
	p.tap("radio", "What was done > "+did)
	p.tap("button", "Save this work")
	p.sees("Done so far", part+" "+did)
}

// selects chooses in a list by the beginning of what it says.
func selects(p *page, label, option string) {
	p.t.Helper()
	ok := eval[bool](p, `(() => {
		const labels = [...document.querySelectorAll("label")];
		const label = labels.find((one) => one.firstElementChild?.textContent === "`+label+`");
		const select = label?.querySelector("select");
		const found = [...(select?.options ?? [])].find(({text}) => text.startsWith("`+option+`"));
		if (!found) return false;
		select.value = found.value;
		select.dispatchEvent(new Event("change", {bubbles: true}));
		return true;
	})()`)
	if !ok {
		p.t.Fatalf("%s offers nothing that begins with %q", label, option)
	}
}

// optionsSay tells whether a list offers something with these words.
func optionsSay(p *page, label, words string) bool {
	p.t.Helper()
	all := eval[string](p, `[...document.querySelectorAll("label")].find((one) => one.firstElementChild?.textContent === "`+
		label+`")?.textContent ?? ""`)
	return strings.Contains(strings.ToLower(all), words)
}

// Dwell read on two days, with the miles: the drift and when it is due stand in
// the history; one day alone is silent.
func TestTheDriftOfDwellIsForetold(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	p.open(car + "/history")
	p.sees("How it drifts", "One reading tells no drift")
	dwellRead(p, car, "2023-06-01", "28.4", "40100")
	dwellRead(p, car, "2023-11-01", "29.2", "42300")
	p.open(car + "/history")
	p.sees("Dwell", "in 1,000 miles", "40100 miles", "44020 miles")
	p.tap("DisclosureTriangle", "Show the working of the drift of the dwell")
	p.sees("nine times in ten")
	fills(p, "Distance on the clock today", "44 100")
	p.sees("Saved here")
	p.reload()
	p.holds("Distance on the clock today", "44 100")
}

// dwellRead puts a visit of an earlier day on file.
func dwellRead(p *page, car, date, dwell, miles string) {
	p.t.Helper()
	eval[bool](p, `import("/js/kept/garage.js").then(async ({garage}) => {
		const car = garage.get("car", "`+strings.TrimPrefix(car, "#/car/")+`");
		const fact = (value, unit) => ({value, unit, source: "measured", note: ""});
		await garage.put("visit", garage.newId(), {carId: car.id, distributorId: car.body.distributorId, date: "`+date+`",
			title: "", notes: "", sets: [], events: [], facts: {"points.begun": fact("`+date+`T09:00:00.000Z", ""),
			"points.dwell": fact("`+dwell+`", "distributor degrees"), odometer: fact("`+miles+`", "miles")}});
		return true;
	})`)
}
