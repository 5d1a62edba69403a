//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"pointsmith/store"
)

// A garage of 200 cars, 200 distributors by themselves and 5,000 visits, on a
// page thread four times slower than this one: how long the list, a car, its
// verdict and a search take from the tap until they stand; and the first list
// after a reload at full speed. Asked: 150 ms each, 500 ms the reload; the
// first sync of it all at most three times a bare copy of the same bytes.
func BenchmarkALargeGarage(b *testing.B) {
	s := newSite(b)
	if _, err := s.store.Import(largeGarage(), nil, time.Now()); err != nil {
		b.Fatal(err)
	}
	took := map[string]float64{}
	for range b.N {
		p := shared(b).visitor(b, s.origin())
		p.open("#/help")
		took["sync-ms"] += eval[float64](p, `(async () => {
			const {garage} = await import("/js/kept/garage.js");
			const {syncNow} = await import("/js/kept/sync.js");
			const began = performance.now();
			while (garage.cars().length < 200 || !garage.get("visit", "largevisit0000004999")) { await syncNow(); await new Promise((done) => setTimeout(done, 20)); }
			return performance.now() - began;
		})()`)
		took["bare-sync-ms"] += eval[float64](p, bareSync)
		p.open("#/")
		p.sees("Car 199")
		p.reload()
		p.sees("Car 199")
		took["reload-ms"] += eval[float64](p, `performance.getEntriesByName("first page")[0].startTime`)
		p.open("#/car/largecar000000000150") // what is fetched once is here
		p.sees("What is written down")
		p.slowed(4)
		took["list-ms"] += standsAfter(p, `location.hash = "#/"`, `document.querySelector("main .car-list .car-row")`)
		p.sees("Car 199")
		const oneRow = `document.querySelectorAll(".car-list .car-row").length === 1`
		took["search-ms"] += standsAfter(p, `const field = document.querySelector("input[name=search]");
			field.value = "car 177"; field.dispatchEvent(new Event("input", {bubbles: true}))`, oneRow)
		took["car-ms"] += standsAfter(p, `location.hash = "#/car/largecar000000000042"`,
			`document.querySelector("main .car")`)
		p.sees("What is written down")
		took["verdict-ms"] += standsAfter(p, `location.hash = "#/car/largecar000000000042/verdict"`,
			`document.querySelector("main .verdict .hero-word")`)
		p.slowed(1)
		took["shelf-ms"] += standsAfter(p, `location.hash = "#/car/largecar000000000042/fits"`,
			`document.querySelector("main .donor")`)
	}
	for name, ms := range took {
		b.ReportMetric(ms/float64(b.N), name)
	}
}

// standsAfter gives the time from an action until something is on the page and
// the page has been painted.
func standsAfter(p *page, act, there string) float64 {
	p.t.Helper()
	return eval[float64](p, `(async () => {
		await new Promise((done) => setTimeout(done, 1500)); // what still went on is over
		const began = performance.now();
		{ `+act+` }
		while (!(`+there+`)) await new Promise((done) => requestAnimationFrame(done));
		await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
		return performance.now() - began;
	})()`)
}

// largeGarage makes its documents: each car has a distributor and 15 visits,
// each distributor by itself 10.
func largeGarage() (all []store.Change) {
	put := func(kind, id string, body map[string]any) {
		text, _ := json.Marshal(body)
		all = append(all, store.Change{Kind: kind, ID: id, ChangedAt: time.Unix(1.7e9+int64(len(all)), 0), Body: text})
	}
	visit := 0
	visits := func(car, unit string, count int) {
		for range count {
			put("visit", fmt.Sprintf("largevisit%010d", visit), map[string]any{"carId": car, "distributorId": unit,
				"date": time.Unix(1.6e9+int64(visit)*20000, 0).Format(time.DateOnly), "title": "", "notes": "",
				"sets": []any{largeRun(visit)}, "events": []any{}, "facts": map[string]any{}})
			visit++
		}
	}
	rows := []any{}
	for _, row := range [][3]string{{"300", "0", "1"}, {"450", "0.5", "2.5"}, {"700", "4", "6"}, {"1000", "7", "9"},
		{"1500", "9", "11"}, {"2000", "11", "13"}, {"2500", "12", "14"}} {
		rows = append(rows, map[string]any{"rpm": row[0], "min": row[1], "max": row[2]})
	}
	sheet := map[string]any{"angleUnit": "distributor", "speedUnit": "distributor", "base": "excluded", "rows": rows,
		"baseCrankDeg": "8", "baseSide": "before", "listedWhile": "either", "limitDistDeg": "13"}
	for n := range 200 {
		unit := fmt.Sprintf("largeinit%011d", n)
		put("distributor", unit, map[string]any{"name": "", "sheet": sheet, "facts": map[string]any{}})
		id := fmt.Sprintf("largecar%012d", n)
		put("car", id, map[string]any{"name": fmt.Sprintf("Car %d", n), "owner": "", "distributorId": unit,
			"facts": map[string]any{"cylinders": map[string]any{"value": "4"}}})
		visits(id, unit, 15)
		own := fmt.Sprintf("largeunit%011d", n)
		put("distributor", own, map[string]any{"name": fmt.Sprintf("Unit %d", n), "bench": true, "sheet": sheet,
			"facts": map[string]any{}})
		visits("", own, 10)
	}
	return all
}

// largeRun is a run on the bench, a little apart from any other.
func largeRun(n int) map[string]any {
	readings := []any{}
	for i, row := range [][2]float64{{300, 0.5}, {450, 1.5}, {700, 5}, {1000, 8}, {1500, 10}, {2000, 12}, {2500, 13}} {
		readings = append(readings, map[string]any{"id": fmt.Sprintf("large%08d%d", n, i), "rpm": number(row[0]),
			"deg": number(row[1] + float64(n%5)/10), "side": "before", "direction": "rising", "at": ""})
	}
	return map[string]any{"id": fmt.Sprintf("largeset%010d", n), "place": "bench", "angleUnit": "distributor",
		"speedUnit": "distributor", "base": "excluded", "vacuum": "off", "readings": readings}
}
