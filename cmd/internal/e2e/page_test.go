//go:build e2e

package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A page is what the person has in the hand.
type page struct {
	t      testing.TB
	ctx    context.Context
	origin string
	watch  *watch
	scale  float64 // device pixels to one of CSS
	isOpen bool    // the app has been opened in it
	folded bool    // it is looked at as it stands: nothing is unfolded to find something
}

// limited is the page's context with a time limit for one step.
func (p *page) limited() (context.Context, context.CancelFunc) {
	return context.WithTimeout(p.ctx, patience)
}

// in is the same page in the hands of a subtest.
func (p *page) in(t testing.TB) *page {
	part := *p
	part.t = t
	return &part
}

func (p *page) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatalf("%v\nThe page says: %.1500s", err, p.text())
	}
}

// eval gives the value of an expression; a promise is awaited.
func eval[T any](p *page, expression string) T {
	p.t.Helper()
	expression = bundled(expression)
	ctx, cancel := p.limited()
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("evaluate %.200s: %v", expression, err)
	}
	return value
}

func (p *page) firstRun() { p.t.Helper(); firstRun(p) }

// starts opens the app as its icon does, without saying where to go.
func (p *page) starts() {
	p.t.Helper()
	p.isOpen = true
	p.do(chromedp.Navigate("about:blank"), chromedp.Navigate(p.origin+"/")) // whatever a browser restored is left first
}

// open goes to an address of the app, "#/settings", and waits until its page
// is drawn and the one before gone.
func (p *page) open(hash string) {
	p.t.Helper()
	if !p.isOpen {
		p.isOpen = true
		p.do(chromedp.Navigate("about:blank"), chromedp.Navigate(p.origin+"/"+hash))
		p.isDrawn() // it may have come back to where it was left
	}
	eval[bool](p, fmt.Sprintf(`((location.hash || "#/") !== %q && (document.querySelector("#main > *")?.setAttribute("data-left", ""), location.hash = %[1]q), true)`, hash))
	isThere := fmt.Sprintf(`(location.hash || "#/") === %q && !document.querySelector("[data-left]")`, hash)
	if !within(patience, func() bool { return eval[bool](p, isThere) }) {
		p.t.Fatalf("the page of %s is not drawn; at %s stands: %.1500s", hash, p.hash(), p.text())
	}
	p.isDrawn()
}

// isDrawn waits until there is a page.
func (p *page) isDrawn() {
	p.t.Helper()
	until(p.t, "a page is drawn", func() bool {
		return eval[bool](p,
			`!!document.querySelector("h1") && !document.querySelector("#main").innerText.startsWith("Opening")`)
	})
}

// handTime is the least a hand takes from a key to a reload. What is kept when
// the phone dies sooner is asked of the tests that kill it.
const handTime = 150 * time.Millisecond

func (p *page) reload() {
	p.t.Helper()
	time.Sleep(handTime)
	p.do(chromedp.Reload())
	p.isDrawn()
}

// hash is the address of the page that is shown.
func (p *page) hash() string { p.t.Helper(); return eval[string](p, "location.hash") }

// text is what can be read, in lower case and with single spaces.
func (p *page) text() string {
	ctx, cancel := p.limited()
	defer cancel()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.body.innerText`))
	if err != nil {
		return err.Error()
	}
	return plain(text)
}

func plain(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// sees waits until all these texts can be read.
func (p *page) sees(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		from := time.Now()
		if !within(patience, func() bool { return strings.Contains(p.text(), plain(text)) || p.unfolds(from) }) {
			p.t.Fatalf("%q is nowhere on the page, which says: %.4000s", text, p.text())
		}
	}
}

// seesNot waits until none of these texts can be read any more.
func (p *page) seesNot(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !within(patience, func() bool { return !strings.Contains(p.text(), plain(text)) }) {
			p.t.Fatalf("%q is still on the page, which says: %.3000s", text, p.text())
		}
	}
}

// An element is something found by role and name.
type element struct {
	p    *page
	id   cdp.BackendNodeID
	name string
}

// find waits for the one element of this role whose name is, begins with, or
// else contains the given one. Where names are the same in several groups,
// "group > name" says which.
func (p *page) find(role, name string) element {
	p.t.Helper()
	var found []element
	from := time.Now()
	if !within(patience, func() bool {
		found = p.all(role, name)
		return len(found) == 1 || len(found) == 0 && p.unfolds(from)
	}) {
		p.t.Fatalf("%d elements are a %s named %q: %v\nThe page says: %.2500s", len(found), role, name,
			names(found), p.text())
	}
	return found[0]
}

func names(found []element) (all []string) {
	for _, e := range found {
		all = append(all, e.name)
	}
	return all
}

// all lists the elements of a role that a name fits best.
func (p *page) all(role, name string) []element {
	p.t.Helper()
	root := p.document()
	if group, inside, isIn := strings.Cut(name, " > "); isIn {
		groups := p.all("group", group)
		if len(groups) != 1 {
			return groups
		}
		root, name = accessibility.QueryAXTreeParams{BackendNodeID: groups[0].id}, inside
	}
	root.Role = role
	ctx, cancel := p.limited()
	defer cancel()
	result, err := chromedp.Call(ctx, accessibility.QueryAXTree, root)
	if err != nil {
		return nil // the page is just changing
	}
	var every []element
	for _, node := range result.Nodes {
		if node.Ignored || node.Name == nil {
			continue
		}
		var said string
		_ = json.Unmarshal(node.Name.Value, &said)
		every = append(every, element{p, node.BackendDOMNodeID, strings.Join(strings.Fields(said), " ")})
	}
	for _, fits := range []func(have, want string) bool{func(have, want string) bool { return have == want },
		strings.HasPrefix, strings.Contains} {
		best := slices.DeleteFunc(slices.Clone(every), func(e element) bool {
			return !fits(strings.ToLower(e.name), strings.ToLower(name))
		})
		if len(best) > 0 {
			return best
		}
	}
	return nil
}

func (p *page) document() accessibility.QueryAXTreeParams {
	ctx, cancel := p.limited()
	defer cancel()
	root, err := chromedp.Run(ctx, chromedp.Evaluate[*runtime.RemoteObject]("document"))
	if err != nil {
		return accessibility.QueryAXTreeParams{}
	}
	return accessibility.QueryAXTreeParams{ObjectID: root.ObjectID}
}

// call runs a function with the element as this.
func call[T any](e element, function string) T {
	e.p.t.Helper()
	value, err := callIfThere[T](e, function)
	if err != nil {
		e.p.t.Fatalf("%q is gone: %v", e.name, err)
	}
	return value
}

// callIfThere is call for an element that may be gone.
func callIfThere[T any](e element, function string) (value T, gone error) {
	e.p.t.Helper()
	ctx, cancel := e.p.limited()
	defer cancel()
	node, err := chromedp.Call(ctx, dom.ResolveNode, dom.ResolveNodeParams{BackendNodeID: e.id})
	if err != nil {
		return value, err
	}
	isValue, isPromise := true, true
	result, err := chromedp.Call(ctx, runtime.CallFunctionOn, runtime.CallFunctionOnParams{
		FunctionDeclaration: function, ObjectID: node.Object.ObjectID, ReturnByValue: &isValue,
		AwaitPromise: &isPromise})
	if err != nil || result.ExceptionDetails != nil {
		e.p.t.Fatalf("%q: %v %+v", e.name, err, result.ExceptionDetails)
	}
	if len(result.Result.Value) > 0 {
		if err := json.Unmarshal(result.Result.Value, &value); err != nil {
			e.p.t.Fatalf("%q: %v", e.name, err)
		}
	}
	return value, nil
}

// place scrolls the element to where nothing lies over it and says where that
// is, or what a finger would meet instead.
const place = `async function() {
	const at = this.matches("input[type=radio], input[type=checkbox]") ? this.labels[0] : this;
	if (!at) return {isGone: true};
	let found;
	for (const block of ["center", "end", "start"]) {
		at.scrollIntoView({block, behavior: "instant"});
		await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
		const box = at.getClientRects()[0];
		if (!box) return {isGone: true};
		const x = box.x + box.width / 2, y = box.y + box.height / 2;
		const top = document.elementFromPoint(x, y);
		const isFree = !!top && (top === this || at.contains(top));
		found = {x, y, isFree, top: top ? top.outerHTML.slice(0, 160) : "nothing"};
		if (isFree) break;
	}
	const touched = window.touched = {at, isHit: false, y: found.y, met: ""};
	for (const each of [at, this]) each.addEventListener("click", () => { touched.isHit = true; }, {once: true, capture: true});
	const met = (event) => { touched.met ||= event.target.outerHTML.slice(0, 120); };
	addEventListener("click", met, {once: true, capture: true});
	return found;
}`

// tap touches the element where it is, if nothing covers it.
func (p *page) tap(role, name string) {
	p.t.Helper()
	for range 5 { // the page may be drawn again just now, or have moved
		if p.find(role, name).tap() {
			return
		}
	}
	p.t.Fatalf("%s %q is gone again and again", role, name)
}

// tap reports whether the element was still there and was met.
func (e element) tap() bool {
	e.p.t.Helper()
	at, gone := callIfThere[struct {
		X, Y           float64
		IsFree, IsGone bool
		Top            string
	}](e, place)
	if gone != nil || at.IsGone {
		return false
	}
	if !at.IsFree {
		e.p.t.Fatalf("%q cannot be tapped: %s lies over it", e.name, at.Top)
	}
	e.p.touch(at.X, at.Y)
	return !e.p.missed(e.name)
}

// touch is a tap at a place of the screen.
func (p *page) touch(x, y float64) { p.t.Helper(); p.do(chromedp.TapXY(x, y)) }

// into taps a field and waits until what is typed goes there.
func (p *page) into(field string) {
	p.t.Helper()
	p.tap("textbox", field)
	p.focusIs(field)
}

// writes taps a field and types at the end of what is there.
func (p *page) writes(field, text string) {
	p.t.Helper()
	p.into(field)
	p.keys(kb.End + text)
}

// rewrites replaces what is in a field.
func (p *page) rewrites(field, text string) {
	p.t.Helper()
	p.into(field)
	p.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.keys(kb.Backspace + text)
}

// pastes puts a long text in at once.
func (p *page) pastes(field, text string) {
	p.t.Helper()
	p.into(field)
	ctx, cancel := p.limited()
	defer cancel()
	if _, err := chromedp.Call(ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
		p.t.Fatal(err)
	}
}

// keys presses keys one after the other.
func (p *page) keys(keys string) { p.t.Helper(); p.do(chromedp.KeyEvent(keys)) }

// reads gives what is in a field.
func (p *page) reads(field string) string {
	p.t.Helper()
	return call[string](p.find("textbox", field), "function() { return this.value; }")
}

// holds waits until a field has this text in it.
func (p *page) holds(field, text string) {
	p.t.Helper()
	if !within(patience, func() bool { return p.reads(field) == text }) {
		p.t.Fatalf("the field %q holds %q, not %q", field, p.reads(field), text)
	}
}

// isChosen waits until a choice is the chosen one.
func (p *page) isChosen(name string) {
	p.t.Helper()
	until(p.t, name+" is chosen", func() bool {
		return call[bool](p.find("radio", name), "function() { return this.checked; }")
	})
}
