package condition

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/refuse"
)

func car(volts float64, ballast bool) Car { return Car{NominalV: &volts, Ballasted: &ballast} }

func all(t *testing.T, c Car) []Check {
	t.Helper()
	out, err := List(ListIn{Car: c})
	if err != nil {
		t.Fatal(err)
	}
	return out.Checks
}

func measureOf(t *testing.T, c Car, id string) Measure {
	t.Helper()
	for _, k := range all(t, c) {
		for _, m := range k.Measures {
			if m.ID == id {
				return m
			}
		}
	}
	t.Fatalf("no measure %s", id)
	return Measure{}
}

// Every check B1 to B30 is there once, says how, what a fail means and where
// each limit comes from.
func TestEveryCheckIsWhole(t *testing.T) {
	seen := map[string]int{}
	for _, k := range all(t, car(12, false)) {
		seen[k.ID]++
		if k.Title == "" || k.How == "" || k.FailText == "" || len(k.Measures) == 0 {
			t.Errorf("%s: %+v", k.ID, k)
		}
		for _, m := range k.Measures {
			seen[m.ID+" measure"]++
			if !strings.HasPrefix(m.ID, k.ID) || m.Title == "" || m.Accept == "" {
				t.Errorf("%s: %+v", k.ID, m)
			}
			if m.Kind == "figure" && (m.Unit == "" || m.Limit == nil || m.Limit.Source == "" || !m.Limit.Thumb ||
				m.Limit.check() != nil) {
				t.Errorf("%s: %+v %+v", k.ID, m, m.Limit)
			}
		}
	}
	for i := 1; i <= 30; i++ {
		if id := fmt.Sprintf("B%d", i); seen[id] != 1 {
			t.Errorf("%s stands %d times", id, seen[id])
		}
	}
	for id, n := range seen {
		if n != 1 {
			t.Errorf("%s stands %d times", id, n)
		}
	}
}

// Where a running engine, high tension or a hot coil can hurt, a caution stands.
func TestCautionsStandWhereTheyMust(t *testing.T) {
	for _, k := range all(t, car(12, true)) {
		for _, word := range []string{"ignition on", "cranking", "idle", "spark"} {
			if strings.Contains(strings.ToLower(k.How), word) && k.Caution == "" {
				t.Errorf("%s says %q and carries no caution", k.ID, word)
			}
		}
	}
}

func TestLimitsFollowTheCar(t *testing.T) {
	if l := measureOf(t, car(6, false), "B22.cranking").Limit; *l.PassMin != 4.8 {
		t.Errorf("6 V cranking: %+v", l)
	}
	if l := measureOf(t, car(6, false), "B23").Limit; *l.PassMin != 6.9 || *l.PassMax != 7.4 {
		t.Errorf("6 V charging: %+v", l)
	}
	if l := measureOf(t, car(12, true), "B24").Limit; *l.PassMin != 4.5 || *l.PassMax != 6.9 {
		t.Errorf("ballasted feed: %+v", l)
	}
	if l := measureOf(t, car(12, false), "B24").Limit; *l.PassMax != 0.3 {
		t.Errorf("plain feed: %+v", l)
	}
	if m := measureOf(t, Car{}, "B24"); m.Limit != nil || m.Accept == "" {
		t.Errorf("unknown stays unknown: %+v", m)
	}
	// 1 inHg less for each 1000 ft (US Army TM 9-4910-677-14&P).
	high := Car{AltitudeM: at(1524)}
	if l := measureOf(t, high, "B30").Limit; *l.PassMin < 11.999 || *l.PassMin > 12.001 {
		t.Errorf("5000 ft: %+v", l)
	}
	if l := measureOf(t, Car{}, "B30").Limit; *l.PassMin != 17 {
		t.Errorf("the list itself was changed: %+v", l)
	}
}

func one(t *testing.T, r Result) Judged {
	t.Helper()
	out, err := Judge(JudgeIn{Car: car(12, false), Results: []Result{r}})
	if err != nil {
		t.Fatal(err)
	}
	return out.Results[0]
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		measure string
		value   float64
		verdict string
	}{
		{"B1", 0.003, "pass"}, {"B1", 0.005, "watch"}, {"B1", 0.011, "fail"},
		{"B11", 0.1, "pass"}, {"B11", 0.15, "watch"}, {"B11", 0.21, "fail"},
		{"B14", 2, "pass"}, {"B14", 3.5, "fail"}, {"B15.capacity", 0.2, "pass"}, {"B15.capacity", 0.16, "watch"},
		{"B15.capacity", 0.1, "fail"}, {"B15.series", 1, "pass"},
		{"B22.standing", 12.4, "pass"}, {"B22.cranking", 8, "fail"}, {"B25", 0.05, "pass"}, {"B27", 22, "fail"},
		{"B29", 12, "fail"}, {"B30", 16, "watch"},
	} {
		if j := one(t, Result{Measure: c.measure, Value: &c.value}); j.Verdict != c.verdict || j.Text == "" ||
			j.Source == "" {
			t.Errorf("%s %v: %+v", c.measure, c.value, j)
		}
	}
	if j := one(t, Result{Measure: "B10", Value: at(22),
		Own: &Limit{PassMin: at(23), PassMax: at(27)}}); j.Verdict != "fail" || !j.Own {
		t.Errorf("own limit: %+v", j)
	}
	if j := one(t, Result{Measure: "B5", Seen: "bad"}); j.Verdict != "fail" {
		t.Errorf("look: %+v", j)
	}
	if j := one(t, Result{Measure: "B5", Skipped: "no time"}); j.Verdict != "unknown" ||
		!strings.Contains(j.Text, "no time") {
		t.Errorf("skipped: %+v", j)
	}
}

func TestTheWhole(t *testing.T) {
	out, err := Judge(JudgeIn{Car: car(12, false), Results: []Result{{Measure: "B1", Value: at(0.002)}}})
	if err != nil || out.Verdict != "unknown" || len(out.Left) != 29 || out.Left[0] != "B22" {
		t.Errorf("most not done: %+v (%v)", out, err)
	}
	var results []Result
	for _, k := range all(t, car(12, false)) {
		for _, m := range k.Measures {
			r := Result{Measure: m.ID, Seen: "good"}
			if m.Kind == "figure" {
				x := m.Limit.PassMin
				if x == nil {
					x = m.Limit.PassMax
				}
				r = Result{Measure: m.ID, Value: x}
			}
			results = append(results, r)
		}
	}
	out, err = Judge(JudgeIn{Car: car(12, false), Results: results})
	if err != nil || out.Verdict != "pass" || len(out.Findings) != 0 || len(out.Left) != 0 {
		t.Errorf("all good: %s %+v %v (%v)", out.Verdict, out.Findings, out.Left, err)
	}
	results[len(results)-1] = Result{Measure: results[len(results)-1].Measure, Skipped: "no meter"}
	if out, _ := Judge(JudgeIn{Car: car(12, false), Results: results}); out.Verdict != "unknown" ||
		len(out.Skipped) != 1 {
		t.Errorf("one skipped: %s", out.Verdict)
	}
	results[0] = Result{Measure: results[0].Measure, Value: at(5)}
	if out, _ := Judge(JudgeIn{Car: car(12, false), Results: results}); out.Verdict != "fail" ||
		out.Findings[0].Verdict != "fail" {
		t.Errorf("one bad: %s", out.Verdict)
	}
}

// One is one, and nothing that is none is counted up.
func TestTheSummaryCountsInWords(t *testing.T) {
	var results []Result
	for _, k := range all(t, car(12, false)) {
		for _, m := range k.Measures {
			results = append(results, Result{Measure: m.ID, Skipped: "no time"})
		}
	}
	for _, c := range []struct {
		results []Result
		says    string
	}{
		{results[:1], "30 checks are still to be done and 1 result was skipped."},
		{nil, "30 checks are still to be done."},
		{results[1:], "1 check is still to be done and 37 results were skipped."},
		{results, "38 results were skipped."},
		{[]Result{{Measure: "B22.standing", Value: at(126)}, {Measure: "B22.cranking", Value: at(10)}},
			"29 checks are still to be done and 1 figure could not be judged."},
	} {
		if out, err := Judge(JudgeIn{Car: car(12, false), Results: c.results}); err != nil ||
			out.Summary != "Nothing bad so far; "+c.says {
			t.Errorf("%d results: %q (%v)", len(c.results), out.Summary, err)
		}
	}
}

func TestVerdictNeverImprovesAwayFromTheLimit(t *testing.T) {
	weight := map[string]int{"pass": 0, "watch": 1, "fail": 2}
	rapid.Check(t, func(t *rapid.T) {
		l := most(rapid.Float64Range(0, 1).Draw(t, "pass"), rapid.Float64Range(1, 2).Draw(t, "watch"), "")
		x, y := rapid.Float64Range(0, 3).Draw(t, "x"), rapid.Float64Range(0, 3).Draw(t, "more")
		if weight[l.verdict(x+y)] < weight[l.verdict(x)] {
			t.Fatalf("%v is %s, %v is %s", x, l.verdict(x), x+y, l.verdict(x+y))
		}
	})
}

func TestRefusals(t *testing.T) {
	nine := 9.0
	for name, in := range map[string]JudgeIn{
		"volts":       {Car: Car{NominalV: &nine}},
		"no measure":  {Results: []Result{{Measure: "B99", Value: &nine}}},
		"nothing":     {Results: []Result{{Measure: "B1"}}},
		"two":         {Results: []Result{{Measure: "B1", Value: &nine, Seen: "good"}}},
		"twice":       {Results: []Result{{Measure: "B1", Value: &nine}, {Measure: "B1", Value: &nine}}},
		"look figure": {Results: []Result{{Measure: "B5", Value: &nine}}},
		"figure look": {Results: []Result{{Measure: "B1", Seen: "good"}}},
		"own upside":  {Results: []Result{{Measure: "B1", Value: &nine, Own: &Limit{PassMin: at(3), PassMax: at(2)}}}},
		"own no ends": {Results: []Result{{Measure: "B1", Value: &nine, Own: &Limit{}}}},
	} {
		_, err := Judge(in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field == "" || bad.Limit == "" || bad.Do == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A figure that cannot be is asked about and never judged, whichever way it
// lies; what can be is judged as before. The page's hint and the judgement
// stand on the same bounds.
func TestAnAbsurdFigureIsNeverJudged(t *testing.T) {
	for _, k := range all(t, car(12, false)) {
		for _, m := range k.Measures {
			if m.Kind != "figure" {
				continue
			}
			if m.Possible == nil || m.Possible.Low >= m.Possible.High {
				t.Errorf("%s: no bounds of what can be: %+v", m.ID, m.Possible)
				continue
			}
			for _, x := range []float64{m.Possible.Low - 1, m.Possible.High * 1.5, -50} {
				if x >= m.Possible.Low && x <= m.Possible.High {
					continue
				}
				if j := one(t, Result{Measure: m.ID, Value: &x}); j.Verdict != "unknown" ||
					!strings.Contains(j.Text, "not judged") {
					t.Errorf("%s %v: %+v", m.ID, x, j)
				}
			}
			for _, end := range []*float64{m.Limit.PassMin, m.Limit.PassMax, m.Limit.WatchMin, m.Limit.WatchMax} {
				if end != nil && (*end < m.Possible.Low || *end > m.Possible.High) {
					t.Errorf("%s: its own limit %v cannot be: %+v", m.ID, *end, m.Possible)
				}
			}
		}
	}
	if j := one(t, Result{Measure: "B22.standing", Value: at(126)}); j.Verdict != "unknown" {
		t.Errorf("126 V: %+v", j)
	}
	out, err := Judge(JudgeIn{Car: car(6, false), Results: []Result{{Measure: "B22.standing", Value: at(12.6)}}})
	if err != nil || out.Results[0].Verdict != "unknown" {
		t.Errorf("12.6 V standing on 6 V: %+v %v", out.Results, err)
	}
	if j := one(t, Result{Measure: "B22.standing", Value: at(126),
		Own: &Limit{PassMin: at(12)}}); j.Verdict != "unknown" {
		t.Errorf("an own limit does not make it possible: %+v", j)
	}
}

// The rows are numbered as shown; what is read never names a check by its id.
func TestNothingReadNamesACheckByItsID(t *testing.T) {
	id := regexp.MustCompile(`\bB[0-9]+\b`)
	for _, k := range all(t, car(12, false)) {
		read := []string{k.Title, k.How, k.Caution, k.FailText}
		for _, m := range k.Measures {
			read = append(read, m.Title, m.Accept, m.Limit.sourceOrNone())
		}
		for _, line := range read {
			if id.MatchString(line) {
				t.Errorf("%s: %q", k.ID, line)
			}
		}
	}
}

func (l *Limit) sourceOrNone() string {
	if l == nil {
		return ""
	}
	return l.Source
}
