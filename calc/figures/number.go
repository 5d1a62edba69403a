package figures

import (
	"strconv"
	"strings"
)

// A mark is the decimal mark a figure is read by.
type mark byte

const (
	point mark = '.'
	comma mark = ','
)

func (m mark) other() byte {
	if m == point {
		return ','
	}
	return '.'
}

// digitGroup is how many digits stand between two thousands separators.
const digitGroup = 3

// number reads one number: digits, with thousands in groups of three set off by
// the other mark, a blank or an apostrophe, and a decimal mark. False where
// that is not what stands there.
func number(s string, m mark) (float64, bool) {
	sign := 1.0
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = -1
		}
		s = s[1:]
	}
	if x, ok := plainDigits(s); ok {
		return sign * x, true
	}
	whole, part, _ := strings.Cut(s, string(rune(m)))
	if !allDigits(part) || whole == "" && part == "" {
		return 0, false
	}
	digits, ok := ungrouped(whole, m)
	if !ok {
		return 0, false
	}
	x, err := strconv.ParseFloat("0"+digits+"."+part+"0", 64)
	return sign * x, err == nil
}

// plainDigits reads a short whole number, which most cells are.
func plainDigits(s string) (float64, bool) {
	if s == "" || len(s) > 9 {
		return 0, false
	}
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return float64(n), true
}

// plainDecimal reads digits, the decimal mark, digits; most other cells are
// that.
func plainDecimal(s string, m mark) (float64, bool) {
	at := strings.IndexByte(s, byte(m))
	if at < 1 || at == len(s)-1 || !allDigits(s[:at]) || !allDigits(s[at+1:]) {
		return 0, false
	}
	if m == comma {
		s = s[:at] + "." + s[at+1:]
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// ungrouped takes the thousands separators out of a whole number.
func ungrouped(s string, m mark) (string, bool) {
	if allDigits(s) {
		return s, true
	}
	for _, between := range []string{string(rune(m.other())), " ", "'"} {
		groups := strings.Split(s, between)
		if len(groups) < 2 {
			continue
		}
		for i, g := range groups {
			full := len(g) == digitGroup || i == 0 && g != "" && len(g) < digitGroup
			if !full || !allDigits(g) {
				return "", false
			}
		}
		return strings.Join(groups, ""), true
	}
	return "", false
}

type cellKind int

const (
	isEmpty   cellKind = iota // nothing, or a sign that there is nothing
	isText                    // no figure
	isFigure                  // one number
	isBand                    // from one number to another
	isAtLeast                 // a least alone
	isAtMost                  // a most alone
)

// A figure is what a cell says.
type figure struct {
	kind      cellKind
	low, high float64
	unit      unit
	about     bool // marked as not exact
}

func (f figure) isNumeric() bool { return f.kind > isText }

// nothing are the ways to say that there is no figure (common practice).
var nothing = map[string]bool{"": true, "-": true, "--": true, "---": true, "n/a": true, "na": true, "n.a.": true,
	"none": true, "nil": true, "?": true, "x": true, "...": true, "not read": true, "not measured": true, "/": true,
	"nan": true, "null": true}

// parse reads a cell as a figure by one decimal mark.
func parse(cell string, m mark) figure {
	if x, ok := plainDigits(cell); ok {
		return figure{kind: isFigure, low: x, high: x}
	}
	if x, ok := plainDecimal(cell, m); ok {
		return figure{kind: isFigure, low: x, high: x}
	}
	s := plainLetters(cell)
	if nothing[s] {
		return figure{}
	}
	if !strings.ContainsAny(s, "0123456789") {
		return figure{kind: isText}
	}
	p := &figureScanner{s: s, mark: m, glyph: strings.ContainsAny(cell, "½¼¾")}
	return p.figure()
}

// letters of the same meaning, made one (common practice). The fractions
// become decimals when they are read.
var sameLetters = strings.NewReplacer("\u2212", "-", "\u2013", "-", "\u2014", "-", "\u2010", "-", "\u2011", "-",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ", "\u00ba", "\u00b0", "\u2019", "'", "\u2032", "'",
	"\u2248", "~", "\u2264", "<=", "\u2265", ">=", "\u2026", "...", "\u00bd", " 1/2",
	"\u00bc", " 1/4", "\u00be", " 3/4",
	"\ufffd", "\u00b0", "\u207b", "-", "\u00b9", "1", "\r", " ", "\n", " ")

func plainLetters(cell string) string {
	cell = strings.TrimSpace(cell)
	for i := range len(cell) {
		if cell[i] >= 0x80 || cell[i] < ' ' {
			cell = sameLetters.Replace(cell)
			break
		}
	}
	return strings.ToLower(strings.TrimSpace(cell))
}
