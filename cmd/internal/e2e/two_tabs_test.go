//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Two tabs of one phone add readings to the same visit in the same moments,
// both meeting the server all the while: every reading is there, in both tabs
// and on the server, and no copy waits for a choice.
func TestTwoTabsTypeAtTheSameMoment(t *testing.T) {
	s := newSite(t)
	one := shared(t).visitor(t, s.origin())
	one.firstRun()
	two := one.tab()
	two.open("#/")
	const readings = 40
	at := eval[float64](one, `import("/js/kept/garage.js").then(async ({garage}) => {
		await garage.put("visit", "twotabstwotabs000000", {carId: "", distributorId: "", date: "2026-05-01", title: "", notes: "", sets: [
			{id: "s1", place: "car", angleUnit: "crank", speedUnit: "engine", base: "included", vacuum: "off", readingErrorCrankDeg: "", staticCrankDeg: "", staticSide: "before", readings: []}]});
		return Date.now() + 1500;
	})`)
	typing := `import("/js/kept/garage.js").then(async ({garage}) => {
		const {syncNow} = await import("/js/kept/sync.js");
		window.typed = (async () => {
			await new Promise((done) => setTimeout(done, %.0f - Date.now()));
			for (let n = 0; n < %d; n++) {
				const typing = garage.update("visit", "twotabstwotabs000000", (body) => {
					body.sets[0].readings.push({id: "%s" + n, rpm: String(800 + n), deg: "8", side: "before", direction: "rising", at: ""});
				});
				if (n %% 8 === 0) syncNow();
				await (n %% 3 === 0 ? typing : new Promise((done) => setTimeout(done, 5)));
			}
			return true;
		})();
		return true;
	})`
	eval[bool](one, fmt.Sprintf(typing, at, readings, "one"))
	eval[bool](two, fmt.Sprintf(typing, at, readings, "two"))
	eval[bool](one, "window.typed")
	eval[bool](two, "window.typed")
	agrees(one)
	agrees(two)
	held := `import("/js/kept/garage.js").then(({garage}) => new Set(garage.get("visit", "twotabstwotabs000000").body.sets[0].readings.map(({id}) => id)).size)`
	for name, p := range map[string]*page{"one": one, "two": two} {
		if n := eval[int](p, held); n != 2*readings {
			t.Errorf("tab %s holds %d readings of %d", name, n, 2*readings)
		}
	}
	doc, err := s.store.Get("visit", "twotabstwotabs000000")
	if n := strings.Count(string(doc.Body), `"direction"`); err != nil || n != 2*readings {
		t.Errorf("the server holds %d readings of %d: %v", n, 2*readings, err)
	}
	if kept, err := s.store.AllKept(); err != nil || len(kept) != 0 {
		t.Errorf("kept: %+v %v", kept, err)
	}
}

// While one tab meets the server the other does not, and comes after it.
func TestOnlyOneTabMeetsTheServerAtATime(t *testing.T) {
	s := newSite(t)
	one := shared(t).visitor(t, s.origin())
	one.firstRun()
	two := one.tab()
	two.open("#/")
	agrees(two)
	eval[bool](one, `new Promise((held) => navigator.locks.request("pointsmith.sync", () => new Promise((free) => { window.free = free; held(true); })))`)
	addCar(two, "Typed in the second tab")
	stored(two)
	time.Sleep(1500 * time.Millisecond) // longer than a change waits to be sent
	if n, err := s.store.Count(); err != nil || n != 0 {
		t.Errorf("%d documents were sent while the first tab was at it (%v)", n, err)
	}
	if eval[bool](two, `import("/js/kept/sync.js").then(({syncNow}) => syncNow())`) {
		t.Error("the second tab says that it met the server")
	}
	eval[bool](one, `(window.free(), true)`)
	until(t, "the second tab sends what waited, by itself", func() bool {
		n, err := s.store.Count()
		return err == nil && n == 2
	})
}

// A page is drawn again because another tab changed it, and while that is on
// its way something is decided here: the decision stays on the screen.
func TestAPageDrawnAgainKeepsWhatWasDecidedMeanwhile(t *testing.T) {
	one := shared(t).visitor(t, newSite(t).origin())
	one.firstRun()
	addCar(one, "Decided meanwhile")
	for _, choice := range []string{"The degrees are > crank degrees", "The speeds are > engine rpm",
		"Base timing is > not in the figures"} {
		one.tap("radio", choice)
	}
	one.rewrites("Base timing", "8")
	enterRow(one, 0, [3]string{"1000", "4", "6"})
	enterRow(one, 1, [3]string{"2000", "38", "40"})
	one.tap("radio", "The speeds are > engine rpm")
	one.find("button", "I have checked it against the book")
	stored(one)
	two := one.tab()
	two.open("#/")
	eval[bool](one, `import("/js/kept/garage.js").then(({garage}) => {
		const post = Worker.prototype.postMessage; // an engine that answers late, as under load
		Worker.prototype.postMessage = function (...words) { setTimeout(() => post.apply(this, words), 600); };
		const decide = () => { // as soon as there is something to tap
			const button = document.querySelector(".book-state button");
			if (button) button.click();
			else setTimeout(decide, 50);
		};
		garage.on("change", ({from}) => {
			if (from === "tab") setTimeout(decide, 300);
		});
		document.activeElement.blur();
		return true;
	})`)
	eval[bool](two, `import("/js/kept/garage.js").then(async ({garage}) => {
		const {id} = garage.everything().find(({kind}) => kind === "distributor");
		await garage.update("distributor", id, (body) => { body.sheetSource = "page 12"; });
		return true;
	})`)
	one.sees("You have checked that against the book")
	one.holds("Which book, which page", "page 12")
	one.sees("You have checked that against the book")
}
