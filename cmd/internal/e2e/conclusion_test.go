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
	p.sees("Fail", "° after TDC", "early", "primary spring", "do not turn the body", "First choice")
}

// The strobe alone cannot tell what is off: the accounts stand side by side
// with their shares, no mend is offered, and the one reading that tells them
// apart is a tap away, its cautions before it.
func TestAnUndecidedCaseLeadsToTheReadingThatDecides(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/verdict")
	p.sees("The repair")
	p.tap("combobox", "Readings judged")
	p.keys("On the car, at" + kb.Enter)
	p.sees("Not decided yet", "in 100", "Turn nothing. Change nothing inside", "limit", "The next reading",
		"What each expects there", "None yet. Each cause asks for another repair")
	p.seesNot("First choice")
	if shares := eval[int](p, `document.querySelectorAll(".accounts > ol > .account .share-held").length`); shares < 2 {
		t.Errorf("%d accounts stand side by side", shares)
	}
	label := eval[string](p, `document.querySelector(".room-action .next").innerText`)
	speed, direction, _ := strings.Cut(strings.TrimPrefix(plain(label), "take this reading: "), ", ")
	speed = strings.ReplaceAll(speed, " ", "")
	p.tap("button", "Take this reading: ")
	p.sees("caution")
	p.tap("button", "I have read the caution: begin")
	p.sees("Hold " + speed + ": the reading that decides, speed " + direction)
	if typed := eval[string](p, `document.querySelector("#reading-rpm").value`); typed != speed {
		t.Errorf("the speed is %q, not %q", typed, speed)
	}
	p.isChosen("Speed is > " + direction)
	p.reload()
	p.sees("Hold " + speed + ": the reading that decides")
}

// A row of the book that names only a most is kept, read and judged by; one
// that names nothing is refused, and what is typed of it stays.
func TestARowWithAMostAloneIsKeptAndJudged(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	addCar(p, "Quillcombe Teal")
	for _, each := range []string{"The degrees are > crank degrees", "The speeds are > engine rpm",
		"Base timing is > already in the figures"} {
		p.tap("radio", each)
	}
	p.writes("Base timing", "8")
	for i, row := range [][3]string{{"800", "8", "9"}, {"1600", "14", "18"}} {
		enterRow(p, i, row)
	}
	p.sees("Two rows: base, and in or out at those speeds, can be judged.")
	p.writes("Speed, row 3", "3000")
	p.writes("Number on the stop’s plate", "14") // the row is left
	p.sees("row 3 has neither a least nor a most")
	p.writes("Most degrees, row 3", "30")
	p.sees("at most 30°", "most only", "The table reads without trouble")
	p.writes("Speed, row 4", "3600")
	p.reload()
	holdsRow(p, 2, [3]string{"3000", "", "30"})
	holdsRow(p, 3, [3]string{"3600", "", ""})
	p.writes("Least degrees, row 4", "20")
	p.sees("at least 20°", "least only", "The table reads without trouble")
	car := strings.TrimSuffix(p.hash(), "/book")
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/record/visits.js")]).then(async ([{garage}, {startSet, saveReading}]) => {
		const {visit, set} = await startSet(garage.cars()[0], "car");
		for (const [rpm, deg] of [["800", "8"], ["1600", "16"], ["3000", "38"]]) await saveReading(visit, set, {id: "most" + rpm, rpm, deg, side: "before", direction: "rising", at: ""});
		return true;
	})`)
	p.open(car + "/verdict")
	p.sees("Fail", "Every reading")
	p.tap("DisclosureTriangle", "In band:")
	p.sees("to 30")
	p.open(car + "/strobe")
	p.writes("At what speed does this engine idle?", "800")
	p.tap("button", "Use this idle speed")
	p.sees("The book’s row: at most 30.")
}

func TestWhatTheStrobeShouldSay(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/strobe")
	p.sees("With 8° static it should read 8.0 to ", "Straight line: 8.7 to 12.0.",
		"what a sound distributor through the book’s rows can show")
	rows := eval[[]string](p,
		`[...document.querySelectorAll(".strobe-table tbody tr")].map((row) => row.innerText.replace(/\s+/g, " "))`)
	for _, want := range []string{"straight line: 10.4 to 14.4", "straight line: 17.0 to 21.0",
		"2000 22.0 to 26.0 the book’s row", "3000 26.0 to 30.0 the book’s row"} {
		if !strings.Contains(plain(strings.Join(rows, " | ")), want) {
			t.Errorf("%q is not in the table: %q", want, rows)
		}
	}
	p.tap("DisclosureTriangle", "Choose the speeds")
	p.writes("Add a speed", "1750")
	p.tap("button", "Add this speed")
	p.sees("1750", "Straight line: 19.5 to 23.5")
}

func TestWhatIfIsRedrawnAtOnce(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/what-if")
	p.sees("speeds in band")
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
	at := call[struct{ X, Y, Width float64 }](slider, `function() { const box = this.getBoundingClientRect(); return {X: box.x, Y: box.y + box.height / 2, Width: box.width}; }`)
	p.touch(at.X+at.Width*0.5, at.Y)
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

// The repair of the verdict is drawn: as found, after its first change, and at
// the end. A new spring for a lost one is no ratio, so what-if is not offered.
func TestTheMendIsDrawn(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/verdict")
	p.sees("First choice", "Then in the book:", "What to expect of this repair", "after the first change", "at the end")
	until(t, "the curve at the end is drawn", func() bool {
		return eval[bool](p, `(document.querySelector(".mend .plate-line-fitted")?.getTotalLength() ?? 0) > 50`)
	})
	if isNew := strings.Contains(p.text(),
		"new primary spring, as the book names it"); isNew == (len(p.all("button", "Try this repair in what-if")) > 0) {
		t.Error("what-if is offered for a new spring, or is not where no spring is new")
	}
}
