//go:build e2e

package e2e

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

const demoOffer = "Put it in the garage"

// A shop is a phone with the invented car in it that several tests look at in
// tabs of their own. They leave it as they found it.
type shop struct {
	name    string
	site    *site
	keeper  *page
	car     string
	screens []screen
}

var (
	concluded = &shop{name: "concluded"} // the demo as it comes
	furnished = &shop{name: "furnished"} // with sets of readings begun, for looking at every page
)

// demo opens a tab on the invented car as it comes.
func demo(t testing.TB) (p *page, car string) {
	t.Helper()
	concluded.open(t)
	keeper := concluded.keeper.in(t)
	eval[bool](keeper, `import("/js/kept/drafts.js").then(async ({drafts}) => {
		for (const key of ["verdict", "what-if", "strobe"]) await drafts.put(key + "/demolinnet1250car000", undefined);
		return true;
	})`) // what another test chose there
	return keeper.tab(), concluded.car
}

// everyScreen opens a tab on the phone that has something on every page.
func everyScreen(t testing.TB) (p *page, all []screen) {
	t.Helper()
	furnished.open(t)
	p = furnished.keeper.in(t)
	if furnished.screens == nil {
		furnished.screens = screens(p, furnished.car)
	}
	return p.tab(), furnished.screens
}

func (s *shop) open(t testing.TB) {
	t.Helper()
	if s.car != "" {
		return
	}
	if s.site != nil {
		t.Fatalf("the phone with the demo (%s) could not be made ready by an earlier test", s.name)
	}
	folder := filepath.Join(runFolder, s.name)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	s.site = openSite(t, appFiles(t), folder)
	ctx, _ := chromedp.NewContext(shared(t).ctx, chromedp.WithNewBrowserContext())
	s.keeper = newPage(t, ctx, s.site.origin())
	s.keeper.scale = 1
	s.keeper.size(390, 844)
	s.keeper.firstRun()
	s.keeper.tap("button", demoOffer)
	s.car = waitForCar(s.keeper)
}

func (s *shop) close() {
	if s.site != nil {
		s.site.leave()
	}
}

// waitForCar gives the address of the car that has just been opened.
func waitForCar(p hands) string {
	p.test().Helper()
	var car string
	until(p.test(), "the car is shown", func() bool { car = p.hash(); return len(car) > len("#/car/") })
	p.sees("What is written down")
	return car
}
