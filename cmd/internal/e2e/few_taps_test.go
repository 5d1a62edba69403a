//go:build e2e

package e2e

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// Asked of the product: from a fresh start to the verdict on a car of one's own
// with three strobe readings.
const (
	mostTaps  = 18
	mostWords = 300
)

// seenWords adds what stands on the screen to what was read on the way, each
// text once, and gives the words so far.
const seenWords = `(() => {
	const seen = JSON.parse(sessionStorage.getItem("e2e.words") ?? "{}");
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let node; (node = walker.nextNode()); ) {
		const range = document.createRange();
		range.selectNodeContents(node);
		const box = range.getBoundingClientRect();
		const text = node.data.trim();
		const holder = node.parentElement;
		if (!text || holder.closest(".vh, .skip, script, noscript, [aria-hidden=true]") || !holder.checkVisibility()) continue;
		if (box.width > 1 && box.bottom > 0 && box.top < innerHeight) seen[text] = text.split(/\s+/).filter((word) => /\p{L}{2}/u.test(word)).length;
	}
	sessionStorage.setItem("e2e.words", JSON.stringify(seen));
	return Object.values(seen).reduce((sum, words) => sum + words, 0);
})()`

// A wayfarer counts what a person does and reads. Typing is not counted, nor
// the key that leads from one field to the next.
type wayfarer struct {
	*page
	taps, words int
}

func (w *wayfarer) looks() { w.words = eval[int](w.page, seenWords) }

func (w *wayfarer) taps1(role, name string) {
	w.t.Helper()
	w.find(role, name)
	w.looks()
	w.tap(role, name)
	w.taps++
}

func TestAVerdictOnACarOfOnesOwnTakesFewTapsAndWords(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	w := &wayfarer{page: p}

	w.taps1("textbox", "Name of the car")
	w.keys("My own car" + kb.Enter)
	w.taps1("radio", "The degrees are > distributor degrees")
	w.taps1("radio", "The speeds are > distributor rpm")
	w.taps1("radio", "Base timing is > not in the figures")
	w.taps1("textbox", "Base timing")
	w.keys("8")
	w.taps1("textbox", "Speed, row 1")
	for i, row := range [][3]string{{"400", "0", "2"}, {"1000", "7", "9"}, {"2000", "11", "13"}} {
		if i > 0 {
			w.keys(kb.Tab)
		}
		w.keys(row[0] + kb.Tab + row[1] + kb.Tab + row[2])
	}
	w.holds("Most degrees, row 3", "13")
	w.taps1("link", "Next: readings")
	w.taps1("button", "Measure on the car")
	w.taps1("radio", "The vacuum pipe is > off and plugged")
	w.taps1("button", "I have read the caution: begin")
	for i, degrees := range []string{"9", "24", "32"} {
		keypad(p, degrees)
		w.taps1("button", "Save reading")
		w.sees(number(float64(i+1)) + " reading")
	}
	w.taps1("link", "Enough read: the verdict")
	w.sees("The curve agrees with the book")
	w.looks()
	t.Logf("%d taps, %d words", w.taps, w.words)
	if w.taps > mostTaps || w.words > mostWords || w.words < 100 {
		t.Errorf("%d taps and %d words on the way; at most %d and %d", w.taps, w.words, mostTaps, mostWords)
	}
}
