package paper

import (
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"

	"pointsmith/calc/card"
)

// Line is one line of the card: what it is about, and what is known of it.
type Line struct {
	Group string `json:"group" need:"yes" maxLen:"60" help:"the part of the sheet it stands in; the first part named comes first"`
	Label string `json:"label" need:"yes" maxLen:"200" help:"what it is about"`
	Text  string `json:"text" maxLen:"400" help:"what is known; empty where it is unknown"`
	Note  string `json:"note,omitempty" maxLen:"400" help:"where it is from, and a remark"`
}

// linesOf words a card in British English: what is known, in the order of the
// sheet. Facts without a label come last, under the name they came with.
func linesOf(c card.Card) []Line {
	lines := append(setLines(c), headLines(c)...)
	known := map[string]bool{}
	for _, l := range labels {
		known[l.key] = true
		if f := factOf(c, l.key); f != nil {
			lines = append(lines, factLine(l.group, l.text, *f))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(allFacts(c))) {
		if !known[key] && !elsewhere[key] {
			lines = append(lines, factLine(condition, spaced(key), allFacts(c)[key]))
		}
	}
	lines = slices.DeleteFunc(lines, func(l Line) bool { return l.Text == "" })
	slices.SortStableFunc(lines, func(a, b Line) int {
		return slices.Index(groups, a.Group) - slices.Index(groups, b.Group)
	})
	return lines
}

// allFacts are those of car and distributor; the car's stand where both say one.
func allFacts(c card.Card) map[string]card.Fact {
	all := map[string]card.Fact{}
	if c.Distributor != nil {
		maps.Copy(all, c.Distributor.Facts)
	}
	maps.Copy(all, c.Car.Facts)
	return all
}

// factOf gives a fact as it stands: two of them the book's table says too, and
// where the book is their source, or nobody said them, it is what counts.
func factOf(c card.Card, key string) *card.Fact {
	f, isThere := allFacts(c)[key]
	book := tableFact(c, key)
	switch {
	case book != nil && !isThere:
		return book
	case book != nil && (f.Source == "" || f.Source == "book"):
		f.Value, f.Unit = book.Value, book.Unit
	case !isThere:
		return nil
	}
	return &f
}

func tableFact(c card.Card, key string) *card.Fact {
	switch s := c.Spec; {
	case s == nil:
	case key == "limitPlate" && s.LimitDistDeg != nil:
		return &card.Fact{Value: short(*s.LimitDistDeg), Unit: "distributor degrees", Source: "book"}
	case key == "staticTiming" && s.BaseCrankDeg != nil:
		side := "before TDC"
		if *s.BaseCrankDeg < 0 {
			side = "after TDC"
		}
		return &card.Fact{Value: short(math.Abs(*s.BaseCrankDeg)), Unit: side, Source: "book"}
	}
	return nil
}

func factLine(group, label string, f card.Fact) Line {
	return Line{group, label, said(" ", f.Value, f.Unit), said("; ", f.Source, f.Note)}
}

// said joins what is not empty.
func said(between string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), between)
}

// spaced writes a name of the app as words: "endFloat" as "End float".
func spaced(key string) string {
	var b strings.Builder
	before := ' '
	for i, r := range key {
		if i > 0 && unicode.IsUpper(r) && !unicode.IsUpper(before) {
			b.WriteByte(' ')
		}
		before = r
		b.WriteRune(unicode.ToLower(r))
	}
	words := b.String()
	return strings.ToUpper(words[:1]) + words[1:]
}

// headLines are what the card itself says of car and distributor.
func headLines(c card.Card) []Line {
	lines := []Line{{engine, "Distance on the clock", c.Odometer, ""}, {engine, "Set for this fuel", c.Fuel, ""}}
	d := c.Distributor
	if d == nil {
		d = &card.Distributor{}
	}
	turns := Line{distributor, "Turns, seen from the cap end", d.Rotation, ""}
	if f, isThere := d.Facts["rotation"]; isThere {
		turns = factLine(turns.Group, turns.Label, f)
	}
	order := Line{distributor, "Firing order", firing(d.FiringOrder), ""}
	if f, isThere := c.Car.Facts["firingOrder"]; isThere && order.Text == "" {
		order = factLine(order.Group, order.Label, f)
	}
	return append(lines, Line{distributor, "Type number on the body", d.TypeNumber, ""}, turns, order)
}
