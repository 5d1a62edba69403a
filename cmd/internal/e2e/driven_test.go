//go:build e2e

package e2e

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pointsmith/cmd/internal/webdriver"
)

// A drivenPage is a page in Firefox or WebKit.
type drivenPage struct {
	t       testing.TB
	session *webdriver.Session
	origin  string
}

func (p *drivenPage) test() testing.TB { return p.t }

// longPatience is longer than for Chromium: in a heap of browsers on a busy
// machine each is slower, and WebKitGTK draws without graphics.
const longPatience = 3 * patience

func (p *drivenPage) until(what string, isTrue func() bool) {
	p.t.Helper()
	if !within(longPatience, isTrue) {
		p.t.Fatalf("waited %v in vain until %s; the page says: %.1500s", longPatience, what, p.text())
	}
}

// must fails the test with what stands on the page.
func (p *drivenPage) must(err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatalf("%v\nThe page says: %.1500s", err, p.text())
	}
}

func (p *drivenPage) value(expression string) (value json.RawMessage) {
	p.t.Helper()
	if err := p.session.Value(&value, expression); err != nil {
		p.t.Fatalf("evaluate %.200s: %v", expression, err)
	}
	return value
}

func (p *drivenPage) text() string {
	var text string
	if err := p.session.Value(&text, "document.body.innerText"); err != nil {
		return err.Error() // the page is just changing
	}
	return plain(text)
}

func (p *drivenPage) hash() string { p.t.Helper(); return asks[string](p, "location.hash") }

func (p *drivenPage) starts() {
	p.t.Helper()
	p.must(p.session.Go("about:blank"))
	p.must(p.session.Go(p.origin + "/"))
	p.isDrawn() // it goes to where it was left first
}

func (p *drivenPage) open(hash string) {
	p.t.Helper()
	if asks[string](p, "location.origin") != p.origin {
		p.must(p.session.Go(p.origin + "/" + hash))
		p.isDrawn()
	}
	p.value(fmt.Sprintf(`((location.hash || "#/") !== %q && (document.querySelector("#main > *")?.setAttribute("data-left", ""), location.hash = %[1]q), true)`, hash))
	p.until("the page of "+hash+" is drawn", func() bool {
		return asks[bool](p,
			fmt.Sprintf(`(location.hash || "#/") === %q && !document.querySelector("[data-left]")`, hash))
	})
	p.isDrawn()
}

// listening notes what a page complains of from now on.
const listening = `(window.complaints ??= (() => {
	const heard = [];
	addEventListener("error", (e) => heard.push(e.message));
	addEventListener("unhandledrejection", (e) => heard.push(String(e.reason)));
	addEventListener("securitypolicyviolation", (e) => heard.push(e.violatedDirective + " forbids " + e.blockedURI));
	return heard;
})(), true)`

func (p *drivenPage) isDrawn() {
	p.t.Helper()
	p.value(listening)
	p.until("a page is drawn", func() bool {
		return asks[bool](p,
			`!!document.querySelector("h1") && !document.querySelector("#main").innerText.startsWith("Opening")`)
	})
}

func (p *drivenPage) reload() {
	p.t.Helper()
	p.must(p.session.Reload())
	p.isDrawn()
}

func (p *drivenPage) sees(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !p.reading(text, true) {
			p.t.Fatalf("%q is nowhere on the page, which says: %.4000s", text, p.text())
		}
	}
}

func (p *drivenPage) seesNot(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !p.reading(text, false) {
			p.t.Fatalf("%q is still on the page, which says: %.3000s", text, p.text())
		}
	}
}

// patiently looks again and again inside the page, which costs far less than
// asking it from outside, and opens what stands folded where it has not found
// it for a while. It gives up after a second, so that a page that is loaded
// anew is asked anew.
const patiently = `((look) => new Promise((done) => {
	const began = performance.now();
	const again = () => {
		const found = look();
		if (performance.now() - began > 300) document.querySelectorAll("main details.fold:not([open])").forEach((each) => { each.open = true; });
		if (found.is || performance.now() - began > 1000) done(found.value);
		else setTimeout(again, 40);
	};
	again();
}))`

const reads = `(() => {
	const is = document.body.innerText.toLowerCase().replace(/\s+/g, " ").includes(args[0]) === args[1];
	return {is, value: is};
})`

// reading waits until a text can be read, or no longer.
func (p *drivenPage) reading(text string, isThere bool) bool {
	return within(longPatience, func() bool {
		var is bool
		return p.session.Value(&is, patiently+"("+reads+")", plain(text), isThere) == nil && is
	})
}

// selectors are the elements that may have a role.
var selectors = map[string]string{
	"button":             "button, [role=button]",
	"link":               "a[href]",
	"radio":              "input[type=radio]",
	"textbox":            "input:not([type]), input[type=text], input[type=search], input[type=url], textarea",
	"group":              "fieldset, [role=group]",
	"DisclosureTriangle": "summary",
}

// candidates looks for elements whose name is, begins with, or else contains
// the wanted one, inside a group or anywhere. What it takes for the name is
// near enough to find them; the browser's own word on it is asked afterwards.
const candidates = patiently + `(() => {
	const find = ([wanted, selector, group, groups]) => {
	const plain = (text) => (text ?? "").replace(/\s+/g, " ").trim().toLowerCase();
	const named = (each) => plain(each.getAttribute("aria-labelledby")?.split(/\s+/).map((id) => document.getElementById(id)?.textContent).join(" ")
		|| each.getAttribute("aria-label") || (each.localName === "fieldset" ? each.querySelector("legend")?.textContent : [...(each.labels ?? [])].map((label) => label.textContent).join(" "))
		|| (each.matches("input, textarea, fieldset") ? each.title || each.placeholder : each.innerText || each.textContent || each.title));
	const best = (root, selector, name) => {
		const all = [...root.querySelectorAll(selector)].filter((each) => each.checkVisibility() && !each.closest("[aria-hidden=true], [inert]"));
		for (const fits of [(have) => have === name, (have) => have.startsWith(name), (have) => have.includes(name)]) {
			const found = all.filter((each) => fits(named(each)));
			if (found.length) return found;
		}
		return [];
	};
	let root = document;
	if (group) {
		const found = best(document, groups, plain(group));
		if (found.length !== 1) return [];
		root = found[0];
	}
	return best(root, selector, plain(wanted));
	};
	const value = find(args);
	return {is: value.length === 1, value};
})`

// find waits for the one element of a role and name, and asks the browser
// whether a screen reader would hear the same.
func (p *drivenPage) find(role, name string) webdriver.Element {
	p.t.Helper()
	group, inside, isIn := strings.Cut(name, " > ")
	if !isIn {
		group, inside = "", name
	}
	var found []webdriver.Element
	var last error
	if !within(longPatience, func() bool {
		found = nil
		last = p.session.Value(&found, candidates, inside, selectors[role], group, selectors["group"])
		if last != nil || len(found) != 1 {
			return false
		}
		last = p.isHeard(found[0], role, inside)
		return last == nil
	}) {
		p.t.Fatalf("%d elements are a %s named %q (%v)\nThe page says: %.2500s", len(found), role, name, last, p.text())
	}
	return found[0]
}

func (p *drivenPage) isHeard(e webdriver.Element, role, name string) error {
	label, err := p.session.Label(e)
	if err != nil {
		return err
	}
	if !strings.Contains(strings.ToLower(label), strings.ToLower(name)) {
		return fmt.Errorf("a screen reader hears %q", label)
	}
	if role == "DisclosureTriangle" { // the standard has no role for it, and each browser has its own
		return nil
	}
	heard, err := p.session.Role(e)
	if err == nil && heard != role {
		err = fmt.Errorf("a screen reader hears that it is a %q", heard)
	}
	return err
}

func (p *drivenPage) meets(role, name string) { p.t.Helper(); p.find(role, name) }

// tap clicks an element where it is, if nothing covers it.
func (p *drivenPage) tap(role, name string) {
	p.t.Helper()
	p.touches(role, name, func(e webdriver.Element) error { return p.session.Click(e) })
}

// moved are the refusals of an element that is drawn anew just now.
var moved = []string{"stale element reference", "no such element", "element not interactable",
	"element click intercepted"}

// touches does something with an element, again when it has moved or been
// drawn anew meanwhile.
func (p *drivenPage) touches(role, name string, do func(webdriver.Element) error) {
	p.t.Helper()
	var err error
	for range 5 {
		e := p.find(role, name)
		var isCentred bool // WebKit takes an element that is out of sight for one that cannot be clicked
		_ = p.session.Value(&isCentred, `(args[0].scrollIntoView({block: "center", behavior: "instant"}), true)`, e)
		err = do(e)
		var refusal *webdriver.Error
		if err == nil || !errors.As(err, &refusal) || !slices.Contains(moved, refusal.Code) {
			break
		}
		time.Sleep(50 * time.Millisecond) // chosen: a person looks again
	}
	if err != nil {
		p.t.Fatalf("%s %q: %v", role, name, err)
	}
}

func (p *drivenPage) writes(field, text string) {
	p.t.Helper()
	p.touches("textbox", field, func(e webdriver.Element) error { return p.session.Type(e, text) })
}

// backspace is the standard's code for that key.
const backspace = "\uE003"

func (p *drivenPage) rewrites(field, text string) {
	p.t.Helper()
	p.writes(field, strings.Repeat(backspace, len(p.reads(field)))+text)
}

func (p *drivenPage) reads(field string) (value string) {
	p.t.Helper()
	p.must(p.session.Value(&value, "args[0].value", p.find("textbox", field)))
	return value
}

func (p *drivenPage) holds(field, text string) {
	p.t.Helper()
	if !within(longPatience, func() bool { return p.reads(field) == text }) {
		p.t.Fatalf("the field %q holds %q, not %q", field, p.reads(field), text)
	}
}

func (p *drivenPage) isChosen(name string) {
	p.t.Helper()
	p.until(name+" is chosen", func() bool {
		var is bool
		p.must(p.session.Value(&is, "args[0].checked", p.find("radio", name)))
		return is
	})
}

// troubles are the lines of Firefox's output that should not be there; WebKit
// writes none.
var troubles = regexp.MustCompile(`^(JavaScript error: http|console\.(error|warn|assert): ["(])`)

// complains fails the test for what the page or the browser's console says of
// an error, from a place in the browser's output on.
func (p *drivenPage) complains(from int) {
	p.t.Helper()
	for _, complaint := range asks[[]string](p, "window.complaints ?? []") {
		p.t.Errorf("on the page: %s", complaint)
	}
	for line := range strings.Lines(p.session.Said()[from:]) {
		if troubles.MatchString(line) {
			p.t.Errorf("on the console: %s", line)
		}
	}
}
