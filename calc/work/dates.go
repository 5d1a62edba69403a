package work

import (
	"fmt"
	"regexp"
	"strconv"

	"pointsmith/calc/refuse"
)

var instant = regexp.MustCompile(
	`^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(Z|[+-]\d{2}:\d{2}))?$`)

// minutesOf reads a day (2024-05-18) or an instant (RFC 3339) as minutes
// since the first day of year 0. calc has no clock of its own; this only
// tells earlier from later and how long between.
func minutesOf(field, text string) (float64, *refuse.Error) {
	p := instant.FindStringSubmatch(text)
	if p == nil {
		return 0, badTime(field, text)
	}
	n := make([]int, 7)
	for i := 1; i <= 6; i++ {
		n[i], _ = strconv.Atoi(p[i]) // digits or nothing, by the pattern
	}
	y, m, d := n[1], n[2], n[3]
	if m < 1 || m > 12 || d < 1 || d > 31 || n[4] > 23 || n[5] > 59 || n[6] > 60 {
		return 0, badTime(field, text)
	}
	minutes := float64(dayNumber(y, m, d))*24*60 + float64(n[4]*60+n[5]) + float64(n[6])/60
	return minutes - zone(p[7]), nil
}

// dayNumber counts days from 1 March of year 0 (Gregorian), so that the leap
// day is the last of its year.
func dayNumber(y, m, d int) int {
	if m < 3 {
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d - 1
}

func zone(text string) float64 {
	if len(text) != len("+01:00") {
		return 0
	}
	h, _ := strconv.Atoi(text[1:3])
	m, _ := strconv.Atoi(text[4:6])
	if text[0] == '-' {
		return -float64(60*h + m)
	}
	return float64(60*h + m)
}

var months = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September",
	"October", "November", "December"}

// day writes the day of an event as the screen writes every date: 18 May 2024.
func day(text string) string {
	p := instant.FindStringSubmatch(text)
	if p == nil {
		return text
	}
	m, _ := strconv.Atoi(p[2])
	d, _ := strconv.Atoi(p[3])
	return fmt.Sprintf("%d %s %s", d, months[m-1], p[1])
}

func badTime(field, text string) *refuse.Error {
	return refuse.Input(field, fmt.Sprintf("%.40q is neither a day nor an instant", text),
		"2024-05-18, or 2024-05-18T09:30:00Z", "write it like one of them")
}
