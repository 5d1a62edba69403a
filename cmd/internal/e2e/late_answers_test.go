//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

const (
	// On a busy phone the engine answers after the page is shown: later than kit/first-answer.js waits, by most pages.
	late = 1500 * time.Millisecond
	// mostMoved is by how much what is tapped may move then: less than a finger notices. Chosen
	mostMoved = 8 // px
)

// answersLate makes every question reach the engine so much later, from the
// next page load on.
func (p *page) answersLate(by time.Duration) {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	if _, err := chromedp.Call(ctx, cdppage.AddScriptToEvaluateOnNewDocument,
		cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: fmt.Sprintf(`(() => {
			const post = Worker.prototype.postMessage;
			Worker.prototype.postMessage = function (...message) { setTimeout(() => post.apply(this, message), %d); };
		})()`, by.Milliseconds())}); err != nil {
		p.t.Fatal(err)
	}
}

// forgetsStates: what was worked out of the cars is worked out again.
const forgetsStates = `indexedDB.databases().then(([{name}]) => new Promise((done) => {
	indexedDB.open(name).onsuccess = ({target: {result: db}}) => {
		const kept = db.transaction("phone", "readwrite");
		kept.objectStore("phone").openCursor().onsuccess = ({target: {result: at}}) => {
			if (!at) return;
			if (/^(state|verdict|next)\//.test(at.key)) at.delete();
			at.continue();
		};
		kept.oncomplete = () => { db.close(); done(true); };
	};
}))`

// marked notes where everything that can be tapped stands; pushed, what of it
// stands elsewhere now.
const (
	marked = `(window.marked = [...document.querySelectorAll("main :is(a, button, input, summary, textarea)")]
		.filter((each) => each.checkVisibility()).map((each) => ({each, y: each.getBoundingClientRect().y + scrollY})), window.marked.length)`
	pushed = `window.marked.filter(({each}) => each.isConnected && each.checkVisibility())
		.map(({each, y}) => ({by: Math.round(each.getBoundingClientRect().y + scrollY - y), name: (each.innerText || each.name || each.id).slice(0, 40)}))
		.filter(({by}) => Math.abs(by) > %d).map(({by, name}) => name + " moves by " + by + " px")`
)

// What comes late moves nothing that a finger may be on its way to.
func TestWhatComesLateMovesNothing(t *testing.T) {
	p, car := demo(t)
	p.answersLate(late)
	for _, at := range []screen{
		{"car", car, "What is written down", false},
		{"points", car + "/points", "Gap as found", false},
		{"cap", car + "/cap", "What it is drawn from", false},
		{"condition", car + "/condition", "Condition", false},
	} {
		t.Run(at.name, func(t *testing.T) {
			p := p.in(t)
			p.open(at.hash)
			eval[bool](p, opened)
			eval[bool](p, forgetsStates)
			p.reload()
			until(t, "there is something to tap", func() bool { return eval[int](p, marked) > 2 })
			p.goes(at)
			for i, each := range eval[[]string](p, fmt.Sprintf(pushed, mostMoved)) {
				if t.Errorf("%s", each); i == 5 {
					break
				}
			}
		})
	}
}

// A card is not handed on before it says how the car stands.
func TestACardSaysHowTheCarStandsBeforeItIsSent(t *testing.T) {
	p, car := demo(t)
	p.answersLate(late / 3)
	p.open(car + "/card")
	p.goes(screen{"card", car + "/card", "Send this card", false})
	eval[bool](p, forgetsStates)
	p.reload()
	var link string
	until(t, "the card has a link", func() bool {
		link = eval[string](p, `document.querySelector("#card-link")?.value ?? ""`)
		return link != ""
	})
	_, fragment, _ := strings.Cut(link, "#")
	p.open("#" + fragment)
	until(t, "the card that came says how the car stands, and what is next", func() bool {
		return eval[bool](p, `/To do:/.test(document.querySelector(".card-verdict")?.innerText ?? "")`)
	})
}
