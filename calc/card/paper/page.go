package paper

import (
	"fmt"
	"strings"

	"pointsmith/calc/card"
	"pointsmith/calc/refuse"
)

// In is a card, and where its link leads.
type In struct {
	Card    card.Card `json:"card" need:"yes" help:"the setup card, as card.link takes it"`
	Address string    `json:"address,omitempty" maxLen:"300" help:"where the app stands for whoever gets the page, such as https://garage.example/app/; the link begins with it. Without it the page holds no link and no QR code, only the code to paste"`
	Lines   []Line    `json:"lines,omitempty" maxItems:"250" help:"the lines of the card as the asker words them; without them they are worded here, in British English"`
}

// Out is the page and the text.
type Out struct {
	Page      string `json:"page" help:"a whole HTML document: no script, nothing fetched, prints on one sheet"`
	PageBytes int    `json:"pageBytes" unit:"bytes" help:"its length in UTF-8; at most 150000"`
	Text      string `json:"text" help:"a summary for a message: one fact a line, without the link"`
	Link      string `json:"link" help:"the link that the page holds; empty without an address, or where the card is too much for a link"`
	Note      string `json:"note,omitempty" help:"what to mind in sending it"`
}

const (
	// mostBytes of a page: what an e-mail or a messenger takes without a thought. Asked for.
	mostBytes = 150_000
	route     = "#/card/" // of the app, as the link has it
)

// Page writes a card as a page of its own and as a few lines of text. The card
// is checked as card.link checks it. The page is the same for the same card.
//
//	link = address + "#/card/" + fragment of card.link
//
// Refused: a card outside its limits, an address that is none, text that no
// screen should show, and a card whose page would have more than 150,000 bytes
// even without the tables of its readings.
func Page(in In) (Out, error) {
	c, err := card.Checked(in.Card)
	if err != nil {
		return Out{}, err
	}
	start, bad := beginning(in.Address)
	if bad != nil {
		return Out{}, bad
	}
	if bad := sayableLines(in.Lines); bad != nil {
		return Out{}, bad
	}
	s := sheet{card: c, lines: in.Lines}
	if len(s.lines) == 0 {
		s.lines = linesOf(c)
	}
	out := Out{}
	if made, err := card.Link(card.LinkIn{Card: c}); err == nil {
		s.fragment, out.Note = made.Fragment, made.Note
		if start != "" {
			out.Link = start + route + made.Fragment
		}
	} else {
		out.Note = "This card is too much for a link. The page holds the figures alone."
	}
	s.link = out.Link
	page := s.page()
	if len(page) > mostBytes {
		s.withoutReadings = true
		page = s.page()
	}
	if len(page) > mostBytes {
		return Out{}, refuse.Input("card", fmt.Sprintf("its page would have %d bytes", len(page)),
			fmt.Sprintf("%d bytes", mostBytes), "leave out curves or notes")
	}
	out.Page, out.PageBytes, out.Text = page, len(page), summary(c, s.lines)
	return out, nil
}

// beginning checks where a link is to begin. A part behind # or ? is refused:
// the app's own addresses stand there.
func beginning(address string) (string, *refuse.Error) {
	if address == "" {
		return "", nil
	}
	rest, isWeb := strings.CutPrefix(address, "https://")
	if !isWeb {
		rest, isWeb = strings.CutPrefix(address, "http://")
	}
	host, _, _ := strings.Cut(rest, "/")
	strange := strings.ContainsFunc(rest, func(r rune) bool {
		return r <= ' ' || r > '~' || strings.ContainsRune("#?<>\"'\\^`{|}", r)
	})
	if !isWeb || host == "" || strings.Contains(host, "@") || strange {
		return "", refuse.Input("address", fmt.Sprintf("%.60q is no address that a link can begin with", address),
			"https://, a name, and where the app lies on it, without # and ?",
			"copy it from where the app stands, up to its last /")
	}
	if !strings.HasSuffix(address, "/") {
		address += "/"
	}
	return address, nil
}

// sayableLines holds the asker's lines to the rules for a card's own text.
func sayableLines(lines []Line) *refuse.Error {
	for i, l := range lines {
		for _, one := range []struct{ field, text string }{
			{"group", l.Group}, {"label", l.Label}, {"text", l.Text}, {"note", l.Note}} {
			if bad := card.Sayable(fmt.Sprintf("lines[%d].%s", i, one.field), one.text); bad != nil {
				return bad
			}
		}
	}
	return nil
}
