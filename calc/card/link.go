package card

import (
	"errors"
	"fmt"

	"pointsmith/calc/refuse"
)

// LinkIn asks for a link of a card.
type LinkIn struct {
	Card Card `json:"card" need:"yes" help:"the setup card"`
}

// LinkOut is the fragment, to be put behind the address of the app.
type LinkOut struct {
	Fragment   string `json:"fragment" help:"letters, digits, - and _; goes behind the # of the app's address"`
	Characters int    `json:"characters" unit:"characters" help:"length of the fragment"`
	Note       string `json:"note,omitempty" help:"what to mind in sending it"`
}

// messengerLimit is what a full car keeps under; some messengers cut links of
// more than about 2 000 characters (reported by users of other web pages),
// and the address stands in front.
const messengerLimit = 1500

// Link packs a card into a fragment (format: see the package comment). A
// full car with two 16-point curves takes less than 1 500 characters; longer
// ones carry a note. Refused: text no screen should show, a card outside its
// limits, a fragment longer than MaxCharacters.
func Link(in LinkIn) (LinkOut, error) {
	c, err := Checked(in.Card)
	if err != nil {
		return LinkOut{}, err
	}
	payload, err := c.payload()
	if err != nil {
		return LinkOut{}, err
	}
	fragment, err := seal(c.version(), payload)
	if err != nil {
		return LinkOut{}, err
	}
	out := LinkOut{Fragment: fragment, Characters: len(fragment)}
	if len(fragment) > messengerLimit {
		out.Note = fmt.Sprintf("With %d characters this link is long; some messengers cut such links. Send it as a file or QR code, or leave out a curve.", len(fragment))
	}
	return out, nil
}

// OpenIn is a link or its fragment.
type OpenIn struct {
	Fragment string `json:"fragment" need:"yes" maxLen:"16200" help:"the fragment, the whole link, or the letter it came in: words, marks and line breaks about it do no harm"`
}

// OpenOut is the card that was in a link.
type OpenOut struct {
	Card       Card   `json:"card" help:"the setup card, plain text throughout; show it before storing anything"`
	Version    int    `json:"version" help:"version of the format it was written in"`
	Fragment   string `json:"fragment" help:"the fragment alone, as it was found in what came"`
	Characters int    `json:"characters" unit:"characters" help:"length of the fragment"`
}

// Open reads a fragment made by Link, of this version or any before it.
// Refused, each with its own words: a link that was cut, one that is damaged,
// one of a newer version, and one that unpacks to more than a card.
func Open(in OpenIn) (OpenOut, error) {
	fragment := found(in.Fragment)
	if fragment == "" {
		return OpenOut{},
			refuse.Input("fragment", "is empty", "a setup link", "paste the link or what stands behind its #")
	}
	if len(fragment) > MaxCharacters {
		return OpenOut{}, refuse.Input("fragment", fmt.Sprintf("has %d characters", len(fragment)),
			fmt.Sprintf("at most %d characters", MaxCharacters), "this is no setup link; ask the sender for a new one")
	}
	v, body, bad := unwrap(fragment)
	if bad != nil {
		return OpenOut{}, bad
	}
	if v < 1 || v > newest {
		return OpenOut{}, refuse.Input("fragment",
			fmt.Sprintf("this link is written in version %d, which this Pointsmith does not know", v),
			fmt.Sprintf("version 1 to %d", newest), "update Pointsmith, or ask the sender for the figures on paper")
	}
	payload, bad := inflate(body)
	if bad != nil {
		return OpenOut{}, bad
	}
	c, err := readPayload(v, payload)
	if err != nil {
		return OpenOut{}, unreadable(err)
	}
	return OpenOut{Card: c, Version: int(v), Fragment: fragment, Characters: len(fragment)}, nil
}

// unreadable says that a link arrived whole but holds what no card of this
// version holds.
func unreadable(err error) *refuse.Error {
	what := "what is inside is no setup card"
	var bad *refuse.Error
	if errors.As(err, &bad) {
		what = fmt.Sprintf("in the card inside, %s %s", bad.Field, bad.Problem)
	}
	return refuse.Input("fragment", "this link arrived whole, but "+what, "a setup card within its limits",
		"do not trust it; ask the sender for a new one")
}
