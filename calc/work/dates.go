package work

import (
	"fmt"
	"strings"

	"pointsmith/calc/refuse"
)

// minutesOf reads a day (2024-05-18) or an instant (RFC 3339; the seconds may
// be left out) as minutes since the first day of year 0. calc has no clock of
// its own; this only tells earlier from later and how long between.
func minutesOf(field, text string) (float64, *refuse.Error) {
	r := timeReader{rest: text, isGood: true}
	y, m, d := r.number(4), r.after('-', 2), r.after('-', 2)
	hours, minutes, seconds, zone := 0, 0, 0, 0.0
	if r.rest != "" {
		hours, minutes = r.after('T', 2), r.after(':', 2)
		if strings.HasPrefix(r.rest, ":") {
			seconds = r.after(':', 2)
			r.fraction()
		}
		zone = r.zone()
	}
	if !r.isGood || r.rest != "" || m < 1 || m > 12 || d < 1 || d > 31 || hours > 23 || minutes > 59 || seconds > 60 {
		return 0, badTime(field, text)
	}
	return float64(dayNumber(y, m, d))*24*60 + float64(hours*60+minutes) + float64(seconds)/60 - zone, nil
}

// A timeReader takes a time apart from its front; isGood is lost at the first
// thing that should not stand there.
type timeReader struct {
	rest   string
	isGood bool
}

// number reads so many digits.
func (r *timeReader) number(digits int) int {
	n := 0
	for range digits {
		if r.rest == "" || r.rest[0] < '0' || r.rest[0] > '9' {
			r.isGood = false
			return 0
		}
		n, r.rest = 10*n+int(r.rest[0]-'0'), r.rest[1:]
	}
	return n
}

// after reads a sign and so many digits behind it.
func (r *timeReader) after(sign byte, digits int) int {
	if r.rest == "" || r.rest[0] != sign {
		r.isGood = false
		return 0
	}
	r.rest = r.rest[1:]
	return r.number(digits)
}

// fraction passes over parts of a second.
func (r *timeReader) fraction() {
	if behind, is := strings.CutPrefix(r.rest, "."); is {
		r.rest = strings.TrimLeft(behind, "0123456789")
		r.isGood = r.isGood && len(r.rest) < len(behind)
	}
}

// zone reads Z or the way to it, in minutes.
func (r *timeReader) zone() float64 {
	if behind, is := strings.CutPrefix(r.rest, "Z"); is {
		r.rest = behind
		return 0
	}
	if strings.HasPrefix(r.rest, "-") {
		return -float64(60*r.after('-', 2) + r.after(':', 2))
	}
	return float64(60*r.after('+', 2) + r.after(':', 2))
}

// dayNumber counts days from 1 March of year 0 (Gregorian), so that the leap
// day is the last of its year.
func dayNumber(y, m, d int) int {
	if m < 3 {
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d - 1
}

var months = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September",
	"October", "November", "December"}

// day writes the day of an event as the screen writes every date: 18 May 2024.
func day(text string) string {
	r := timeReader{rest: text, isGood: true}
	y, m, d := r.number(4), r.after('-', 2), r.after('-', 2)
	if !r.isGood || m < 1 || m > 12 {
		return text
	}
	return fmt.Sprintf("%d %s %d", d, months[m-1], y)
}

func badTime(field, text string) *refuse.Error {
	return refuse.Input(field, fmt.Sprintf("%.40q is neither a day nor an instant", text),
		"2024-05-18, or 2024-05-18T09:30:00Z", "write it like one of them")
}
