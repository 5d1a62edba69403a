//go:build e2e

package e2e

import (
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

func TestARemovedCarComesBack(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Brindlecote Stour Six")
	p.open("#/")
	remove := func() {
		p.tap("DisclosureTriangle", "rename, copy, remove")
		p.tap("button", "Remove from the garage")
		p.sees("Brindlecote Stour Six is removed", "No car yet")
	}
	remove()
	p.tap("button", "Undo")
	p.find("link", "Brindlecote Stour Six")
	remove()
	p.reload() // the bar is gone; the way back is not
	p.tap("DisclosureTriangle", "Removed cars (1)")
	p.tap("button", "Bring back Brindlecote Stour Six")
	p.find("link", "Brindlecote Stour Six")
}

func TestACarIsRenamedAndCopied(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Stour")
	enterRow(p, 0, [3]string{"1000", "8", "12"})
	stored(p)
	p.open("#/")
	p.tap("DisclosureTriangle", "rename, copy, remove")
	p.rewrites("Rename", "Brindlecote Stour Six")
	p.tap("button", "Keep this name")
	p.find("link", "Brindlecote Stour Six")
	p.tap("DisclosureTriangle", "rename, copy, remove")
	p.tap("button", "Make a copy without readings")
	p.sees("Copy of Brindlecote Stour Six", "What is written down")
	p.open(p.hash() + "/book")
	holdsRow(p, 0, [3]string{"1000", "8", "12"})
	p.open("#/")
	until(t, "two cars are in the garage", func() bool {
		return eval[int](p, `document.querySelectorAll(".car-row").length`) == 2
	})
}

// What is changed in one tab is seen in the other, with no server between.
func TestTwoTabsFollowEachOther(t *testing.T) {
	s := newSite(t)
	one := shared(t).visitor(t, s.origin())
	one.firstRun()
	one.tap("button", demoOffer)
	car := waitForCar(one)
	two := one.tab()
	two.open(car + "/verdict")
	two.sees("What is found", "First choice")
	one.watch.expectNoServer()
	two.watch.expectNoServer()
	s.shut()

	before := two.text()
	one.front()
	one.open(car + "/book")
	one.rewrites("Most degrees, row 1", "10")
	two.front()
	until(t, "the verdict in the other tab changes", func() bool { return two.text() != before })
	two.open("#/")
	one.front()
	one.open("#/")
	addCar(one, "Second of two")
	two.front()
	two.sees("Second of two")
}

// front brings a tab before the others.
func (p *page) front() {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	if _, err := chromedp.Call(ctx, cdppage.BringToFront, cdp.Empty{}); err != nil {
		p.t.Fatal(err)
	}
}
