//go:build e2e

package e2e

import (
	"testing"
	"time"
)

// Every limit of the condition checks says where it comes from, can be
// replaced by the car's own, and every check can be skipped with a reason.
func TestEveryLimitHasItsSourceAndCanBeTheCarsOwn(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	p.open(car + "/condition")
	p.sees("Is the engine fit to tune?")
	p.unfolds(time.Time{})
	weak := eval[[]string](p, `(async () => {
		const weak = [];
		const checks = [...document.querySelectorAll(".check")];
		for (const check of checks) {
			check.open = true;
			await new Promise((done) => setTimeout(done, 30));
			const name = check.id;
			if (!check.querySelector(".skip-check input")) weak.push(name + " cannot be skipped with a reason");
			if (!check.querySelector(".fail-means")) weak.push(name + " does not say what a fail means");
			if (!check.querySelector(".check-how")) weak.push(name + " does not say how");
			for (const limit of check.querySelectorAll(".limit-line")) {
				const measure = limit.parentElement;
				if (!/^(Rule of thumb|Limit): ./.test(limit.innerText)) weak.push(name + " has a limit without words: " + limit.innerText);
				if (/Rule of thumb/.test(limit.innerText) && !/Source: ./.test(limit.innerText)) weak.push(name + " has a limit without a source");
				if (!measure.querySelector(".own-limit input")) weak.push(name + " has a limit that cannot be the car's own");
			}
		}
		if (checks.length !== 30) weak.push(checks.length + " checks");
		return weak;
	})()`)
	for _, what := range weak {
		t.Error(what)
	}
}

// Why a figure worked out is not a measured one is said where it is shown.
func TestTheSparkPageSaysWhatABoundIs(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	p.open(waitForCar(p) + "/spark")
	p.sees("“Can give” is worked out with usual losses taken off, not measured", "What the plug may ask for, state by "+
		"state", "The best figure is a bound, not a measurement",
		"A measured figure is lower: the iron takes energy on "+
			"every swing", "The lossless figure beside it leaves out even resistance",
		"A kilovolt meter with the plug "+
			"lead held off")
}

// The points page takes the unit of what was found for what is left, and keeps
// what is in order folded.
func TestAsLeftTakesTheUnitOfAsFound(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.tap("button", demoOffer)
	p.open(waitForCar(p) + "/points")
	p.sees("In order: dwell is steady over speed")
	p.isChosen("Gap as left: in > thou")
	p.enters("Gap as left", "16")
	p.sees("= 0.406 mm, 0.016 in")
}

// With the server gone for good, each electric page of each kind of car is
// drawn and works.
func TestTheElectricPagesWorkWithTheServerGone(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	p.tap("button", demoOffer)
	cars := []string{waitForCar(p)}
	for _, name := range []string{"Wexcombe Dabchick Ten", "Kestlewood Ridgeway V8"} {
		p.open("#/")
		p.tap("DisclosureTriangle", "More invented cars")
		p.tap("button", "Put in the "+name)
		cars = append(cars, waitForCar(p))
	}
	p.watch.expectNoServer()
	s.shut()
	p.reload()
	for _, car := range cars {
		for _, each := range electricScreens(car) {
			p.goes(each)
			if eval[bool](p, `/\bNaN\b|\bundefined\b|Infinity/.test(document.body.innerText)`) {
				t.Errorf("%s%s shows a figure that is none", car, each.name)
			}
		}
		p.open(car + "/condenser")
		p.enters("Capacity", "0.1")
		p.sees("The condenser is small: 0.1 µF")
	}
}

// No word or figure of a drawing runs out of it, in the heaviest type.
func TestTheElectricDrawingsHoldTheirWords(t *testing.T) {
	p, car := invented(t, "Wexcombe Dabchick Ten")
	p.open("#/settings")
	p.tap("radio", "Light > sunlight")
	p.size(390, 844)
	for _, each := range []screen{{"spark", car + "/spark", "What this stands on", true},
		{"condenser", car + "/condenser", "What its size does on this car", true}} {
		p.goes(each)
		var seen int
		until(t, "the figures are drawn", func() bool {
			seen = eval[int](p, `document.querySelectorAll(".plate-drawing text").length`)
			return seen > 8
		})
		for _, word := range eval[[]string](p, `[...document.querySelectorAll(".plate-drawing text")].filter((text) => {
			const [inner, outer] = [text.getBoundingClientRect(), text.ownerSVGElement.getBoundingClientRect()];
			return inner.right > outer.right + 0.5 || inner.left < outer.left - 0.5;
		}).map((text) => text.textContent)`) {
			t.Errorf("%s: %q runs out of the drawing", each.name, word)
		}
	}
}
