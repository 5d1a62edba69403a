package paper

import (
	_ "embed" // the style sheet
	"slices"
	"strings"

	"pointsmith/calc/card"
)

//go:embed style.css
var style string

// sheet is one card on its way to paper.
type sheet struct {
	card            card.Card
	lines           []Line
	link, fragment  string
	withoutReadings bool // the tables of the readings are too long for the page
}

// deferral is what every paper of the app defers to.
const deferral = "The car’s own manual, local rules and licensed practice come first."

// policy lets the page load nothing and run nothing, whatever stands in it.
const policy = "default-src 'none'; style-src 'unsafe-inline'"

func (s sheet) page() string {
	head := el("head", nil, void("meta", attrs{{"charset", "utf-8"}}),
		void("meta", attrs{{"http-equiv", "Content-Security-Policy"}, {"content", val(policy)}}),
		void("meta", attrs{{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}}),
		void("meta", attrs{{"name", "color-scheme"}, {"content", "light dark"}}),
		el("title", nil, "Setup card: ", val(s.card.Car.Name)), el("style", nil, markup(style)))
	body := el("body", nil, el("article", class(s.density()), s.head(), s.readFirst(), s.stands(),
		el("div", class("first"), s.group(s.first()), s.work(), s.ends()),
		el("div", class("rest"), figure(plotOf(s.card)), s.folds(), s.passOn()), s.notPrinted(),
		el("p", class("note defers"), deferral)))
	return string("<!DOCTYPE html>\n" + el("html", attrs{{"lang", "en"}}, head, body) + "\n")
}

func (s sheet) head() markup {
	c := s.card
	return el("header", nil, el("p", class("kind"), "Setup card"), el("h1", nil, text(c.Car.Name)),
		el("dl", class("who"), pair("Set by", c.SetBy, "unknown"), pair("Checked by", c.CheckedBy, "nobody named"),
			pair("Date", day(c.Date), "unknown")))
}

// pair is a name and what is known; an unknown is a word, never a gap.
func pair(name markup, typed, unknown string) markup {
	said := el("em", nil, val(unknown))
	if typed != "" {
		said = text(typed)
	}
	return el("div", nil, el("dt", nil, name), el("dd", nil, said))
}

func (s sheet) readFirst() markup {
	if len(s.card.Warnings) == 0 {
		return ""
	}
	return el("section", class("warnings"), el("h2", nil, "Read first"), list(s.card.Warnings))
}

func list(lines []string) markup {
	var items []markup
	for _, line := range lines {
		items = append(items, el("li", nil, text(line)))
	}
	return el("ul", nil, items...)
}

// verdicts in word and shape.
var verdicts = map[string]markup{"pass": "✓ Pass", "watch": "◆ Watch", "fail": "✕ Fail", "unknown": "? Unknown"}

func (s sheet) stands() markup {
	st := s.card.State
	if st == nil {
		return ""
	}
	parts := []markup{el("strong", nil, verdicts[st.Verdict]), " ", text(st.Summary)}
	if st.Next != "" {
		parts = append(parts, el("strong", nil, " Next: "), text(st.Next))
	}
	return el("p", class("stands"), parts...)
}

// first is the part of the sheet that stands open: as it was set.
func (s sheet) first() string {
	for _, l := range s.lines {
		return l.Group
	}
	return ""
}

// group is one part of the sheet, line by line.
func (s sheet) group(name string) markup {
	var rows []markup
	for _, l := range s.lines {
		if l.Group != name {
			continue
		}
		said := el("em", nil, "unknown")
		if l.Text != "" {
			said = text(l.Text)
		}
		if l.Note != "" {
			said += el("small", nil, " ", text(l.Note))
		}
		rows = append(rows, el("div", nil, el("dt", nil, val(l.Label)), el("dd", nil, said)))
	}
	if len(rows) == 0 {
		return ""
	}
	return el("section", nil, el("h2", nil, val(name)), el("dl", class("lines"), rows...))
}

func (s sheet) work() markup {
	if len(s.card.Work) == 0 {
		return ""
	}
	var items []markup
	for _, w := range s.card.Work {
		items = append(items, el("li", nil, text(workWords(w)), el("small", nil, " ", val(day(w.Date)))))
	}
	return el("section", class("work"), el("h2", nil, "Work done"), el("ul", nil, items...))
}

// workWords says what was done in a line: "Primary spring replaced: 12 mm → 9 mm".
func workWords(w card.Work) string {
	figures := w.To
	switch {
	case w.From != "" && w.To != "":
		figures = w.From + " → " + w.To
	case w.From != "":
		figures = "was " + w.From
	}
	return said(": ", said(" ", w.Part, w.What), figures)
}

func (s sheet) ends() markup {
	var parts []markup
	if len(s.card.LeftUndone) > 0 {
		parts = append(parts, el("h2", nil, "Still to do"), list(s.card.LeftUndone))
	}
	return el("section", nil, append(parts, el("dl", class("who"), pair("Next check", s.card.NextCheck, "unknown")))...)
}

// folds are what stands folded on a phone, and open on paper.
func (s sheet) folds() markup {
	var parts []markup
	var rest []string
	for _, l := range s.lines {
		if l.Group != s.first() && !slices.Contains(rest, l.Group) {
			rest = append(rest, l.Group)
		}
	}
	var facts []markup
	for _, name := range rest {
		facts = append(facts, s.group(name))
	}
	parts = append(parts, fold("facts", val(strings.Join(rest, ", ")), "groups", join(facts)))
	tables := []markup{bookTable(s.card)}
	if s.withoutReadings {
		tables = append(tables, el("p", class("note"), "The readings are too many for this page: see the figure."))
	} else {
		for _, set := range s.card.Curves {
			tables = append(tables, readingTable(set))
		}
	}
	parts = append(parts, fold("tables", "The book’s table and the readings", "tables", join(tables)))
	return join(parts)
}

// fold stands folded on a phone until it is tapped, without a script; open on
// paper in every browser, which a details element is not.
func fold(id, title, inside, content markup) markup {
	if content == "" || title == "" {
		return ""
	}
	return el("div", class("fold "+inside+"-fold"), void("input", attrs{{"type", "checkbox"}, {"id", id}}),
		el("label", attrs{{"for", id}}, title), el("div", class("in "+inside), content))
}

// passOn is the link, its code, and what to do with them.
func (s sheet) passOn() markup {
	switch {
	case s.fragment == "":
		return ""
	case s.link == "":
		return fold("code", "The card’s code, for the sender’s program", "code", el("p", class("note"),
			"Copy all of it. In the app, paste it at “Open a setup link”.")+el("p", class("fragment"), val(s.fragment)))
	}
	open := el("p", class("paperless"), el("a", attrs{{"class", "button"}, {"href", val(s.link)},
		{"rel", "noreferrer"}}, "Open this card in the app"))
	code := qrCode(s.link)
	if code == "" {
		code = el("p", class("note"), "The link is too long for a QR code.")
	}
	return el("section", class("pass"), code, open) +
		fold("link", "The link itself, to copy", "code", el("p", class("fragment"), val(s.link)))
}
