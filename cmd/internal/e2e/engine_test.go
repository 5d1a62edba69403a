//go:build e2e

package e2e

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// With the engine held back on its way, entry works and is saved; the verdict
// follows when it arrives.
func TestEntryWorksBeforeTheEngineIsReady(t *testing.T) {
	s := newSite(t)
	held, release := gate("/wasm/pointsmith.wasm", s.make(appFiles(t)))
	s.serve(held)
	p := shared(t).visitor(t, s.origin())
	p.open("#/")
	p.tap("button", demoOffer)
	demo := waitForCar(p)
	p.open(demo + "/verdict")
	p.sees("The engine is starting")

	p.open("#/")
	addCar(p, "Early bird")
	p.tap("radio", "The degrees are > crank degrees")
	p.tap("radio", "The speeds are > engine rpm")
	p.tap("radio", "Base timing is > not in the figures")
	enterRow(p, 0, [3]string{"1000", "4", "6"})
	p.sees("crank 1000 4–6°", "Kept. It will be checked when the calculation is ready")
	book := p.hash()
	p.open(strings.Replace(book, "book", "readings", 1))
	p.tap("button", "Measure on the car, by strobe")
	p.tap("button", "I have read the caution: begin")
	p.holds("Engine rpm", "1000")
	keypad(p, "13")
	p.tap("button", "Save reading")
	p.find("button", "Correct 13.0 at 1000, rising")
	stored(p)
	p.watch.expect(`wasm.*(ERR_ABORTED|ERR_FAILED)`)
	p.reload()
	p.find("button", "Correct 13.0 at 1000, rising")
	p.open(book)
	holdsRow(p, 0, [3]string{"1000", "4", "6"})

	// The figure of a step that comes late moves no key that is under the finger.
	p.open(demo + "/do/strobe-idle/read")
	p.readsFirst()
	if eval[bool](p, `!!document.querySelector(".step-figure")`) {
		t.Fatal("a figure that wants the engine stands before there is one")
	}
	p.tap("button", "Keypad > 1")
	const key = `Math.round([...document.querySelectorAll(".key")].find((key) => key.innerText === "3").getBoundingClientRect().y)`
	before := eval[int](p, key)
	release()
	until(t, "the figure has come", func() bool { return eval[bool](p, `!!document.querySelector(".step-figure")`) })
	if now := eval[int](p, key); max(now-before, before-now) > 1 {
		t.Errorf("a key stood at %d px, and at %d when the figure came", before, now)
	}

	p.open(demo + "/verdict")
	p.sees("What is found", "early")
}

// Where the engine cannot start at all the server calculates instead.
func TestTheServerCalculatesWhereTheEngineCannotStart(t *testing.T) {
	app := copyOf(t, appFiles(t))
	for name := range app {
		if strings.HasPrefix(name, "wasm/") {
			delete(app, name)
		}
	}
	s := newSiteOf(t, app)
	p := shared(t).visitor(t, s.origin())
	p.watch.expect(`/wasm/`)
	p.firstRun()
	p.tap("button", demoOffer)
	demo := waitForCar(p)
	p.open(demo + "/verdict")
	p.sees("What is found", "° after TDC")
	p.open("#/settings")
	p.sees("The server is asked")
	p.watch.expectNoServer()
	s.shut()
	p.open("#/")
	addCar(p, "No engine, no server")
	enterRow(p, 0, [3]string{"1000", "4", "6"})
	stored(p)
	p.reload()
	holdsRow(p, 0, [3]string{"1000", "4", "6"})
}

// copyOf reads a tree into memory, so that files can be changed or left out.
func copyOf(t testing.TB, from fs.FS) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(from, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := fs.ReadFile(from, name)
		files[name] = &fstest.MapFile{Data: content}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
