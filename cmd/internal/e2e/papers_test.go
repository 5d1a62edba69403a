//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pointsmith/calc/advance"
	"pointsmith/calc/card"
	"pointsmith/calc/card/paper"
)

// sheets of paper, and their names.
var sheets = []struct {
	name string
	size chromedp.PaperSize
}{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}}

// isOneSheet prints what is on the screen and holds it to one page that says all this, on A4 and on Letter.
func isOneSheet(t *testing.T, p *page, name string, wants ...string) {
	t.Helper()
	for _, sheet := range sheets {
		printed := p.onPaper(sheet.size)
		pages, text := readPDF(t, printed)
		if to := os.Getenv("PAPERS_TO"); to != "" { // to look at them
			file := filepath.Join(to, strings.ReplaceAll(name+" "+sheet.name, " ", "-")+".pdf")
			if err := os.WriteFile(file, printed, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if pages != 1 {
			t.Errorf("%s on %s: %d pages", name, sheet.name, pages)
		}
		for _, want := range wants {
			if !strings.Contains(squeezed(text), squeezed(want)) {
				t.Errorf("%s on %s: %q is not there; it says: %.3000s", name, sheet.name, want, text)
			}
		}
	}
}

// Card, bench sheet and both wall sheets are one page each.
func TestPapersAreOneSheet(t *testing.T) {
	p, screens := units(t)
	at := slices.IndexFunc(screens, func(s screen) bool { return s.name == "unit's sheet" })
	unit := strings.TrimSuffix(screens[at].hash, "/card")
	p.open(unit + "/card")
	p.tap("radio", "Readings on the card > before and after")
	p.sees("Work done", "Weights and pivots cleaned")
	isOneSheet(t, p, "bench sheet", "Spare unit", "Work done", "Weights and pivots cleaned", "before:")
	p.open(unit + "/wall")
	p.sees("Conversions", "The order of work")
	isOneSheet(t, p, "wall over the bench", "Conversions", "inHg", "Guard over the chuck", "come first")

	p, car := demo(t)
	p.open(car + "/wall")
	p.sees("Along the rim", "mixture")
	// by hand: 130 mm × π × 10/360 = 11.34 mm; 15 thou = 0.381 mm; 60 % of 90 distributor degrees = 54
	isOneSheet(t, p, "wall", "Hartsmere Linnet 1250", "Engine fit to tune", "Mixture", "11.3", "0.38", "54.0", "67.7",
		"Under the strobe", "Exhaust gas kills", "come first")
	p.open(car + "/card")
	p.sees("Send this card", "As it was set")
	isOneSheet(t, p, "card", "Hartsmere Linnet 1250", "As it was set", "Next check")
	theFullCardIsOneSheet(t)
}

// A full six with six changes, and its code on the paper because links begin where others can open them.
func theFullCardIsOneSheet(t *testing.T) {
	t.Helper()
	c := keptCard(t, "v1/full-six")
	for range 6 {
		c.Work = append(c.Work, card.Work{Date: "2024-09-01", Part: "Secondary spring", What: "replaced", From: "14 mm",
			To: "11 mm"})
	}
	made, err := card.Link(card.LinkIn{Card: c})
	if err != nil {
		t.Fatal(err)
	}
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.open("#/settings")
	fills(p, "Links begin with", "https://garage.example/")
	p.open("#/card/" + made.Fragment)
	p.open(keepsACopy(p) + "/card")
	p.sees("Send this card", "Secondary spring replaced: 14 mm")
	until(t, "the code is drawn", func() bool {
		return eval[bool](p, `!!document.querySelector(".card-code .qr-dark")`)
	})
	isOneSheet(t, p, "full card", "Brindlecote Stour Six", "Secondary spring replaced", "This card, for a phone")
}

// The card as a page of its own is one sheet and opens without this program.
func TestTheCardsOwnPage(t *testing.T) {
	for name, spoil := range map[string]func(*card.Card){
		"v1/least": nil, "v3/four": nil, "v1/full-six": nil,
		"v1/full-six, and more": func(c *card.Card) {
			for range 6 {
				c.Work = append(c.Work, card.Work{Date: "2024-09-01", Part: "Secondary spring",
					What: "replaced; the old one was bent", From: "14 mm", To: "11 mm"})
			}
			before := append([]advance.Set{}, c.Curves...)
			c.Curves = append(c.Curves, before...)
			c.Warnings = append(c.Warnings, c.Warnings[0], c.Warnings[0])
		},
		"v1/full-six, too much": func(c *card.Card) {
			line := strings.Repeat("never without the lamp ", 8)
			c.Warnings, c.LeftUndone = []string{}, []string{}
			for range 12 {
				c.Warnings, c.LeftUndone = append(c.Warnings, line), append(c.LeftUndone, line)
			}
		},
	} {
		file, _, _ := strings.Cut(name, ",")
		c := keptCard(t, file)
		if spoil != nil {
			spoil(&c)
		}
		out, err := paper.Page(paper.In{Card: c, Address: "https://garage.example/app/"})
		if err != nil {
			t.Fatal(err)
		}
		p := ownPage(t, out.Page)
		isOneSheet(t, p, "page of "+strings.ReplaceAll(name, "/", " "), c.Car.Name, "This card, for a phone")
		if long := eval[float64](p, `document.documentElement.scrollHeight / 844`); long > usualScreens &&
			!strings.Contains(name, ",") {
			t.Errorf("%s is %.1f screens long on a phone", name, long)
		}
		if wide := eval[float64](p, `document.documentElement.scrollWidth`); wide > 390 {
			t.Errorf("%s is %v px wide", name, wide)
		}
	}
}

// ownPage opens a page that lies in a file, as a phone does that has nothing else.
func ownPage(t *testing.T, page string) *page {
	t.Helper()
	file := filepath.Join(t.TempDir(), "card.html")
	if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	p := shared(t).visitor(t, "file://")
	p.isOpen = true
	p.do(chromedp.Navigate("file://" + file))
	return p
}

func keptCard(t *testing.T, name string) (c card.Card) {
	t.Helper()
	text, err := os.ReadFile("../../../testdata/links/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// takesDown notes what goes to the share sheet, the clipboard and the downloads.
const takesDown = `(() => {
	const gone = globalThis.gone = {};
	navigator.canShare = () => %t;
	navigator.share = async (what) => { gone.shared = {...what, files: await Promise.all((what.files ?? []).map(async (file) => ({name: file.name, type: file.type, text: await file.text()})))}; };
	navigator.clipboard.writeText = async (text) => { gone.copied = text; };
	const make = URL.createObjectURL;
	URL.createObjectURL = (blob) => { blob.text().then((text) => { gone.saved = text; gone.savedAs = blob.type; }); return make.call(URL, blob); };
	return true;
})()`

type gone struct {
	Shared struct {
		Text, URL string
		Files     []struct{ Name, Type, Text string }
	}
	Copied, Saved, SavedAs string
}

func whatWent(p *page) (g gone) {
	p.t.Helper()
	if err := json.Unmarshal([]byte(eval[string](p, `JSON.stringify(globalThis.gone)`)), &g); err != nil {
		p.t.Fatal(err)
	}
	return g
}

// From work on the bench to the friend who has no Pointsmith: what goes is
// listed, whose car it is stays, and where links begin decides what goes first.
func TestACardGoesOutAsAPage(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	eval[bool](p, `import("/js/kept/garage.js").then(async ({garage}) => {
		const [{id}] = garage.cars();
		await garage.update("car", id, (body) => { body.owner = "Dora Quill"; body.facts.story = {value: "Pinks since Easter", unit: "", source: "", note: ""}; });
		return true;
	})`)
	p.watch.expectNoServer()
	srv.kill()
	notesWork(p, car, "Condenser", "replaced")

	eval[bool](p, fmt.Sprintf(takesDown, false))
	p.open(car + "/card")
	p.sees("Work done", "Condenser replaced", "What goes", "The page hartsmere-linnet-1250-card.html", "1 change",
		"The page goes first: links begin with this machine’s address", "The owner’s name", "The owner’s story")
	p.seesNot("the owner.", "The link: it opens")
	p.tap("button", "Save the page as a file")
	p.sees("Saved. Look among the downloads.")
	var saved gone
	until(t, "the file is read", func() bool { saved = whatWent(p); return saved.Saved != "" })
	if saved.SavedAs != "text/html" || !strings.HasPrefix(saved.Saved, "<!DOCTYPE html>") ||
		!strings.Contains(saved.Saved, "Condenser replaced") || strings.Contains(saved.Saved, "Quill") ||
		strings.Contains(saved.Saved, "Easter") || strings.Contains(saved.Saved, srv.origin()) {
		t.Errorf("saved as %q: %.300s", saved.SavedAs, saved.Saved)
	}
	p.tap("button", "Copy the text")
	p.sees("Copied. Paste it into a message.")
	if text := whatWent(p).Copied; !strings.HasPrefix(text, "Setup card: Hartsmere Linnet 1250\n") {
		t.Errorf("copied %q", text)
	}
	p.tap("radio", "The owner’s name > goes along")
	p.sees("the owner")
	p.tap("radio", "The owner’s name > stays here")

	p.open("#/settings")
	fills(p, "Links begin with", "garage.example")
	p.sees("is no address that links can begin with")
	fills(p, "Links begin with", "https://garage.example/app")
	p.seesNot("is no address that links can begin with")
	eval[bool](p, fmt.Sprintf(takesDown, true))
	p.open(car + "/card")
	p.sees("The link: it opens the card in the app.", "Share link, page and text")
	p.seesNot("The page goes first")
	p.tap("button", "Share link, page and text")
	p.sees("Handed over.")
	shared := whatWent(p).Shared
	fragment, isThere := strings.CutPrefix(shared.URL, "https://garage.example/app/#/card/")
	opened, err := card.Open(card.OpenIn{Fragment: fragment})
	if !isThere || err != nil || opened.Card.Work[0].Part != "Condenser" || len(shared.Files) != 1 ||
		!strings.Contains(shared.Files[0].Text, shared.URL) || !strings.Contains(shared.Text, "Condenser replaced") {
		t.Errorf("%v: shared %.900s", err, fmt.Sprint(shared))
	}
	friendOpens(t, saved.Saved, shared.Files[0].Text)
}

// friendOpens reads both pages on phones of their own: by itself, and brought into a garage.
func friendOpens(t *testing.T, withoutLink, withLink string) {
	t.Helper()
	alone := ownPage(t, withLink)
	alone.sees("Setup card", "Hartsmere Linnet 1250", "Condenser replaced", "Open this card in the app")
	his := shared(t).visitor(t, newSite(t).origin())
	his.firstRun()
	for _, page := range []string{withoutLink, withLink, "<!doctype html><p>nothing</p>"} {
		his.open("#/help")
		his.open("#/card")
		brings(his, page)
		if strings.Contains(page, "nothing</p>") {
			his.sees("The page holds no setup link", "Nothing has been stored")
			continue
		}
		his.sees("Hartsmere Linnet 1250", "Condenser replaced", "Nothing has been stored")
	}
}
