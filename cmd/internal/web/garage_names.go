package web

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"pointsmith/calc/refuse"
)

const (
	maxName   = 80 // characters; shape tags say the same
	nameLimit = "1 to 80 characters, none of them < or > or a control character"
)

// A named is a text that is shown as a heading and in lists.
type named struct {
	field, text string
	isRequired  bool
}

func (n named) check() *refuse.Error {
	if n.isRequired && strings.TrimSpace(n.text) == "" {
		return refuse.Input(n.field, "is empty", nameLimit, "give it a name")
	}
	if length := utf8.RuneCountInString(n.text); length > maxName {
		return refuse.Input(n.field, fmt.Sprintf("has %d characters", length), nameLimit, "shorten it")
	}
	for _, r := range n.text {
		if r == '<' || r == '>' || unicode.IsControl(r) {
			return refuse.Input(n.field, fmt.Sprintf("has the character %q in it", r), nameLimit, "take that character out")
		}
	}
	return nil
}
