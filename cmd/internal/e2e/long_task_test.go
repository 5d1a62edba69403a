//go:build e2e

package e2e

import (
	"fmt"
	"testing"
	"time"
)

// BenchmarkFirstScreenTasks opens the first screens on a processor four times
// slower than this one and gives the longest task of the page's thread in ms.
// At most 50 is asked of the product. The garage's pages come from the phone's
// own copy, as on every day but the first.
func BenchmarkFirstScreenTasks(b *testing.B) {
	for _, c := range []struct {
		name  string
		demos int
		hash  func(car string) string
	}{
		{"an empty garage", 0, func(string) string { return "#/" }},
		{"a garage with a car", 1, func(string) string { return "#/" }},
		{"the job", 1, func(car string) string { return car }},
		{"a verdict", 1, func(car string) string { return car + "/verdict" }},
	} {
		b.Run(c.name, func(b *testing.B) {
			p := shared(b).visitor(b, newSite(b).origin())
			p.firstRun()
			car := ""
			if c.demos > 0 {
				p.tap("button", demoOffer)
				car = waitForCar(p)
				p.open(car + "/verdict")
				p.sees("What is found")
			}
			p.open(c.hash(car))
			longest := 0.0
			for range b.N {
				p.slowed(4)
				p.reload()
				time.Sleep(6 * time.Second) // everything has been fetched and said by then
				tasks := eval[[]struct {
					Ms float64
					Of string
				}](p, tasksOfThePage)
				p.slowed(1)
				for _, task := range tasks {
					longest = max(longest, task.Ms)
					if task.Ms > 50 {
						b.Log(fmt.Sprintf("%.0f ms", task.Ms), task.Of)
					}
				}
			}
			b.ReportMetric(longest, "longest-ms")
		})
	}
}

const tasksOfThePage = `new Promise((done) => {
	const found = [];
	const names = (frame) => frame.scripts.map((each) =>
		Math.round(each.duration) + " " + each.invoker + " " + each.sourceFunctionName + " " + each.sourceURL.split("/").at(-1)).join("; ");
	new PerformanceObserver((list) => {
		for (const each of list.getEntries()) found.push({Ms: each.duration, Of: each.entryType + " at " + Math.round(each.startTime) +
			(each.scripts ? " style " + Math.round(each.startTime + each.duration - each.styleAndLayoutStart) + ": " + names(each) : "")});
	}).observe({type: "longtask", buffered: true});
	new PerformanceObserver((list) => {
		for (const each of list.getEntries()) found.push({Ms: 0, Of: "frame " + Math.round(each.duration) + " at " + Math.round(each.startTime) + " style " +
			Math.round(each.startTime + each.duration - each.styleAndLayoutStart) + ": " + names(each)});
	}).observe({type: "long-animation-frame", buffered: true});
	setTimeout(() => done(found), 300);
})`
