//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"pointsmith/store"
)

// pairs lets a phone in as a person does: with the code typed.
func pairs(p *page, s *site, name string, isOwner bool) {
	p.t.Helper()
	code, _, err := s.store.NewCode(isOwner, time.Now())
	if err != nil {
		p.t.Fatal(err)
	}
	p.open("#/join")
	p.sees("This phone is not paired", "stays on this phone")
	p.writes("The code", strings.ToLower(code[:4]+" - "+code[4:]))
	p.writes("What to call this phone", name)
	p.tap("button", "Pair this phone")
	p.sees("This phone shares the garage now", name)
}

// agrees waits until a phone has sent everything and heard everything.
func agrees(p *page) {
	p.t.Helper()
	until(p.t, "phone and server agree", func() bool {
		return eval[bool](p, `Promise.all([import("/js/kept/sync.js"), import("/js/kept/garage.js")]).then(async ([{syncNow}, {garage}]) => await syncNow() && garage.waiting().length === 0)`)
	})
}

// writesFact opens a fact on the page of facts and types a figure in it.
func writesFact(p *page, car, fact, figure string) {
	p.t.Helper()
	p.open("#/help") // so that no other fact stands open
	p.open(car + "/facts")
	p.tap("DisclosureTriangle", fact)
	p.rewrites("Value", figure)
	stored(p)
}

// Two paired phones edit the same car with the server away, and come back.
// Whatever was typed is in the car or in a kept copy, the copy is shown beside
// what stands, and choosing works, with the server away too.
func TestTwoPhonesEditTheSameCarAndChoose(t *testing.T) {
	s := newSite(t)
	s.serve(fromElsewhere(*s.now.Load()))
	ann, ben := shared(t).visitor(t, s.origin()), shared(t).visitor(t, s.origin())
	for _, p := range []*page{ann, ben} {
		p.firstRun()
	}
	pairs(ann, s, "Ann’s phone", true)
	pairs(ben, s, "Ben’s phone", false)
	ann.open("#/")
	addCar(ann, "Linnet of both")
	car := strings.TrimSuffix(ann.hash(), "/book")
	stored(ann)
	agrees(ann)
	agrees(ben)
	ben.open("#/")
	ben.find("link", "Linnet of both")

	for _, p := range []*page{ann, ben} {
		p.watch.expectNoServer()
	}
	s.shut()
	writesFact(ann, car, "Plug gap", "0.025")
	writesFact(ann, car, "Cylinders", "4")
	writesFact(ben, car, "Plug gap", "0.032")
	writesFact(ben, car, "Capacity", "1250")
	s.open()
	agrees(ann)
	agrees(ben) // the later one
	agrees(ann)

	for _, p := range []*page{ann, ben} {
		p.open("#/")
		p.sees("1 thing has two versions")
		p.open(car + "/facts")
		p.sees("0.032", "1250")
		if value := eval[string](p,
			fmt.Sprintf(`import("/js/kept/garage.js").then(({garage}) => garage.get("car", %q).body.facts.cylinders.value)`,
				strings.TrimPrefix(car, "#/car/"))); value != "4" {
			t.Errorf("cylinders are %q", value)
		}
	}
	kept, err := s.store.AllKept()
	if err != nil || len(kept) != 1 || !strings.Contains(string(kept[0].Body), "0.025") ||
		kept[0].Device != "Ann’s phone" {
		t.Fatalf("kept: %+v %v", kept, err)
	}

	ben.open("#/kept")
	ben.sees("Linnet of both", "Ann’s phone")
	s.shut()
	ben.reload()
	ben.tap("link", "Linnet of both")
	ben.sees("Where they differ", "Plug gap", "differs", "0.032", "0.025")
	ben.tap("button", "Take the other version")
	ben.sees("1 choice is made on this phone and will reach the server")
	stored(ben)
	ben.reload()
	ben.sees("1 choice is made")
	s.open()
	agrees(ben)
	ben.seesNot("1 choice is made")
	agrees(ann)
	ann.open("#/")
	ann.seesNot("has two versions")
	for _, p := range []*page{ann, ben} {
		p.open(car + "/facts")
		p.sees("0.025", "1250")
	}
	if kept, err := s.store.AllKept(); err != nil || len(kept) != 0 {
		t.Errorf("kept: %+v %v", kept, err)
	}
}

// A choice about something that was changed meanwhile is not carried out: the
// copy comes back to be looked at.
func TestAChoiceThatComesTooLateIsAskedAgain(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	id := "abcdefgh01234567"
	push := func(base, name string) string {
		t.Helper()
		at := time.Now().UTC().Format(time.RFC3339Nano)
		return eval[string](p, fmt.Sprintf(`fetch("/api/v1/garage/car/%s", {method: "PUT", body: JSON.stringify({base: %q, changedAt: %q, device: "Another", body: {name: %q, owner: "", distributorId: "", facts: {}, demo: false}})}).then((a) => a.json()).then((a) => a.document?.revision ?? a.revision)`, id, base, at, name))
	}
	first := push("", "One")
	push(first, "Two")
	current := push(first, "Three") // did not know of Two
	agrees(p)
	p.open("#/kept")
	p.watch.expectNoServer()
	s.shut()
	p.tap("link", "Three")
	p.tap("button", "Take the other version")
	p.sees("1 choice is made")
	_, err := s.store.Put(store.Change{Kind: "car", ID: id, Base: current, ChangedAt: time.Now(), Device: "Another",
		// before the choice arrives
		Body: []byte(`{"name": "Four", "owner": "", "distributorId": "", "facts": {}, "demo": false}`)})
	if err != nil {
		t.Fatal(err)
	}
	s.open()
	p.watch.expect(`409`)
	agrees(p)
	p.sees("It has been changed since you chose. Look again")
	p.tap("link", "Four")
	p.sees("Two", "Four")
	p.tap("button", "Keep what stands now")
	agrees(p)
	p.sees("Nothing has two versions")
	p.open("#/")
	p.find("link", "Four")
}

// The list of devices: who is in, a code for another, and out again. Shut out,
// a phone goes on with what it has.
func TestAPhoneIsLetInAndShutOut(t *testing.T) {
	s := newSite(t)
	s.serve(fromElsewhere(*s.now.Load()))
	owner, guest := shared(t).visitor(t, s.origin()), shared(t).visitor(t, s.origin())
	owner.firstRun()
	owner.open("#/")
	owner.sees("This phone is not paired with the garage’s server")
	addCar(owner, "Mine alone") // works all the same
	stored(owner)
	owner.open("#/devices")
	owner.watch.expect(`/api/v1/devices 401|status of 401`)
	owner.sees("Only those who are let in see the list")
	owner.open("#/join")
	owner.watch.expect(`/api/v1/pair 401`)
	owner.writes("The code", "ABCD")
	owner.tap("button", "Pair this phone")
	owner.sees("4 of 8")
	owner.rewrites("The code", "AAAA-BBBB")
	owner.rewrites("What to call this phone", "Big phone")
	owner.tap("button", "Pair this phone")
	owner.sees("it is wrong, used, or too old")
	owner.holds("The code", "AAAA-BBBB")
	owner.reload()
	owner.holds("What to call this phone", "Big phone")
	owner.rewrites("What to call this phone", "")
	pairs(owner, s, "Big phone", true)

	owner.open("#/devices")
	owner.sees("Big phone", "this one", "an owner’s")
	owner.tap("button", "Show a code")
	var code string
	until(t, "a code is shown", func() bool {
		code = eval[string](owner, `document.querySelector(".pair-code")?.innerText ?? ""`)
		return len(code) == 9
	})
	guest.firstRun()
	eval[bool](guest, fmt.Sprintf(`(location.hash = "#/join/%s", true)`, strings.ReplaceAll(code, "-", "")))
	guest.sees("What to call this phone")
	if hash := guest.hash(); hash != "#/join" {
		t.Errorf("the code stays in the address: %s", hash)
	}
	guest.writes("What to call this phone", "Little phone")
	guest.tap("button", "Pair this phone")
	guest.sees("shares the garage now")
	agrees(owner)
	agrees(guest)
	guest.open("#/")
	guest.find("link", "Mine alone")

	owner.open("#/")
	owner.open("#/devices")
	owner.tap("button", "Shut out Little phone")
	owner.tap("button", "Yes, shut it out")
	owner.seesNot("Little phone")
	guest.watch.expect(`401`)
	guest.open("#/keep-safe")
	guest.tap("button", "Sync now")
	guest.tap("button", "Sync now")
	guest.sees("Not paired")
	guest.open("#/")
	guest.sees("This phone is not paired", "Mine alone")
	addCar(guest, "Mine after that")
	stored(guest)
	guest.reload()
	guest.open("#/")
	guest.find("link", "Mine after that")
	devices, err := s.store.Devices()
	if err != nil || len(devices) != 1 {
		said, _ := json.Marshal(devices)
		t.Errorf("%s %v", said, err)
	}
}
