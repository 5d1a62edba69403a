package paper

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// tenth writes a figure to one decimal, as degrees are read; a true minus
// sign, and never "-0.0".
func tenth(x float64) string { return minus(strconv.FormatFloat(x, 'f', 1, 64)) }

// short writes a figure with at most two decimals and no idle zeros.
func short(x float64) string {
	return minus(strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64))
}

// rpm writes a speed to the nearest turn.
func rpm(x float64) string {
	digits := strconv.Itoa(int(math.Round(x)))
	if len(digits) < 5 {
		return digits
	}
	// SI brochure 5.4.4: thousands are set apart from five digits on
	return digits[:len(digits)-3] + "\u202f" + digits[len(digits)-3:]
}

func minus(digits string) string {
	if strings.Trim(digits, "-0.") == "" {
		return strings.TrimPrefix(digits, "-")
	}
	return strings.Replace(digits, "-", "\u2212", 1)
}

// beforeTDC writes a crank angle with its side spelled out.
func beforeTDC(deg float64) string {
	size := tenth(math.Abs(deg))
	switch {
	case size == "0.0":
		return size + "° at TDC"
	case deg < 0:
		return size + "° after TDC"
	}
	return size + "° before TDC"
}

var months = strings.Fields("January February March April May June July August September October November December")

// day writes YYYY-MM-DD as "18 May 2024", and what is no date as it is.
func day(date string) string {
	var y, m, d int
	if n, err := fmt.Sscanf(date, "%4d-%2d-%2d", &y, &m, &d); n != 3 || err != nil || m < 1 || m > 12 {
		return date
	}
	return fmt.Sprintf("%d %s %d", d, months[m-1], y)
}
