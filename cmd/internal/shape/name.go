package shape

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"pointsmith/calc/refuse"
)

const (
	maxName   = 80 // characters; the tags say the same
	nameLimit = "1 to 80 characters, none of them < or > or a control character"
)

// CheckName refuses a text that cannot be shown as a heading and in lists, or
// is empty though required. It gives nil when there is nothing to refuse.
func CheckName(field, text string, isRequired bool) *refuse.Error {
	if isRequired && strings.TrimSpace(text) == "" {
		return refuse.Input(field, "is empty", nameLimit, "give it a name")
	}
	if length := utf8.RuneCountInString(text); length > maxName {
		return refuse.Input(field, fmt.Sprintf("has %d characters", length), nameLimit, "shorten it")
	}
	for _, r := range text {
		if r == '<' || r == '>' || unicode.IsControl(r) {
			return refuse.Input(field, fmt.Sprintf("has the character %q in it", r), nameLimit,
				"take that character out")
		}
	}
	return nil
}
