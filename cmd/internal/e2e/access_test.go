//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// shelves hold every page of the app: a phone with something on each of them,
// and their addresses.
var shelves = []struct {
	name string
	open func(t testing.TB) (*page, []screen)
}{{"garage", everyScreen}, {"electrics", electrics}, {"bay", bay}, {"passing on", passing}, {"units", units},
	{"choosing", choosing}}

// opened unfolds everything on the page, so that it is looked at as well.
const opened = `(document.querySelectorAll("main details").forEach((each) => { each.open = true; }), new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))`

// onEveryShelf looks at the pages of each shelf, side by side with those of the
// others: each is a phone of its own.
func onEveryShelf(t *testing.T, look func(t *testing.T, p *page, all []screen)) {
	t.Helper()
	shared(t)                        // one browser for all
	t.Run("on", func(t *testing.T) { // it ends when all have
		for _, shelf := range shelves {
			t.Run(shelf.name, func(t *testing.T) {
				t.Parallel()
				p, all := shelf.open(t)
				look(t, p, all)
			})
		}
	})
}

// In which light, on what screen and with what size of text pages are looked
// at. Each light, screen and size stands here once; bash .ci/full has all of
// their pairings (asked of the product).
var lookedAt = []looked{
	{"light", 390, 844, "normal"},
	{"dark", 1280, 800, "large"},
	{"sunlight", 320, 568, "larger"},
	{"light", 844, 390, "normal"},
}

type looked struct {
	light         string
	width, height int64
	text          string
}

// allLooks are the pairings of all lights, screens and sizes.
func allLooks() (all []looked) {
	for _, light := range []string{"light", "dark", "sunlight"} {
		for _, at := range lookedAt {
			for _, text := range []string{"normal", "large", "larger"} {
				all = append(all, looked{light, at.width, at.height, text})
			}
		}
	}
	return all
}

// Every page is short and stands still while it opens, on a phone four times
// slower than this machine; and however it is looked at, nothing that axe
// knows of, text at 7 to 1, one action at most in the signal's colour. No
// route of the app escapes.
func TestEveryPageInEveryLight(t *testing.T) {
	checker, err := os.ReadFile(filepath.FromSlash("../../../pwa/test/node_modules/axe-core/axe.min.js"))
	if err != nil {
		t.Fatal("axe-core is not installed; run npm ci in pwa/test")
	}
	looks := lookedAt
	if os.Getenv("E2E_FULL") != "" {
		looks = allLooks()
	}
	var mutex sync.Mutex
	var seen []string
	onEveryShelf(t, func(t *testing.T, p *page, all []screen) {
		p.slowed(4)
		for _, each := range all {
			t.Run("opening/"+each.name, func(t *testing.T) { opensWell(p.in(t), each) })
		}
		p.slowed(1)
		for n, how := range looks {
			set(p, how)
			p.reload()
			p.do(chromedp.Evaluate[chromedp.Void](string(checker)))
			for _, each := range all {
				t.Run(fmt.Sprintf("%s %d %s/%s", how.light, how.width, how.text, each.name), func(t *testing.T) {
					looksWell(p.in(t), each, n == 0)
					mutex.Lock()
					seen = append(seen, each.hash)
					mutex.Unlock()
				})
			}
		}
		set(p, lookedAt[0]) // as it was
	})
	for name, route := range routesOfApp(t) {
		if !slices.ContainsFunc(seen, route.MatchString) {
			t.Errorf("the page %s stands on no shelf: nobody looks at it", name)
		}
	}
}

// set chooses light and text on the page that has them, and then the screen.
func set(p *page, how looked) {
	p.t.Helper()
	p.size(390, 844)
	p.open("#/settings")
	p.tap("radio", "Light > "+how.light)
	p.tap("radio", "Size of text > "+how.text)
	p.size(how.width, how.height)
}

// opensWell: a page opened anew is short and stands still.
func opensWell(p *page, at screen) {
	p.t.Helper()
	p.folded = true
	p.open(at.hash)
	eval[bool](p, `(localStorage.removeItem("pointsmith.open"), true)`)
	p.reload()
	p.goes(at)
	isShort(p, at)
	standsStill(p, at)
}

// looksWell: anybody can read and use the page; opened: what is folded as well.
func looksWell(p *page, at screen, isOpened bool) {
	p.t.Helper()
	p.goes(at)
	if n := eval[int](p, actionsShown); n > 1 {
		p.t.Errorf("%d actions in the signal colour", n)
	}
	if isOpened { // the folds hold the same parts however they are looked at
		eval[bool](p, opened)
	}
	passesAxe(p)
	for _, weak := range eval[[]string](p, weakText) {
		p.t.Errorf("less than 7 to 1: %s", weak)
	}
}

const actionsShown = `(() => {
	const signal = document.createElement("i");
	signal.style.backgroundColor = "var(--next-ground)";
	document.body.append(signal);
	const colour = getComputedStyle(signal).backgroundColor;
	signal.remove();
	return [...document.querySelectorAll("main button, main a")].filter((each) => each.checkVisibility() &&
		!each.closest("details") && getComputedStyle(each).backgroundColor === colour).length;
})()`

// routesOfApp reads the table of routes: the addresses of each, by name.
func routesOfApp(t *testing.T) map[string]*regexp.Regexp {
	t.Helper()
	text, err := os.ReadFile(filepath.FromSlash("../../../pwa/app/js/frame/routes.js"))
	if err != nil {
		t.Fatal(err)
	}
	routes := map[string]*regexp.Regexp{}
	named := regexp.MustCompile(`(?s)name: "([^"]+)",[^}]*?path: "([^"]*)"`)
	for _, found := range named.FindAllStringSubmatch(string(text), -1) {
		pattern := "^#"
		for part := range strings.SplitSeq(found[2], "/") {
			switch {
			case strings.HasSuffix(part, "?"):
				pattern += "(/[^/]*)?"
			case strings.HasPrefix(part, ":"):
				pattern += "/[^/]+"
			default:
				pattern += "/" + regexp.QuoteMeta(part)
			}
		}
		routes[found[1]] = regexp.MustCompile(pattern + "$")
	}
	if len(routes) < 20 {
		t.Fatalf("only %d routes found; the pattern is broken", len(routes))
	}
	return routes
}

func passesAxe(p *page) {
	p.t.Helper()
	found := eval[struct {
		Passes     int
		Violations []struct {
			ID, Help string
			Nodes    []string
		}
	}](p, `axe.run(document, {rules: {"color-contrast-enhanced": {enabled: true}}}).then(({passes, violations}) => ({
		Passes: passes.length, Violations: violations.map(({id, help, nodes}) => ({ID: id, Help: help, Nodes: nodes.slice(0, 3).map((node) => node.html.slice(0, 200))}))}))`)
	if found.Passes < 10 {
		p.t.Errorf("only %d rules of axe applied; it did not look", found.Passes)
	}
	for _, v := range found.Violations {
		p.t.Errorf("axe: %s (%s): %q", v.ID, v.Help, v.Nodes)
	}
}

// weakText lists the text whose computed colour is less than 7 to 1 from the
// ground it stands on (contrast by WCAG 2.2, success criterion 1.4.6; large
// text is not let off). Switched-off controls are.
const weakText = `(() => {
	const canvas = new OffscreenCanvas(1, 1).getContext("2d", {willReadFrequently: true});
	const rgba = (colour) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1); return canvas.getImageData(0, 0, 1, 1).data; };
	const light = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, part, i) => { const x = c[i] / 255; return sum + part * (x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4); }, 0);
	const ground = (element) => { for (let at = element; at; at = at.parentElement) { const c = rgba(getComputedStyle(at).backgroundColor); if (c[3] === 255) return c; } return [255, 255, 255, 255]; };
	const weak = [];
	for (const element of document.querySelectorAll("body *")) {
		const isText = [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
		if (!isText && !element.matches("input, textarea") || !element.checkVisibility() || element.closest(":disabled, svg, .vh, .skip, noscript, script")) continue;
		const style = getComputedStyle(element);
		const [a, b] = [light(rgba(style.color)), light(ground(element))];
		const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		if (ratio < 7) weak.push(ratio.toFixed(2) + " " + element.outerHTML.slice(0, 140));
	}
	return weak.slice(0, 5);
})()`

// Nothing is wider than a small phone, nor with the text at 200 %, and what is
// touched on a working screen is large enough for gloves.
func TestEveryPageFitsSmallScreensAndGloves(t *testing.T) {
	onEveryShelf(t, func(t *testing.T, p *page, all []screen) {
		p.open("#/settings")
		p.tap("radio", "Light > sunlight") // its type is the heaviest
		for _, c := range []struct {
			name          string
			width, height int64
			text          int64 // px that the reader has chosen; 16 is common
		}{{"320 wide", 320, 640, 16}, {"200 percent", 390, 844, 32}, {"on its side", 844, 390, 16}} {
			p.size(c.width, c.height)
			ctx, cancel := p.limited()
			sizes := cdppage.SetFontSizesParams{FontSizes: &cdppage.FontSizes{Standard: c.text}}
			_, err := chromedp.Call(ctx, cdppage.SetFontSizes, sizes)
			cancel()
			if err != nil {
				t.Fatal(err)
			}
			for _, each := range all {
				t.Run(c.name+"/"+each.name, func(t *testing.T) {
					p := p.in(t)
					p.goes(each)
					eval[bool](p, opened)
					fits(p, c.width, c.text)
					if each.isWorking && c.name == "320 wide" {
						hasLargeTargets(p)
					}
				})
			}
		}
	})
}

// fits tells whether the page is no wider than the screen, with the text in
// the size that was chosen.
func fits(p *page, width, text int64) {
	p.t.Helper()
	var wide struct {
		Is, Text float64
		Who      []string
	}
	if !within(2*time.Second, func() bool {
		wide = eval[struct {
			Is, Text float64
			Who      []string
		}](p, tooWide)
		return wide.Is <= float64(width) && wide.Text == float64(text)*1.1875
	}) {
		p.t.Errorf("%g px of %d, text of %g px: %q", wide.Is, width, wide.Text, wide.Who)
	}
}

const tooWide = `(() => {
	const root = document.documentElement;
	const who = [...document.querySelectorAll("body *")].filter((each) => each.getBoundingClientRect().right > screen.width + 0.5 && !each.closest(".table-room")).slice(0, 4).map((each) => each.outerHTML.slice(0, 120));
	return {Is: root.scrollWidth, Text: parseFloat(getComputedStyle(root).fontSize), Who: who};
})()`

// hasLargeTargets: whatever is touched is at least 48 CSS px both ways; a link
// in the middle of a sentence is let off.
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

const smallTargets = `(() => {
	const small = [];
	let count = 0;
	for (const element of document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider]")) {
		if (!element.checkVisibility({contentVisibilityAuto: true, visibilityProperty: true}) || element.matches(".skip, .file-input")) continue;
		const at = element.matches("input[type=radio], input[type=checkbox]") ? element.labels[0] : element;
		const box = at.getBoundingClientRect();
		const isInSentence = element.matches("a") && getComputedStyle(element).display === "inline" && [...element.parentNode.childNodes].some((node) => node.nodeType === 3 && /[a-z]{2}/i.test(node.data));
		if (isInSentence || box.width === 0) continue;
		count++;
		if (Math.min(box.width, box.height) < 47.9) small.push(Math.round(box.width) + " × " + Math.round(box.height) + " " + element.outerHTML.slice(0, 140));
	}
	return JSON.stringify({Count: count, Small: small.slice(0, 8)});
})()`
