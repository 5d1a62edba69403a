//go:build e2e

package e2e

import (
	"fmt"
	"testing"
)

// Words that only one English has, as they may stand on a page. Those of Britain hold what kit/words.js translates.
const (
	british = `earth(ed|ing)?|tickover|spanners?|bonnet|rotor arm|plug leads?|coil lead|earth lead|(high|low)[- ]tension|petrol|` +
		`carburettors?|vernier|bush(es)?|end float|bob-weights?|pink(s|ing)?|strobe|test lamp|dynamo|feeler blades?|` +
		`sparking plugs?|heel|baseplate|inlet|handbrake|headlamps?|anticlockwise|colou?red?(?<=colour\\w*)|grey|` +
		`centred?|capsule|vapour|fibre|metres?|loom|torch|tyres?|gearbox|paraffin|skew gear|static timing|(?<=\\d )°C`
	american = `(?<!level )ground(ed|ing)?|wrench(es)?|hood|spark plugs?|plug wires?|coil wire|gasoline|carburetors?|bushings?|end play|` +
		`flyweights?|pinging|timing light|test light|feeler gauges?|rubbing block|breaker plate|intake manifold|parking brake|` +
		`counterclockwise|color|gray|center(ed)?|vacuum can|vapor|meters?(?<=(milli|centi)meters?)|wiring harness|flashlight|` +
		`tires?|transmission|kerosene|helical gear|initial timing|(?<=\\d )°F`
)

// foreignWords lists what of a page is in the other English: words of ours in sight, with everything opened, and names
// that are only heard; sources and what was typed aside.
func foreignWords(words string) string {
	return fmt.Sprintf(`(async () => { // one after the other: a page may keep only one open
	for (const each of document.querySelectorAll("main details")) { each.open = true; await new Promise((done) => setTimeout(done, 15)); }
	const other = new RegExp("(?<![\\w-])(%s)(?![\\w-])", "gi");
	const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
	const found = [];
	const look = (text, element) => {
		if (element.closest(".limit-source, .working > .note, .typed, .fact-note, .story, .other-english, input, textarea")) return;
		for (const [word] of text.matchAll(other)) found.push(word + ": " + text.trim().slice(0, 90));
	};
	while (walk.nextNode()) look(walk.currentNode.data, walk.currentNode.parentElement);
	for (const each of document.querySelectorAll("main [aria-label]")) look(each.getAttribute("aria-label"), each);
	return [...new Set(found)];
})()`, words)
}

func TestEveryPageSpeaksOneEnglish(t *testing.T) {
	onEveryShelf(t, func(t *testing.T, p *page, all []screen) {
		for _, english := range []struct{ name, foreign string }{{"American", british}, {"British", american}} {
			p.open("#/settings")
			p.tap("radio", "Words > "+english.name)
			for _, each := range all {
				t.Run(english.name+"/"+each.name, func(t *testing.T) {
					p := p.in(t)
					p.open(each.hash)
					until(t, each.name+" has worked everything out", func() bool {
						return eval[bool](p, `!!document.querySelector("main h1, main h2, main p") && !document.querySelector("[aria-busy=true]")`)
					})
					for _, word := range eval[[]string](p, foreignWords(english.foreign)) {
						t.Error(word)
					}
				})
			}
		}
	})
}
