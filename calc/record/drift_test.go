package record

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pointsmith/calc/refuse"
)

func miles(m, value float64) Point { return Point{Miles: &m, Value: value} }

func day(date string, value float64) Point { return Point{Date: date, Value: value} }

func answer(t *testing.T, in DriftIn) DriftOut {
	t.Helper()
	out, err := Drift(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestRefusals(t *testing.T) {
	a, b := miles(1000, 60), miles(2000, 61)
	both := func(m float64, date string) Point { return Point{Miles: &m, Date: date, Value: 60} }
	for name, c := range map[string]struct {
		in    DriftIn
		field string
	}{
		"neither":               {DriftIn{Points: []Point{a, {Value: 60}}}, "points[1].miles"},
		"miles fall":            {DriftIn{Points: []Point{b, a}}, "points[1].miles"},
		"miles fall past a gap": {DriftIn{Points: []Point{b, day("2024-01-01", 60), a}}, "points[2].miles"},
		"no such month":         {DriftIn{Points: []Point{day("2024-13-01", 60)}}, "points[0].date"},
		"no leap day":           {DriftIn{Points: []Point{day("2023-02-29", 60)}}, "points[0].date"},
		"another way of dates":  {DriftIn{Points: []Point{day("18.05.2024", 60)}}, "points[0].date"},
		"days fall": {DriftIn{Points: []Point{day("2024-05-18", 60), day("2023-05-18", 60)}},
			"points[1].date"},
		"days fall where miles rise": {DriftIn{Points: []Point{both(1, "2024-05-18"), both(2, "2024-05-17")}},
			"points[1].date"},
		"after today":      {DriftIn{Today: "2024-05-18", Points: []Point{day("2024-05-19", 60)}}, "points[0].date"},
		"today no day":     {DriftIn{Today: "today", Points: []Point{a}}, "today"},
		"odometer now":     {DriftIn{MilesNow: num(1500), Points: []Point{a, b}}, "milesNow"},
		"no dwell":         {DriftIn{What: "dwell", Points: []Point{miles(1, 361)}}, "points[0].value"},
		"no base":          {DriftIn{What: "base", Points: []Point{miles(1, -41)}}, "points[0].value"},
		"no limit of it":   {DriftIn{What: "base", Points: []Point{a}, Limit: &Limit{Min: num(-50)}}, "limit.min"},
		"nor above":        {DriftIn{What: "base", Points: []Point{a}, Limit: &Limit{Max: num(70)}}, "limit.max"},
		"an empty limit":   {DriftIn{Points: []Point{a}, Limit: &Limit{}}, "limit"},
		"upside down":      {DriftIn{Points: []Point{a}, Limit: &Limit{Min: num(3), Max: num(2)}}, "limit.min"},
		"too fine to read": {DriftIn{What: "dwell", ReadingError: num(1e-6), Points: []Point{a}}, "readingError"},
	} {
		_, err := Drift(c.in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != c.field || bad.Do == "" || bad.Limit == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Nothing is made of readings that tell nothing, and it is said why.
func TestSilence(t *testing.T) {
	set := func(p Point) Point { p.Reset = "adjusted"; return p }
	for name, c := range map[string]struct {
		in  DriftIn
		why string
	}{
		"one": {DriftIn{What: "dwell", Points: []Point{miles(1, 60)}}, "One reading tells no drift"},
		"one, twice": {DriftIn{What: "dwell", Points: []Point{miles(1, 60), miles(1, 60)}},
			"One reading tells no drift"},
		"no miles":      {DriftIn{What: "dwell", Points: []Point{miles(1, 60), miles(1, 61)}}, "no miles between"},
		"hardly a mile": {DriftIn{What: "dwell", Points: []Point{miles(1, 60), miles(1.01, 61)}}, "no miles between"},
		"no days": {DriftIn{Points: []Point{day("2024-05-18", 60), day("2024-05-18", 61)}},
			"no days between"},
		"always set":   {DriftIn{What: "base", Points: []Point{miles(1, 8), set(miles(900, 8))}}, "stands alone"},
		"no error":     {DriftIn{Points: []Point{miles(1, 8), miles(900, 9)}}, "Give the reading error"},
		"on a line":    {DriftIn{Points: []Point{miles(0, 8), miles(900, 9), miles(1800, 10)}}, "to the last digit"},
		"all the same": {DriftIn{Points: []Point{miles(0, 8), miles(900, 8), miles(1800, 8)}}, "to the last digit"},
	} {
		out := answer(t, c.in)
		if !strings.Contains(out.Why, c.why) || out.Low != nil || out.High != nil || out.PerThousandMiles != nil ||
			out.DueMiles != nil || out.DueDate != nil || out.State != "unknown" || out.Basis != "none" ||
			out.Text == "" {
			t.Errorf("%s: %+v", name, out)
		}
	}
}

// Two readings far apart tell something, near together next to nothing, and
// the interval is never without width.
func TestTwoReadings(t *testing.T) {
	limit := &Limit{Max: num(63)}
	far := answer(t, DriftIn{What: "dwell", Points: []Point{miles(0, 59), miles(6000, 61)}, Limit: limit})
	near := answer(t, DriftIn{What: "dwell", Points: []Point{miles(0, 59), miles(10, 59)}, Limit: limit})
	if far.Basis == "usual" || near.Basis != "usual" || *far.High-*far.Low < 0.1 ||
		*near.High-*near.Low < 2**far.High-2**far.Low {
		t.Errorf("far %v to %v (%s), near %v to %v (%s)", *far.Low, *far.High, far.Basis, *near.Low, *near.High,
			near.Basis)
	}
	// of other figures nothing is known: the reading error is all that speaks, √2 times it over the distance
	e := 0.2
	free := answer(t, DriftIn{Points: []Point{miles(0, 1), miles(2000, 2)}, ReadingError: &e})
	half := (*free.High - *free.Low) / 2
	least := 1.6449 * e * math.Sqrt2 / 2 // 90 % of a normal spread
	if math.Abs(*free.PerThousandMiles-0.5) > 1e-12 || half < 0.98*least || half > 1.3*least {
		t.Errorf("%v ± %v, at least ± %v", *free.PerThousandMiles, half, least)
	}
}

// What is due now, ahead, or never.
func TestStates(t *testing.T) {
	rising := []Point{miles(1000, 58), miles(3000, 59.5), miles(5000, 61), miles(7000, 62)}
	ask := func(l Limit, now *float64) DriftOut {
		return answer(t, DriftIn{What: "dwell", Points: rising, Limit: &l, MilesNow: now})
	}
	if out := ask(Limit{Min: num(55), Max: num(66)}, nil); out.State != "ahead" || out.DueMiles.Low < 8000 ||
		!strings.Contains(out.Text, "limit of 66°") {
		t.Errorf("ahead: %+v", out)
	}
	if out := ask(Limit{Max: num(60)}, nil); out.State != "due" || out.DueMiles.Low != 7000 ||
		!strings.Contains(out.Text, "due now") {
		t.Errorf("past: %+v", out)
	}
	if out := ask(Limit{Max: num(66)}, num(20000)); out.State != "due" || out.DueMiles.Low != 20000 {
		t.Errorf("past by now: %+v", out)
	}
	if out := ask(Limit{Min: num(45)}, nil); out.State != "no-limit-ahead" || out.DueMiles != nil ||
		!strings.Contains(out.Text, "No limit ahead within 30,000 miles") || out.Why == "" {
		t.Errorf("away: %+v", out)
	}
	if out := answer(t, DriftIn{What: "dwell", Points: rising}); out.State != "unknown" || out.Why == "" ||
		out.Low == nil {
		t.Errorf("no limit: %+v", out)
	}
}

func TestMilesOrDates(t *testing.T) {
	both := func(m float64, date string, value float64) Point { return Point{Miles: &m, Date: date, Value: value} }
	all := []Point{both(1000, "2020-05-01", 59), both(2000, "2021-05-01", 60), both(4000, "2022-05-01", 61)}
	if out := answer(t, DriftIn{What: "dwell", Points: all}); out.PerThousandMiles == nil || out.PerYear != nil ||
		len(out.LeftOut) != 0 {
		t.Errorf("both: %+v", out)
	}
	all[1].Miles = nil
	out := answer(t, DriftIn{What: "dwell", Points: all, Limit: &Limit{Max: num(63)}})
	if out.PerThousandMiles != nil || out.PerYear == nil || out.DueDate == nil || out.DueDate.Low <= "2022-05-01" ||
		len(out.LeftOut) != 0 {
		t.Errorf("a gap in the miles: %+v", out)
	}
	all[2].Date = ""
	all[0].Date = ""
	out = answer(t, DriftIn{What: "dwell", Points: all})
	if out.PerThousandMiles == nil || len(out.LeftOut) != 1 || out.LeftOut[0].Index != 1 ||
		!strings.Contains(strings.Join(out.Notes, " "), "left out") {
		t.Errorf("mixed: %+v", out)
	}
}

// A reading left out still tells that something was done.
func TestAResetIsNotLost(t *testing.T) {
	in := DriftIn{What: "dwell", Points: []Point{miles(0, 59), miles(1000, 60), {Date: "2024-05-18", Value: 57,
		Reset: "adjusted"}, miles(2000, 57), miles(3000, 58)}}
	h, _ := readHistory(in)
	if h.lines != 2 || len(h.leftOut) != 1 {
		t.Errorf("%+v", h)
	}
	if out := answer(t, in); *out.Low < 0 {
		t.Errorf("the setting is taken for drift: %+v", out)
	}
}

func TestASlipIsNamedAndHardlyCounts(t *testing.T) {
	with := []Point{miles(0, 59), miles(1000, 59.5), miles(2000, 68), miles(3000, 60.5), miles(4000, 61)}
	out := answer(t, DriftIn{What: "dwell", Points: with})
	without := answer(t, DriftIn{What: "dwell", Points: append(with[:2:2], with[3:]...)})
	if len(out.Doubtful) != 1 || out.Doubtful[0].Index != 2 || len(without.Doubtful) != 0 ||
		math.Abs(*out.PerThousandMiles-*without.PerThousandMiles) > 0.1 {
		t.Errorf("%+v\n%+v", out, without)
	}
}

// The first miles of new points are not taken for what comes after.
func TestBeddingInIsNoDrift(t *testing.T) {
	points := []Point{miles(0, 58), miles(500, 59.5), miles(2500, 59.5), miles(4500, 60)}
	plain := answer(t, DriftIn{What: "dwell", Points: points})
	points[0].Reset = "new-points"
	fresh := answer(t, DriftIn{What: "dwell", Points: points})
	if *fresh.PerThousandMiles >= *plain.PerThousandMiles || *fresh.PerThousandMiles > 0.3 ||
		!strings.Contains(strings.Join(fresh.Notes, " "), "bed in") {
		t.Errorf("new %v, unsaid %v", *fresh.PerThousandMiles, *plain.PerThousandMiles)
	}
}

func TestWords(t *testing.T) {
	for name, c := range map[string]struct {
		in   DriftIn
		want []string
	}{
		"later": {DriftIn{What: "base", Points: []Point{miles(0, 8), miles(3000, 5), miles(6000, 2)}},
			[]string{"Base comes later by 0.9° in 1,000 miles ("}},
		"not told": {DriftIn{What: "base", Points: []Point{miles(0, 8), miles(300, 8)}},
			[]string{"Base: which way it goes is not told yet, from −"}},
		"named": {DriftIn{Name: "side play", Unit: "mm", Limit: &Limit{Max: num(0.2)},
			Points: []Point{miles(0, 0.1), miles(1000, 0.11), miles(2000, 0.12), miles(3000, 0.131),
				miles(4000, 0.14)}},
			[]string{"Side play rises by 0.0101 mm in 1,000 miles (0.0097 mm to", "Check again by 9,",
				"limit of 0.2 mm"}},
		"a date": {DriftIn{What: "dwell", Limit: &Limit{Max: num(65)}, Points: []Point{day("2020-05-01", 58),
			day("2021-05-01", 59), day("2022-05-01", 60), day("2023-05-01", 61.5)}},
			[]string{"in a year (", "Check again by ", " 202"}},
	} {
		out := answer(t, c.in)
		for _, want := range c.want {
			if !strings.Contains(out.Text, want) {
				t.Errorf("%s: %q says no %q", name, out.Text, want)
			}
		}
	}
}

// Days are those of the calendar, by the standard library's own reckoning.
func TestDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 117000).Draw(t, "days"))
		n, bad := dayOf("", at.Format(time.DateOnly))
		next, badNext := dayOf("", at.AddDate(0, 0, 1).Format(time.DateOnly))
		if bad != nil || badNext != nil || next != n+1 || isoOf(n) != at.Format(time.DateOnly) ||
			saidDay(n) != at.Format("2 January 2006") {
			t.Fatalf("%s is %d, %s; the next %d (%v %v)", at, n, isoOf(n), next, bad, badNext)
		}
	})
}

// The ends of what may be entered give figures, or say why not.
func TestExtremes(t *testing.T) {
	many := DriftIn{What: "dwell", Limit: &Limit{Min: num(50), Max: num(66)}}
	for i := range 60 {
		p := miles(400*float64(i), 59+2*float64(i%2)+float64(i%10)/10)
		if i%10 == 0 {
			p.Reset = "new-points"
		}
		many.Points = append(many.Points, p)
	}
	for name, in := range map[string]DriftIn{
		"sixty": many,
		"huge": {Points: []Point{miles(0, -1e9), miles(0.1, 1e9), miles(2e6, 1e9), miles(2e6, -1e9)},
			Limit: &Limit{Max: num(1)}},
		"fine": {Points: []Point{miles(0, 1), miles(2e6, 1)}, ReadingError: num(1e-6), Limit: &Limit{Max: num(1)}},
		"far": {What: "dwell", Points: []Point{miles(0, 0), miles(2e6, 360)}, ReadingError: num(0.01),
			Limit: &Limit{Max: num(360)}},
		"near": {What: "base", Points: []Point{miles(0, -40), miles(0.1, 60)}, ReadingError: num(0.01),
			MilesNow: num(2e6), Limit: &Limit{Min: num(-40)}},
		"centuries": {What: "base", Points: []Point{day("1880-01-01", 8), day("2200-12-31", 7)},
			Limit: &Limit{Min: num(4)}},
	} {
		out := answer(t, in)
		for _, x := range []*float64{out.PerThousandMiles, out.PerYear, out.Low, out.High} {
			if x != nil && (math.IsNaN(*x) || math.IsInf(*x, 0)) {
				t.Errorf("%s: %+v", name, out)
			}
		}
		if out.Low == nil || !(*out.Low < *out.High) || strings.Contains(out.Text, "NaN") {
			t.Errorf("%s: %+v", name, out)
		}
		if d := out.DueMiles; d != nil && (math.IsNaN(d.Low) || d.High != nil && !(d.Low <= *d.High)) {
			t.Errorf("%s: due %+v", name, d)
		}
	}
}

// BenchmarkSixty is the longest record that is taken.
func BenchmarkSixty(b *testing.B) {
	in := DriftIn{What: "dwell", Limit: &Limit{Max: num(66)}}
	for i := range 60 {
		in.Points = append(in.Points, miles(400*float64(i), 59+float64(i%4)/2))
	}
	for b.Loop() {
		if _, err := Drift(in); err != nil {
			b.Fatal(err)
		}
	}
}
