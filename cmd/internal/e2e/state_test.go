//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
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
	p.open(car + "/do/static")
	p.sees("The curve fails", "this work only measures")
	steps := eval[string](p, `document.querySelector(".step-list").textContent`)
	if strings.Contains(steps, "Turn the body") {
		t.Errorf("the body is turned although the curve fails: %s", steps)
	}
}

// Of a car with one thing wrong, the garage, its page, its card and the link
// made of that say the same, and the same comes next.
func TestOneThingWrongIsSaidTheSameEverywhere(t *testing.T) {
	text, err := os.ReadFile(filepath.FromSlash("../../../testdata/states.json"))
	if err != nil {
		t.Fatal(err)
	}
	var states struct{ Failures []struct{ Name, Part string } }
	if err := json.Unmarshal(text, &states); err != nil || len(states.Failures) < 12 {
		t.Fatalf("%d failures: %v", len(states.Failures), err)
	}
	p := shared(t).visitor(t, newSite(t).origin())
	p.open("#/")
	p.sees("Add a car")
	eval[bool](p, fmt.Sprintf(carsWith, text))
	p.reload()
	const row = `[...document.querySelectorAll(".car-row")].find((each) => each.querySelector(".car-row-name").innerText === %q)`
	for i, wrong := range states.Failures {
		t.Run(wrong.Name, func(t *testing.T) {
			p := p.in(t)
			said := func(where, expression string) string {
				t.Helper()
				var now string
				until(t, where+" says how the car stands", func() bool {
					now = plain(eval[string](p, expression+`?.innerText ?? ""`))
					return strings.HasPrefix(strings.TrimPrefix(now, "car: "), "fail")
				})
				return now
			}
			hash := fmt.Sprintf("#/car/demodabchickten6vc%02d", i+1)
			p.open("#/")
			inList := said("the garage", fmt.Sprintf(row, wrong.Name)+`?.querySelector(".verdict-line")`)
			next := plain(eval[string](p, fmt.Sprintf(row, wrong.Name)+`.querySelector(".row-next a, .button.next").innerText`))
			p.open(hash)
			if onPage := said("the car's page", `document.querySelector(".verdict-line")`); onPage != inList {
				t.Errorf("the garage says %q, the car's page %q", inList, onPage)
			}
			button := plain(eval[string](p, `document.querySelector("main .button.next").innerText`))
			if button != next {
				t.Errorf("the garage wants %q next, the car's page %q", next, button)
			}
			want := "car: " + inList + " to do: " + next
			p.open(hash + "/card")
			if onCard := said("the card", `document.querySelector(".card-verdict")`); !strings.HasPrefix(onCard, want) {
				t.Errorf("the card says %q, not %q", onCard, want)
			}
			var link string
			until(t, "the card has a link", func() bool {
				link = eval[string](p, `[...document.querySelectorAll("main textarea, main input")].map(({value}) => value).find((value) => value.includes("#/card/")) ?? ""`)
				return link != ""
			})
			_, fragment, _ := strings.Cut(link, "#")
			p.open("#" + fragment)
			if inLink := said("the link", `document.querySelector(".card-verdict")`); !strings.HasPrefix(inLink, want) {
				t.Errorf("the link says %q, not %q", inLink, want)
			}
		})
	}
}

// carsWith puts the car of testdata/states.json into the garage, once for each
// thing that is wrong.
const carsWith = `Promise.all([import("/js/garage/demos/dabchick.js"), import("/js/kept/garage.js")]).then(async ([{dabchick}, {garage}]) => {
	const {sound, failures} = %s;
	for (const [i, {name, change = {}, readings}] of failures.entries()) {
		const other = (id) => id.slice(0, -2) + String(i + 1).padStart(2, "0");
		for (const [kind, id, made] of dabchick.documents) {
			const body = JSON.parse(JSON.stringify(made).replaceAll(/demodabchickten6(vcar|dist|vis0)/g, (each) => other(each)));
			if (kind === "car") body.name = name;
			for (const [key, [value, unit]] of Object.entries({...sound[kind], ...change[kind]}))
				body.facts[key] = {value, unit, source: "measured", note: ""};
			if (kind === "visit" && readings)
				body.sets[0].readings = readings.map(([rpm, deg], at) => ({...body.sets[0].readings[at], rpm,
					deg: String(Math.abs(Number(deg))), side: Number(deg) < 0 ? "after" : "before"}));
			await garage.put(kind, other(id), body);
		}
	}
	return true;
})`
