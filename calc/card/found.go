package card

import (
	"encoding/base64"
	"strings"
	"unicode"
)

// found takes the fragment out of what was pasted: a link alone or in a letter, with words and marks before and behind,
// broken into lines, and quoted. It is where a fragment can begin and one arrived whole; else where a link most likely
// begins, so that what is wrong with it can be said.
func found(pasted string) string {
	likely := strings.LastIndexAny(pasted, "#/=") + 1
	wasForeign := true
	for at, r := range pasted {
		if wasForeign && !foreign(r) {
			if fragment, isWhole := from(pasted[at:]); isWhole {
				return fragment
			}
			if at > 0 && strings.HasSuffix(pasted[:at], "#/card/") {
				likely = at
			}
		}
		wasForeign = foreign(r)
	}
	return joined(pasted[likely:])
}

// from reads a fragment at the beginning of a text by the length in its own head. What touches its end must be no
// letter of a fragment: then it is one of another length, and damaged.
func from(text string) (fragment string, isWhole bool) {
	var b strings.Builder
	said := 0
	for _, r := range text {
		switch {
		case said > 0 && b.Len() == said:
			return b.String(), foreign(r) && checks(b.String())
		case inBetween(r):
			continue
		case foreign(r):
			return "", false
		}
		b.WriteRune(r)
		if b.Len() == headLetters {
			if said = saidLength(b.String()); said == 0 {
				return "", false
			}
		}
	}
	return b.String(), said > 0 && b.Len() == said && checks(b.String())
}

const headLetters = (headerSize*8 + 5) / 6 // letters of base64 that hold the head, six bits each

// saidLength is how long a fragment is by its head; 0 where that is no head.
func saidLength(letters string) int {
	head, err := base64.RawURLEncoding.DecodeString(letters)
	if err != nil || len(head) < headerSize || head[3] != headerCheck(head) {
		return 0
	}
	said := base64.RawURLEncoding.EncodedLen(headerSize + int(head[1])<<8 + int(head[2]))
	if said > MaxCharacters {
		return 0
	}
	return said
}

func checks(fragment string) bool {
	_, _, bad := unwrap(fragment)
	return bad == nil
}

// inBetween tells what a letter puts into a link that it breaks: spaces, line ends, marks of quotation at the edge, and
// characters that cannot be seen.
func inBetween(r rune) bool { return unicode.IsSpace(r) || r == '>' || unicode.Is(unicode.Cf, r) }

// joined is a text without them.
func joined(text string) string {
	return strings.Map(func(r rune) rune {
		if inBetween(r) {
			return -1
		}
		return r
	}, text)
}
