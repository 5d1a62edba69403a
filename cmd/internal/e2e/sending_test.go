//go:build e2e

package e2e

import (
	"testing"
	"time"
)

// What could not be sent is said wherever it is said that it is saved, and goes as soon as the server answers again.
func TestWhatWaitsIsSentAtOnce(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	addCar(p, "Waiting")
	p.sees("Saved here synced")
	p.watch.expectNoServer()
	for _, page := range []string{p.hash(), "#/keep-safe"} {
		srv.kill()
		p.open("#/car/" + carOf(p) + "/book")
		p.rewrites("Base timing", number(float64(len(page))))
		p.sees("Saved here 1 change not sent yet")
		p.open(page)
		p.sees("1 change not sent yet")
		time.Sleep(2 * time.Second) // it has been tried, in vain
		srv.start()
		if !within(5*time.Second, func() bool {
			return eval[int](p, `import("/js/kept/garage.js").then(({garage}) => garage.waiting().length)`) == 0
		}) {
			t.Errorf("at %s nothing is sent 5 s after the server answers again", page)
		}
		p.sees("Saved here synced")
		p.seesNot("not sent yet")
	}
}

// carOf is the id of the one car on the phone.
func carOf(p *page) string {
	p.t.Helper()
	return eval[string](p, `import("/js/kept/garage.js").then(({garage}) => garage.cars()[0].id)`)
}
