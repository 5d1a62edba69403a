//go:build e2e

package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

func TestTheDemoCarsBaseIsHiddenBehindItsIdle(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/verdict")
	p.sees("Fail", "4.3° after TDC", "early", "primary spring", "do not turn the body", "First choice")
}

// The strobe alone cannot tell a late base under an early curve from a limit
// far too short: both accounts are given, the test between them, and no mend.
func TestTheStrobeAloneGivesBothAccounts(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/verdict")
	p.sees("The mend")
	p.tap("combobox", "Readings judged")
	p.keys("By strobe" + kb.Enter)
	p.sees("Two accounts fit these readings", "Either", "The test that tells them apart", "base", "limit", "None yet. Each account asks for another mend")
	p.seesNot("First choice")
	if accounts := eval[int](p, `document.querySelectorAll(".account").length`); accounts != 2 {
		t.Errorf("%d accounts are given", accounts)
	}
}

func TestWhatTheStrobeShouldSay(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/strobe")
	p.sees("Your 8 static should read 8.7 to 12.0 at 800", "800 your idle 8.7 to 12.0")
	rows := eval[[]string](p, `[...document.querySelectorAll(".strobe-table tbody tr")].map((row) => row.innerText.replace(/\s+/g, " "))`)
	for _, want := range []string{"1 000 10.4 to 14.4", "1 500 17.0 to 21.0", "2 000 22.0 to 26.0", "3 000 26.0 to 30.0"} {
		if !strings.Contains(plain(strings.Join(rows, " | ")), want) {
			t.Errorf("%q is not in the table: %q", want, rows)
		}
	}
	p.tap("DisclosureTriangle", "Choose the speeds")
	p.writes("Add a speed", "1750")
	p.tap("button", "Add this speed")
	p.sees("1 750 19.5 to 23.5")
}

func TestWhatIfIsRedrawnAtOnce(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/what-if")
	p.sees("book speeds in band")
	const drawing = `document.querySelector(".plate-drawing").innerHTML`
	status := func() string { return eval[string](p, `document.querySelector(".in-band-count").innerText`) }
	was, said := eval[string](p, drawing), status()
	changed := func(how string) {
		t.Helper()
		until(t, "the figure is redrawn after "+how, func() bool { return eval[string](p, drawing) != was })
		was = eval[string](p, drawing)
	}
	for range 4 {
		p.tap("button", "Primary spring: stiffer")
	}
	p.sees("Primary spring 20 % stiffer")
	changed("the button")
	slider := p.find("slider", "Primary spring")
	slider.tap() // in the middle
	at := call[struct{ X, Y, Width float64 }](slider, `function() { const box = this.getBoundingClientRect(); return {X: box.x, Y: box.y + box.height / 2, Width: box.width}; }`)
	p.touch(at.X+at.Width*0.8, at.Y)
	p.sees("times as stiff")
	changed("the slider")
	p.tap("button", "Base: earlier")
	changed("the base")
	if now := status(); now == said {
		t.Errorf("the count of speeds in band is still %q", now)
	}
	p.tap("button", "Put everything back as found")
	p.sees("Primary spring as it is")
	until(t, "the count is as before", func() bool { return status() == said })
}

// The mend of the verdict, tried in what-if, brings the speeds into the band.
func TestTheMendIsTriedInWhatIf(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/verdict")
	p.tap("button", "Try this mend in what-if")
	p.sees("7 of 7 book speeds in band", "What this does")
}
