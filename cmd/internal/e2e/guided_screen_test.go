//go:build e2e

package e2e

import (
	"fmt"
	"slices"
	"testing"
)

// measuring is a script for a page of guided work: what of a step, its
// instruction, its figure and everything that answers it, does not stand on
// the first screen or lies under something else.
const measuring = `(async (ONE) => {
const wait = (ms) => new Promise((done) => setTimeout(done, ms));
const all = (of) => [...document.querySelectorAll(of)].filter((each) => each.getClientRects().length && !each.closest(".ear"));
const barButtons = ".step-actions .button, .large-action > .button, .large-foot .button, .large-hint, .large-caution, ";
const barOf = () => all(".large-foot, .step-actions:has(.next)")[0];
const measured = (name) => {
	const pad = all("main .key-next")[0]; // where there is a keypad its own key goes on
	const bar = pad ? null : barOf(), floor = Math.min(innerHeight, bar?.getBoundingClientRect().top ?? innerHeight);
	const looked = all((pad ? "" : barButtons) + ".step-title, .step-figure, .step-unknown, main .option, main .key, main .display, .hold-clock .button, .live-ignition .button, .caution-line summary");
	const ceiling = Math.max(0, document.querySelector("#notices").getBoundingClientRect().bottom);
	const bad = [];
	for (const each of looked) {
		const {left, right, top, bottom} = each.getBoundingClientRect();
		const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
		const lowest = bar?.contains(each) ? innerHeight : floor;
		if (top < ceiling - 1 || bottom > lowest + 1) bad.push(name + ": " + each.className + " from " + Math.round(top) + " to " + Math.round(bottom) + ", free from " + Math.round(ceiling) + " to " + Math.round(lowest));
		else if (!at || !(each === at || each.contains(at))) bad.push(name + ": " + each.className + " is covered by " + (at?.outerHTML ?? "").slice(0, 60));
	}
	if (!all(".large-caution").length && !looked.some((each) => each.matches(".step-title"))) bad.push(name + ": no instruction");
	if (scrollY > 0) bad.push(name + ": scrolled by " + scrollY);
	return bad;
};
const answered = () => {
	for (const input of all("main input.great")) {
		if (input.value) continue;
		input.value = /rpm/.test(input.name) ? "800" : input.name === "fuel" ? "95" : "8";
		input.dispatchEvent(new Event("input", {bubbles: true}));
	}
	for (const name of new Set(all("main input[type=radio]").map((each) => each.name)))
		if (!all('main input[name="' + name + '"]:checked').length) all('main input[name="' + name + '"]')[0].click();
};
// the step of the address is drawn, and stands still
const settled = async () => {
	for (let n = 0; n < 300 && document.querySelector("main > .sheet")?.dataset.step !== location.hash.split("/")[5]; n++) await wait(30);
	for (let last = "", since = 0; since < 3; await wait(20)) {
		const now = location.hash + (document.querySelector("main")?.innerHTML ?? "");
		since = now === last ? since + 1 : 0;
		last = now;
	}
};`

// walkedSmall works through what stands at the page's address with the button
// of each step; walkedLarge with taps.
const walkedSmall = measuring + `
	const bad = [], seen = [];
	for (let i = 0; i < 40 && location.hash.split("/").length === 6; i++) {
		await settled();
		const here = location.hash, name = here.split("/").slice(4).join("/");
		seen.push(name);
		bad.push(...measured(name));
		const button = (words) => all(".step-actions button").find((each) => each.innerText.includes(words));
		if (button("Read: now enter it")) {
			button("Read: now enter it").click();
			await settled();
			bad.push(...measured(name + " (to be entered)"));
		}
		answered();
		await wait(20);
		if (!ONE) (button("Read already") ?? document.querySelector(".step-actions .next"))?.click();
		for (let n = 0; n < 300 && !ONE && location.hash === here; n++) await wait(30);
		if (!ONE && location.hash === here) bad.push(name + " does not go on");
		if (ONE || location.hash === here) break;
	}
	return {bad, seen};
})`

const walkedLarge = measuring + `
	const bad = [], seen = [];
	for (let i = 0; i < 200 && location.hash.split("/").length === 6; i++) {
		await settled();
		const here = location.hash, name = here.split("/").slice(4).join("/");
		const hasTitle = all(".large .step-title").length > 0;
		if (hasTitle) seen.push(name);
		if (!document.querySelector(".large .step-verdict-room") || hasTitle) bad.push(...measured(name + " (large)"));
		const was = document.querySelector(".large").innerHTML;
		answered();
		await wait(20);
		if (ONE && hasTitle && all(".large-ask").length + all("input.great").length === 0) break;
		(all(".large .key-next")[0] ?? all(".large-hint")[0]).click();
		for (let n = 0; n < 300 && location.hash === here && document.querySelector(".large")?.innerHTML === was; n++) await wait(30);
		if (location.hash !== here && ONE) break;
		if (location.hash === here && document.querySelector(".large")?.innerHTML === was) { bad.push(name + " (large) does not go on: " + document.querySelector(".large").innerText); break; }
	}
	return {bad, seen};
})`

type walked struct{ Bad, Seen []string }

// On every step of every guided work, in both sizes, the instruction, its
// figure and the buttons that answer it stand on the first screen of a phone,
// above the bar, beside whatever stands undone by then.
func TestAStepStandsOnTheFirstScreen(t *testing.T) {
	t.Parallel() // with the other long ones
	sizes := []struct{ name, view, script string }{{"small", "", walkedSmall}, {"large", "large", walkedLarge}}
	shared(t) // one browser for both
	for _, size := range sizes {
		t.Run(size.name, func(t *testing.T) {
			t.Parallel()
			p, car := newDemo(t)
			var seen []string
			walk := func(one bool) {
				found := eval[walked](p, fmt.Sprintf("%s(%t)", size.script, one))
				for _, each := range found.Bad {
					t.Error(each)
				}
				seen = append(seen, found.Seen...)
			}
			steps := eval[[]string](p, `import("/js/bay/procedures/index.js").then(({procedures}) => procedures().flatMap(({name, steps}) => steps.map(({id}) => name + "/" + id)))`)
			work := eval[[]string](p, `import("/js/bay/procedures/index.js").then(({procedures}) => procedures().map(({name}) => name))`)
			for _, name := range work {
				p.open(car + "/do/" + name)
				p.find("button", "Begin")
				eval[bool](p, fmt.Sprintf(`(localStorage.setItem("pointsmith.view", %q), true)`, size.view))
				p.tap("button", "Begin")
				until(t, name+" is begun", func() bool { return eval[bool](p, `!!document.querySelector(".step-actions .next, .large")`) })
				walk(false)
				p.open(car)
			}
			if len(seen) < len(steps)*3/4 {
				t.Errorf("only %d of %d steps were come by", len(seen), len(steps))
			}
			for _, step := range steps {
				if slices.Contains(seen, step) {
					continue
				}
				eval[bool](p, fmt.Sprintf(asked, step, car))
				eval[bool](p, fmt.Sprintf(`(localStorage.setItem("pointsmith.view", %q), true)`, size.view))
				p.open(car + "/do/" + step)
				walk(true)
				if !slices.Contains(seen, step) {
					t.Errorf("%s is not shown; %v", step, seen[len(seen)-1])
				}
			}
		})
	}
}

// asked keeps a run whose answers lead to a step that is not on the usual way.
const asked = `Promise.all([import("/js/bay/procedures/index.js"), import("/js/kept/drafts.js")]).then(async ([{procedures}, {drafts}]) => {
	const [work, id] = %q.split("/"), answers = {}, passed = {};
	const {steps} = procedures().find(({name}) => name === work);
	const step = steps.find((one) => one.id === id);
	for (const before of steps.slice(0, steps.indexOf(step))) for (const each of before.cautions ?? []) passed[each] ??= before.id;
	for (const {answer, is} of [step.only ?? [], (step.anyOf ?? []).slice(0, 1)].flat()) if (is.length) answers[answer] = is[0];
	await drafts.put("do/" + %q.split("/").at(-1) + "/" + work, {step: "", answers, passed, begun: new Date().toISOString()});
	return true;
})`
