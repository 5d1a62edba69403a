//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// The garage, the job page and its button say the same of a car: the worst of
// what is known, and what to do about that first.
func TestTheStateOfACarIsTheSameEverywhere(t *testing.T) {
	p, car := demo(t)
	const state = `document.querySelector(".verdict-line").innerText`
	says := func(where, want string) {
		t.Helper()
		if !within(patience, func() bool { return strings.Contains(plain(eval[string](p, state)), plain(want)) }) {
			t.Errorf("%s says %q, not %q", where, eval[string](p, state), want)
		}
	}
	next := func(where, want string) {
		t.Helper()
		const button = `[...document.querySelectorAll("main .button.next")].find((each) => each.checkVisibility())?.innerText ?? ""`
		if !within(patience, func() bool { return strings.Contains(plain(eval[string](p, button)), plain(want)) }) {
			t.Errorf("%s wants %q, not %q", where, eval[string](p, button), want)
		}
	}
	// the demo car's curve fails: nothing else is moved before that
	p.open("#/")
	says("the garage", "Fail The curve comes in too early")
	next("the garage", "See what to do about the curve")
	p.open(car)
	says("the job", "Fail The curve comes in too early")
	next("the job", "See what to do about the curve")
	p.tap("link", "See what to do about the curve")
	p.sees("What to do about it")
}
