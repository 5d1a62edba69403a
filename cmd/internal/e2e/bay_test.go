//go:build e2e

package e2e

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// answersAt are what the person enters at the steps that ask, by the step's
// name in the address: choices to tap and figures for the keypad.
var answersAt = map[string][]string{
	"static/weights":    {"springs fully back"},
	"static/lamp":       {"terminal to earth"},
	"static/prove":      {"8", "before TDC"},
	"strobe-idle/chalk": {"on its own stay"},
	"strobe-idle/idle":  {"800", "left alone"},
	"strobe-idle/read":  {"10.3", "before TDC"},
	"strobe-idle/move":  {"stays as it is"},
}

// A whole session of static and strobe timing: no server answers, and the
// phone dies at every single step, also in the middle of a figure.
func TestStaticAndStrobeWithThePhoneKilledAtEveryStep(t *testing.T) {
	t.Parallel() // with the other long ones
	s := newSite(t)
	p := &frailPhone{t: t, profile: filepath.Join(t.TempDir(), "phone")}
	p.browser = launch(t, p.profile)
	p.page = p.browser.phone(t, s.origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p.page)
	p.watch.expectNoServer()
	s.shut()

	p.sees("Static timing · due") // what the order of work puts first on this car, once its curve is looked at
	p.tap("link", "Static timing · due")
	static := p.worksThrough("static")
	p.sees("Base by strobe · due")
	p.tap("link", "Base by strobe · due")
	strobe := p.worksThrough("strobe-idle")
	if static < 15 || strobe < 8 { // its curve fails: the steps that move the body are left out
		t.Errorf("only %d and %d steps were done", static, strobe)
	}

	p.open(car)
	p.sees("Static timing · done", "Base by strobe · done")
	p.open(car + "/readings")
	p.tap("link", "On the car · 1 reading")
	p.find("button", "Correct 10.3 at 800, rising")
	if undone := eval[string](p.page, `document.querySelector(".undone").innerText`); undone != "" {
		t.Errorf("still undone at the end: %s", undone)
	}
}

// worksThrough begins a procedure and does every step of it, with the phone
// killed before each is confirmed. It gives how many steps there were.
func (f *frailPhone) worksThrough(procedure string) (steps int) {
	f.t.Helper()
	f.tap("button", "Begin")
	for steps = 0; ; steps++ {
		until(f.t, "a step is shown", func() bool {
			return eval[bool](f.page, `!!document.querySelector(".step-actions .next")`)
		})
		here := f.hash()
		id := here[strings.Index(here, procedure):]
		title := f.stepTitle()
		f.enters(answersAt[id], here, title)
		if !strings.Contains(here, procedure+"/") || f.stepTitle() != title {
			f.t.Fatalf("after the phone died at %s (%s) stands %s (%s)", here, title, f.hash(), f.stepTitle())
		}
		f.settles(".step-actions .next")
		next := eval[string](f.page, `document.querySelector(".step-actions .next").innerText.trim()`)
		f.tap("button", next)
		if next == "Finished" {
			until(f.t, "the car's page is shown", func() bool { return !strings.Contains(f.hash(), "/do/") })
			return steps + 1
		}
		until(f.t, "the next step is shown after "+here, func() bool {
			return f.hash() != here && f.stepTitle() != title
		})
	}
}

// settles waits until an element has stood still for a quarter of a second, as
// a person looks before tapping.
func (f *frailPhone) settles(selector string) {
	f.t.Helper()
	eval[bool](f.page, fmt.Sprintf(`new Promise((done) => {
		let last = "", since = 0;
		const look = (now) => {
			const at = JSON.stringify(document.querySelector(%q)?.getBoundingClientRect() ?? null);
			if (at !== last) [last, since] = [at, now];
			if (now - since > 250) done(true);
			else requestAnimationFrame(look);
		};
		requestAnimationFrame(look);
	})`, selector))
}

// enters answers a step, and dies half-way through it.
func (f *frailPhone) enters(answers []string, here, title string) {
	f.t.Helper()
	if len(answers) == 0 {
		f.dies()
		return
	}
	f.readsFirst()
	for i, answer := range answers {
		if strings.ContainsAny(answer[:1], "0123456789") {
			for _, key := range answer {
				f.tap("button", "Keypad > "+string(key))
			}
			f.dies()
			f.isStill(here, title)
			if holds := eval[string](f.page, `document.querySelector("main input.great").value`); holds != answer {
				f.t.Fatalf("%s: %q was typed, %q is there after the phone died", here, answer, holds)
			}
			continue
		}
		f.tap("radio", answer)
		if i == 0 {
			f.dies()
			f.isStill(here, title)
			f.isChosen(answer)
		}
	}
}

// readsFirst goes on to the figures of a step whose cautions are read first.
func (p *page) readsFirst() {
	p.t.Helper()
	if len(p.all("button", "Read: now enter it")) > 0 {
		p.tap("button", "Read: now enter it")
	}
}

func (f *frailPhone) isStill(here, title string) {
	f.t.Helper()
	until(f.t, "the step is shown again", func() bool { return f.stepTitle() != "" })
	if f.hash() != here || f.stepTitle() != title {
		f.t.Fatalf("the phone died at %s (%s) and came back to %s (%s)", here, title, f.hash(), f.stepTitle())
	}
}

func (f *frailPhone) stepTitle() string { f.t.Helper(); return stepTitle(f.page) }

func stepTitle(p *page) string {
	p.t.Helper()
	return eval[string](p, `document.querySelector(".step-title")?.innerText ?? ""`)
}

// newDemo is a new phone with the invented car on it, where a test writes.
func newDemo(t testing.TB) (p *page, car string) {
	t.Helper()
	p = shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	return p, waitForCar(p)
}

// begunBefore begins every work as it was before the curve was known to fail:
// with the steps that move the body.
func begunBefore(p *page, car string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`Promise.all([import("/js/bay/procedures/index.js"), import("/js/kept/drafts.js")]).then(async ([{procedures}, {drafts}]) => {
		for (const {name} of procedures())
			await drafts.put("do/" + %q.split("/").at(-1) + "/" + name, {step: "", answers: {}, begun: new Date().toISOString()});
		return true;
	})`, car))
}

// Hasty fingers: a step tapped again and again until the next one is there is
// confirmed once.
func TestAStepTappedTwiceIsConfirmedOnce(t *testing.T) {
	p, car := newDemo(t)
	begunBefore(p, car)
	p.open(car + "/do/static/set")
	p.find("button", "Done: next step")
	taps := eval[int](p, `new Promise((done) => {
		const next = document.querySelector(".step-actions .next");
		let taps = 0;
		const again = () => {
			if (!next.isConnected) return done(taps);
			next.click();
			taps++;
			setTimeout(again);
		};
		again();
	})`)
	until(t, "the next step is shown", func() bool {
		return strings.HasSuffix(p.hash(), "/do/static/tighten") && stepTitle(p) == "Tighten the clamp"
	})
	moved := eval[int](p, `import("/js/kept/garage.js").then(({garage}) => garage.everything().flatMap(({body}) => body.events ?? []).filter(({changed}) => changed === "distributor-moved").length)`)
	if moved != 1 || taps < 3 {
		t.Errorf("%d taps noted %d times that the distributor was moved", taps, moved)
	}
}

// Gone elsewhere while a step is still being kept: nobody is called back to it.
func TestWhoLeavesAStepIsNotCalledBack(t *testing.T) {
	p, car := newDemo(t)
	p.open(car + "/do/static/set")
	p.find("button", "Done: next step")
	eval[bool](p, `import("/js/kept/drafts.js").then(({drafts}) => {
		const put = drafts.put;
		drafts.put = async (...words) => {
			await new Promise((passed) => setTimeout(passed, 700));
			await put(...words);
			window.isKept = true;
		};
		document.querySelector(".step-actions .next").click();
		return new Promise((passed) => setTimeout(() => passed(true), 300));
	})`)
	p.open("#/help")
	until(t, "the step is kept", func() bool { return eval[bool](p, "window.isKept === true") })
	eval[bool](p, "new Promise((passed) => setTimeout(() => passed(true), 300))")
	if hash := p.hash(); hash != "#/help" {
		t.Errorf("called back to %s", hash)
	}
}

// What stands undone is on every screen, must be ticked before finishing, and
// speaks up after 40 minutes with the pipe off.
func TestTheRestoreListBlocksFinishing(t *testing.T) {
	p, car := newDemo(t)
	p.open(car + "/do/strobe-idle/pipe-off")
	p.tap("button", "Done: next step")
	p.sees("Remember: vacuum pipe off and plugged")
	until(t, "the next step is shown", func() bool { return strings.HasSuffix(p.hash(), "/strobe-idle/strobe-on") })
	p.open(car + "/do/idle/finish")
	p.sees("Not finished: put these back first")
	if len(p.all("button", "Finished")) != 0 {
		t.Error("it can be finished with the pipe off")
	}
	for _, page := range []string{"#/", "#/settings", "#/help", car, car + "/verdict", car + "/book", car + "/facts"} {
		p.open(page)
		p.sees("vacuum pipe off and plugged")
	}

	// 41 minutes ago, so that the clock has not to be waited for.
	eval[bool](p, `import("/js/kept/garage.js").then(async ({garage}) => {
		const [visit] = garage.visits({carId: location.hash.split("/")[2]});
		await garage.update("visit", visit.id, (body) => { body.events.forEach((event) => { event.at = new Date(Date.now() - 41 * 60000).toISOString(); }); });
		return true;
	})`)
	p.open(car)
	p.sees("vacuum pipe off and plugged for 41 minutes now")

	p.open(car + "/do/idle/finish")
	p.tap("button", "Done: unplug the pipe and put it back")
	p.seesNot("vacuum pipe off and plugged")
	p.tap("button", "Finished")
	p.sees("What is written down")
}

// With a piston stop in the hole no step lets the engine be started, neither
// on the page nor in large type.
func TestThePistonStopBlocksStarting(t *testing.T) {
	p, car := newDemo(t)
	begunBefore(p, car)
	p.open(car + "/do/prove-tdc/stop-in")
	p.tap("button", "Done: next step")
	p.sees("piston stop in the plug hole")
	// this car has no ballast to try a bridge on
	starts := eval[[]string](p, `import("/js/bay/procedures/index.js").then(({procedures}) => procedures().flatMap(({name, steps}) => steps.filter((step) => step.startsEngine && step.id !== "try").map((step) => name + "/" + step.id)))`)
	if len(starts) < 9 {
		t.Fatalf("only %d steps start the engine: %v", len(starts), starts)
	}
	for _, step := range starts {
		p.open(car + "/do/" + step)
		p.sees("Do not start the engine", "turning against the stop breaks piston and thread")
		if next := eval[int](p, `document.querySelectorAll(".step-actions .next").length`); next != 0 {
			t.Errorf("%s can be confirmed", step)
		}
	}

	p.open(car + "/do/strobe-idle/start")
	here := p.hash()
	p.tap("button", "Large type, for busy hands")
	p.sees("Tap anywhere for next")
	until(t, "the cautions are read", func() bool {
		p.keys(" ")
		return strings.Contains(p.text(), "put it right first")
	})
	for range 3 {
		p.keys(" ")
	}
	p.sees("Do not start the engine", "Put it right first")
	if p.hash() != here {
		t.Fatalf("the large view went on to %s", p.hash())
	}
	p.tap("button", "Done: screw out the stop")
	p.sees("Start the engine")
	until(t, "space goes on once the stop is out", func() bool { p.keys(" "); return p.hash() != here })
}

// The list on every screen and the one of the calculation say the same.
func TestTheRestoreListIsTheCalculationsOwn(t *testing.T) {
	p, car := demo(t)
	p.open(car)
	differences := eval[[]string](p, `Promise.all([import("/js/safety/temporaries.js"), import("/js/engine/client.js")]).then(async ([{temporaries}, {call}]) => {
		const now = "2026-01-01T10:00:00Z", differ = [];
		for (const {id, what, noStart, noIgnition, afterMinutes} of temporaries) {
			const at = (minutes) => new Date(Date.parse(now) - minutes * 60000).toISOString();
			const ask = (minutes) => call("work.order", {car: {}, visits: [{at: at(minutes), undone: [id]}], now});
			const [list, before, after] = [await ask(1), await ask((afterMinutes ?? 100) - 1), await ask(afterMinutes ?? 100)];
			const found = list.restoreList[0];
			if (found?.id !== id || found.what !== what || !!found.blocksStart !== !!noStart || !!found.blocksIgnition !== !!noIgnition || list.mayStart === !!noStart) differ.push(id + ": " + JSON.stringify(found));
			if (!!before.restoreList[0].overdue || !!after.restoreList[0].overdue !== (afterMinutes !== undefined)) differ.push(id + " speaks up at another minute");
		}
		return differ;
	})`)
	for _, each := range differences {
		t.Error(each)
	}
}

// The large type reads at two metres: the figure and what is typed are at
// least 72 px, every target at least 56, one thing a screen.
func TestLargeTypeReadsAtTwoMetres(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	p.open(waitForCar(p) + "/do/static/prove")
	p.tap("button", "Large type, for busy hands")
	for _, caution := range []string{"Caution 1 of 3", "Caution 2 of 3", "Caution 3 of 3"} {
		p.sees(caution)
		p.touch(195, 600) // anywhere
	}
	p.sees("Turn the crank two full turns")
	until(t, "the figure is shown", func() bool {
		return eval[bool](p, `!!document.querySelector(".large .step-number")`)
	})
	sizes := func(of string) (px float64) {
		return eval[float64](p, fmt.Sprintf(`parseFloat(getComputedStyle(document.querySelector(%q)).fontSize)`, of))
	}
	if px := sizes(".large .step-number"); px < 72 {
		t.Errorf("the figure is %g px", px)
	}
	p.keys(" ")
	p.sees("The points open at")
	if px := sizes(".large input.great"); px < 72 {
		t.Errorf("what is typed is %g px", px)
	}
	if small := eval[[]string](p, `[...document.querySelectorAll(".large button, .large-foot button, .large .option label")].filter((each) => each.getClientRects().length && Math.min(each.offsetWidth, each.offsetHeight) < 56).map((each) => each.outerHTML.slice(0, 80))`); len(small) > 0 {
		t.Errorf("too small: %q", small)
	}

	p.tap("button", "Keypad > next") // nothing is entered
	p.sees("The points open at: nothing is entered")
	p.tap("button", "Keypad > 8")
	p.tap("radio", "before TDC")
	p.tap("button", "Keypad > next")
	p.sees("Pass", "the book has 8.0° before TDC") // a screen of its own: it reads at two metres too
	here := p.hash()
	p.keys(" ")
	until(t, "the next step is shown", func() bool { return p.hash() != here })
}

// In large type the first screen of each step, its cautions and its action,
// fits on a phone of 390 by 844 without scrolling; what stands below a keypad,
// the way back and the ear, may lie beneath.
func TestLargeTypeFitsTheScreen(t *testing.T) {
	p, car := demo(t)
	p.open(car)
	defer eval[bool](p, `(localStorage.removeItem("pointsmith.view"), true)`)
	eval[bool](p, `(localStorage.setItem("pointsmith.view", "large"), true)`)
	steps := eval[[]string](p, `import("/js/bay/procedures/index.js").then(({procedures}) => procedures().flatMap(({name, steps}) => steps.filter((_, i) => i % 3 === 0).map(({id}) => name + "/" + id)))`)
	if len(steps) < 40 {
		t.Fatalf("only %d steps", len(steps))
	}
	for _, step := range steps {
		p.open(car + "/do/" + step)
		for range 5 {
			until(t, "the step is drawn", func() bool {
				return eval[bool](p, `!!document.querySelector(".large-place")`)
			})
			if over := eval[float64](p, `(document.querySelector(".large .keypad")?.getBoundingClientRect().bottom ??
				document.documentElement.scrollHeight) - innerHeight`); over > 20 {
				t.Errorf("%s is %g px too high: %.60s", step, over, p.text())
			}
			if !eval[bool](p,
				`!!document.querySelector(".large-caution") && (document.querySelector(".large-hint").click(), true)`) {
				break
			}
		}
	}
}
