//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"pointsmith/store"
)

// A fresh phone takes in a garage of 10,000 visits of 2 kB: from the first
// request until all of it is in the phone's store. Beside it, in the same
// browser, the same pages are fetched and put into a bare IndexedDB, one
// transaction a page; "ratio" is what our checks, the marks of what waits, and
// the memory of the app cost.
func BenchmarkFreshPhoneInTheBrowser(b *testing.B) {
	const documents = 10_000
	s := newSite(b)
	body := json.RawMessage(`{"carId": "", "notes": "` + strings.Repeat("rising 1000 17.5 ", 120) + `"}`)
	var changes []store.Change
	for n := range documents {
		changes = append(changes, store.Change{Kind: "visit", ID: fmt.Sprintf("visit%011d", n),
			ChangedAt: time.Now(), Body: body})
	}
	if _, err := s.store.Import(changes, nil, time.Now()); err != nil {
		b.Fatal(err)
	}
	var there, bare float64
	for range b.N {
		p := shared(b).visitor(b, s.origin())
		p.open("#/help") // does not read the garage; its own first meeting has begun
		there += eval[float64](p, `(async () => {
			const {garage} = await import("/js/kept/garage.js");
			const {syncNow} = await import("/js/kept/sync.js");
			const began = performance.now();
			while (!garage.get("visit", "visit00000009999")) { await syncNow(); await new Promise((done) => setTimeout(done, 20)); }
			return performance.now() - began;
		})()`)
		if n := eval[int](p,
			`import("/js/kept/db.js").then(({read}) => read("documents", (store) => store.count()))`); n != documents {
			b.Fatalf("%d documents are in the phone's store", n)
		}
		bare += eval[float64](p, bareSync)
	}
	b.ReportMetric(there/float64(b.N), "ms/sync")
	b.ReportMetric(bare/float64(b.N), "bare-ms/sync")
	b.ReportMetric(there/bare, "ratio")
}

const bareSync = `(async () => {
	const db = await new Promise((done, failed) => {
		const request = indexedDB.open("bare" + Math.random(), 1);
		request.onupgradeneeded = () => request.result.createObjectStore("documents");
		request.onsuccess = () => done(request.result);
		request.onerror = () => failed(request.error);
	});
	const began = performance.now();
	let place = {cursor: 0, garage: "", more: true};
	while (place.more) {
		place = await (await fetch("/api/v1/garage?after=" + place.cursor + "&garage=" + encodeURIComponent(place.garage), {cache: "no-store"})).json();
		await new Promise((done, failed) => {
			const transaction = db.transaction("documents", "readwrite", {durability: "relaxed"});
			transaction.oncomplete = done;
			transaction.onabort = () => failed(transaction.error);
			for (const doc of place.documents) transaction.objectStore("documents").put(doc, doc.kind + "/" + doc.id);
		});
	}
	return performance.now() - began;
})()`
