package plain

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text gives text with everything that a terminal would obey written out as
// \x1b or \u202e, and at most so many bytes of it; "…" says that more there was.
func Text(text string, most int) string {
	if len(text) <= most && !strings.ContainsFunc(text, isObeyed) {
		return text
	}
	var b strings.Builder
	for at := 0; at < len(text); {
		r, size := utf8.DecodeRuneInString(text[at:])
		piece := text[at : at+size]
		switch {
		case r == utf8.RuneError && size == 1, r < 0x80 && isObeyed(r):
			piece = fmt.Sprintf(`\x%02x`, piece[0])
		case isObeyed(r):
			piece = fmt.Sprintf(`\u%04x`, r)
		}
		if b.Len()+len(piece) > most {
			b.WriteString("…")
			break
		}
		b.WriteString(piece)
		at += size
	}
	return b.String()
}

// JSON gives JSON with what a terminal would obey as \u escapes, which mean the
// same to whatever reads it. Below a space JSON itself lets nothing stand in a text.
func JSON(text []byte) []byte {
	if !strings.ContainsFunc(string(text), isObeyedInJSON) {
		return text
	}
	var b strings.Builder
	for _, r := range string(text) {
		if isObeyedInJSON(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return []byte(b.String())
}

func isObeyedInJSON(r rune) bool { return r >= 0x7f && r != utf8.RuneError && isObeyed(r) }

// isObeyed: control characters (C0, DEL, C1), what turns the direction of
// writing, what ends a line or a paragraph, and bytes that are no text.
func isObeyed(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == 0x2028 || r == 0x2029 ||
		r == utf8.RuneError
}
