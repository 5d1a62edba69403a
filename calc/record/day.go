package record

import (
	"fmt"
	"strconv"

	"pointsmith/calc/refuse"
)

// The first and last year a day may be in: no points car is older, and nobody
// looks further ahead. Judgement.
const firstYear, lastYear = 1880, 2200

// dayOf reads 2024-05-18 as days since 1 March of year 0 (Gregorian calendar).
func dayOf(field, text string) (int, *refuse.Error) {
	if len(text) == 10 && text[4] == '-' && text[7] == '-' {
		y, badY := strconv.ParseUint(text[:4], 10, 16)
		m, badM := strconv.ParseUint(text[5:7], 10, 16)
		d, badD := strconv.ParseUint(text[8:], 10, 16)
		day := dayNumber(int(y), int(m), int(d))
		if badY == nil && badM == nil && badD == nil && m >= 1 && y >= firstYear && y <= lastYear &&
			isoOf(day) == text {
			return day, nil
		}
	}
	return 0, refuse.Input(field, fmt.Sprintf("%.40q is not a day", text),
		fmt.Sprintf("year-month-day as 2024-05-18, years %d to %d", firstYear, lastYear), "write it like that")
}

// dayNumber counts days from 1 March of year 0, so that a leap day is the last
// of its year.
func dayNumber(y, m, d int) int {
	if m < 3 {
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + d - 1
}

// dateOf is the way back: year, month and day of a day number.
func dateOf(day int) (y, m, d int) {
	const fourCenturies = 146097 // days
	era, rest := day/fourCenturies, day%fourCenturies
	year := (rest - rest/1460 + rest/36524 - rest/146096) / 365
	rest -= 365*year + year/4 - year/100
	month := (5*rest + 2) / 153
	d = rest - (153*month+2)/5 + 1
	y, m = 400*era+year, month+3
	if m > 12 {
		y, m = y+1, m-12
	}
	return y, m, d
}

func isoOf(day int) string {
	y, m, d := dateOf(day)
	return fmt.Sprintf("%04d-%02d-%02d", y, m, d)
}

var months = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September",
	"October", "November", "December"}

// saidDay writes a day as the screens do: 18 May 2024.
func saidDay(day int) string {
	y, m, d := dateOf(day)
	return fmt.Sprintf("%d %s %d", d, months[m-1], y)
}
