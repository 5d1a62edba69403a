package figures

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pointsmith/calc/refuse"
)

// manyRows is a log of a run up and down again, as an instrument could give it.
func manyRows(n int) string {
	var b strings.Builder
	b.WriteString("engine rpm;crank degrees with base;direction\r\n")
	for i := range n {
		at := float64(i) / float64(n) * 2
		way := "rising"
		if at > 1 {
			at, way = 2-at, "falling"
		}
		rpm := 800 + 4200*at
		fmt.Fprintf(&b, "%s;%s;%s\r\n", strings.Replace(fmt.Sprintf("%.1f", rpm), ".", ",", 1),
			strings.Replace(fmt.Sprintf("%.2f", 8+24*math.Sqrt(at)), ".", ",", 1), way)
	}
	return b.String()
}

// TestAHundredThousandRows: all are read, and which to keep is asked; what is
// kept are rows as they stand.
func TestAHundredThousandRows(t *testing.T) {
	const n = 100_000
	text := manyRows(n)
	out := read(t, text, Hints{})
	if out.RowCount != n || len(out.Rows) != maxReadings || len(out.LeftOut) != 0 {
		t.Fatalf("%d rows, %d shown, left out %v", out.RowCount, len(out.Rows), out.LeftOut)
	}
	if ids := askIDs(out); len(ids) != 1 || ids[0] != "keep" || len(out.Asks[0].Choices) < 3 {
		t.Fatalf("asks %+v", out.Asks)
	}
	out = read(t, text, Hints{Answers: map[string]string{"keep": "250"}})
	if len(out.Asks) > 0 || out.RowCount != n || len(out.Rows) < 30 || len(out.Rows) > 40 || len(out.LeftOut) != 1 {
		t.Fatalf("asks %v, %d rows of %d, left out %v", askIDs(out), len(out.Rows), out.RowCount, out.LeftOut)
	}
	lines := strings.Split(text, "\r\n")
	for _, row := range out.Rows {
		if off := math.Abs(math.Remainder(row.RPM, 250)); off > 62.5 { // a quarter of the step
			t.Errorf("%g rpm is kept, %g off", row.RPM, off)
		}
		want := strings.ReplaceAll(lines[row.Line-1], ",", ".")
		if got := fmt.Sprintf("%.1f;%.2f;%s", row.RPM, *row.Deg, row.Direction); got != want {
			t.Errorf("line %d is %q, read as %q", row.Line, want, got)
		}
	}
}

func BenchmarkHundredThousandRows(b *testing.B) {
	text := manyRows(100_000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read(ReadIn{Text: text}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		in    ReadIn
		field string
	}{
		"empty":     {ReadIn{Text: " \r\n\t"}, "text"},
		"too large": {ReadIn{Text: strings.Repeat("1500,12\n", 1_000_001)}, "text"},
		"zeros":     {ReadIn{Text: "r\x00p\x00\x12\"1500;12"}, "text"},
		"no table":  {ReadIn{Text: "Dear friend, it runs badly since 1961.\nWhat can it be?"}, "text"},
		"no question": {ReadIn{Text: "1500,12", Hints: Hints{Answers: map[string]string{"colour": "red"}}},
			"hints.answers.colour"},
		"no answer": {ReadIn{Text: "1500,12", Hints: Hints{Answers: map[string]string{"base": "maybe"}}},
			"hints.answers.base"},
		"no columns":   {ReadIn{Text: "1500,12", Hints: Hints{Columns: []string{isSpeed, isSpeed}}}, "hints.columns"},
		"more columns": {ReadIn{Text: "1500" + strings.Repeat(",12", 80)}, "text"},
		"short hint": {ReadIn{Text: "a;b;c\n1500;12;14", Hints: Hints{Columns: []string{isSpeed, isDeg}}},
			"hints.columns"},
	} {
		_, err := Read(c.in)
		if bad := new(refuse.Error); !errors.As(err, &bad) || bad.Field != c.field || bad.Do == "" || bad.Limit == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// FuzzRead: whatever the text, it is read, asked or refused, in time, and no
// line that was read has no place in the text.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"rpm;deg\n800;8,5\n", "\"a\n1500,12\r\"\"", "1,500,12\n2,000,14",
		"\ufeff1500 12-14\n\n# x\n",
		"a\x00b\x00", "rpm|deg\n1500|12 to\n", strings.Repeat(`"x`, 50), "speed\t500\t900\ndeg\t1\t4\n",
		"1500;12\ufffd"} {
		f.Add(seed, "", "")
	}
	f.Fuzz(func(t *testing.T, text, id, answer string) {
		hints := Hints{}
		if id != "" {
			hints.Answers = map[string]string{id: answer}
		}
		out, err := Read(ReadIn{Text: text, Hints: hints})
		if bad := new(refuse.Error); err != nil && !errors.As(err, &bad) {
			t.Fatal(err)
		}
		lines := 1 + strings.Count(strings.ReplaceAll(text, "\r\n", "\n"), "\n") + strings.Count(text, "\r")
		for _, row := range out.Rows {
			if row.Line < 1 || row.Line > lines || row.RPM < leastRPM || row.RPM > mostRPM ||
				row.Deg == nil && row.MinDeg == nil && row.MaxDeg == nil {
				t.Fatalf("row %+v of %d lines", row, lines)
			}
		}
	})
}
