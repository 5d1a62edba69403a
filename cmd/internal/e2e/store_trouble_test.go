//go:build e2e

package e2e

import (
	"fmt"
	"testing"
)

// What a phone's store can do: take nothing for want of room, or lose its
// connection, as phones do after sleep. The stub stands where the browser's
// own refusal would come from; it is told when to begin and to end.
const ailing = `(() => {
	const put = IDBObjectStore.prototype.put, transaction = IDBDatabase.prototype.transaction;
	window.ails = "";
	window.refusals = 0;
	const refuse = (name, message) => { window.refusals++; throw new DOMException(message, name); };
	IDBObjectStore.prototype.put = function (...words) {
		if (window.ails === "full") refuse("QuotaExceededError", "no room");
		return put.apply(this, words);
	};
	IDBDatabase.prototype.transaction = function (...words) {
		if (window.ails === "lost once") { window.ails = ""; refuse("InvalidStateError", "The database connection is closing."); }
		if (window.ails === "lost") refuse("UnknownError", "Connection to Indexed Database server lost. Refresh the page to try again");
		return transaction.apply(this, words);
	};
	return true;
})()`

func ails(p *page, how string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(window.ails = %q, true)`, how))
}

func refusals(p *page) int { p.t.Helper(); return eval[int](p, "window.refusals") }

// The typed value stays on the screen, it is said that it is not saved, and it
// is saved once the store takes it again, without being typed anew.
func TestWhatThePhoneWouldNotTakeIsSavedOnRetry(t *testing.T) {
	for _, c := range [][2]string{{"full", "Not saved: no room"}, {"lost", "Not saved yet"}} {
		t.Run(c[0], func(t *testing.T) {
			p := shared(t).visitor(t, newSite(t).origin())
			p.firstRun()
			addCar(p, "Short of room")
			car := p.hash()
			stored(p)
			eval[bool](p, ailing)
			ails(p, c[0])
			enterRow(p, 0, [3]string{"1000", "8", "12"})
			p.sees(c[1])
			if refusals(p) == 0 {
				t.Fatal("nothing was refused; the stub does not reach the app's store")
			}
			holdsRow(p, 0, [3]string{"1000", "8", "12"})
			p.tap("link", c[1])
			p.sees("NOT saved")
			p.open(car)
			holdsRow(p, 0, [3]string{"1000", "8", "12"})
			ails(p, "")
			p.sees("Saved here") // by itself, some seconds later
			p.seesNot("Not saved")
			stored(p)
			p.reload()
			p.open(car)
			holdsRow(p, 0, [3]string{"1000", "8", "12"})
		})
	}
}

// A connection that was lost once is opened again without a word.
func TestALostConnectionIsOpenedAgain(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "After sleep")
	stored(p)
	eval[bool](p, ailing)
	for i, column := range rowLabels(0) {
		ails(p, "lost once")
		p.writes(column, []string{"1000", "8", "12"}[i])
		if eval[string](p, "window.ails") != "" {
			t.Fatalf("writing in %q did not meet the lost connection", column)
		}
	}
	p.seesNot("Not saved")
	stored(p)
	p.reload()
	holdsRow(p, 0, [3]string{"1000", "8", "12"})
}
