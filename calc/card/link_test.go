package card

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/advance"
	"pointsmith/calc/refuse"
)

// TestLinksOfEveryReleasedVersionOpen reads links as they were sent. A link
// that fails here has to be mended in the reader, never in the file.
func TestLinksOfEveryReleasedVersionOpen(t *testing.T) {
	files, err := filepath.Glob("../../testdata/links/v*/*.txt")
	if err != nil || len(files) < 3 {
		t.Fatalf("only %d links found (%v)", len(files), err)
	}
	for _, file := range files {
		link, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(strings.TrimSuffix(file, ".txt") + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var want Card
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		out, err := Open(OpenIn{string(link)})
		if err != nil || !reflect.DeepEqual(out.Card, want) {
			t.Errorf("%s: %v\ngot  %+v\nwant %+v", file, err, out.Card, want)
		}
	}
}

func TestFullCardFitsAMessage(t *testing.T) {
	c := fullCard(t)
	if len(c.Spec.Points) != 16 || len(c.Curves) != 2 || len(c.Curves[0].Points) != 16 ||
		len(c.Curves[1].Points) != 16 || len(c.Car.Facts)+len(c.Distributor.Facts) < 30 {
		t.Fatal("the card is no longer a full one")
	}
	link := mustLink(t, c)
	t.Logf("a full car with a 16-line table and two 16-point curves takes %d characters", len(link))
	if len(link) > 1500 {
		t.Errorf("%d characters", len(link))
	}
}

func TestPastedAsPeoplePaste(t *testing.T) {
	link := mustLink(t, readCard(t, "four"))
	broken := link[:70] + "\r\n" + link[70:140] + "\n " + link[140:]
	for name, pasted := range map[string]string{"bare": link, "whole": "https://garage.local:7373/#/open/" + link,
		"broken by a letter": broken, "spaces around": "  " + link + "\n",
		"a greeting before":  "Hello Ann,\nas promised, 50/50: here it is = https://garage.local/#/card/" + link,
		"a full stop behind": "https://garage.local:7373/#/card/" + link + ".",
		"quoting marks":      "“https://garage.local/#/card/" + link + "”",
		"brackets, words behind": "(https://garage.local/#/card/" + link +
			") and see https://other.example/#news = ok",
		"words on the next line":   "https://garage.local/#/card/" + link + "\nThanks again",
		"words behind a space":     link + " thanks",
		"broken, with words about": "Here:\nhttps://garage.local/#/card/" + broken + "\n\nBest wishes, Ben",
		"quoted in an answer": "> Here:\n> https://garage.local/#/card/" + link[:60] + "\n> " +
			link[60:] + "\n> Ben",
		"between angle brackets": "<https://garage.local/#/card/" + link + ">",
		"a soft break":           link[:50] + "\u00ad\u200b" + link[50:],
		"two links, one cut": "https://garage.local/#/card/" + link[:80] + " no: " +
			"https://garage.local/#/card/" + link,
	} {
		out, err := Open(OpenIn{pasted})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if out.Fragment != link {
			t.Errorf("%s: the fragment is given as %q", name, out.Fragment)
		}
	}
}

func TestACutLinkSaysSo(t *testing.T) {
	link := mustLink(t, readCard(t, "four"))
	for n := 1; n < len(link); n++ {
		if _, err := Open(OpenIn{link[:n]}); err == nil || !strings.Contains(err.Error(), "cut off") {
			t.Fatalf("after %d of %d characters: %v", n, len(link), err)
		}
	}
}

func TestADamagedLinkSaysSo(t *testing.T) {
	link := mustLink(t, readCard(t, "four"))
	for n := range link {
		for _, other := range "A_z%" {
			if rune(link[n]) == other {
				continue
			}
			if _, err := Open(OpenIn{link[:n] + string(other) + link[n+1:]}); err == nil ||
				!strings.Contains(err.Error(), "damaged") {
				t.Fatalf("with %q at %d: %v", other, n, err)
			}
		}
	}
	for _, more := range []string{"A", "AA", "AAAAAAAA"} {
		if _, err := Open(OpenIn{link + more}); err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("with %q behind it: %v", more, err)
		}
	}
}

func TestANewerVersionSaysSo(t *testing.T) {
	link, err := wrap(newest+1, []byte("what only the next version can read"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(OpenIn{link}); err == nil || !strings.Contains(err.Error(), "version 4") ||
		!strings.Contains(err.Error(), "update") {
		t.Error(err)
	}
}

// TestOneSpellingForOneCard: payloads that hold the same card otherwise
// spelled, or more than a card, are refused.
func TestOneSpellingForOneCard(t *testing.T) {
	for name, payload := range map[string]string{
		"space": `{"c": {"n":"L"}}`, "order": `{"setBy":"me","c":{"n":"L"}}`,
		"empty list": `{"c":{"n":"L"},"warnings":[]}`,
		"escape":     `{"c":{"n":"\u004c"}}`, "null": `{"c":{"n":"L"},"d":null}`,
		"twice": `{"c":{"n":"L"},"c":{"n":"L"}}`, "letter case": `{"C":{"n":"L"}}`,
		"unknown":  `{"c":{"n":"L"},"z":1}`,
		"younger":  `{"c":{"n":"L"},"state":{"verdict":"pass","summary":"ok"}}`,
		"trailing": `{"c":{"n":"L"}} `,
		"number":   `{"c":{"n":"L"},"a":{"dwellDistDeg":6e1}}`, "fact": `{"c":{"n":"L","f":{"year":["1961",""]}}}`,
		"no name": `{"c":{"n":""}}`, "no columns": `{"c":{"n":"L"},"k":[{"place":"car","angleUnit":"crank","speedUnit":"engine","base":"included","n":[800],"g":[]}]}`,
		"directions": `{"c":{"n":"L"},"k":[{"place":"car","angleUnit":"crank","speedUnit":"engine","base":"included","n":[800],"g":[8],"d":"x"}]}`,
	} {
		link, err := seal(1, []byte(payload))
		if err != nil {
			t.Fatal(err)
		}
		if out, err := Open(OpenIn{link}); err == nil {
			t.Errorf("%s was read as %+v", name, out.Card)
		}
	}
	link, _ := seal(1, []byte(`{"c":{"n":"L"}}`))
	if _, err := Open(OpenIn{link}); err != nil {
		t.Errorf("the plain one is refused: %v", err)
	}
	for version, payload := range map[byte]string{2: `{"c":{"n":"L"},"work":[{"part":"Cap"}]}`,
		3: `{"c":{"n":"L"},"state":{"verdict":"pass","summary":"ok"}}`} {
		link, _ := seal(version, []byte(payload))
		if _, err := Open(OpenIn{link}); err == nil {
			t.Errorf("version %d was read from %s", version, payload)
		}
	}
	older, _ := seal(2, []byte(`{"c":{"n":"L"}}`))
	if _, err := Open(OpenIn{older}); err == nil {
		t.Error("what version 1 can hold was read from version 2")
	}
}

// How the car stands goes along, in version 2; a card that does not say it is
// still written as older programs read it.
func TestTheStateGoesAlong(t *testing.T) {
	c := readCard(t, "four")
	for version, state := range map[int]*State{1: nil,
		2: {Verdict: "fail", Summary: "Feed: the switch loses 1.2 V.", Next: "See where the volts are lost"}} {
		c.State = state
		out, err := Open(OpenIn{mustLink(t, c)})
		if err != nil || out.Version != version || !reflect.DeepEqual(out.Card.State, state) {
			t.Errorf("version %d: %v, %+v in version %d", version, err, out.Card.State, out.Version)
		}
	}
}

// What was done goes along in version 3, with or without how the car stands.
func TestTheWorkGoesAlong(t *testing.T) {
	c := readCard(t, "four")
	c.Work = []Work{{Date: "2024-05-18", Part: "Primary spring", What: "replaced", From: "12 mm", To: "9 mm"},
		{What: "A lead was chafed <bare>"}}
	for _, state := range []*State{nil, {Verdict: "pass", Summary: "Curve: in the band."}} {
		c.State = state
		out, err := Open(OpenIn{mustLink(t, c)})
		if err != nil || out.Version != 3 || !reflect.DeepEqual(out.Card, c) {
			t.Errorf("%v, version %d\ngot  %+v\nwant %+v", err, out.Version, out.Card, c)
		}
	}
}

func TestHostileCards(t *testing.T) {
	rows := func(n int) []advance.ReadingPoint {
		out := make([]advance.ReadingPoint, n)
		for i := range out {
			out[i].RPM = 1000
		}
		return out
	}
	set := advance.Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included"}
	for name, spoil := range map[string]func(*Card){
		"markup in a name":          func(c *Card) { c.Car.Name = "<img src=x onerror=alert(1)>" },
		"control character":         func(c *Card) { c.Car.Name = "Lin\x07net" },
		"line break":                func(c *Card) { c.Warnings = []string{"one\ntwo"} },
		"turned writing":            func(c *Card) { c.SetBy = "M.\u202etxt" },
		"isolate":                   func(c *Card) { c.Fuel = "\u2066x" },
		"zero width":                func(c *Card) { c.Car.Facts = map[string]Fact{"year": {Value: "19\u200b61"}} },
		"name of a fact":            func(c *Card) { c.Car.Facts = map[string]Fact{"__proto__": {Value: "1"}} },
		"huge number":               func(c *Card) { x := 1e300; c.AsSet = &AsSet{StaticCrankDeg: &x} },
		"a hundred thousand points": func(c *Card) { s := set; s.Points = rows(100_000); c.Curves = []advance.Set{s} },
		"five curves":               func(c *Card) { c.Curves = []advance.Set{set, set, set, set, set} },
		"no such day":               func(c *Card) { c.Date = "2024-13-01" },
		"a very long name":          func(c *Card) { c.Car.Name = strings.Repeat("x", 81) },
		"a name of spaces":          func(c *Card) { c.Car.Name = " \u00a0 " },
		"a verdict unheard of":      func(c *Card) { c.State = &State{Verdict: "splendid", Summary: "all is well"} },
		"a line break in the state": func(c *Card) { c.State = &State{Verdict: "pass", Summary: "all\nis well"} },
		"a rotation unheard of":     func(c *Card) { c.Distributor = &Distributor{Rotation: "widdershins"} },
		"work that says nothing":    func(c *Card) { c.Work = []Work{{Date: "2024-05-18", From: "1", To: "2"}} },
		"work on no such day":       func(c *Card) { c.Work = []Work{{Part: "Cap", Date: "18 May"}} },
		"a line break in work":      func(c *Card) { c.Work = []Work{{Part: "Cap", What: "a\nb"}} },
		"turned writing in work":    func(c *Card) { c.Work = []Work{{Part: "Cap", To: "9\u202e mm"}} },
		"seven times work":          func(c *Card) { c.Work = make([]Work, 7) },
		"much text, well pressed":   func(c *Card) { c.Car.Facts = manyFacts(60) },
	} {
		c := Card{Car: Car{Name: "Linnet"}}
		spoil(&c)
		_, err := Link(LinkIn{c})
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field == "" || bad.Limit == "" || bad.Do == "" {
			t.Errorf("%s: %v", name, err)
		}
		if payload, perr := c.payload(); perr == nil && len(payload) <= maxPayload {
			if link, serr := seal(c.version(), payload); serr == nil {
				if _, err := Open(OpenIn{link}); err == nil {
					t.Errorf("%s was opened", name)
				}
			}
		}
	}
}

func manyFacts(n int) map[string]Fact {
	out := map[string]Fact{}
	for i := range n {
		out[strings.Repeat("f", i%40+1)+string(rune('a'+i/40))] = Fact{Value: strings.Repeat("駅", 200),
			Note: strings.Repeat("🔧", 200), Unit: strings.Repeat("駅", 40)}
	}
	return out
}

func TestPlainTextStaysAsTyped(t *testing.T) {
	c := Card{Car: Car{Name: `Linnet "the red one" & co`},
		Warnings: []string{"idle <800 & >600: <b>not</b> 'bold'", "زيت", "\u200d joins"}}
	out, err := Open(OpenIn{mustLink(t, c)})
	if err != nil || !reflect.DeepEqual(out.Card, c) {
		t.Errorf("%+v, %v", out.Card, err)
	}
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCard(t)
		out, err := Link(LinkIn{c})
		if err != nil {
			t.Fatal(err)
		}
		back, err := Open(OpenIn{out.Fragment})
		if err != nil || !reflect.DeepEqual(back.Card, c) {
			t.Fatalf("%v\nsent %+v\ncame %+v", err, c, back.Card)
		}
	})
}

// A book may name only a least or only a most at a speed: what it does not name
// comes back unnamed, not as 0.
func TestARowWithOneEdgeGoesRound(t *testing.T) {
	c := readCard(t, "four")
	c.Spec.Points = []advance.SpecPoint{
		{RPM: 300, MinDeg: new(0.0), MaxDeg: new(0.0)}, {RPM: 900, MinDeg: new(4.5)}, {RPM: 1800, MaxDeg: new(11.0)},
	}
	out, err := Open(OpenIn{mustLink(t, c)})
	if err != nil || !reflect.DeepEqual(out.Card.Spec.Points, c.Spec.Points) {
		t.Fatalf("%v\nsent %+v\ncame %+v", err, c.Spec.Points, out.Card.Spec.Points)
	}
}

func drawCard(t *rapid.T) Card {
	word := rapid.StringMatching(`[A-Za-zäöüß0-9 .,:+±°µ-]{0,30}`)
	c := Card{Car: Car{Name: rapid.StringMatching(`[A-Z][a-z]{1,20} [0-9]{3}`).Draw(t, "name")},
		SetBy: word.Draw(t, "by"), Odometer: word.Draw(t, "odometer")}
	if n := rapid.IntRange(0, 30).Draw(t, "facts"); n > 0 {
		c.Car.Facts = map[string]Fact{}
		for range n {
			c.Car.Facts[rapid.StringMatching(`[a-zA-Z0-9]{1,40}`).Draw(t, "key")] = Fact{Value: word.Draw(t, "value"),
				Unit: word.Draw(t, "unit"),
				Source: rapid.SampledFrom([]string{"", "book", "measured", "common practice", "guess"}).Draw(t,
					"source"), Note: word.Draw(t, "note")}
		}
	}
	for range rapid.IntRange(0, 4).Draw(t, "curves") {
		set := advance.Set{Name: word.Draw(t, "curve"), Place: "bench", AngleUnit: "distributor",
			SpeedUnit: "distributor", Base: "excluded", Points: []advance.ReadingPoint{}}
		for range rapid.IntRange(0, 40).Draw(t, "points") {
			set.Points = append(set.Points, advance.ReadingPoint{RPM: rapid.Float64Range(1, 6000).Draw(t, "rpm"),
				Deg:       rapid.Float64Range(-60, 90).Draw(t, "deg"),
				Direction: rapid.SampledFrom([]string{"", "rising", "falling"}).Draw(t, "direction")})
		}
		c.Curves = append(c.Curves, set)
	}
	if rapid.Bool().Draw(t, "stands") {
		c.State = &State{Verdict: rapid.SampledFrom([]string{"pass", "watch", "fail", "unknown"}).Draw(t, "verdict"),
			Summary: "Points: " + word.Draw(t, "why"), Next: word.Draw(t, "next")}
	}
	for range rapid.IntRange(0, 6).Draw(t, "works") {
		c.Work = append(c.Work, Work{Date: "2024-05-18", Part: "Cap" + word.Draw(t, "part"), What: word.Draw(t, "what"),
			From: word.Draw(t, "from"), To: word.Draw(t, "to")})
	}
	if rapid.Bool().Draw(t, "set") {
		c.AsSet = &AsSet{StaticCrankDeg: new(rapid.Float64Range(-40, 60).Draw(t, "static"))}
	}
	return c
}
