//go:build e2e

package e2e

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// bay opens the invented car at the engine bay, with something left undone,
// the capsule and the cylinders read, and readings called.
func bay(t *testing.T) (p *page, all []screen) {
	t.Helper()
	p = shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	eval[bool](p, `Promise.all([import("/js/data/garage.js"), import("/js/data/work.js")]).then(async ([{garage}, work]) => {
		const car = garage.get("car", location.hash.split("/")[2]);
		const fact = (value, unit, note = "") => ({value, unit, source: "measured", note});
		await garage.update("distributor", car.body.distributorId, (body) => { body.facts.capsuleMeaning = fact("start-full-most", ""); body.facts.firstPostClock = fact("7.5", ""); });
		await work.keepVisitFacts(car, {
			"capsule.1.vacuum": fact("4", "inHg"), "capsule.1.deg": fact("1", "crank degrees"), "capsule.2.vacuum": fact("8", "inHg"), "capsule.2.deg": fact("7", "crank degrees"), "capsule.3.vacuum": fact("12", "inHg"), "capsule.3.deg": fact("13", "crank degrees"),
			"scatter.unit": fact("distributor", ""), "scatter.place": fact("bench", ""), "scatter.run1.2": fact("1.2", "", "early"), "scatter.run1.3": fact("0.4", "", "late"), "scatter.run1.4": fact("0.2", "", "early"),
			"tdc.firstTouch": fact("14", "crank degrees before TDC"), "tdc.secondTouch": fact("10", "crank degrees after TDC"),
		});
		await work.undo(car, ["vacuum-pipe", "clamp-loose"]);
		return true;
	})`)
	p.open(car + "/call")
	p.tap("button", "We have read the caution: begin")
	p.sees("Hold, rising")
	calling := p.hash()
	return p, []screen{
		{"work", car + "/do", "Prove TDC by a positive stop", true},
		{"before", car + "/do/static", "Before you begin", true},
		{"step", car + "/do/static/prove", "Turn the crank two full turns", true},
		{"blocked", car + "/do/strobe-idle/start", "Do not start the engine", true},
		{"speed", car + "/do/strobe-idle/idle", "Hear the speed by microphone", true},
		{"finish", car + "/do/static/finish", "Not finished", true},
		{"restore", car + "/restore", "Put it back, then tick it", true},
		{"call", car + "/call", "reads out what to hold", true},
		{"calling", calling, "Hold, rising", true},
		{"marks", car + "/marks", "True TDC is 2.0", true},
		{"tape", car + "/tape", "34.03 mm", true},
		{"cap", car + "/cap", "Share a mark", true},
		{"vacuum", car + "/vacuum", "Fig. 1", true},
		{"scatter", car + "/scatter", "fires earliest", true},
	}
}

// The pages of the engine bay in every light: nothing that axe knows of, text
// at 7 to 1, nothing sideways, targets large enough for gloves.
func TestTheEngineBayInEveryLight(t *testing.T) {
	p, all := bay(t)
	checker, err := os.ReadFile(filepath.FromSlash("../../../pwa/test/node_modules/axe-core/axe.min.js"))
	if err != nil {
		t.Fatal("axe-core is not installed; run npm ci in pwa/test")
	}
	for _, light := range []string{"light", "dark", "sunlight"} {
		p.open("#/settings")
		p.tap("radio", "Light > "+light)
		p.reload()
		p.do(chromedp.Evaluate[chromedp.Void](string(checker)))
		for _, each := range all {
			t.Run(light+"/"+each.name, func(t *testing.T) {
				p := p.in(t)
				p.goes(each)
				if light == "light" {
					eval[bool](p, opened)
					hasLargeTargets(p)
				}
				passesAxe(p)
				for _, weak := range eval[[]string](p, weakText) {
					t.Errorf("less than 7 to 1: %s", weak)
				}
			})
		}
	}
}

func TestTheEngineBayFitsSmallPhones(t *testing.T) {
	p, all := bay(t)
	for _, c := range []struct {
		name          string
		width, height int64
		text          int64
	}{{"320 wide", 320, 640, 16}, {"200 percent", 390, 844, 32}, {"on its side", 844, 390, 16}} {
		p.size(c.width, c.height)
		ctx, cancel := p.limited()
		_, err := chromedp.Call(ctx, cdppage.SetFontSizes, cdppage.SetFontSizesParams{FontSizes: &cdppage.FontSizes{Standard: c.text}})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		for _, each := range all {
			t.Run(c.name+"/"+each.name, func(t *testing.T) {
				p := p.in(t)
				p.goes(each)
				eval[bool](p, opened)
				wide := eval[struct {
					Is, Text float64
					Who      []string
				}](p, tooWide)
				if wide.Is > float64(c.width) || wide.Text != float64(c.text)*1.1875 {
					t.Errorf("%g px of %d, text of %g px: %q", wide.Is, c.width, wide.Text, wide.Who)
				}
			})
		}
	}
}

func hasLargeTargets(p *page) {
	p.t.Helper()
	var targets struct {
		Count int
		Small []string
	}
	if err := json.Unmarshal([]byte(eval[string](p, smallTargets)), &targets); err != nil {
		p.t.Fatal(err)
	}
	if targets.Count < 3 {
		p.t.Errorf("only %d targets found; the look is broken", targets.Count)
	}
	for _, small := range targets.Small {
		p.t.Errorf("too small: %s", small)
	}
}

// What the calculations say of the figures of the trade, seen on the screen.
func TestCapsuleCylindersAndMarksConclude(t *testing.T) {
	p, all := bay(t)
	see := map[string][]string{
		"marks":   {"True TDC is 2.0° before the old zero mark", "34.03", "33.65"}, // 130 mm, 30 degrees: arc, and chord 130 sin 15°
		"cap":     {"1 and 4", "2 and 3"},
		"scatter": {"No. 3", "+2.4 crank degrees before its turn"},
		"vacuum":  {"Movement of the capsule over vacuum"},
	}
	for _, each := range all {
		if want := see[each.name]; want != nil {
			p.goes(each)
			p.sees(want...)
		}
	}
}
