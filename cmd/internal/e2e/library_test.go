//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// A figure is saved as a picture that needs nothing else, in light colours.
func TestAFigureIsSavedAsAPicture(t *testing.T) {
	p, car, _ := withoutServer(t)
	p.open("#/settings")
	p.tap("radio", "Light > dark")
	p.open(car + "/verdict")
	p.sees("as a table")
	p.tap("DisclosureTriangle", "Fig. 1 as a table")
	keepsFiles(p)
	p.tap("button", "Save as SVG")
	picture := given(p, 1)
	for _, no := range []string{"var(", "class=", " style="} {
		if strings.Contains(picture, no) {
			t.Errorf("the picture needs a style sheet: %s", no)
		}
	}
	if !strings.Contains(picture, "<title>") || !strings.Contains(picture, "rgb(255, 253, 247)") {
		t.Errorf("no title, or not on the light ground: %.600s", picture)
	}
	p.tap("button", "Save as PNG")
	until(t, "a PNG is given out", func() bool { return eval[bool](p, `window.given.at(-1).type === "image/png"`) })
	size := eval[[]int](p, `createImageBitmap(window.given.at(-1)).then((png) => [png.width, png.height])`)
	width := eval[int](p, `Number(document.querySelector(".plate-drawing").viewBox.baseVal.width)`)
	if size[0] != 2*(width+20) || size[1] < 500 {
		t.Errorf("the PNG has %v px, the figure is %d wide", size, width)
	}
	if dark := eval[string](p, `document.documentElement.dataset.theme`); dark != "dark" {
		t.Errorf("the page is left %s", dark)
	}
}

// The library goes out without an owner or a reading, comes in on another phone,
// tells new, same and other figures apart, and changes nothing the second time.
func TestTheLibraryOfCurves(t *testing.T) {
	p, car, _ := withoutServer(t)
	id := strings.TrimPrefix(car, "#/car/")
	p.open("#/")
	addCar(p, "Mine")
	mine := strings.TrimSuffix(p.hash(), "/book")
	enterBook(p)
	p.sees("reads without trouble")
	eval[bool](p, fmt.Sprintf(`import("/js/kept/garage.js").then(async ({garage}) => {
		await garage.update("car", %q, (body) => { body.owner = "Somebody"; });
		await garage.update("distributor", garage.get("car", %[1]q).body.distributorId, (body) => { body.typeNumber = "T-100"; });
		return true;
	})`, strings.TrimPrefix(mine, "#/car/")))
	p.open("#/library")
	fills(p, "Given by", "Club of two")
	keepsFiles(p)
	p.tap("button", "Export the tables")
	p.sees("1 table exported") // an invented car's is not passed on
	file := given(p, 1)
	if strings.Contains(file, "Somebody") || strings.Contains(file, "readings") {
		t.Errorf("an owner or readings are in the file: %s", file)
	}
	other := strings.ReplaceAll(strings.ReplaceAll(file, `"min": "7"`, `"min": "7,25"`), "Club of two", "Club of three")
	for n, c := range []struct{ text, says string }{
		{file, "1 new, 0 the same, 0 of a type"}, {file, "0 new, 1 the same, 0 of a type"},
		{other, "0 new, 0 the same, 1 of a type"}, {other, "0 new, 1 the same, 0 of a type"},
	} {
		choosesFile(p, "library-file", "curves.json", c.text)
		p.sees(c.says)
		if n%2 == 0 {
			p.tap("button", "Put 1 in the library")
			p.sees("1 table is in the library")
		} else {
			p.sees("Nothing changes")
		}
	}
	p.sees("2 of 2 tables", "given by Club of two", "given by Club of three")
	p.open("#/library/" + id)
	p.reload()
	fills(p, "Name, type number or book", "t-100")
	p.sees("2 of 2 tables")
	fills(p, "Name, type number or book", "nothing like it")
	p.sees("0 of 2 tables")
	fills(p, "Name, type number or book", "mine")
	before, _ := storedFigures(p, car, intoBook)
	p.unfolds(time.Time{})
	p.sees("The table")
	usesFirst(p)
	p.tap("button", "Replace them")
	p.sees("The table is in the book")
	if _, rows := storedFigures(p, car, intoBook); len(rows) != len(demoBook) {
		t.Errorf("the book has %q", rows)
	}
	p.tap("button", "Undo")
	if now, _ := storedFigures(p, car, intoBook); now != before {
		t.Errorf("undone, the book is %s and was %s", now, before)
	}
}

// usesFirst taps the first of the tables.
func usesFirst(p *page) {
	p.t.Helper()
	if all := p.all("button", "Use this table"); len(all) == 0 || !all[0].tap() {
		p.t.Fatal("no table can be used")
	}
}
