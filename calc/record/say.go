package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"pointsmith/calc/finding"
)

// words turns the figures into sentences, and concludes nothing.
type words struct {
	in DriftIn
	h  history
	b  belief
}

// write fills in what is due and everything that is said.
func (w words) write(out *DriftOut, m mixture, r interval, f forecast) {
	out.State = f.state
	said := w.rate(r)
	switch {
	case w.in.Limit == nil:
		out.Why = "No limit was given, so nothing can be said of when it is due."
	case f.state == "no-limit-ahead":
		out.Why = "No limit ahead " + w.within() + ": it hardly moves, or moves away from it."
		said += " " + out.Why
	default:
		w.dueFigures(out, f)
		said += " " + w.due(f)
	}
	out.Text = said
	out.Notes = w.notes(*out)
	out.Working = w.working(m, *out)
}

// name of the figure at the head of a sentence.
func (w words) name() string {
	switch {
	case w.in.What == "dwell":
		return "Dwell"
	case w.in.What == "base":
		return "Base"
	case strings.TrimSpace(w.in.Name) != "":
		return capital(strings.TrimSpace(w.in.Name))
	}
	return "The value"
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// size is a figure with its unit, rounded to the step.
func (w words) size(x, step float64) string {
	digits := max(0, int(-math.Floor(math.Log10(step)+1e-9)))
	text := strings.Replace(strconv.FormatFloat(roundTo(x, step), 'f', digits, 64), "-", "−", 1)
	switch {
	case w.in.What == "dwell" || w.in.What == "base":
		return text + "°"
	case strings.TrimSpace(w.in.Unit) != "":
		return text + " " + strings.TrimSpace(w.in.Unit)
	}
	return text
}

func roundTo(x, step float64) float64 { return math.Round(x/step)*step + 0 }

// stepOf is a power of ten no finer than is of use for an interval: at most its
// quarter, or a twentieth of its larger end where that is more (judgement).
func stepOf(low, high float64) float64 {
	width := max((high-low)/4, max(math.Abs(low), math.Abs(high))/20)
	if width <= 0 {
		return 1
	}
	return math.Pow(10, math.Floor(math.Log10(width)))
}

// rate says how it drifts, and how far that is known.
func (w words) rate(r interval) string {
	per, step := "in 1,000 miles", stepOf(r.low, r.high)
	if w.h.axis == byDate {
		per = "in a year"
	}
	say := func(x float64) string { return w.size(x, step) }
	if r.low < 0 && r.high > 0 {
		return fmt.Sprintf("%s: which way it goes is not told yet, from %s to %s %s.", w.name(), signed(say(r.low)),
			signed(say(r.high)), per)
	}
	up, down := "rises by", "falls by"
	if w.in.What == "base" {
		up, down = "comes earlier by", "comes later by"
	}
	if r.high <= 0 {
		return fmt.Sprintf("%s %s %s %s (%s to %s).", w.name(), down, say(-r.middle), per, say(-r.high), say(-r.low))
	}
	return fmt.Sprintf("%s %s %s %s (%s to %s).", w.name(), up, say(r.middle), per, say(r.low), say(r.high))
}

func signed(s string) string {
	if strings.HasPrefix(s, "−") {
		return s
	}
	return "+" + s
}

// dueFigures puts odometer or days to the forecast.
func (w words) dueFigures(out *DriftOut, f forecast) {
	open := math.IsInf(f.high, 1)
	low, high := w.place(f.low), w.place(f.high)
	if w.h.axis == byMiles {
		out.DueMiles = &MilesDue{Low: low}
		if !open {
			out.DueMiles.High = &high
		}
		return
	}
	out.DueDate = &DateDue{Low: isoOf(int(low))}
	if !open {
		out.DueDate.High = isoOf(int(high))
	}
}

// place is the odometer, or the day number, so far after the last reading:
// whole miles and whole days, down, so that a check is never late by rounding.
func (w words) place(t float64) float64 {
	return math.Floor(w.h.first + (w.h.x[len(w.h.x)-1]+t)*w.h.unit() + 1e-6)
}

// due says when the limit is met.
func (w words) due(f forecast) string {
	limit := w.limit(f)
	open := math.IsInf(f.high, 1)
	isNow := f.low <= w.h.now
	switch {
	case f.state == "due" && f.out >= 1-tail:
		return "It is past its limit of " + limit + ": due now."
	case f.state == "due":
		return "It is most likely past its limit of " + limit + ": due now."
	case isNow && open:
		return fmt.Sprintf("It may be past its limit of %s already: check now. It may also stay inside.", limit)
	case isNow:
		return fmt.Sprintf("It may be past its limit of %s already: check now. By %s it most likely is.", limit,
			w.when(f.high))
	case open:
		return fmt.Sprintf("Check again by %s. It may also never reach its limit of %s.", w.when(f.low), limit)
	}
	return fmt.Sprintf("Check again by %s. It most likely reaches its limit of %s before %s.", w.when(f.low), limit,
		w.when(f.high))
}

func (w words) limit(f forecast) string {
	l := w.in.Limit.Max
	if l == nil || f.isBelow && w.in.Limit.Min != nil {
		l = w.in.Limit.Min
	}
	return w.size(*l, stepOfFigure(*l))
}

// stepOfFigure is the last place a figure was written to, six at most.
func stepOfFigure(x float64) float64 {
	step := 1.0
	for range 6 {
		if math.Abs(x-roundTo(x, step)) < 1e-9*max(1, math.Abs(x)) {
			break
		}
		step /= 10
	}
	return step
}

// when says a place on the odometer as it is of use: to 10 miles when it is
// near, else to 100, rounded down; or the day.
func (w words) when(t float64) string {
	place := w.place(t)
	if w.h.axis == byDate {
		return saidDay(int(place))
	}
	step := 100.0
	if (t-w.h.now)*w.h.unit() < 500 {
		step = 10
	}
	return thousands(max(math.Floor(place/step)*step, w.place(w.h.now))) + " miles"
}

// thousands writes 12345 as 12,345.
func thousands(x float64) string {
	text := strconv.FormatFloat(math.Floor(x), 'f', 0, 64)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

func (w words) within() string {
	if w.h.axis == byDate {
		return fmt.Sprintf("within %d years", horizonYears)
	}
	return fmt.Sprintf("within %s miles", thousands(horizonMiles*milesPerX))
}

// notes say what else is to be known.
func (w words) notes(out DriftOut) []string {
	notes := []string{}
	for _, d := range out.Doubtful {
		p := w.in.Points[d.Index]
		notes = append(notes, fmt.Sprintf("The reading of %s does not go with the others: take it again. It counts for little here.",
			w.size(p.Value, stepOfFigure(p.Value))))
	}
	switch out.Basis {
	case "usual":
		notes = append(notes, "These readings tell little yet: the rate is mostly what is usual for points. Another reading, further on, tells more.")
	case "both":
		notes = append(notes, "The rate rests on these readings and on what is usual for points.")
	}
	if len(w.h.leftOut) > 0 {
		notes = append(notes, finding.Count(len(w.h.leftOut), "reading was", "readings were")+" left out: "+
			w.h.leftOut[0].Because+".")
	}
	if w.b.isFree() && out.Low != nil {
		notes = append(notes, "This takes the drift for a straight line: of bends, of running in and of misread figures nothing is known here.")
	}
	if w.h.axis == byDate && out.PerYear != nil {
		notes = append(notes, "Without the miles of every reading this goes by dates, and only as long as the car is driven as before.")
	}
	if w.isBedding() {
		notes = append(notes, "New points bed in over the first 100 to 500 miles and move more than later on; that is not in the rate.")
	}
	if out.Low != nil && !w.b.isFree() {
		notes = append(notes, "Keep to the usual check at every service all the same. When points are set again, timing is to be done again.")
	}
	return notes
}

// isBedding: some points were fitted new within the record.
func (w words) isBedding() bool {
	if w.b.isFree() {
		return false
	}
	for _, h := range w.h.heels {
		if h.age == heelNew {
			return true
		}
	}
	return false
}

// working gives the rule with these figures in it.
func (w words) working(m mixture, out DriftOut) []string {
	lines := []string{fmt.Sprintf("%s on %s, placed by %s; x in %s.", finding.Count(len(w.h.x), "reading", "readings"),
		finding.Count(w.h.lines, "line", "lines"), w.h.axis,
		map[string]string{byMiles: "1,000 miles", byDate: "years"}[w.h.axis])}
	if out.Low == nil {
		return lines
	}
	if w.b.isFree() {
		lines = append(lines, "Least squares: one slope for all lines, a height for each; nothing is known of it beforehand.")
	} else {
		lines = append(lines, fmt.Sprintf("Before any reading the rate was believed to lie in %.3g to %.3g; now in %.3g to %.3g (nine times in ten).",
			m.usual.low, m.usual.high, *out.Low, *out.High))
	}
	if w.b.readError > 0 {
		lines = append(lines, fmt.Sprintf("Error of a reading: %.3g, one standard deviation.", w.b.readError))
	} else {
		lines = append(lines, "Error of a reading: learned from how far the readings lie off their line.")
	}
	return lines
}
