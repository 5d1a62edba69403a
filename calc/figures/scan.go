package figures

import "strings"

// A figureScanner reads "12", "12°", "~14", "12-14", "12 to 14", "13 ± 1",
// "max 14", "1500 rpm", "12½", "12°30'", "2 after TDC".
type figureScanner struct {
	s     string
	at    int
	mark  mark
	unit  unit
	about bool
	after bool // after top dead centre: later, negative
	glyph bool // a half or a quarter is written as one letter
	bare  bool // a fraction stands alone
}

func (p *figureScanner) figure() figure {
	kind, ok := p.before()
	if !ok {
		return figure{kind: isText}
	}
	low, ok := p.value()
	if !ok || !p.units() {
		return figure{kind: isText}
	}
	if kind == isFigure {
		kind = p.boundBehind()
	}
	high, side := low, p.between()
	if side != "" {
		if kind != isFigure {
			return figure{kind: isText}
		}
		if high, ok = p.value(); !ok || !p.units() {
			return figure{kind: isText}
		}
		kind = isBand
		if side == "±" {
			low, high = low-high, low+high
		}
		low, high = min(low, high), max(low, high)
	}
	if p.bare && kind != isBand && !p.glyph { // “1/2” may be a half, or 1 to 2
		return figure{kind: isText}
	}
	if p.skip(); p.at < len(p.s) || p.unit.isTorn() {
		return figure{kind: isText}
	}
	if p.after {
		if kind != isFigure { // which of the two is after TDC cannot be told
			return figure{kind: isText}
		}
		low, high = -low, -high
	}
	return figure{kind: kind, low: low, high: high, unit: p.unit, about: p.about}
}

func (p *figureScanner) skip() {
	for p.at < len(p.s) && p.s[p.at] == ' ' {
		p.at++
	}
}

// take passes over a text where it stands next.
func (p *figureScanner) take(text string) bool {
	if !strings.HasPrefix(p.s[p.at:], text) {
		return false
	}
	end := p.at + len(text)
	if isLetter(text[len(text)-1]) && end < len(p.s) && isLetter(p.s[end]) {
		return false
	}
	p.at = end
	return true
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func (p *figureScanner) takeOne(of []string) (string, bool) {
	p.skip()
	for _, text := range of {
		if p.take(text) {
			return text, true
		}
	}
	return "", false
}

// What may stand before a number (common practice), the longer first.
var (
	roughly = []string{"~", "approximately", "approx.", "approx", "about", "circa", "ca.", "ca", "c."}
	atMost  = []string{"<=", "<", "at most", "maximum", "max.", "max", "up to", "not more than", "no more than"}
	atLeast = []string{">=", ">", "at least", "minimum", "min.", "min", "not less than", "from"}
	toWords = []string{"+/-", "±", "...", "..", "-", "to"}
)

func (p *figureScanner) before() (cellKind, bool) {
	kind := isFigure
	for {
		if _, is := p.takeOne(roughly); is {
			p.about = true
		} else if _, is := p.takeOne(atMost); is && kind == isFigure {
			kind = isAtMost
		} else if _, is := p.takeOne(atLeast); is && kind == isFigure {
			kind = isAtLeast
		} else {
			p.skip()
			return kind, p.at < len(p.s)
		}
		if p.at >= len(p.s) {
			return kind, false
		}
	}
}

// boundBehind reads “14 max.”.
func (p *figureScanner) boundBehind() cellKind {
	if _, is := p.takeOne(atMost[2:6]); is {
		return isAtMost
	}
	if _, is := p.takeOne(atLeast[2:6]); is {
		return isAtLeast
	}
	return isFigure
}

func (p *figureScanner) between() string {
	side, _ := p.takeOne(toWords)
	if side == "+/-" {
		return "±"
	}
	return side
}

// fractions of degrees that books print (common practice).
var fractions = map[string]float64{" 1/2": 0.5, " 1/4": 0.25, " 3/4": 0.75, " 1/3": 1. / 3, " 2/3": 2. / 3}

// value reads a number with what belongs to it: a common fraction, or minutes
// of arc behind a degree sign.
func (p *figureScanner) value() (float64, bool) {
	p.skip()
	for fraction, x := range fractions {
		if p.take(fraction[1:]) {
			p.bare = true
			return x, p.at >= len(p.s) || !isDigit(p.s[p.at])
		}
	}
	text := p.numberText()
	x, ok := number(text, p.mark)
	if !ok {
		return 0, false
	}
	negative := strings.HasPrefix(text, "-")
	add := func(part float64) {
		if negative {
			part = -part
		}
		x += part
	}
	if !strings.ContainsAny(text, ".,") {
		for fraction, part := range fractions {
			if strings.HasPrefix(p.s[p.at:], fraction) {
				p.at += len(fraction)
				add(part)
				break
			}
		}
		if minutes, ok := p.minutes(); ok {
			add(minutes / 60)
		}
	}
	return x, p.at >= len(p.s) || !isDigit(p.s[p.at])
}

// numberText takes the letters of one number. A blank belongs to it only as a
// thousands separator: three digits follow, and no fourth.
func (p *figureScanner) numberText() string {
	from := p.at
	if p.at < len(p.s) && (p.s[p.at] == '-' || p.s[p.at] == '+') {
		p.at++
	}
	for p.at < len(p.s) {
		c, rest := p.s[p.at], p.s[p.at+1:]
		digitNext := rest != "" && isDigit(rest[0])
		group := len(rest) >= digitGroup && allDigits(rest[:digitGroup]) &&
			(len(rest) == digitGroup || !isDigit(rest[digitGroup]))
		switch {
		case isDigit(c):
		case (c == '.' || c == ',') && digitNext, c == '.' && rest == "":
		case (c == ' ' || c == '\'') && group && p.at > from:
		default:
			return p.s[from:p.at]
		}
		p.at++
	}
	return p.s[from:p.at]
}

// minutes reads °30' behind whole degrees.
func (p *figureScanner) minutes() (float64, bool) {
	rest, had := strings.CutPrefix(p.s[p.at:], "°")
	if !had {
		return 0, false
	}
	rest = strings.TrimLeft(rest, " ")
	digits, after, had := strings.Cut(rest, "'")
	x, ok := plainDigits(digits)
	if !had || !ok || x >= 60 {
		return 0, false
	}
	p.at = len(p.s) - len(after)
	p.unit.angle = true
	return x, true
}

// bracketed passes over a bracket around unit words.
func (p *figureScanner) bracketed() bool {
	if p.at < len(p.s) && strings.IndexByte("()[]", p.s[p.at]) >= 0 {
		p.at++
		return true
	}
	return false
}

// units passes over unit words and remembers them; false at a word that is
// none.
func (p *figureScanner) units() bool {
	for {
		p.skip()
		if p.at >= len(p.s) {
			return true
		}
		if word, is := p.takeOne(afterTDC); is && word != "" {
			p.after = true
			continue
		}
		if !p.bracketed() && !p.takeUnit() {
			break
		}
	}
	rest := p.s[p.at:]
	return !isLetter(rest[0]) || strings.HasPrefix(rest, "to") || strings.HasPrefix(rest, "±") ||
		strings.HasPrefix(rest, "max") || strings.HasPrefix(rest, "min") || strings.HasPrefix(rest, "at ")
}
