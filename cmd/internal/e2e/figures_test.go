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
)

// intoBook are the two ways on where a table is the book's.
const intoBook, asReadings = "Put in the book’s table", "Put in as readings"

// badlyMade are the files of testdata/figures, what a person answers to what is
// asked, and what has to be stored. The truth was written down from the files by
// hand; it is that of calc/figures/files_test.go.
var badlyMade = []struct {
	file    string
	answers []string // the buttons tapped, in the order in which it is asked
	put     string
	head    string   // angle, speed, base; of readings with the place
	rows    []string // speed, least, most; or speed, degrees, direction
}{
	{"01-semicolons.csv", []string{"yes, they are the total"}, intoBook, "crank engine included",
		[]string{"800 7.5 9.5", "1200 10 12.5", "2000 18 20", "4500 27.5 30"}},
	{"02-torn-commas.csv", []string{"?decimal", "yes, they are the total", "readings", "On the car"}, asReadings,
		"crank engine included car", []string{"800 7.5 ", "1200 10 ", "2000 18.5 "}},
	{"03-swapped.csv", []string{"yes, take each", "yes, they are the total", "On the car"}, asReadings,
		"crank engine included car", []string{"800 8 rising", "1500 12.5 rising", "3000 20 rising", "1500 13 falling"}},
	{"04-no-shaft.csv", []string{"distributor degrees", "distributor speed", "no, they are advance"}, intoBook,
		"distributor distributor excluded", []string{"300 0 1", "700 4 6", "1500 9 11"}},
	{"05-byte-order-mark.csv", []string{"On the bench"}, asReadings, "distributor distributor excluded bench",
		[]string{"400 1.5 rising", "800 5 rising", "1200 8.25 rising", "800 6 falling"}},
	{"06-old-line-ends.csv", []string{"On the car"}, asReadings, "crank engine included car",
		[]string{"900 10 rising", "1800 19.5 rising", "3600 31 rising"}},
	{"07-words-in-figures.csv", []string{"yes, they are the total"}, intoBook, "crank engine included",
		[]string{"1500 12 14", "2000 16 18", "3000 23 25", "4000  32", "5000 33.5 35"}},
	{"08-no-heads.txt", []string{"column 1 speed, column 2 least degrees, column 3 most degrees",
		"distributor degrees", "distributor speed", "no, they are advance"}, intoBook,
		"distributor distributor excluded", []string{"500 2 4", "1000 7.5 9.5", "2000 14 16"}},
	{"09-two-tables.csv", []string{"?2", "yes, they are the total", "readings", "On the car"}, asReadings,
		"crank engine included car", []string{"800 10 ", "1600 20 "}},
	{"10-across.csv", []string{"yes, they are the total"}, intoBook, "crank engine included",
		[]string{"800 7.5 9.5", "1200 10 12.5", "2000 18 20", "4500 27.5 30"}},
	{"11-quotes.csv", []string{"readings", "On the car"}, asReadings, "crank engine included car",
		[]string{"1500 14 ", "2250 18.5 ", "3000 24 "}},
	{"12-read-falling.csv", []string{"readings", "?order", "On the car"}, asReadings, "crank engine included car",
		[]string{"800 8 rising", "1500 17.2 rising", "3000 21.7 rising", "1500 18 falling", "800 8.5 falling"}},
}

// Badly made files are taken in with the server dead: what is asked is answered,
// nothing is stored before, and what is stored is what the file says.
func TestBadlyMadeFilesAreNeverTakenInWrong(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	srv.kill()
	addCar(p, "Taker in")
	car := strings.TrimSuffix(p.hash(), "/book")
	for _, c := range badlyMade {
		t.Run(c.file, func(t *testing.T) {
			p := p.in(t)
			text, err := os.ReadFile(filepath.Join("../../../testdata/figures", c.file))
			if err != nil {
				t.Fatal(err)
			}
			p.open(car + "/figures")
			before := inGarage(p, car)
			choosesFigures(p, c.file, string(text))
			for i, answer := range c.answers {
				if n := len(p.all("button", intoBook)) + len(p.all("button", asReadings)); n > 0 {
					t.Errorf("before answer %d it can be stored", i+1)
				}
				answers(p, answer)
			}
			p.find("button", c.put)
			p.reload() // what was answered is kept
			p.sees(c.file, "Read as")
			if now := inGarage(p, car); now != before {
				t.Errorf("something is stored before it is said: %s", now)
			}
			p.tap("button", c.put)
			if c.put == intoBook {
				if !strings.HasPrefix(before, "rows:0") {
					p.tap("button", "Replace them")
				}
				p.sees("in the book’s table.")
			} else {
				p.sees("stored, in 1 set of today")
			}
			if head, rows := storedFigures(p, car, c.put); head != c.head || !slices.Equal(rows, c.rows) {
				t.Errorf("stored is %s %q, and the file says %s %q", head, rows, c.head, c.rows)
			}
		})
	}
}

// answers taps an answer; "?commas" one by what it gives back, where its words
// are too like another's.
func answers(p *page, answer string) {
	p.t.Helper()
	if value, isValue := strings.CutPrefix(answer, "?"); isValue {
		p.tap("button", eval[string](p, fmt.Sprintf(`new Promise((done) => {
			const look = () => {
				const found = document.querySelector('.figures-ask .button[data-answer="%s"] strong');
				if (found) done(found.textContent); else setTimeout(look, 50);
			};
			look();
		})`, value)))
		return
	}
	p.tap("button", answer)
}

// choosesFigures gives the page a file, as someone does who chooses one.
func choosesFigures(p *page, name, text string) { choosesFile(p, "figures-file", name, text) }

func choosesFile(p *page, id, name, text string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const held = new DataTransfer(), input = document.getElementById(%q);
		held.items.add(new File([%s], %q));
		input.files = held.files;
		return input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, id, jsonText(text), name))
}

// inGarage says what of a car's figures is stored.
func inGarage(p *page, car string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`import("/js/kept/garage.js").then(({garage}) => {
		const car = garage.get("car", %q), unit = garage.get("distributor", car.body.distributorId);
		return "rows:" + unit.body.sheet.rows.length + JSON.stringify(unit.body.sheet.rows) +
			garage.visits({carId: car.id}).map(({body}) => body.sets.length);
	})`, strings.TrimPrefix(car, "#/car/")))
}

// storedFigures gives the head and the rows of the book, or of the newest set.
func storedFigures(p *page, car, put string) (head string, rows []string) {
	p.t.Helper()
	all := eval[[]string](p, fmt.Sprintf(`import("/js/kept/garage.js").then(({garage}) => {
		const car = garage.get("car", %q), sheet = garage.get("distributor", car.body.distributorId).body.sheet;
		if (%t) return [[sheet.angleUnit, sheet.speedUnit, sheet.base].join(" "),
			...sheet.rows.map(({rpm, min, max}) => [rpm, min, max].join(" "))];
		const set = garage.visits({carId: car.id})[0].body.sets.at(-1);
		return [[set.angleUnit, set.speedUnit, set.base, set.place].join(" "),
			...set.readings.map(({rpm, deg, side, direction}) => [rpm, (side === "after" ? "-" : "") + deg, direction].join(" "))];
	})`, strings.TrimPrefix(car, "#/car/"), put == intoBook))
	return all[0], all[1:]
}

// jsonText is a text as a script writes it.
func jsonText(text string) string {
	written, _ := json.Marshal(text) // a text can always be written
	return string(written)
}

// Out and in again: the book's table and a run as CSV, the car as a file, a
// figure as SVG and PNG; what comes back is what went out. The server is dead.
func TestFiguresGoOutAndComeBackTheSame(t *testing.T) {
	p, car, _ := withoutServer(t)
	p.open(car + "/figures")
	keepsFiles(p)
	p.tap("button", "The book’s table as CSV")
	book := given(p, 1)
	p.tap("button", "Bench, ")
	run := given(p, 2)
	p.tap("button", "This car as a file")
	whole := given(p, 3)

	_, rows := storedFigures(p, car, intoBook)
	set := eval[string](p, fmt.Sprintf(benchSet, strings.TrimPrefix(car, "#/car/"), ".at(0)"))
	p.open("#/")
	addCar(p, "The other")
	other := strings.TrimSuffix(p.hash(), "/book")
	p.tap("link", "Paste a whole table")
	p.sees("Choose a file")
	choosesFigures(p, "book.csv", book)
	p.tap("button", intoBook)
	p.sees("in the book’s table.")
	if _, again := storedFigures(p, other, intoBook); !slices.Equal(again, rows) {
		t.Errorf("the book was %q and comes back as %q", rows, again)
	}
	p.tap("button", "Undo")
	p.sees("book.csv", "Read as") // and the text is there again
	if _, none := storedFigures(p, other, intoBook); len(none) != 0 {
		t.Errorf("undone, the book still has %q", none)
	}
	p.reload()
	choosesFigures(p, "run.csv", run)
	p.tap("button", asReadings)
	p.sees("in 1 set of today")
	again := eval[string](p, fmt.Sprintf(benchSet, strings.TrimPrefix(other, "#/car/"), ".at(-1)"))
	if again != set || set == "" {
		t.Errorf("the run was\n%s and comes back as\n%s", set, again)
	}
	p.tap("button", "Undo")
	p.sees("run.csv", "Read as")
	p.open(other + "/readings")
	p.seesNot("Taken so far today On the bench")

	q := shared(t).visitor(t, plainHost(t)) // a phone that has nothing
	q.firstRun()
	q.open("#/keep-safe")
	bringsIn(q, whole)
	q.sees("were not here and are now")
	if a, b := everythingOf(p, "", car), everythingOf(q, "/tools", car); a != b || !strings.Contains(a, "sheet") {
		t.Errorf("the car was\n%.3000s\nand comes back as\n%.3000s", a, b)
	}
}

// benchSet is a run on the bench, as far as a CSV holds it.
const benchSet = `import("/js/kept/garage.js").then(({garage}) => {
	const set = garage.visits({carId: %q}).flatMap(({body}) => body.sets).filter(({place, removed, readings}) => place === "bench" && !removed && readings.length > 3)%s;
	return JSON.stringify([set.place, set.angleUnit, set.speedUnit, set.base, set.vacuum, set.readings.filter(({removed}) => !removed)
		.map(({rpm, deg, side, direction}) => [Number(rpm), Number(deg), side, direction])]);
})`

// everythingOf is every document of a car, as it is stored.
func everythingOf(p *page, under, car string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`import("%s/js/kept/garage.js").then(({garage}) => {
		const car = garage.get("car", %q), unit = car.body.distributorId;
		return JSON.stringify(garage.everything().filter(({kind, id, body}) => id === car.id || id === unit ||
			kind === "visit" && body.carId === car.id).map(({kind, id, body}) => [id, kind, body]).sort());
	})`, under, strings.TrimPrefix(car, "#/car/")))
}

// withoutServer has the demo car on a phone whose server is dead.
func withoutServer(t *testing.T) (p *page, car string, srv *server) {
	t.Helper()
	srv = newServer(t)
	p = shared(t).visitor(t, srv.origin())
	p.firstRun()
	p.watch.expectNoServer()
	srv.kill()
	p.tap("button", demoOffer)
	return p, waitForCar(p), srv
}

// keepsFiles lets the page keep what it gives to the downloads.
func keepsFiles(p *page) {
	p.t.Helper()
	eval[bool](p, `(() => {
		window.given ??= [];
		const make = URL.createObjectURL.bind(URL);
		URL.createObjectURL = (blob) => { window.given.push(blob); return make(blob); };
		HTMLAnchorElement.prototype.click = function () { if (!this.download) throw new Error("no file"); };
		return true;
	})()`)
}

// given is the text of the file that was given out last, the nth of all.
func given(p *page, n int) string {
	p.t.Helper()
	until(p.t, "a file is given out", func() bool { return eval[int](p, "window.given.length") == n })
	return eval[string](p, "window.given.at(-1).text()")
}

// A CSV shared to the installed app waits for its car, with the server dead.
func TestASharedTableFindsItsCar(t *testing.T) {
	p, car, _ := withoutServer(t)
	opened := eval[string](p, `(() => {
		const form = new FormData();
		form.set("file", new File(["rpm engine;crank deg total\n800;8\n1500;17,2"], "stop watch.csv", {type: "text/csv"}));
		return fetch("share", {method: "POST", body: form}).then(({url, ok}) => ok + url);
	})()`)
	if !strings.HasPrefix(opened, "true") {
		t.Fatalf("sharing leads to %s", opened)
	}
	p.open("#/figures")
	p.sees("stop watch.csv has come in")
	p.tap("button", eval[string](p, fmt.Sprintf(`import("/js/kept/garage.js").then(({garage}) => garage.get("car", %q).body.name)`,
		strings.TrimPrefix(car, "#/car/"))))
	p.sees("Figures in and out", "stop watch.csv", "Is this the book's table, or are these readings?")
	p.open("#/figures")
	p.sees("Nothing came in")
}

// A table pasted into one field of the book goes to the page that takes tables,
// with the head that was chosen; nothing that was typed is lost.
func TestATablePastedIntoAFieldIsTakenIn(t *testing.T) {
	p, car, _ := withoutServer(t)
	p.open("#/")
	addCar(p, "Pasted")
	car = strings.TrimSuffix(p.hash(), "/book")
	p.tap("radio", "The degrees are > distributor degrees")
	p.tap("radio", "The speeds are > distributor rpm")
	p.tap("radio", "Base timing is > not in the figures")
	pastesInto(p, "Speed, row 1", "No advance below 250\n300: 0 to 1\n700: 4 to 6\nmax 11 at 1800")
	p.sees("3 rows: distributor degrees, distributor rpm, base not in it", "No advance below 250")
	p.tap("button", intoBook)
	p.tap("link", "To the book’s figures")
	p.holds("Most degrees, row 3", "11")
	p.holds("Least degrees, row 3", "")
	p.holds("No advance below", "250")
	if _, rows := storedFigures(p, car, intoBook); !slices.Equal(rows, []string{"300 0 1", "700 4 6", "1800  11"}) {
		t.Errorf("stored is %q", rows)
	}
}

// pastesInto pastes as the keyboard does, with the paste told to the field.
func pastesInto(p *page, field, text string) {
	p.t.Helper()
	call[bool](p.find("textbox", field), fmt.Sprintf(`function() {
		const held = new DataTransfer();
		held.setData("text/plain", %s);
		this.focus();
		return this.dispatchEvent(new ClipboardEvent("paste", {clipboardData: held, bubbles: true, cancelable: true})) || true;
	}`, jsonText(text)))
}
