//go:build e2e

package e2e

import (
	"fmt"
	"sync"
	"time"

	"github.com/chromedp/chromedp"
)

// missedTaps are the taps that met nothing, over the whole run.
var missedTaps struct {
	sync.Mutex
	all []string
}

// missed waits for the click of a tap. It reports true when none came although
// what was to be tapped still stands: it had moved under the finger, and a
// person taps again. What went away under the finger is no miss but a lost tap.
func (p *page) missed(what string) bool {
	isSettled := within(3*time.Second, func() bool {
		ctx, cancel := p.limited()
		defer cancel()
		isHit, err := chromedp.Run(ctx,
			chromedp.Evaluate[bool]("!window.touched || window.touched.isHit || !window.touched.at.isConnected"))
		return isHit || err != nil // the page it was on may be gone
	})
	if !isSettled {
		met := eval[string](p, `(({at, y, met}) => {
			const box = at.getClientRects()[0];
			return "met " + (met || "nothing") + "; it moved by " + (box ? Math.round(box.y + box.height / 2 - y) : "?") + " px";
		})(window.touched)`)
		missedTaps.Lock()
		missedTaps.all = append(missedTaps.all, fmt.Sprintf("%q in %s: %s", what, p.t.Name(), met))
		missedTaps.Unlock()
	}
	return !isSettled
}
