//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// bringsIn gives a page a garage file, as someone does who chooses one.
func bringsIn(p *page, file string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const held = new DataTransfer(), input = document.querySelector("input[type=file][id^=restore-file]");
		held.items.add(new File([%q], "garage.json", { type: "application/json" }));
		input.files = held.files;
		return input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, file))
}

// A file that brings another version of a car: with no server anywhere the
// other version waits on the kept page, is laid beside what stands, and the
// choice is carried out at once.
func TestAFileBroughtInAsksWhereBothDiffer(t *testing.T) {
	p := shared(t).visitor(t, plainHost(t))
	p.firstRun()
	addCar(p, "Linnet of the house")
	car := strings.TrimSuffix(p.hash(), "/book")
	writesFact(p, car, "Plug gap", "0.025")
	stored(p)
	const file = `{"format": "pointsmith garage 1", "made": "2026-05-02T10:00:00Z", "documents": [{"kind": "car", "id": "%s", "changedAt": "2026-05-02T09:00:00Z", "deleted": false,
		"body": {"name": "Linnet of the friend", "facts": {"plugGap": {"value": "0.032", "unit": "in", "source": "book", "note": ""}, "cylinders": {"value": "4", "unit": "", "source": "book", "note": ""}}}}]%s}`
	id := strings.TrimPrefix(car, "#/car/")
	p.open("#/keep-safe")
	bringsIn(p, fmt.Sprintf(file, id, fmt.Sprintf(`, "kept": [{"kind": "car", "id": %q, "changedAt": "2026-04-01T09:00:00Z", "deleted": false, "revision": "abc123", "device": "Third phone", "body": {"name": "Linnet of the third"}}]`, id)))
	p.sees("1 document here got something new", "2 things have two versions")
	bringsIn(p, fmt.Sprintf(file, id, ""))
	p.sees("holds nothing that is not here already")
	p.reload()
	p.open("#/")
	p.sees("2 things have two versions")
	p.tap("link", "Look at both")
	p.sees("in a file of 2026-05-02", "Third phone")
	p.tap("link", "Linnet of the third")
	p.tap("button", "Keep what stands now")
	p.tap("link", "Linnet of the friend")
	p.sees("Where they differ", "0.032", "0.025", "carried out at once")
	p.tap("button", "Take the other version")
	p.sees("Nothing has two versions")
	stored(p)
	p.reload()
	p.open("#/")
	p.seesNot("kept cop")
	p.find("link", "Linnet of the friend")
	p.open(car + "/facts")
	p.sees("0.032")
	if cylinders := eval[string](p,
		fmt.Sprintf(`import("/tools/js/kept/garage.js").then(({garage}) => garage.get("car", %q).body.facts.cylinders.value)`, id)); cylinders != "4" {
		t.Errorf("cylinders are %q", cylinders)
	}
}

// Documents that somebody put over the interface with the least a server
// takes: every page draws itself, and a figure typed into one is kept.
func TestDocumentsThatLeaveThingsOutAreShown(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	eval[bool](p, `(async () => {
		const put = (kind, id, body) => fetch("/api/v1/garage/" + kind + "/" + id, {method: "PUT", body: JSON.stringify({base: "", changedAt: new Date().toISOString(), body})}).then((answer) => answer.ok || Promise.reject(id));
		await put("car", "leancarleancar000000", {name: "Leanest", distributorId: "leanunitleanunit0000"});
		await put("distributor", "leanunitleanunit0000", {sheet: {rows: [{rpm: "800"}]}});
		await put("visit", "leanvisitleanvisit00", {carId: "leancarleancar000000", sets: [{id: "s1"}, {id: "s2", readings: [{id: "r1"}, {id: "r2", rpm: "800", deg: "8"}]}]});
		await put("visit", "leanvisitleanvisit01", {carId: "leancarleancar000000", facts: {"points.begun": {}}, events: [{id: "e1"}]});
		await put("car", "leancarleancar000001", {name: "Without a distributor"});
		return true;
	})()`)
	agrees(p)
	for _, car := range []string{"leancarleancar000000", "leancarleancar000001"} {
		for _, page := range []string{"", "/facts", "/book", "/condition", "/volts", "/points", "/spark", "/readings",
			"/readings/leanvisitleanvisit00/s1", "/readings/leanvisitleanvisit00/s2", "/verdict", "/what-if",
			"/strobe", "/card", "/do", "/call/leanvisitleanvisit00/s1", "/call/leanvisitleanvisit00/s2", "/marks",
			"/tape", "/cap", "/vacuum", "/scatter", "/restore"} {
			t.Run(car+page, func(t *testing.T) {
				p := p.in(t)
				p.open("#/car/" + car + page)
				until(t, "the page is drawn", func() bool {
					return eval[bool](p, `document.querySelector("main .sheet")?.childElementCount > 0`)
				})
				p.seesNot("could not be drawn")
			})
		}
	}
	writesFact(p, "#/car/leancarleancar000000", "Plug gap", "0.025")
	agrees(p)
	doc, err := s.store.Get("car", "leancarleancar000000")
	if err != nil || !strings.Contains(string(doc.Body), "0.025") {
		t.Errorf("%s %v", doc.Body, err)
	}
}
