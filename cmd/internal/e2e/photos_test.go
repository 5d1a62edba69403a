//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// A camera's file: large, and with a place written in it (an Exif segment right
// after the start of the picture).
const cameraFile = `async (seed) => {
	const canvas = Object.assign(document.createElement("canvas"), {width: 3000, height: 2000});
	const pen = canvas.getContext("2d");
	for (let n = 0; n < 60; n++) {
		pen.fillStyle = "hsl(" + (n * 37 + seed * 90) % 360 + " 60% " + (30 + n % 50) + "%)";
		pen.fillRect((n * 331) % 3000, (n * 197) % 2000, 900, 700);
	}
	const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.95));
	const bytes = new Uint8Array(await blob.arrayBuffer());
	const place = new TextEncoder().encode("Exif\0\0PLACE-52-NORTH");
	return new File([bytes.slice(0, 2), new Uint8Array([0xff, 0xe1, 0, place.length + 2]), place, bytes.slice(2)], "photo" + seed + ".jpg", {type: "image/jpeg"});
}`

// gives hands files to one of the two inputs, as someone does who takes or
// chooses them.
func gives(p *page, input, files string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(async () => {
		const camera = %s;
		const held = new DataTransfer(), input = document.querySelector("input[type=file]%s");
		for (const file of await Promise.all(%s)) held.items.add(file);
		input.files = held.files;
		return input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, cameraFile, input, files))
}

// takesPhotos chooses as many camera files and waits until they are shown: one
// alone is shown large, with what is asked about it.
func takesPhotos(p *page, car string, seeds ...int) {
	p.t.Helper()
	p.open(car + "/photos")
	gives(p, "[multiple]", strings.ReplaceAll(fmt.Sprintf("%v.map(camera)", seeds), " ", ", "))
	if len(seeds) == 1 {
		p.sees("What is on it")
	}
	until(p.t, "the photos are shown", func() bool { return showsPictures(p, len(seeds)) })
}

// showsPictures: so many pictures are there and can be looked at.
func showsPictures(p *page, count int) bool {
	return eval[int](p, `[...document.querySelectorAll(".photo-frame img")].filter(({complete, naturalWidth}) => complete && naturalWidth > 1).length`) >= count
}

// A photo is taken, made small, shown, and there after a reload; with the
// server dead another is taken; both come to a second phone, and nothing of
// them is in the setup link.
func TestPhotosAreKeptAndComeToTheOtherPhone(t *testing.T) {
	srv := newServer(t)
	p := shared(t).visitor(t, srv.origin())
	p.firstRun()
	addCar(p, "Linnet of the photos")
	car := strings.TrimSuffix(p.hash(), "/book")
	p.open(car)
	p.tap("link", "Photos")
	p.sees("None yet", "No photos yet")
	gives(p, "[capture]", "[camera(1)]")
	p.sees("What is on it")
	until(t, "the photo is shown", func() bool { return showsPictures(p, 1) })
	p.tap("radio", "What is on it > cap or rotor")
	fills(p, "Note", "Crack by post 3")
	p.sees("Saved here")
	p.reload()
	p.holds("Note", "Crack by post 3")
	p.isChosen("What is on it > cap or rotor")
	wantSmall(p)
	first := linkOf(p, car)

	p.watch.expectNoServer()
	srv.kill()
	takesPhotos(p, car, 2)
	p.open(car + "/photos")
	p.reload()
	p.sees("2 photos on this phone", "Cap or rotor")
	until(t, "both are shown", func() bool { return showsPictures(p, 2) })
	p.open(car + "/history")
	p.tap("link", "2 photos")
	p.sees("2 photos on this phone")
	if link := linkOf(p, car); link != first {
		t.Errorf("the link is another one since the second photo: %q, was %q", link, first)
	}
	srv.start()
	p.open("#/keep-safe")
	p.sees("With 2 photos")
	p.tap("button", "Sync now")
	p.sees("Nothing waits to be sent", "2 photos on this phone")
	p.seesNot("2 not sent yet", "1 not sent yet")

	q := shared(t).visitor(t, srv.origin())
	q.starts()
	q.sees("Linnet of the photos")
	q.open(car + "/photos")
	q.sees("2 photos on this phone")
	until(t, "both are shown on the second phone", func() bool { return showsPictures(q, 2) })
	takesOneOut(p, q, car)
}

// wantSmall: the picture that is kept has the size and the kind it should, and
// not the place.
func wantSmall(p *page) {
	p.t.Helper()
	got := eval[struct {
		Width, Height, Bytes float64
		Type                 string
		HasPlace             bool
	}](p, `import("/js/kept/photos/photos.js").then(async ({heldPhotos, photo}) => {
		const [{id}] = await heldPhotos();
		const blob = await photo(id);
		const {width, height} = await createImageBitmap(blob);
		const text = new TextDecoder("latin1").decode(await blob.arrayBuffer());
		return {Width: width, Height: height, Bytes: blob.size, Type: blob.type, HasPlace: /PLACE|Exif/.test(text)};
	})`)
	if got.Width != 1600 || got.Height != 1067 || got.Bytes > 400_000 || got.Type != "image/jpeg" || got.HasPlace {
		p.t.Errorf("kept is %+v", got)
	}
	if has := eval[bool](p, `(`+cameraFile+`)(1).then((file) => file.text()).then((text) => text.includes("PLACE"))`); !has {
		p.t.Error("the camera's file has no place in it: the look for it proves nothing")
	}
}

// takesOneOut takes a photo out, brings it back, and takes it out for good; the
// other phone hears of it.
func takesOneOut(p, q *page, car string) {
	p.t.Helper()
	p.open(car + "/photos")
	p.tap("link", "Cap or rotor")
	p.tap("button", "Take it out")
	p.sees("The photo is taken out")
	p.seesNot("Cap or rotor")
	p.tap("button", "Undo")
	p.sees("Cap or rotor")
	p.tap("link", "Cap or rotor")
	p.tap("button", "Take it out")
	p.seesNot("Cap or rotor")
	agrees(p)
	agrees(q)
	q.seesNot("Cap or rotor")
}

// A file that is no picture, and one that is too large, are refused in words;
// what was kept before stays.
func TestFilesThatAreNoPhotosAreRefused(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	takesPhotos(p, car, 3)
	p.open(car + "/photos") // one alone is shown large
	gives(p, "[multiple]", `[new File(["no picture"], "notes.jpg", {type: "image/jpeg"}), new File([new Uint8Array(30e6)], "huge.jpg", {type: "image/jpeg"})]`)
	p.sees("This is no picture that the browser can open", "notes.jpg", "JPEG, PNG or WebP",
		"This file is too large: 30 MB", "huge.jpg", "25 MB")
	gives(p, "[capture]", `[new File([], "empty.jpg", {type: "image/jpeg"})]`)
	p.sees("This file is empty", "1 photo on this phone")
	until(t, "the photo that was kept is still shown", func() bool { return showsPictures(p, 1) })
}
