//go:build e2e

package e2e

import (
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// How long a page may be before anything is opened, in screens of 390 by 844
// (asked of the product); every other page has usualScreens.
var mostScreens = map[string]float64{"car": 2, "points": 2.5}

const usualScreens = 3

// isShort holds a page, folded, to its number of screens.
func isShort(p *page, at screen) {
	p.t.Helper()
	most := mostScreens[at.name]
	if most == 0 {
		most = usualScreens
	}
	long := eval[float64](p, `document.documentElement.scrollHeight / 844`)
	p.t.Logf("%s: %.1f screens", at.name, long)
	if long > most {
		p.t.Errorf("%s is %.1f screens long; at most %g", at.name, long, most)
	}
}

// lookTime is how long one looks for something before opening what is folded:
// it may be just coming.
const lookTime = 300 * time.Millisecond

// unfolds opens what stands folded, as a person does who looks for something
// and has not found it for a while; it is false, so that one looks again.
func (p *page) unfolds(from time.Time) bool {
	p.t.Helper()
	if !p.folded && time.Since(from) > lookTime {
		eval[bool](p, `(document.querySelectorAll("main details.fold:not([open])").forEach((each) => { each.open = true; }), true)`)
	}
	return false
}

// slowed makes the page's processor so many times slower, as a phone's is.
func (p *page) slowed(rate float64) {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	slow := emulation.SetCPUThrottlingRateParams{Rate: rate}
	if _, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, slow); err != nil {
		p.t.Fatal(err)
	}
}
