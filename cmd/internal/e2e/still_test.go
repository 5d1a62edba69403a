//go:build e2e

package e2e

import (
	"testing"
)

// Asked of the product: how far a page may move while it opens (the browser's
// own measure of layout shift), and how much a phone fetches for the first
// screen.
const (
	mostShift    = 0.02
	mostRequests = 25
	mostKB       = 90 // scripts and style of the first screen, as they are sent
)

// shifted adds up by how much the page moved since it was loaded, without what
// followed a touch, and names what moved most.
const shifted = `new Promise((done) => new PerformanceObserver((list, observer) => {
	observer.disconnect();
	const moved = list.getEntries().filter(({hadRecentInput}) => !hadRecentInput);
	const worst = moved.flatMap(({value, sources}) => sources.map(({node}) => value.toFixed(3) + " " + (node?.outerHTML ?? node?.data ?? "gone").slice(0, 90)));
	done({Sum: moved.reduce((sum, {value}) => sum + value, 0), Worst: worst.slice(0, 6)});
}).observe({type: "layout-shift", buffered: true}) || setTimeout(() => done({Sum: 0, Worst: []}), 300))`

// standsStill: nothing moves under a finger while a page opens.
func standsStill(p *page, at screen) {
	p.t.Helper()
	moved := eval[struct {
		Sum   float64
		Worst []string
	}](p, shifted)
	if moved.Sum > mostShift {
		p.t.Errorf("%s moves by %.3f while it opens, at most %g: %q", at.name, moved.Sum, mostShift, moved.Worst)
	}
}

// A phone that opens the app for the first time fetches little before it shows
// the first screen.
func TestTheFirstScreenIsSmall(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.sees("Add a car")
	got := eval[struct {
		Requests int
		Bytes    float64
		Names    []string
	}](p, `(() => {
		const [{startTime: shown}] = performance.getEntriesByName("first page");
		const all = performance.getEntriesByType("resource").filter(({startTime}) => startTime < shown);
		const first = all.filter(({name}) => /\.(js|css)$/.test(name) && !name.includes("/wasm/") && !name.endsWith("/worker.js"));
		return {Requests: all.length + 1, Bytes: first.reduce((sum, {encodedBodySize}) => sum + encodedBodySize, 0), Names: first.map(({name, encodedBodySize}) => name.split("/").at(-1) + " " + encodedBodySize)};
	})()`)
	t.Logf("%d requests; %.1f kB of script and style: %q", got.Requests, got.Bytes/1000, got.Names)
	if got.Requests > mostRequests || got.Bytes > mostKB*1000 || got.Bytes < 10_000 {
		t.Errorf("%d requests and %.1f kB; at most %d and %d kB", got.Requests, got.Bytes/1000, mostRequests, mostKB)
	}
}
