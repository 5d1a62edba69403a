//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Tab and Enter go from cell to cell and on to the next row, which is there as soon as the last is begun; Shift+Tab
// goes back. A row is removed beneath the table.
func TestTheBookIsTypedFromCellToCell(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Typed")
	p.into("Speed, row 1")
	for i, row := range [][3]string{{"1000", "8", "12"}, {"2000", "20", "24"}, {"3000", "26", "30"}} {
		for column, label := range rowLabels(i) {
			p.focusIs(label)
			p.keys(row[column] + []string{kb.Tab, kb.Enter}[i%2])
		}
	}
	p.focusIs("Speed, row 4")
	for _, label := range []string{"Most degrees, row 3", "Least degrees, row 3", "Speed, row 3",
		"Most degrees, row 2"} {
		p.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
		p.focusIs(label)
	}
	for i, row := range [][3]string{{"1000", "8", "12"}, {"2000", "20", "24"}, {"3000", "26", "30"}} {
		holdsRow(p, i, row)
	}
	p.tap("DisclosureTriangle", "Remove a row")
	p.tap("button", "Row 2: 2000, 20 to 24")
	p.holds("Speed, row 2", "3000")
	p.tap("button", "Undo")
	p.holds("Speed, row 2", "2000")
}

// The next unknown fact opens after one that is doubted too; a firing order is read as people write it.
func TestFactsFromOneToTheNext(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Facts")
	p.open("#/car/" + carOf(p) + "/facts")
	p.tap("DisclosureTriangle", "Engine")
	p.tap("DisclosureTriangle", "Year")
	p.into("Value")
	for n := 0; ; n++ {
		p.keys("??") // read as no number, and doubted where one is wanted
		var next string
		if !within(2*time.Second, func() bool {
			next = eval[string](p, `document.activeElement.closest("details")?.querySelector(".fact-form > div > .button")?.innerText ?? ""`)
			return next != ""
		}) {
			if n < 25 {
				t.Errorf("no next unknown after %d of them", n)
			}
			break
		}
		next = strings.TrimPrefix(next, "Next unknown: ")
		p.tap("button", "Next unknown: "+next)
		if !within(5*time.Second, func() bool {
			return eval[string](p, `document.activeElement.closest("details[open]")?.querySelector(".fact-label").innerText ?? ""`) == next
		}) {
			t.Fatalf("“Next unknown: %s” opens nothing", next)
		}
	}
}

// A firing order is read as people write it, and shown in one style.
func TestFiringOrderAsItIsWritten(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Facts")
	p.open("#/car/" + carOf(p) + "/facts")
	p.tap("DisclosureTriangle", "Engine")
	p.tap("DisclosureTriangle", "Firing order")
	for _, typed := range []string{"1243", "1 2 4 3", "1-2-4-3", "1, 2, 4, 3"} {
		p.rewrites("Value", typed)
		p.sees("Firing order 1-2-4-3")
		p.seesNot("needs the cylinders in turn", "named twice")
	}
	p.rewrites("Value", "1244")
	p.sees("named twice")
}

// A check that is opened below an open one stays where the finger is.
func TestAnOpenedCheckStaysInSight(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/condition")
	p.sees("checks")
	titles := eval[[]string](p, `[...document.querySelectorAll("details.fold")].filter((fold) => fold.querySelector(".check")).slice(0, 1).flatMap((fold) => (fold.open = true, [...fold.querySelectorAll(".check-title")].map((title) => title.innerText)))`)
	if len(titles) < 3 {
		t.Fatalf("checks: %q", titles)
	}
	top := func(title string) float64 {
		return eval[float64](p, fmt.Sprintf(`[...document.querySelectorAll(".check summary")].find((each) => each.innerText.includes(%q)).getBoundingClientRect().top`, title))
	}
	p.tap("DisclosureTriangle", titles[0])
	p.sees("If it fails")
	for _, title := range titles[1:3] {
		eval[bool](p, fmt.Sprintf(`(window.heading = [...document.querySelectorAll(".check summary")].find((each) => each.innerText.includes(%q)), window.heading.scrollIntoView({block: "center"}), true)`, title))
		before := top(title)
		p.touch(100, before+20)
		until(t, title+" is open and alone", func() bool {
			return eval[string](p, `[...document.querySelectorAll(".check[open] .check-title")].map((each) => each.innerText).join()`) == title
		})
		if after := top(title); after < before-60 || after > before+60 {
			t.Errorf("%s was at %g px and is at %g", strings.ToLower(title), before, after)
		}
	}
}

// Volts ask for no ohms that are given, and name the place that is missing.
func TestVoltsNameThePlaceThatIsMissing(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/volts")
	p.sees("Current: ")
	p.enters("5. Coil, distributor terminal", "")
	p.sees("Current not known: measure at “coil, distributor terminal” too")
	p.enters("1. Battery, live post", "")
	p.sees("Measure 1. Battery, live post next")
}

// A link is opened out of the letter it came in, and a card says what was chosen in the words of the choice.
func TestALinkPastedWithItsLetter(t *testing.T) {
	p, car := invented(t, "Wexcombe Dabchick Ten")
	link := linkOf(p, car)
	p.open("#/card")
	p.pastes("The setup link",
		"Hello Ann,\nhere is the card: “https://garage.local:7373/#/card/"+link[:70]+"\n"+link[70:]+"”. Thanks, Ben")
	p.tap("button", "Open this link")
	p.sees("Nothing has been stored", "SW and CB")
	p.seesNot("sw-cb")
	if p.hash() != "#/card/"+link {
		t.Errorf("the address is %s", p.hash())
	}
}
