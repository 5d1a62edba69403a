package vacuum

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pointsmith/calc/quantity"
	"pointsmith/calc/refuse"
)

const (
	inHg = 3.386389 // kPa, conventional inch of mercury
	// allowed either way when the book does not say (common practice)
	commonTolerance      = 1.0
	commonStartTolerance = inHg
)

// knot is a corner of the band.
type knot struct{ kPa, low, high float64 }

// band is what the capsule is allowed to do; empty when nothing is known.
type band []knot

// at gives the band at a vacuum: straight between corners, held outside.
func (b band) at(kPa float64) (low, high float64) {
	last := b[len(b)-1]
	if kPa <= b[0].kPa {
		return b[0].low, b[0].high
	}
	for i := 1; i < len(b); i++ {
		if kPa < b[i].kPa {
			x := (kPa - b[i-1].kPa) / (b[i].kPa - b[i-1].kPa)
			return b[i-1].low + x*(b[i].low-b[i-1].low), b[i-1].high + x*(b[i].high-b[i-1].high)
		}
	}
	return last.low, last.high
}

// readSpec gathers start, full and max from figures, table and code, and
// builds the band.
func (c *court) readSpec() *refuse.Error {
	s := c.in.Capsule
	c.out.Spec = Figures{s.StartKPa, s.FullKPa, s.MaxDistDeg}
	if bad := c.readCode(); bad != nil {
		return bad.Under("capsule.code")
	}
	if len(s.Table) > 0 {
		return c.bandOfTable()
	}
	f := c.out.Spec
	if f.StartKPa != nil && f.FullKPa != nil && *f.StartKPa >= *f.FullKPa {
		return refuse.Input("capsule.startKPa", fmt.Sprintf("the start %.3g kPa is not below full travel %.3g kPa",
			*f.StartKPa, *f.FullKPa), "start below full", "check both, and what the numbers of the code mean")
	}
	if f.StartKPa == nil || f.FullKPa == nil || f.MaxDistDeg == nil {
		c.ask("What does the book give for this capsule: vacuum where it starts, vacuum where it is all the way, and how many degrees? Without them nothing says how far it should move.")
		return nil
	}
	c.bandOfLine(*f.StartKPa, *f.FullKPa, *f.MaxDistDeg)
	return nil
}

func (c *court) ask(question string) { c.out.Ask = append(c.out.Ask, question) }

// bandOfLine allows the straight line its tolerances both ways.
func (c *court) bandOfLine(start, full, most float64) {
	deg, kPa := c.tolerances()
	line := func(v float64) float64 { return straight(start, full, most, v) }
	var corners []float64
	for _, v := range []float64{start - kPa, start, start + kPa, full - kPa, full, full + kPa} {
		corners = append(corners, max(0, v))
	}
	slices.Sort(corners)
	for _, v := range slices.Compact(corners) {
		c.band = append(c.band, knot{v, max(0, line(v-kPa)-deg), line(v+kPa) + deg})
	}
	c.say("Straight from 0 at %s to %.3g distributor degrees at %s, ± %.3g degrees and ± %s.", both(start), most,
		both(full), deg, both(kPa))
}

// straight is the rule of Judge: none up to start, a straight line, all from full on.
func straight(start, full, most, kPa float64) float64 {
	return most * min(1, max(0, (kPa-start)/(full-start)))
}

func (c *court) tolerances() (deg, kPa float64) {
	deg, kPa = commonTolerance, commonStartTolerance
	if t := c.in.Capsule.ToleranceDistDeg; t != nil {
		deg = *t
	}
	if t := c.in.Capsule.StartToleranceKPa; t != nil {
		kPa = *t
	}
	return deg, kPa
}

// bandOfTable takes the book's table; a line whose least and most are one
// figure is widened by the tolerance.
func (c *court) bandOfTable() *refuse.Error {
	deg, _ := c.tolerances()
	table := slices.Clone(c.in.Capsule.Table)
	slices.SortStableFunc(table, func(a, b TablePoint) int { return cmp.Compare(a.KPa, b.KPa) })
	for i, p := range table {
		switch {
		case p.MinDistDeg > p.MaxDistDeg:
			return refuse.Input("capsule.table", fmt.Sprintf("at %.3g kPa the least %g is more than the most %g", p.KPa,
				p.MinDistDeg, p.MaxDistDeg), "least at most the most", "swap or correct them")
		case i > 0 && p.KPa == table[i-1].KPa:
			return refuse.Input("capsule.table", fmt.Sprintf("two lines are at %.3g kPa", p.KPa),
				"one line for each vacuum", "correct or remove one")
		case i > 0 && p.MaxDistDeg < table[i-1].MaxDistDeg:
			return refuse.Input("capsule.table", fmt.Sprintf("it falls between %.3g and %.3g kPa", table[i-1].KPa,
				p.KPa), "movement that does not fall as vacuum rises", "check both lines against the book")
		}
		k := knot{p.KPa, p.MinDistDeg, p.MaxDistDeg}
		if p.MinDistDeg == p.MaxDistDeg {
			k.low, k.high = max(0, k.low-deg), k.high+deg
		}
		if i == 0 && p.KPa > 0 { // below the first line: anything from none to that
			c.band = append(c.band, knot{0, 0, k.high})
		}
		c.band = append(c.band, k)
	}
	if c.out.Spec.MaxDistDeg == nil {
		last := table[len(table)-1]
		most := (last.MinDistDeg + last.MaxDistDeg) / 2
		c.out.Spec.MaxDistDeg = &most
	}
	c.say("The book's table, straight between its lines; a single figure ± %.3g distributor degrees.", deg)
	return nil
}

// readCode reads the numbers of the code for what the figures do not say,
// each by the meaning that was given for it.
func (c *court) readCode() *refuse.Error {
	code := c.in.Capsule.Code
	if code == nil {
		return nil
	}
	numbers, letter, ok := numbersOf(code.Text)
	if !ok {
		c.ask(fmt.Sprintf("Is %q a part number? Nothing can be read from it; the figures have to come from the book.",
			code.Text))
		return nil
	}
	if letter && c.in.Capsule.Kind == "advance" {
		c.ask(fmt.Sprintf("The code %s ends in a letter, by which some makers mean retard. Is this unit really an "+
			"advance?", code.Text))
	}
	if len(code.Meaning) == 0 {
		c.ask(fmt.Sprintf(
			"What do the numbers of %s mean? Often start, full (both inHg) and most degrees; makers differ.",
			code.Text))
		return nil
	}
	if len(code.Meaning) != len(numbers) {
		return refuse.Input("meaning", fmt.Sprintf("has %d entries, the code has %d numbers", len(code.Meaning),
			len(numbers)), "one meaning for each number", "say start, full, max or other for each")
	}
	for i, meaning := range code.Meaning {
		if bad := c.takeNumber(meaning, numbers[i]); bad != nil {
			return bad
		}
	}
	return nil
}

// numbersOf reads a code of numbers parted by dashes, strokes or spaces, with or
// without one letter behind; anything else is a part number.
func numbersOf(text string) (numbers []float64, letter, ok bool) {
	text = strings.TrimSpace(text)
	if n := len(text); n > 0 && (text[n-1]|0x20) >= 'a' && (text[n-1]|0x20) <= 'z' {
		text, letter = strings.TrimSpace(text[:n-1]), true
	}
	if strings.Trim(text, "0123456789.-/ ") != "" || text != strings.Trim(text, "-/.") {
		return nil, false, false
	}
	for _, one := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("-/ ", r) }) {
		x, err := strconv.ParseFloat(one, 64)
		if err != nil {
			return nil, false, false
		}
		numbers = append(numbers, x)
	}
	return numbers, letter, len(numbers) > 0
}

// takeNumber puts one number of the code where its meaning belongs, unless a
// figure was given for that.
func (c *court) takeNumber(meaning string, x float64) *refuse.Error {
	code := c.in.Capsule.Code
	switch {
	case meaning == "max" && c.out.Spec.MaxDistDeg == nil:
		if code.AngleUnit == "" {
			c.ask(fmt.Sprintf("Are the %g degrees of the code distributor or crank degrees?", x))
			return nil
		}
		if code.AngleUnit == "crank" {
			x /= c.ratio
		}
		if x <= 0 || x > 30 {
			return refuse.Input("text", fmt.Sprintf("would mean %.3g distributor degrees", x),
				"more than 0 and at most 30", "check what its numbers mean")
		}
		c.out.Spec.MaxDistDeg = &x
	case meaning == "start" || meaning == "full":
		if code.VacuumUnit == "" {
			c.ask("In which unit are start and full of the code: inHg, mmHg or kPa?")
			return nil
		}
		kPa, err := quantity.Convert(quantity.ConvertIn{Value: x, From: code.VacuumUnit, To: "kPa"})
		if err != nil || kPa.Value > 102 {
			return refuse.Input("text", fmt.Sprintf("would mean a vacuum of %g %s, more than there is", x,
				code.VacuumUnit), "at most 30 inHg, 762 mmHg or 101 kPa", "check what its numbers mean and their unit")
		}
		if to := map[string]**float64{"start": &c.out.Spec.StartKPa, "full": &c.out.Spec.FullKPa}[meaning]; *to == nil {
			*to = &kPa.Value
		}
	}
	return nil
}

func (c *court) say(format string, args ...any) {
	c.out.Working = append(c.out.Working, fmt.Sprintf(format, args...))
}

// both says a vacuum in kPa and inHg.
func both(kPa float64) string { return fmt.Sprintf("%.1f kPa (%.1f inHg)", kPa, kPa/inHg) }
