//go:build e2e

package e2e

import (
	"fmt"
	"testing"
)

// bay opens the invented car at the engine bay, with something left undone,
// the capsule and the cylinders read, and readings called.
func bay(t testing.TB) (p *page, all []screen) {
	t.Helper()
	p = shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/safety/standing.js"), import("/js/record/visit-facts.js")]).then(async ([{garage}, work, facts]) => {
		const car = garage.get("car", location.hash.split("/")[2]);
		const fact = (value, unit, note = "") => ({value, unit, source: "measured", note});
		await garage.update("distributor", car.body.distributorId, (body) => { body.facts.capsuleMeaning = fact("start-full-most", ""); body.facts.firstPostClock = fact("7.5", ""); });
		await facts.keepVisitFacts(car, {
			"capsule.1.vacuum": fact("4", "inHg"), "capsule.1.deg": fact("1", "crank degrees"), "capsule.2.vacuum": fact("8", "inHg"), "capsule.2.deg": fact("7", "crank degrees"), "capsule.3.vacuum": fact("12", "inHg"), "capsule.3.deg": fact("13", "crank degrees"),
			"scatter.unit": fact("distributor", ""), "scatter.place": fact("bench", ""), "scatter.run1.2": fact("1.2", "", "early"), "scatter.run1.3": fact("0.4", "", "late"), "scatter.run1.4": fact("0.2", "", "early"),
			"tdc.firstTouch": fact("14", "crank degrees before TDC"), "tdc.secondTouch": fact("10", "crank degrees after TDC"),
		});
		await work.undo(car, ["vacuum-pipe", "clamp-loose"]);
		const idle = {...fact("800", "rpm"), source: "book"};
		await garage.put("car", "secondcaratthebay", {name: "The second at the bay", owner: "", distributorId: "", facts: {idleSpeed: idle}, demo: false});
		return true;
	})`)
	const runs = "#/car/secondcaratthebay" // nothing is loose on it
	eval[bool](p, fmt.Sprintf(asked, "strobe-idle/idle", runs))
	eval[bool](p, fmt.Sprintf(asked, "static/prove", runs))
	return p, []screen{
		{"work", car + "/do", "Prove TDC by a positive stop", true},
		{"hunt begins", car + "/hunt", "What does it do, and when?", true},
		{"work done", car + "/work", "Which part was worked on?", true},
		{"before", car + "/do/static", "Before you begin", true},
		{"step", runs + "/do/static/prove", "Turn the crank two full turns", true},
		{"blocked", car + "/do/strobe-idle/start", "Do not start the engine", true},
		{"speed", runs + "/do/strobe-idle/idle", "Hear the speed", true},
		{"finish", car + "/do/static/finish", "Not finished", true},
		{"restore", car + "/restore", "Put each back, then tick it", true},
		{"call waits", car + "/call", "Do not start the engine", true},
		{"marks", car + "/marks", "True zero from two stops", true},
		{"tape", car + "/tape", "34.03 mm", true},
		{"cap", car + "/cap", "Share a mark", true},
		{"vacuum", car + "/vacuum", "Fig. 1", true},
		{"scatter", car + "/scatter", "before its turn", true},
	}
}

// What the calculations say of the figures of the trade, seen on the screen.
func TestCapsuleCylindersAndMarksConclude(t *testing.T) {
	p, all := bay(t)
	see := map[string][]string{
		// 130 mm, 30 degrees: arc, and chord 130 sin 15°
		"marks":   {"True TDC is 2.0° before the old zero mark", "34.03", "33.65"},
		"cap":     {"1 and 4", "2 and 3"},
		"scatter": {"No. 3", "fires 2.4 crank degrees before its turn"},
		"vacuum":  {"Movement of the capsule over vacuum"},
	}
	for _, each := range all {
		if want := see[each.name]; want != nil {
			p.goes(each)
			p.sees(want...)
		}
	}
}
