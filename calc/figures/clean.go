package figures

import (
	"fmt"
	"strings"

	"pointsmith/calc/refuse"
)

const (
	byteOrderMark = "\ufeff"
	unreadable    = '\ufffd'
)

// clean takes off what an encoding left in the text and says what it did.
// A text that is UTF-16 read as something else is mended where every second
// character is a zero, and refused otherwise.
func (r *reader) clean() *refuse.Error {
	text := r.in.Text
	if len(text) > maxText {
		return refuse.Input("text", fmt.Sprintf("has %d bytes", len(text)), fmt.Sprintf("at most %d bytes", maxText),
			"keep only the columns of speed and degrees, or split the file and read it in parts")
	}
	if strings.Contains(text, "\x00") {
		mended, ok := withoutZeros(text)
		if !ok {
			return refuse.Input("text", "holds zero characters: it was saved as UTF-16 and read as something else",
				"text without zero characters", "save the file as UTF-8, or copy the table and paste it")
		}
		text = mended
		r.note("encoding", "The text had a zero between all letters, as UTF-16 has when it is read as something else. "+
			"The zeros were taken out.")
	}
	for _, mark := range []string{byteOrderMark, "\u00ef\u00bb\u00bf"} {
		if rest, had := strings.CutPrefix(text, mark); had {
			text = rest
			r.note("byte-order-mark", "The text began with a byte order mark. It was taken off.")
		}
	}
	if strings.Contains(text, "\u00c2\u00b0") {
		text = strings.ReplaceAll(text, "\u00c2\u00b0", "\u00b0")
		r.note("encoding", "The degree sign stood there as two characters, as UTF-8 does when it is read as something "+
			"else. It was read as the degree sign.")
	}
	if strings.TrimSpace(text) == "" {
		return refuse.Input("text", "is empty", "a table with a speed and an angle in each row",
			"paste the table, or choose another file")
	}
	r.text = text
	return nil
}

// withoutZeros mends UTF-16 of plain letters that was read byte by byte.
func withoutZeros(text string) (string, bool) {
	runes := []rune(strings.TrimPrefix(text, byteOrderMark))
	if len(runes) >= 2 && isMark(runes[0]) && isMark(runes[1]) {
		runes = runes[2:]
	}
	if len(runes)%2 != 0 {
		return "", false
	}
	var b strings.Builder
	zeroFirst := len(runes) > 0 && runes[0] == 0
	for i := 0; i < len(runes); i += 2 {
		letter, zero := runes[i], runes[i+1]
		if zeroFirst {
			letter, zero = zero, letter
		}
		if zero != 0 || letter == 0 {
			return "", false
		}
		b.WriteRune(letter)
	}
	return b.String(), true
}

// isMark tells the two bytes of UTF-16's mark, as Latin letters or as what
// could not be read.
func isMark(r rune) bool { return r == '\u00ff' || r == '\u00fe' || r == unreadable }
