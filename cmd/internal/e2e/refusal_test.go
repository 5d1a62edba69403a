//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// refuses waits for a message that names what is wrong, its limit, and what
// to do, in this order.
func refuses(p *page, what, limit string) {
	p.t.Helper()
	const lines = `[...document.querySelectorAll(".problem-line")].filter((line) => line.getClientRects().length).map((line) => line.innerText)`
	isSaid := within(patience, func() bool {
		for _, line := range eval[[]string](p, lines) {
			said := plain(line)
			before, after, hasLimit := strings.Cut(said, "limit:")
			within, action, hasAction := strings.Cut(after, ". ")
			if strings.Contains(before, plain(what)) && hasLimit && strings.Contains(within, plain(limit)) &&
				hasAction && len(action) > 8 {
				return true
			}
		}
		return false
	})
	if !isSaid {
		p.t.Errorf("no message says %q, limit %q and what to do; there is: %q", what, limit, eval[[]string](p, lines))
	}
}

func TestARefusedTableKeepsWhatWasTyped(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Refused")
	p.tap("radio", "The degrees are > crank degrees")
	p.tap("radio", "The speeds are > engine rpm")
	p.tap("radio", "Base timing is > not in the figures")
	for _, c := range []struct {
		name        string
		rows        [2][3]string
		what, limit string
	}{
		{"falling", [2][3]string{{"1000", "12", "14"}, {"2000", "3", "4"}}, "falls by",
			"a fall of at most 1 crank degree"},
		{"two points at one speed", [2][3]string{{"1000", "4", "6"}, {"1000", "7", "8"}}, "1000", ""},
		{"min above max", [2][3]string{{"1000", "6", "4"}, {"2000", "8", "10"}}, "the least", ""},
		{"no speed at all", [2][3]string{{"0", "4", "6"}, {"2000", "8", "10"}}, "0", ""},
		{"not a number", [2][3]string{{"fast", "4", "6"}, {"2000", "8", "10"}}, "fast", "digits"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := p.in(t)
			for i, row := range c.rows {
				for column, label := range rowLabels(i) {
					p.rewrites(label, row[column])
				}
			}
			p.tap("radio", "The speeds are > engine rpm") // somewhere else
			refuses(p, c.what, c.limit)
			p.reload()
			for i, row := range c.rows {
				holdsRow(p, i, row)
			}
			refuses(p, c.what, c.limit)
		})
	}
	// More than 46 degrees in all is stopped, until a person says that it is so.
	p.rewrites("Base timing", "8")
	for column, text := range []string{"2000", "38", "40"} {
		p.rewrites(rowLabels(1)[column], text)
	}
	for column, text := range []string{"1000", "4", "6"} {
		p.rewrites(rowLabels(0)[column], text)
	}
	p.tap("radio", "The speeds are > engine rpm")
	p.sees("the whole timing would be 48° before TDC", "can break rings")
	p.tap("button", "I have checked it against the book")
	p.find("link", "Next: readings")
	p.reload()
	p.sees("You have checked that against the book")
	p.rewrites(rowLabels(1)[2], "41")
	p.tap("radio", "The speeds are > engine rpm")
	p.sees("the whole timing would be 49° before TDC")
}

func TestARefusedReadingKeepsWhatWasTyped(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Refused")
	p.open(strings.Replace(p.hash(), "book", "readings", 1))
	p.tap("button", "Measure on the car, by strobe")
	p.tap("button", "I have read the caution: begin")
	for _, c := range [][4]string{{"0", "12", "0 rpm cannot be read at", "more than 0"},
		{"1000", "125", "125 degrees cannot be", "120"}, {"1000", "", "no degrees", "a number"}} {
		p.rewrites("Engine rpm", c[0])
		p.rewrites("Crank degrees", c[1])
		p.tap("button", "Save reading")
		refuses(p, c[2], c[3])
		p.reload()
		p.holds("Engine rpm", c[0])
		p.holds("Crank degrees", c[1])
	}
}

func TestARefusedNameKeepsWhatWasTyped(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	long := strings.Repeat("Hartsmere ", 1000)
	for _, c := range [][3]string{{long, "10000 characters", "80 characters"},
		{"<b onclick=x>Linnet</b>", "< or >", "letters"}} {
		p.rewrites("Name of the car", "")
		p.pastes("Name of the car", c[0])
		p.tap("button", "Add this car")
		if c[0] == long {
			c[1] = fmt.Sprintf("%d characters", len(strings.TrimSpace(long)))
		}
		refuses(p, c[1], c[2])
		p.reload()
		p.holds("Name of the car", c[0])
		p.sees("No car yet")
	}
}

// Where markup may be typed it is shown as the text it is.
func TestMarkupIsText(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	const markup = `<img src=x onerror="document.title='taken'"><b>bold</b>`
	p.firstRun()
	addCar(p, "Plain")
	car := strings.TrimSuffix(p.hash(), "/book")
	p.open(car + "/facts")
	p.pastes("Owner", markup)
	p.tap("DisclosureTriangle", "What it does wrong, since when")
	p.pastes("In words", markup)
	p.open(car)
	p.sees("Owner: "+markup, "The owner’s words")
	if n := eval[int](p, `document.querySelectorAll("main img, main b").length`); n != 0 {
		t.Errorf("%d elements were made of what was typed", n)
	}
	if title := eval[string](p, "document.title"); strings.Contains(title, "taken") {
		t.Error("typed markup was run")
	}
}
