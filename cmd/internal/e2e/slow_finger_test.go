//go:build e2e

package e2e

import (
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// A finger rests on the screen for a tenth of a second. What is typed before
// has gone to the server meanwhile, and its answer, or what another phone has
// changed, must not draw the page again under the finger.
func TestASlowTapAfterTypingIsNotLost(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	addCar(p, "Slow finger")
	for range 2 {
		p.rewrites("Base timing", "8")
		p.sees("Saved here synced")
		until(t, "the server has it", func() bool {
			return eval[int](p, `import("/js/kept/garage.js").then(({garage}) => garage.waiting().length)`) == 0
		})
		p.presses("radio", "Before or after TDC > after TDC")
		p.isChosen("Before or after TDC > after TDC")
		p.presses("radio", "Before or after TDC > before TDC")
		p.isChosen("Before or after TDC > before TDC")
	}

	p.into("Base timing") // something comes from elsewhere while somebody types
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/kept/db.js")]).then(async ([{garage}, {write}]) => {
		const car = garage.cars()[0], doc = {...garage.get("distributor", car.body.distributorId), changedAt: new Date(Date.now() + 1000).toISOString()};
		await write((store) => store("documents").put(doc, "distributor/" + doc.id));
		new BroadcastChannel("pointsmith.garage").postMessage({docs: [{kind: "distributor", id: doc.id}]});
		return true;
	})`)
	p.presses("radio", "Before or after TDC > after TDC")
	p.isChosen("Before or after TDC > after TDC")
}

// presses taps as a slow finger does: it rests before it is lifted.
func (p *page) presses(role, name string) {
	p.t.Helper()
	at := call[struct {
		X, Y   float64
		IsFree bool
	}](p.find(role, name), place)
	if !at.IsFree {
		p.t.Fatalf("%q cannot be tapped", name)
	}
	for i, kind := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMousePressed,
		input.DispatchMouseEventTypeMouseReleased} {
		if i == 1 {
			time.Sleep(120 * time.Millisecond)
		}
		ctx, cancel := p.limited()
		_, err := chromedp.Call(ctx, input.DispatchMouseEvent,
			input.DispatchMouseEventParams{Type: kind, X: at.X, Y: at.Y, Button: input.MouseButtonLeft, ClickCount: 1})
		cancel()
		if err != nil {
			p.t.Fatal(err)
		}
	}
}
