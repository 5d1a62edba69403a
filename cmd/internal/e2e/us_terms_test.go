//go:build e2e

package e2e

import "testing"

// britishWords lists what of these pages is still British under US terms: words
// of ours in sight, with everything opened; sources and what was typed aside.
const britishWords = `(() => {
	const british = /\b(earth(ed)?|tickover|spanners?|bonnet|rotor arm|plug leads?|king lead|coil lead|(high|low)[- ]tension|petrol|carburettors?|vernier|bush(es)?|end float|bob-weights?|pinking|strobe lamp|dynamo|feeler blades?|sparking plug|heel|baseplate|inlet|handbrake|anticlockwise|colou?red?(?<=colour\w*)|grey|centre|capsule)\b/gi;
	const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
	const found = [];
	while (walk.nextNode()) {
		const { data, parentElement } = walk.currentNode;
		if (parentElement.closest(".limit-source, .working > .note, .fact-value, .fact-note, .story, input, textarea")) continue;
		for (const [word] of data.matchAll(british)) found.push(word + ": " + data.trim().slice(0, 70));
	}
	return [...new Set(found)];
})()`

func TestTheElectricPagesSpeakAmerican(t *testing.T) {
	p, car := invented(t, "Wexcombe Dabchick Ten")
	p.open("#/settings")
	p.tap("radio", "Words > American")
	for _, each := range electricScreens(car) {
		t.Run(each.name, func(t *testing.T) {
			p := p.in(t)
			p.goes(each)
			if n := eval[int](p, `(async () => { // one after the other: a page may keep only one open
				for (const each of document.querySelectorAll("main details")) { each.open = true; await new Promise((done) => setTimeout(done, 30)); }
				return [...document.querySelectorAll("main details > .check-body, main details > .fact-form")].filter((each) => !each.hasChildNodes()).length;
			})()`); n > 0 {
				t.Fatalf("%d parts stay empty", n)
			}
			for _, word := range eval[[]string](p, britishWords) {
				t.Error(word)
			}
		})
	}
}
