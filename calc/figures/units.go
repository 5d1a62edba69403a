package figures

import (
	"strings"
	"unicode/utf8"
)

// A unit is what the words of a head or of a cell say of the figures.
type unit struct {
	speed, angle             bool
	engine, crank, distrib   bool // shafts named; engine also serves degrees of the crank
	least, most              bool
	up, down                 bool
	total, within, without   bool // base timing
	direction, place, vacuum bool
	note, thousands          bool
	other                    bool // a quantity that is not read
}

// isTorn tells whether speed and angle are both said.
func (u unit) isTorn() bool { return u.speed && u.angle }

// shaft is the shaft that is named: of degrees crank or distributor, of speeds
// engine or distributor. Empty where none is, or both are.
func (u unit) shaft(ofSpeed bool) string {
	turning := u.engine || u.crank
	switch {
	case turning && u.distrib:
		return ""
	case u.distrib:
		return distributor
	case turning && ofSpeed:
		return engine
	case turning:
		return crank
	}
	return ""
}

func (u unit) isBoth() bool { return (u.engine || u.crank) && u.distrib }

// base is what is said of the base timing; empty where nothing is, or both.
func (u unit) base() string {
	in, out := u.total || u.within, u.without
	switch {
	case in == out:
		return ""
	case in:
		return included
	}
	return excluded
}

var afterTDC = []string{"after tdc", "atdc"}

// A spelling is a list of words with one meaning.
type spelling struct {
	words []string
	set   func(*unit)
}

// spellings of one meaning (common practice; min⁻¹ and r/min are the units of
// ISO 80000-3). The longer come first where one begins like another.
var spellings = []spelling{
	{[]string{"x 1000", "x1000", "× 1000", "×1000", "*1000", "1000 x", "1000x",
		"/1000", "thousands", "thousand", "krpm"},
		func(u *unit) { u.thousands = true }},
	{[]string{"base not included", "base excluded", "without base", "excluding base", "excl. base", "excl base",
		"no base", "less base", "base not in"}, func(u *unit) { u.without = true }},
	{[]string{"base included", "with base", "including base", "incl. base", "incl base", "plus base"},
		func(u *unit) { u.within = true }},
	{[]string{"total", "totals"}, func(u *unit) { u.total = true }},
	{[]string{"revolutions per minute", "revolutions", "revs per min", "rev per min", "per minute", "per min",
		"revs/min", "rev/min",
		"r/min", "1/min", "min-1", "min^-1", "u/min", "tr/min", "r.p.m.", "rpm", "revs", "speed", "speeds"},
		func(u *unit) { u.speed = true }},
	{[]string{"°", "degrees", "degree", "degs.", "degs", "deg.", "deg", "advance", "timing", "angle", "before tdc",
		"btdc", "btc"}, func(u *unit) { u.angle = true }},
	{[]string{"crankshaft", "crank", "flywheel", "pulley"}, func(u *unit) { u.crank = true }},
	{[]string{"engine", "eng.", "eng"}, func(u *unit) { u.engine = true }},
	{[]string{"distributor", "distrib.", "distrib", "dist.", "dist"}, func(u *unit) { u.distrib = true }},
	{[]string{"minimum", "min.", "min", "least", "lowest", "lower", "low"}, func(u *unit) { u.least = true }},
	{[]string{"maximum", "max.", "max", "most", "highest", "upper", "high"}, func(u *unit) { u.most = true }},
	{[]string{"rising", "increasing", "accelerating", "going up", "up"}, func(u *unit) { u.up = true }},
	{[]string{"falling", "decreasing", "decelerating", "going down", "down"}, func(u *unit) { u.down = true }},
	{[]string{"direction"}, func(u *unit) { u.direction = true }},
	{[]string{"place", "where"}, func(u *unit) { u.place = true }},
	{[]string{"vacuum", "vac.", "vac", "pipe"}, func(u *unit) { u.vacuum = true }},
	{[]string{"notes", "note", "remarks", "remark", "comments", "comment"}, func(u *unit) { u.note = true }},
	{[]string{"inhg", "mmhg", "kpa", "mbar", "psi", "time", "date", "seconds", "dwell", "volts", "volt", "temperature",
		"temp", "error", "tolerance", "ms", "gap", "row", "no.", "line"}, func(u *unit) { u.other = true }},
}

// cellUnits are the spellings that may stand behind a figure in its cell.
var cellUnits = func() (out []spelling) {
	for _, s := range spellings {
		var u unit
		if s.set(&u); u.speed || u.angle || u.crank || u.engine || u.distrib {
			out = append(out, s)
		}
	}
	return out
}()

// takeUnit passes over one unit word of a cell.
func (p *figureScanner) takeUnit() bool {
	for _, s := range cellUnits {
		if _, is := p.takeOne(s.words); is {
			s.set(&p.unit)
			return true
		}
	}
	return false
}

// headUnit reads the words of a head. Words that are not known are passed over.
func headUnit(head string) unit {
	var u unit
	s := plainLetters(head)
	for _, odd := range []string{"(", ")", "[", "]", ",", ";", ":", "_", "|", "{", "}", "\""} {
		s = strings.ReplaceAll(s, odd, " ")
	}
	p := &figureScanner{s: s}
	for p.at < len(s) {
		if p.skip(); p.at >= len(s) {
			break
		}
		if !p.takeHeadWord(&u) {
			p.nextWord()
		}
	}
	return u
}

func (p *figureScanner) takeHeadWord(u *unit) bool {
	for _, s := range spellings {
		if _, is := p.takeOne(s.words); is {
			s.set(u)
			return true
		}
	}
	return false
}

// nextWord passes over one letter that is no word, or one word.
func (p *figureScanner) nextWord() {
	_, size := utf8.DecodeRuneInString(p.s[p.at:])
	p.at += size
	for p.at < len(p.s) && isLetter(p.s[p.at]) && isLetter(p.s[p.at-1]) {
		p.at++
	}
}

// role is what a column with such a head holds; empty where the head does not
// tell.
func (u unit) role() string {
	switch {
	case u.note:
		return isNote
	case u.vacuum && !u.angle && !u.speed && !u.other:
		return isVacuum
	case u.vacuum || u.other:
		return isSkip
	case u.direction:
		return isDirection
	case u.place:
		return isPlace
	case u.speed && (u.angle || u.least || u.most), u.up && u.down:
		return ""
	case u.speed:
		return isSpeed
	}
	return u.angleRole()
}

func (u unit) angleRole() string {
	switch {
	case u.up && (u.least || u.most), u.down && (u.least || u.most):
		return ""
	case u.up:
		return isRising
	case u.down:
		return isFalling
	case u.least && u.most:
		return isDeg
	case u.least:
		return isMin
	case u.most:
		return isMax
	case u.angle:
		return isDeg
	}
	return ""
}
