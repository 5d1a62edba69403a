package card

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"pointsmith/calc/refuse"
)

// sayable refuses what no screen should be made to show: control characters,
// line breaks, invisible format characters and marks that turn the writing
// direction. The two joiners (U+200C, U+200D) stay, because some scripts and
// pictograms cannot be written without them.
func sayable(field, text string) *refuse.Error {
	for _, r := range text {
		joiner := r == '\u200c' || r == '\u200d'
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) && !joiner {
			return refuse.Input(field, fmt.Sprintf("holds the invisible character U+%04X", r),
				"letters, digits, signs and spaces on one line", "remove it and type the text again")
		}
	}
	return nil
}

// Sayable holds a text that is to stand beside a card to the rules for the
// card's own text (see the package comment).
func Sayable(field, text string) *refuse.Error { return sayable(field, text) }

// nameable is the garage's rule for names: sayable, and no < or >.
func nameable(field, text string) *refuse.Error {
	if strings.ContainsAny(text, "<>") {
		return refuse.Input(field, "holds < or >", "a name without < and >", "leave the sign out")
	}
	return sayable(field, text)
}

// text checks every text of the card. Kinds that are one of a list are
// checked by the schema.
func (c Card) text() *refuse.Error {
	if strings.TrimSpace(c.Car.Name) == "" {
		return refuse.Input("car.name", "is empty", "1 to 80 characters", "say what the car is called")
	}
	checks := []*refuse.Error{nameable("car.name", c.Car.Name), factsText("car.facts", c.Car.Facts)}
	if d := c.Distributor; d != nil {
		checks = append(checks, nameable("distributor.name", d.Name), sayable("distributor.typeNumber", d.TypeNumber),
			factsText("distributor.facts", d.Facts))
	}
	if a := c.AsSet; a != nil {
		checks = append(checks, a.text())
	}
	for i, set := range c.Curves {
		checks = append(checks, sayable(fmt.Sprintf("curves[%d].name", i), set.Name))
	}
	if c.State != nil {
		checks = append(checks, sayable("state.summary", c.State.Summary), sayable("state.next", c.State.Next))
	}
	for _, one := range []struct{ field, text string }{
		{"specSource", c.SpecSource}, {"setBy", c.SetBy}, {"checkedBy", c.CheckedBy},
		{"odometer", c.Odometer}, {"fuel", c.Fuel}, {"nextCheck", c.NextCheck},
	} {
		checks = append(checks, sayable(one.field, one.text))
	}
	checks = append(checks, listText("warnings", c.Warnings), listText("leftUndone", c.LeftUndone),
		dateText("date", c.Date))
	for i, w := range c.Work {
		checks = append(checks, w.text(fmt.Sprintf("work[%d]", i)))
	}
	return first(checks)
}

func (a AsSet) text() *refuse.Error {
	checks := []*refuse.Error{sayable("asSet.mark", a.Mark), sayable("asSet.vernier", a.Vernier)}
	if a.Gap != nil {
		checks = append(checks, a.Gap.text("asSet.gap"))
	}
	if a.Capsule != nil {
		checks = append(checks, sayable("asSet.capsule.code", a.Capsule.Code))
	}
	return first(checks)
}

func (w Work) text(field string) *refuse.Error {
	if strings.TrimSpace(w.Part+w.What) == "" {
		return refuse.Input(field, "says neither part nor what was done", "one of part and what",
			"say one, or leave it out")
	}
	return first([]*refuse.Error{dateText(field+".date", w.Date), sayable(field+".part", w.Part),
		sayable(field+".what", w.What), sayable(field+".from", w.From), sayable(field+".to", w.To)})
}

func (f Fact) text(field string) *refuse.Error {
	return first([]*refuse.Error{sayable(field+".value", f.Value), sayable(field+".unit", f.Unit),
		sayable(field+".note", f.Note)})
}

// factName allows what the app names its facts by: letters and digits.
func factName(name string) bool {
	return name != "" && len(name) <= 40 &&
		strings.Trim(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == ""
}

func factsText(field string, facts map[string]Fact) *refuse.Error {
	for _, name := range slices.Sorted(maps.Keys(facts)) {
		if !factName(name) {
			return refuse.Input(field, fmt.Sprintf("the name %.60q is no name of a fact", name),
				"1 to 40 letters and digits, A to Z", "rename it")
		}
		if bad := facts[name].text(field + "." + name); bad != nil {
			return bad
		}
	}
	return nil
}

func listText(field string, lines []string) *refuse.Error {
	for i, line := range lines {
		if bad := sayable(fmt.Sprintf("%s[%d]", field, i), line); bad != nil {
			return bad
		}
	}
	return nil
}

// dateText allows an empty date or YYYY-MM-DD with a month and day that exist
// in some year.
func dateText(field, date string) *refuse.Error {
	var y, m, d int
	n, err := fmt.Sscanf(date, "%4d-%2d-%2d", &y, &m, &d)
	if date == "" || n == 3 && err == nil && m >= 1 && m <= 12 && d >= 1 && d <= 31 &&
		date == fmt.Sprintf("%04d-%02d-%02d", y, m, d) {
		return nil
	}
	return refuse.Input(field, fmt.Sprintf("%.20q is not a date", date), "YYYY-MM-DD", "write it as 2024-05-18")
}

func first(checks []*refuse.Error) *refuse.Error {
	for _, bad := range checks {
		if bad != nil {
			return bad
		}
	}
	return nil
}
