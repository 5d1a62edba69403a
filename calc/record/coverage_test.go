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

// counted is how often what was told held the truth; ahead counts those alone
// whose limit has a first and a last mile before it, pairs those of two readings.
type counted struct {
	stories, rate, due, ahead, aheadHeld, pairs, pairsHeld, early, late int
	width                                                               float64
}

// TestIntervalsHoldTheTruth: nine in ten are asked for. The world is another
// one than the rule believes in, so one in 100 less is taken and four more, and
// three standard deviations of chance. Of what is due more may be held: where the
// limit is passed already, or may stay away for good, an end of the interval is
// no figure and cannot be missed; 99 in 100 are too many.
func TestIntervalsHoldTheTruth(t *testing.T) {
	for what, by := range tellers {
		for _, axis := range []string{byMiles, byDate} {
			c := count(what, axis, by)
			t.Logf("%s by %s: rate %d, due %d of %d; of two readings rate %d of %d; ahead with both ends %d of %d; too early %d, too late %d; mean width of rate %.2f",
				what, axis, c.rate, c.due, c.stories, c.pairsHeld, c.pairs, c.aheadHeld, c.ahead, c.early, c.late,
				c.width/float64(c.stories))
			name := what + " by " + axis
			holds(t, name+": rate", c.rate, c.stories, 0.94)
			holds(t, name+": rate of two readings", c.pairsHeld, c.pairs, 0.97)
			holds(t, name+": due", c.due, c.stories, 0.99)
			holds(t, name+": due, both ends ahead", c.aheadHeld, c.ahead, 0.99)
		}
	}
}

func holds(t *testing.T, what string, held, of int, most float64) {
	t.Helper()
	if of < 10 {
		return
	}
	share, chance := float64(held)/float64(of), 3*math.Sqrt(statedRate*(1-statedRate)/float64(of))
	if share < statedRate-0.01-chance || share > most+chance {
		t.Errorf("%s holds the truth %d times in %d", what, held, of)
	}
}

// count tells stories until enough of them have a rate: where every reading
// stands alone on its line there is none.
func count(what, axis string, by teller) (c counted) {
	rng := rand.New(rand.NewPCG(7, 19))
	for c.stories < stories(axis) {
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
	c.stories++
	c.width += *out.High - *out.Low
	if rate := s.rate * perX; *out.Low <= rate && rate <= *out.High {
		c.rate++
		if len(s.in.Points) == 2 {
			c.pairsHeld++
		}
	}
	if len(s.in.Points) == 2 {
		c.pairs++
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
