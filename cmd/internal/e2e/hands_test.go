//go:build e2e

package e2e

import (
	"encoding/json"
	"testing"
)

// hands is what a person does and sees, whichever browser draws the page. A
// page is one in Chromium; a drivenPage one in another engine.
type hands interface {
	test() testing.TB
	open(hash string)
	starts()
	reload()
	hash() string
	sees(texts ...string)
	seesNot(texts ...string)
	tap(role, name string)
	meets(role, name string)
	writes(field, text string)
	rewrites(field, text string)
	reads(field string) string
	holds(field, text string)
	isChosen(name string)
	value(expression string) json.RawMessage
}

func (p *page) test() testing.TB { return p.t }

// meets waits for the one element of this role and name.
func (p *page) meets(role, name string) { p.t.Helper(); p.find(role, name) }

// value gives what an expression or its promise comes to, as JSON.
func (p *page) value(expression string) json.RawMessage {
	p.t.Helper()
	return eval[json.RawMessage](p, expression)
}

// firstRun opens the app on a phone that has never had it, and waits until it
// is all there and has said so.
func firstRun(p hands) {
	p.test().Helper()
	p.open("#/")
	p.sees("No car yet", readyOffline)
	p.tap("button", "Good")
	p.seesNot(readyOffline)
}

// asks gives the value of an expression in any browser.
func asks[T any](p hands, expression string) (value T) {
	p.test().Helper()
	if err := json.Unmarshal(p.value(expression), &value); err != nil {
		p.test().Fatalf("%.200s: %v", expression, err)
	}
	return value
}
