//go:build e2e

package e2e

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// With the keyboard alone every control is come to, can be seen to be, and is
// not hidden under something that sticks.
func TestTabReachesEveryControl(t *testing.T) {
	p, all := everyScreen(t)
	for _, each := range all {
		t.Run(each.name, func(t *testing.T) {
			p := p.in(t)
			p.goes(each)
			eval[bool](p, `(window.reached = new Set(), true)`)
			for range 400 {
				p.keys(kb.Tab)
				trouble := eval[string](p, focused)
				if trouble == "end" {
					break
				}
				if trouble != "" {
					t.Error(trouble)
				}
			}
			for _, missed := range eval[[]string](p, unreached) {
				t.Errorf("Tab does not come to %s", missed)
			}
		})
	}
}

// focused notes where the focus is and says what is wrong with it; "end" when
// it has been round.
const focused = `(() => {
	const at = document.activeElement;
	if (!at || at === document.body) return ""; // from the end round to the beginning
	if (window.reached.has(at)) return "end";
	window.reached.add(at);
	const name = at.outerHTML.slice(0, 140);
	const shown = [at, at.labels?.[0], at.previousElementSibling].filter(Boolean);
	if (!shown.some((each) => { const style = getComputedStyle(each); return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 || /-4px.*inset/.test(style.boxShadow); })) return "the focus cannot be seen on " + name;
	const box = (at.matches("input[type=radio], .file-input") ? at.labels[0] : at).getBoundingClientRect();
	if (box.bottom < 1 || box.top > innerHeight - 1) return "the focus is off the screen at " + name;
	const y = Math.min(Math.max(box.y + box.height / 2, 1), innerHeight - 1), x = Math.min(Math.max(box.x + box.width / 2, 1), innerWidth - 1);
	const top = document.elementFromPoint(x, y);
	const isFree = top && (at.contains(top) || top.contains(at) || [...(at.labels ?? [])].some((label) => label.contains(top)));
	return isFree ? "" : "the focus at " + name + " is hidden under " + (top ? top.outerHTML.slice(0, 80) : "the edge");
})()`

// unreached lists what should have been come to: of radio buttons that belong
// together one is enough, the arrows do the rest.
const unreached = `(() => {
	const seen = new Set([...window.reached].map((each) => each.outerHTML)); // one drawn again since counts as well
	const groups = new Set([...window.reached].filter((each) => each.type === "radio").map((each) => each.name));
	return [...document.querySelectorAll("a[href], button:not(:disabled), input:not(:disabled), select, textarea, summary, [tabindex='0']")]
		.filter((each) => each.checkVisibility({contentVisibilityAuto: true, visibilityProperty: true}) && !window.reached.has(each) && !seen.has(each.outerHTML) && !(each.type === "radio" && groups.has(each.name)))
		.map((each) => each.outerHTML.slice(0, 140));
})()`

// The main job with no finger on the screen.
func TestTheJobWithTheKeyboardAlone(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tabTo("textbox", "Name of the car")
	p.keys("Keys" + kb.Enter)
	p.sees("The degrees are")
	for _, group := range []string{"The degrees are > crank degrees", "The speeds are > engine rpm",
		"Base timing is > already in the figures"} {
		p.tabTo("radio", group)
		p.keys(" ")
		p.isChosen(group)
	}
	p.tabTo("textbox", "Speed, row 1")
	for _, row := range [][3]string{{"1000", "8", "12"}, {"2000", "20", "24"}, {"3000", "26", "30"}} {
		for _, figure := range row {
			p.keys(figure + kb.Enter) // Enter goes to the next cell
		}
	}
	p.sees("The table reads without trouble")
	p.tabTo("link", "Next: readings")
	p.keys(kb.Enter)
	p.tabTo("button", "Measure on the car, by strobe")
	p.keys(kb.Enter)
	p.tabTo("button", "I have read the caution: begin")
	p.keys(kb.Enter)
	p.holds("Engine rpm", "1000")
	for i, degrees := range []string{"10", "22", "28"} {
		p.focusIs("Crank degrees")
		p.keys(degrees + kb.Enter)
		p.sees(number(float64(i+1)) + " reading")
	}
	p.tabTo("link", "Enough read: the verdict")
	p.keys(kb.Enter)
	p.sees("Pass", "Show the working")
}

// tabTo presses Tab until the focus is at an element.
func (p *page) tabTo(role, name string) {
	p.t.Helper()
	isThere := func() bool {
		found := p.find(role, name)
		return call[bool](found, "function() { return document.activeElement === this || this.type === 'radio' && document.activeElement.name === this.name && (this.focus(), true); }")
	}
	for range 120 {
		if isThere() {
			return
		}
		p.do(chromedp.KeyEvent(kb.Tab))
	}
	p.t.Fatalf("Tab does not come to %s %q", role, name)
}

func (p *page) focusIs(field string) {
	p.t.Helper()
	until(p.t, "the focus is at "+field, func() bool {
		return call[bool](p.find("textbox", field), "function() { return document.activeElement === this; }")
	})
}
