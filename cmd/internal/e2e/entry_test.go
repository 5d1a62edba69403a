//go:build e2e

package e2e

import (
	"fmt"
	"testing"
	"time"
)

// entering is the demo car with readings being taken on the bench.
func entering(t testing.TB) (p *page, car string) {
	t.Helper()
	p = shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car = waitForCar(p)
	p.open(car + "/readings")
	p.tap("button", "Measure on the bench")
	p.tap("radio", "Vacuum at the capsule > none")
	p.tap("button", "I have read the caution: begin")
	p.find("button", "Save reading")
	return p, car
}

// Save can be met on every screen, at every size of the text, under every bar and several of them; and every key too,
// once the page is moved to it. What was removed can be brought back without a key being covered, on its page alone.
func TestSaveIsAlwaysOnTheScreen(t *testing.T) {
	p, car := entering(t)
	keypad(p, "1.5")
	p.tap("button", "Save reading")
	p.tap("button", "Correct 1.5 at 300, rising")
	p.tap("button", "Remove this reading")
	p.sees("is removed")
	p.onEveryScreen(t, "undo", true)
	p.open(car)
	p.seesNot("is removed")
	p.open(p.hash() + "/readings")
	p.tap("link", "On the bench · no readings")
	p.sees("Save reading")
	p.onEveryScreen(t, "no bar", true)
	eval[bool](p, `import("/js/frame/update-bar.js").then(({offerUpdate}) => (offerUpdate(() => {}), true))`)
	p.onEveryScreen(t, "update", true)
	eval[bool](p, fmt.Sprintf(`Promise.all([import("/js/kept/garage.js"), import("/js/safety/standing.js")]).then(
		([{garage}, work]) => work.undo(garage.get("car", %q), ["vacuum-pipe"])).then(() => true)`,
		car[len("#/car/"):]))
	p.onEveryScreen(t, "undone", true)
	eval[bool](p, `import("/js/safety/coil-watch.js").then(({coilWatch}) =>
		(coilWatch.begin("Linnet", "volts"), true))`)
	p.onEveryScreen(t, "undone and coil watch", false)
}

// onEveryScreen looks at Save and the keys at three sizes of the screen and of the text.
func (p *page) onEveryScreen(t *testing.T, bar string, isRoomForAll bool) {
	t.Helper()
	for _, screen := range [][2]int64{{390, 844}, {844, 390}, {320, 568}} {
		p.size(screen[0], screen[1])
		for _, text := range []string{"", "large", "larger"} {
			eval[bool](p, fmt.Sprintf(`(document.documentElement.dataset.text = %q, true)`, text))
			var said string
			if !within(5*time.Second, func() bool { // the page moves once the bar or the screen has changed
				said = eval[string](p, fmt.Sprintf("(%s)(%v)", hiddenKeys, isRoomForAll))
				return said == ""
			}) {
				t.Errorf("%s, %v, text %q: %s", bar, screen, text, said)
			}
		}
	}
	eval[bool](p, `(delete document.documentElement.dataset.text, true)`)
	p.size(390, 844)
}

// hiddenKeys says what of Save and the keys cannot be met as the page stands, or, where there is not room for all of
// them, once it is moved.
const hiddenKeys = `(isRoomForAll) => {
	const isMet = (each) => {
		const box = each.getBoundingClientRect();
		return [[0.5, 0.5], [0.1, 0.1], [0.9, 0.9]].every(([x, y]) => each.contains(document.elementFromPoint(box.x + x * box.width, box.y + y * box.height)));
	};
	const save = [...document.querySelectorAll("button")].find((each) => each.innerText.includes("Save"));
	if (!isMet(save)) return "Save is hidden";
	const keys = [...document.querySelectorAll(".key")], at = scrollY;
	const hidden = keys.filter((key) => !isMet(key) && (isRoomForAll || !["start", "center", "end"].some((block) => (key.scrollIntoView({block}), isMet(key)))));
	scrollTo(0, at);
	return hidden.map((key) => "hidden: " + key.innerText).join() || keys.filter((key) => key.offsetHeight < 52.9).map((key) => "small: " + key.innerText).join();
}`
