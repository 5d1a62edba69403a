//go:build e2e

package e2e

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// crankAt is where the slider of the crank stands.
const crankAt = `Number(document.querySelector(".why-controls input[type=range]").value)`

// movingParts is all that moves in the plate.
const movingParts = `[...document.querySelectorAll(".why-drawing [transform], .why-drawing .why-rod, .why-drawing .why-cursor")].map((each) => each.outerHTML).join("")`

// sparksDrawn counts the marks of a spark that are to be seen.
const sparksDrawn = `[...document.querySelectorAll(".why-drawing .why-spark")].filter((each) => each.checkVisibility()).length`

// The moving picture with the server switched off: it stands at the spark, is
// stepped, jumps, plays once it is started, and stops.
func TestTheCrankIsTurnedAndShowsWhy(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	srv.kill()
	p.tap("DisclosureTriangle", "Also for this car")
	p.tap("link", "Show why")
	p.sees("before TDC", "points just open, spark in No. 1", "kV to be had", "Fig. 1.")
	p.seesNot("Not drawn")
	still := eval[string](p, movingParts)
	time.Sleep(300 * time.Millisecond)
	if eval[string](p, movingParts) != still {
		t.Error("the picture moves, and nobody has started it")
	}
	if n := eval[int](p, sparksDrawn); n != 2 {
		t.Errorf("%d sparks drawn, one at the plug and one at the rotor arm wanted", n)
	}
	p.tap("button", "Turn the crank: 1 degree back")
	p.sees("points closed", "A and growing")
	if n := eval[int](p, sparksDrawn); n != 0 {
		t.Errorf("%d sparks drawn before the points open", n)
	}
	p.tap("button", "Half burnt")
	p.sees("50 % burnt")
	p.tap("button", "Top pressure")
	p.sees(", the top.")
	p.tap("button", "Points close")
	p.sees("points closed, 0.0 A")
	p.tap("button", "500 rpm more")
	p.sees("2000 engine rpm")
	p.tap("button", "Points open: spark")
	p.sees("points just open, spark in No. 1")

	still = eval[string](p, movingParts)
	p.tap("button", "Play")
	until(t, "the crank turns", func() bool { return eval[string](p, movingParts) != still })
	frames := eval[int](p, `new Promise((done) => { let n = 0; const end = performance.now() + 1000; const count = () => performance.now() < end ? (n++, requestAnimationFrame(count)) : done(n); count(); })`)
	t.Logf("%d frames in a second of playing", frames)
	p.tap("button", "Stop")
	still = eval[string](p, movingParts)
	time.Sleep(300 * time.Millisecond)
	if eval[string](p, movingParts) != still {
		t.Error("the picture moves after it was stopped")
	}
	p.open(car + "/spark")
	p.tap("link", "Show why")
	p.sees("points just open, spark in No. 1")
}

// Who wants little motion gets steps of 10 degrees, one a second.
func TestTheCrankStepsWhereLittleMotionIsWanted(t *testing.T) {
	p, car := demo(t)
	ctx, cancel := p.limited()
	defer cancel()
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-reduced-motion", Value: "reduce"}}}
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, media); err != nil {
		t.Fatal(err)
	}
	p.open(car + "/why")
	p.sees("points just open")
	from := eval[float64](p, crankAt)
	p.tap("button", "Play")
	until(t, "the crank has stepped", func() bool { return eval[float64](p, crankAt) != from })
	p.tap("button", "Stop")
	steps := (eval[float64](p, crankAt) - from) / 10
	if math.Abs(steps-math.Round(steps)) > 0.06 || steps < 0.9 || steps > 3.1 { // the slider shows whole degrees
		t.Errorf("%.2f steps of 10 degrees", steps)
	}
}

// A chapter sets the speed, asks, and knows the answer.
func TestAChapterAsksAndIsAnswered(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/why/1")
	p.sees("1. Why earlier with speed", "700 engine rpm", "Not answered yet.")
	for range 3 {
		p.tap("button", "500 rpm more")
	}
	p.tap("button", "Engine speed: 100 more")
	p.seesNot("Right.")
	p.tap("button", "Engine speed: 100 more")
	p.sees("Right. At 2400 rpm")
	p.tap("link", "Next: between two sparks")
	p.sees("2. Between two sparks", "Not answered yet.")
	p.tap("button", "Points close")
	p.sees("Right. The points have just closed.")
	p.open(car + "/why/3")
	for range 3 {
		p.sees("Not answered yet.")
		p.tap("button", "Dwell: 1 degree more, a closer gap")
	}
	p.sees("the heel worn", "Right. More dwell, less gap, a later spark")
	p.open(car + "/why/8") // nobody has said what this capsule's code means
	p.sees("It cannot be asked yet", "Not drawn: what the capsule adds", "Look at the capsule")
}

// What is not known is not drawn, and leads to where it is asked.
func TestWhatIsMissingIsNotDrawn(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.writes("Name of the car", "Bare")
	p.tap("button", "Add this car")
	p.sees("The degrees are")
	car := p.hash()[:len(p.hash())-len("/book")]
	p.open(car + "/why")
	p.sees("Not drawn: the spark’s moment, the piston", "Asked for:", "stroke", "the book’s curve")
	if n := eval[int](p, `document.querySelectorAll(".why-trace, .why-rotor, .why-rod, .why-cam").length`); n != 0 {
		t.Errorf("%d parts are drawn of which nothing is known", n)
	}
	p.open(car + "/why/4")
	p.sees("It cannot be asked yet")
	p.tap("link", "Fill in the facts")
	p.sees("Stroke")
}

// On paper it is a still on one sheet, with what stands at its angle.
func TestShowWhyIsPrintedOnOneSheet(t *testing.T) {
	p, car := demo(t)
	for _, chapter := range []string{"", "/4"} {
		p.open(car + "/why" + chapter)
		p.sees("before TDC", "Fig. 1.")
		p.tap("button", "Points open: spark")
		pages, text := readPDF(t, p.onPaper(chromedp.PaperA4))
		if pages != 1 {
			t.Errorf("why%s: %d sheets", chapter, pages)
		}
		for _, want := range []string{"Rotor arm", "points just open", "kV to be had", " ms"} {
			if !strings.Contains(squeezed(text), squeezed(want)) {
				t.Errorf("why%s: %q is not on the paper, which says: %.3000s", chapter, want, text)
			}
		}
	}
}
