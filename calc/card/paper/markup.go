package paper

import (
	"html"
	"strings"
)

// markup is text of a page that is already escaped. It is a type of its own so
// that no typed text becomes markup by chance: only constants do, and what
// text and el give.
type markup string

// name is the name of an element or an attribute: constants only.
type name string

// attr is one attribute, its value escaped.
type attr struct {
	key name
	val markup
}

type attrs = []attr

// text escapes what somebody typed. It is set apart in its own writing
// direction (HTML, the bdi element), so that it turns nothing beside it.
func text(typed string) markup { return "<bdi>" + val(typed) + "</bdi>" }

// val escapes a text for an attribute, or for where bdi cannot stand.
func val(typed string) markup { return markup(html.EscapeString(typed)) }

func class(names markup) attrs { return attrs{{"class", names}} }

// el is an element with its content.
func el(n name, with attrs, inner ...markup) markup {
	var b strings.Builder
	open(&b, n, with)
	b.WriteByte('>')
	for _, part := range inner {
		b.WriteString(string(part))
	}
	b.WriteString("</" + string(n) + ">")
	return markup(b.String())
}

// void is an element that has no content: closed as XML wants it, which HTML
// takes too.
func void(n name, with attrs) markup {
	var b strings.Builder
	open(&b, n, with)
	b.WriteString("/>")
	return markup(b.String())
}

func open(b *strings.Builder, n name, with attrs) {
	b.WriteString("<" + string(n))
	for _, a := range with {
		b.WriteString(" " + string(a.key) + `="` + string(a.val) + `"`)
	}
}

func join(parts []markup) markup {
	var b strings.Builder
	for _, part := range parts {
		b.WriteString(string(part))
	}
	return markup(b.String())
}
