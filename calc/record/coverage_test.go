package record

import (
	"math"
	"math/rand/v2"
	"testing"
)

// tellers: a dwell meter; a strobe, where a degree of dwell is half to one and
// a half of the crank. Errors and slips are drawn otherwise than believed.
var tellers = map[string]teller{
	"dwell": {figure: func(_ *world, d float64) float64 { return d }, spread: 0.5, digit: 0.5, slip: 4},
	"base":  {figure: func(w *world, d float64) float64 { return 70 - d*w.steepness }, spread: 0.9, digit: 1, slip: 4},
}

const stories = 1000

// counted is how often what was told held the truth; ahead counts those alone
// whose limit has a first and a last mile before it.
type counted struct {
	rate, due, ahead, aheadHeld, early, late int
	width                                    float64
}

// TestIntervalsHoldTheTruth: nine in ten are asked for. With 1,000 stories
// chance alone is ±1 in 100 (one standard deviation), and the world is another
// one than the rule believes in: 86 to 95 in 100 are taken for the rate. Of
// what is due, more may be held: where the limit is passed already, or may stay
// away for good, an end of the interval is no figure and cannot be missed.
func TestIntervalsHoldTheTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("1,000 stories each")
	}
	for what, by := range tellers {
		for _, axis := range []string{byMiles, byDate} {
			c := count(what, axis, by)
			ahead := float64(c.aheadHeld) / float64(c.ahead)
			t.Logf("%s by %s: rate %d, due %d of %d; ahead with both ends %d of %d (%.3f; too early %d, too late %d); mean width of rate %.2f",
				what, axis, c.rate, c.due, stories, c.aheadHeld, c.ahead, ahead, c.early, c.late,
				c.width/stories)
			if c.rate < 860 || c.rate > 950 {
				t.Errorf("%s by %s: the rate holds the truth %d times in 1,000", what, axis, c.rate)
			}
			if c.due < 860 || c.due > 990 || ahead < 0.83 {
				t.Errorf("%s by %s: what is due holds the truth %d times in 1,000, %.3f ahead", what, axis, c.due,
					ahead)
			}
		}
	}
}

// count tells stories until 1,000 of them have a rate: where every reading
// stands alone on its line there is none.
func count(what, axis string, by teller) (c counted) {
	rng := rand.New(rand.NewPCG(7, 19))
	for told := 0; told < stories; {
		s := tell(rng, by)
		s.in.What = what
		perX, first := 1.0, 0.0
		if axis == byDate {
			perX, first = s.byDates(rng)
		}
		out, err := Drift(s.in)
		if err != nil || out.Low == nil {
			continue
		}
		told++
		c.add(out, s, perX, first)
	}
	return c
}

// byDates puts days in place of miles, for a car of 800 to 4,000 miles a year,
// and gives its thousand miles a year and the miles of day 0, in thousands.
func (s *story) byDates(rng *rand.Rand) (perYear, first float64) {
	perYear = 0.8 + 3.2*rng.Float64()
	zero := dayNumber(2000, 1, 1)
	first = *s.in.Points[0].Miles / 1000
	for i := range s.in.Points {
		p := &s.in.Points[i]
		x := (*p.Miles/1000 - first) / perYear
		p.Miles, p.Date = nil, isoOf(zero+int(math.Round(x*daysPerX)))
	}
	return perYear, first - float64(zero)/daysPerX*perYear
}

// add holds one answer against the truth, both in thousand miles.
func (c *counted) add(out DriftOut, s story, perX, first float64) {
	c.width += *out.High - *out.Low
	if rate := s.rate * perX; *out.Low <= rate && rate <= *out.High {
		c.rate++
	}
	low, high := math.Inf(1), math.Inf(1)
	if d := out.DueMiles; d != nil {
		low = d.Low / 1000
		if d.High != nil {
			high = *d.High / 1000
		}
	}
	if d := out.DueDate; d != nil {
		day := func(text string) float64 {
			n, _ := dayOf("", text)
			return first + float64(n)/daysPerX*perX
		}
		low = day(d.Low)
		if d.High != "" {
			high = day(d.High)
		}
	}
	slack := 1.0 / 1000 // a mile, or a day: places are whole
	if out.DueDate != nil {
		slack = perX / daysPerX
	}
	due := max(s.due, s.last) // a limit passed before is due now
	held := low <= due+slack && high >= due-slack
	switch {
	case held:
		c.due++
	case low > due+slack:
		c.late++
	default:
		c.early++
	}
	if low > s.last+slack && !math.IsInf(high, 1) {
		c.ahead++
		if held {
			c.aheadHeld++
		}
	}
}
