//go:build e2e

package e2e

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"

	"pointsmith/cmd/internal/webdriver"
)

// An engine is one browser beside Chromium in which the same journeys are made.
type engine struct {
	name string
	open func(folder string, width, height int) (*webdriver.Session, error)
}

var otherEngines = []engine{
	{"Firefox", webdriver.Firefox},
	{"WebKit", webdriver.WebKit},
}

// Every journey is made in every engine, each on a server of its own, so that
// what one leaves in the browser is not there for the next.
var aloneJourneys = []struct {
	name string
	make func(t *testing.T, here *drivenPhone)
}{
	{"own car to the verdict, server killed, page closed, sent later", ownCarToTheVerdict},
	{"a guided step done and resumed", guidedStepResumed},
	{"drawn and printed", drawnAlike},
}

// In these the next engine of the list has a part too.
var sharedJourneys = []struct {
	name string
	make func(t *testing.T, here, there *drivenPhone)
}{
	{"a link made here and opened in the other", linkForTheOther},
	{"two browsers agree", twoBrowsersAgree},
}

// A drivenPhone is one browser; its pages belong to one server each.
type drivenPhone struct {
	engine
	session *webdriver.Session
}

// at opens nothing yet; it is the browser's page for one server.
func (d *drivenPhone) at(t testing.TB, origin string) *drivenPage {
	return &drivenPage{t: t, session: d.session, origin: origin}
}

func startEngine(t *testing.T, e engine) *drivenPhone {
	t.Helper()
	session, err := e.open(filepath.Join(runFolder, e.name), 447, 844) // WebKitGTK's window is never narrower
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := session.Close(); err != nil {
			t.Errorf("%s: %v", e.name, err)
		}
	})
	return &drivenPhone{e, session}
}

func TestTheJourneysInTheOtherEngines(t *testing.T) {
	phones := map[string]*drivenPhone{}
	for _, e := range otherEngines {
		phones[e.name] = startEngine(t, e)
	}
	t.Run("alone", func(t *testing.T) {
		for _, e := range otherEngines {
			t.Run(e.name, func(t *testing.T) {
				t.Parallel() // two browsers, as many as there are cores
				for _, j := range aloneJourneys {
					t.Run(j.name, func(t *testing.T) { phones[e.name].goes(t, func() { j.make(t, phones[e.name]) }) })
				}
			})
		}
	})
	for i, e := range otherEngines {
		here, there := phones[e.name], phones[otherEngines[(i+1)%len(otherEngines)].name]
		for _, j := range sharedJourneys {
			t.Run(e.name+" with "+there.name+"/"+j.name, func(t *testing.T) {
				here.goes(t, func() { there.goes(t, func() { j.make(t, here, there) }) })
			})
		}
	}
}

// goes makes a journey and looks what the browser complained of meanwhile.
func (d *drivenPhone) goes(t *testing.T, journey func()) {
	t.Helper()
	from := len(d.session.Said())
	journey()
	d.at(t, "").complains(from)
}

// The whole job with a car of one's own, and the server gone in the middle.
func ownCarToTheVerdict(t *testing.T, here *drivenPhone) {
	srv := newServer(t)
	p := here.at(t, srv.origin())
	firstRun(p)
	addCar(p, demoName)
	enterBook(p)
	enterBench(p)
	seeTheVerdict(p)
	verdict := p.hash()
	p.seesNot("not sent yet")

	srv.kill()
	p.reload()
	seeTheVerdict(p)
	p.must(here.session.Anew())
	p.starts()
	p.open("#/")
	p.sees(demoName)
	holdsTheBook(p, strings.Replace(verdict, "verdict", "book", 1))
	p.open(verdict)
	seeTheVerdict(p)
	correctOneReading(p, verdict)

	p.tap("link", "Saved here")
	p.sees("1 change not sent yet", p.promise())
	srv.start()
	p.sees("Nothing waits to be sent") // by itself
	isInTheGarageFile(t, srv)
}

// A guided step is answered, the page is loaded anew with no server, and the
// work goes on where it stopped.
func guidedStepResumed(t *testing.T, here *drivenPhone) {
	s := newSite(t)
	p := here.at(t, s.origin())
	firstRun(p)
	p.tap("button", demoOffer)
	car := waitForCar(p)
	s.shut()
	p.open(car + "/do/static")
	p.tap("button", "Begin")
	next := p.nextStep()
	first := p.stepTitle()
	p.tap("button", next)
	p.until("the next step is shown", func() bool { return p.stepTitle() != first })
	second, where := p.stepTitle(), p.hash()
	if why := p.sleeps(); why != "" {
		p.sees(why)
	}
	stored(p)
	p.must(here.session.Anew())
	p.starts()
	p.open(car)
	p.tap("link", "Static timing ·")
	p.tap("button", "Go on at step 2")
	p.until("the work goes on at "+second, func() bool { return p.stepTitle() == second && p.hash() == where })
}

func (p *drivenPage) stepTitle() string {
	p.t.Helper()
	return asks[string](p, `document.querySelector(".step-title")?.innerText ?? ""`)
}

// nextStep is the name of the button that says the step is done.
func (p *drivenPage) nextStep() string {
	p.t.Helper()
	var name string
	p.until("a step is shown", func() bool {
		name = asks[string](p, `document.querySelector(".step-actions .next")?.innerText.trim() ?? ""`)
		return name != ""
	})
	return name
}

// A setup link made in one engine is the same card in the other.
func linkForTheOther(t *testing.T, here, there *drivenPhone) {
	s, his := newSite(t), newSite(t)
	sender, friend := here.at(t, s.origin()), there.at(t, his.origin())
	firstRun(sender)
	sender.tap("button", demoOffer)
	car := waitForCar(sender)
	sender.open(car + "/card")
	sender.writes("Set by", "A friend at the bench")
	sender.sees("by A friend at the bench checked")
	link := linkOf(sender, car)

	firstRun(friend)
	his.shut()
	friend.open("#/card/" + link)
	friend.sees(demoName, "A friend at the bench", "Nothing has been stored")
	copied := keepsACopy(friend)
	friend.open(copied + "/card")
	friend.sees(demoName, "A friend at the bench")
}

// What is typed in one engine comes to the other, and back.
func twoBrowsersAgree(t *testing.T, here, there *drivenPhone) {
	s := newSite(t)
	ann, ben := here.at(t, s.origin()), there.at(t, s.origin())
	firstRun(ann)
	addCar(ann, "Linnet of both")
	car := strings.TrimSuffix(ann.hash(), "/book")
	enterRow(ann, 0, [3]string{"1000", "8", "12"})
	ann.meetsTheServer()
	ben.open(car + "/book") // the car comes while its page is open
	holdsRow(ben, 0, [3]string{"1000", "8", "12"})
	ben.rewrites("Most degrees, row 1", "11")
	ben.meetsTheServer()
	ann.until("the change has come", func() bool {
		ann.meetsTheServer()
		ann.open(car + "/book")
		return ann.reads("Most degrees, row 1") == "11"
	})
}

// meetsTheServer sends what waits and fetches what is new, and sees it said.
func (p *drivenPage) meetsTheServer() {
	p.t.Helper()
	stored(p)
	p.open("#/keep-safe")
	p.tap("button", "Sync now")
	p.sees("Nothing waits to be sent")
}

// promise is what has to be said of the browser's promise to keep the store.
func (p *drivenPage) promise() string {
	p.t.Helper()
	return asks[string](p, `navigator.storage?.persisted ? navigator.storage.persisted().then((is) => is ? "has promised not to clear it" : "has not promised to keep it") : "makes no promise to keep it"`)
}

// sleeps is what has to be said where the browser lets the screen sleep.
func (p *drivenPage) sleeps() string {
	p.t.Helper()
	return asks[string](p, `!navigator.wakeLock ? "cannot keep the screen on" : navigator.wakeLock.request("screen").then((lock) => (lock.release(), ""), () => "would not keep the screen on")`)
}

// What each browser paints by itself, or cuts, and the app has to prevent.
func drawnAlike(t *testing.T, here *drivenPhone) {
	p := here.at(t, newSite(t).origin())
	firstRun(p)
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/verdict")
	p.sees("First choice")
	if cut := asks[[]string](p, `[...document.querySelectorAll("pattern line")].filter((line) => line.x1.baseVal.value <= 0).map((line) => line.parentNode.id)`); len(cut) > 0 {
		t.Errorf("lines at the edge of their tiles: %q", cut)
	}
	if own := asks[[]string](p, `[...document.querySelectorAll("select")].filter((each) => getComputedStyle(each).appearance !== "none").map((each) => each.outerHTML.slice(0, 80))`); len(own) > 0 {
		t.Errorf("the browser paints %q in its own colours", own)
	}
	if n := asks[int](p,
		`document.querySelectorAll("pattern line").length * document.querySelectorAll("select").length`); n == 0 {
		t.Error("there is nothing to look at")
	}
	if here.name != "Firefox" {
		return // WebKitGTK prints only through a dialogue
	}
	for _, c := range [][2]string{{"tape", "tape"}, {"card", "As it was set"}, {"verdict", "First choice"}} {
		p.open(car + "/" + c[0])
		p.sees(c[1])
		paper, err := here.session.Print()
		p.must(err)
		isFull(t, c[0], paper)
	}
}

// isFull fails the test when a page on paper says nothing.
func isFull(t *testing.T, name string, paper []byte) {
	t.Helper()
	read, err := pdf.NewReader(bytes.NewReader(paper), int64(len(paper)))
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i <= read.NumPage(); i++ {
		if text, err := read.Page(i).GetPlainText(nil); err != nil || strings.TrimSpace(text) == "" {
			t.Errorf("%s: page %d of %d is blank (%v)", name, i, read.NumPage(), err)
		}
	}
}
