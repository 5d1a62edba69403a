//go:build e2e

package e2e

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pointsmith/calc/card"
)

// linkOf gives what stands behind #/card/ in the link that a phone shows.
func linkOf(p hands, car string) string {
	p.test().Helper()
	p.open(car + "/card")
	p.sees("Send this") // card, or sheet
	var link string
	until(p.test(), "the link is made", func() bool {
		link = p.reads("The link itself")
		return strings.Contains(link, "/#/card/")
	})
	return link[strings.LastIndex(link, "/")+1:]
}

// carsOn counts the cars in the phone's own store.
func carsOn(p *page) int {
	p.t.Helper()
	return eval[int](p, `import("/js/kept/garage.js").then(({garage}) => garage.everything().length)`)
}

// A link made on one phone is shown on another with the server dead, before
// anything is stored; then it is kept, and the copy says the same.
func TestASetupLinkOpensWithNoServer(t *testing.T) {
	s := newSite(t)
	sender := shared(t).visitor(t, s.origin())
	sender.firstRun()
	sender.tap("button", demoOffer)
	car := waitForCar(sender)
	sender.open(car + "/card")
	sender.writes("Set by", "A friend at the bench")
	sender.sees("by A friend at the bench checked")
	sender.tap("textbox", "What the next person must know")
	sender.keys("Pinks on 95")
	sender.sees("Read first", "Pinks on 95")
	link := ""
	var sent card.Card
	if !within(patience, func() bool {
		link = sender.reads("The link itself")
		link = link[strings.LastIndex(link, "/")+1:]
		out, err := card.Open(card.OpenIn{Fragment: link})
		sent = out.Card
		return err == nil && sent.SetBy == "A friend at the bench" && len(sent.Warnings) == 1
	}) {
		t.Fatalf("the link has %s", asJSON(t, sent))
	}
	if len(link) > 1500 {
		t.Errorf("the link has %d characters", len(link))
	}

	his := newSite(t) // another binary at another address
	friend := shared(t).visitor(t, his.origin())
	friend.firstRun()
	friend.watch.expectNoServer()
	sender.watch.expectNoServer()
	s.shut()
	his.shut()
	friend.reload()
	friend.open("#/card/" + link)
	friend.sees("Hartsmere Linnet 1250", "A friend at the bench", "Nothing has been stored", "Pinks on 95",
		"8.0° before TDC at 800")
	if n := carsOn(friend); n != 0 {
		t.Fatalf("%d documents were stored before anybody said so", n)
	}
	copied := keepsACopy(friend)
	stored(friend)
	friend.reload()
	again, err := card.Open(card.OpenIn{Fragment: linkOf(friend, copied)})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := asJSON(t, sent), asJSON(t, again.Card); a != b {
		t.Errorf("sent:\n%s\npassed on:\n%s", a, b)
	}
	friend.open("#/card/" + link)
	friend.sees("A copy of this very card is in the garage")
}

// keepsACopy keeps the card that is shown and gives the address of its car.
func keepsACopy(p hands) string {
	p.test().Helper()
	p.tap("button", "Keep a copy")
	until(p.test(), "the copy is opened", func() bool { return strings.HasPrefix(p.hash(), "#/car/") })
	return waitForCar(p)
}

func asJSON(t *testing.T, c card.Card) string {
	t.Helper()
	text, err := json.MarshalIndent(c, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// One's own car beside the card: in words, on one plate, line by line.
func TestACardIsLaidBesideMine(t *testing.T) {
	p, car := demo(t)
	own, err := card.Open(card.OpenIn{Fragment: linkOf(p, car)})
	if err != nil {
		t.Fatal(err)
	}
	theirs := own.Card
	static := 8.0
	theirs.AsSet.StaticCrankDeg, theirs.SetBy = &static, "The next owner"
	for i := range theirs.Curves[0].Points {
		theirs.Curves[0].Points[i].Deg /= 2
	}
	made, err := card.Link(card.LinkIn{Card: theirs})
	if err != nil {
		t.Fatal(err)
	}
	before := carsOn(p)
	p.open("#/card/" + made.Fragment)
	p.tap("button", "Compare with your “Hartsmere Linnet 1250”")
	p.sees("Beside my Hartsmere Linnet 1250", "crank degrees of advance later than mine", "Line by line", "only there")
	lines := eval[[]string](p, `[...document.querySelectorAll(".card-comparison .plate-drawing .plate-line")].map((line) => line.getAttribute("class"))`)
	if strings.Join(lines, ",") != "plate-line plate-line-fitted,plate-line plate-line-what-if" {
		t.Errorf("the plate holds %q", lines)
	}
	if after := carsOn(p); after != before {
		t.Errorf("comparing stored %d documents", after-before)
	}
}

// On paper the card is one page of A4.
func TestTheCardIsOneSheet(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/card")
	p.sees("Send this card", "As it was set")
	pages, text := readPDF(t, p.onPaper(chromedp.PaperA4))
	if pages != 1 {
		t.Errorf("%d pages", pages)
	}
	for _, want := range []string{"Hartsmere Linnet 1250", "Set by", "Checked by", "unknown", "Points gap", "Dwell",
		"By the book", "rising, distributor degrees", "Still to do", "Next check"} {
		if !strings.Contains(squeezed(text), squeezed(want)) {
			t.Errorf("%q is not on the paper, which says: %.3000s", want, text)
		}
	}
	for _, not := range []string{"Send this card", "Write on the card"} {
		if strings.Contains(squeezed(text), squeezed(not)) {
			t.Errorf("%q is on the paper", not)
		}
	}
}

// The QR code on the screen is the link, module by module.
func TestTheCodeOnTheScreenIsTheLink(t *testing.T) {
	p, car := demo(t)
	link := p.origin + "/#/card/" + linkOf(p, car)
	p.tap("DisclosureTriangle", "As a QR code")
	var path string
	until(t, "the code is drawn", func() bool {
		path = eval[string](p, `document.querySelector(".card-send .qr-dark")?.getAttribute("d") ?? ""`)
		return path != ""
	})
	want, err := card.QR(card.QRIn{Text: link})
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for range want.Size {
		rows = append(rows, strings.Repeat("0", want.Size))
	}
	for _, run := range strings.Split(strings.TrimPrefix(path, "M"), "M") {
		var x, y, n int
		if _, err := fmt.Sscanf(run, "%d %dh%dv1", &x, &y, &n); err != nil {
			t.Fatalf("%q: %v", run, err)
		}
		x, y = x-want.QuietZone, y-want.QuietZone
		rows[y] = rows[y][:x] + strings.Repeat("1", n) + rows[y][x+n:]
	}
	if strings.Join(rows, "\n") != strings.Join(want.Rows, "\n") {
		t.Error("the drawn code is another one")
	}
}

// sealed makes a fragment as anybody could, of any version and payload.
func sealed(t *testing.T, version byte, payload []byte) string {
	t.Helper()
	var body bytes.Buffer
	w, err := flate.NewWriter(&body, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(payload); err != nil || w.Close() != nil {
		t.Fatal(err)
	}
	out := []byte{version, byte(body.Len() >> 8), byte(body.Len()), 0}
	out[3] = byte(crc32.ChecksumIEEE(out[:3]))
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(body.Bytes()))
	return base64.RawURLEncoding.EncodeToString(append(out, body.Bytes()...))
}

func TestALinkThatCannotBeOpenedSaysWhy(t *testing.T) {
	p, car := demo(t)
	whole := linkOf(p, car)
	points := strings.Repeat("1,", 200_000)
	million := `{"c":{"n":"L"},"k":[{"place":"car","angleUnit":"crank","speedUnit":"engine","base":"included","n":[` +
		points + `1],"g":[` + points + `1]}]}`
	before := carsOn(p)
	for _, c := range []struct {
		name, fragment string
		says           []string
	}{
		{"cut in the middle", whole[:len(whole)/2], []string{"was cut off",
			fmt.Sprintf("%d of %d characters", len(whole)/2, len(whole)), "Ask the sender for it again"}},
		{"cut at the start", whole[:7], []string{"was cut off", "Ask the sender"}},
		{"a letter glued to its end", whole + "A", []string{"damaged"}},
		{"a letter changed", whole[:80] + flipped(whole[80:81]) + whole[81:], []string{"damaged"}},
		{"a newer version", sealed(t, 4, []byte(`{"c":{"n":"L"}}`)), []string{"newer Pointsmith", "Update Pointsmith"}},
		{"markup for a name", sealed(t, 1, []byte(`{"c":{"n":"<img src=x onerror=alert(1)>"}}`)),
			[]string{"holds < or >", "do not trust it"}},
		{"a mark that turns the writing", sealed(t, 1, []byte(`{"c":{"n":"Lin`+"\u202e"+`ten"}}`)),
			[]string{"U+202E", "do not trust it"}},
		{"a control character", sealed(t, 1, []byte(`{"c":{"n":"Lin\u0007net"}}`)),
			[]string{"no setup card that can be shown", "do not trust it"}},
		{"a huge number", sealed(t, 1, []byte(`{"c":{"n":"L"},"a":{"dwellDistDeg":1e308}}`)),
			[]string{"no setup card that can be shown"}},
		{"no number at all", sealed(t, 1, []byte(`{"c":{"n":"L"},"a":{"dwellDistDeg":1e999}}`)),
			[]string{"no setup card that can be shown"}},
		{"very many points", sealed(t, 1, []byte(million)), []string{"far more than a setup card", "do not trust it"}},
		{"a million characters", strings.Repeat("A", 1_000_000),
			[]string{"no setup card that can be shown", "1000000 characters", "Limit: 16000 characters"}},
		{"no card", "hello", []string{"cut off"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := p.in(t)
			p.open("#/card/" + c.fragment)
			p.sees(append(c.says, "Nothing has been stored")...)
			if n := eval[int](p, `document.querySelectorAll("main img, main .setup-card").length`); n != 0 {
				t.Errorf("%d things of it were drawn", n)
			}
		})
	}
	if after := carsOn(p); after != before {
		t.Errorf("%d documents were stored", after-before)
	}
}

func flipped(letter string) string {
	if letter == "A" {
		return "B"
	}
	return "A"
}

// Where a card may hold markup it is shown as the text it is, in whichever
// direction it is written; the same through a file.
func TestACardsTextIsText(t *testing.T) {
	p, _ := demo(t)
	const markup = `<img src=x onerror="document.title='taken'">`
	made, err := card.Link(card.LinkIn{Card: card.Card{Car: card.Car{Name: "Plain",
		Facts: map[string]card.Fact{"constructor": {Value: markup}, "year": {Value: markup, Note: markup}}},
		SetBy: markup, Warnings: []string{markup, "שלום <b>there</b>"}, LeftUndone: []string{markup},
		Odometer: "<b>1</b>"}})
	if err != nil {
		t.Fatal(err)
	}
	isText := func() {
		t.Helper()
		p.sees(markup, "<b>1</b>", "Nothing has been stored")
		if n := eval[int](p, `document.querySelectorAll("main img, main b").length`); n != 0 {
			t.Errorf("%d elements were made of it", n)
		}
		if strings.Contains(eval[string](p, "document.title"), "taken") {
			t.Error("typed markup was run")
		}
		if apart := eval[bool](p, `[...document.querySelectorAll(".card-warnings li")].every((line) => line.firstElementChild?.localName === "bdi")`); !apart {
			t.Error("the text is not set apart in its own direction")
		}
	}
	p.open("#/card/" + made.Fragment)
	isText()
	out, err := card.Open(card.OpenIn{Fragment: made.Fragment})
	if err != nil {
		t.Fatal(err)
	}
	p.open("#/card")
	brings(p, `{"format": "pointsmith setup card 1", "card": `+asJSON(t, out.Card)+`}`)
	isText()
	for _, c := range [][2]string{{`{"format": "pointsmith setup card 1", "card": {"car"`, "not whole"},
		{`{"format": "pointsmith setup card 9", "card": {}}`, "newer version"},
		{`{"format": "pointsmith garage 1", "documents": []}`, "no setup card"},
		{`{"format": "pointsmith setup card 1", "card": {"car": {"name": "L"}, "asSet": {"dwellDistDeg": 1e300}}}`,
			"dwellDistDeg"}, {`{"format": "pointsmith setup card 1", "card": {"car": {"name": "L", "run": "x"}}}`,
			"run"}, {strings.Repeat(" ", 400_000), "too large"}} {
		p.open("#/help")
		p.open("#/card")
		brings(p, c[0])
		p.sees(c[1], "Nothing has been stored")
	}
}

// brings hands a file to the page, as its chooser would.
func brings(p *page, text string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const held = new DataTransfer(), input = document.querySelector("#card-file");
		held.items.add(new File([%q], "card.json", {type: "application/json"}));
		input.files = held.files;
		input.dispatchEvent(new Event("change"));
		return true;
	})()`, text))
}
