//go:build !wasm

package figures

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// pythonCells cuts each text with Python's own csv module, which is kept by
// other people. It is wanted for development only.
const pythonCells = `
import csv, io, json, sys
out = []
for c in json.load(sys.stdin):
    out.append(list(csv.reader(io.StringIO(c["text"], newline=""), delimiter=c["sep"], strict=True)))
json.dump(out, sys.stdout)
`

type csvCase struct {
	Text string `json:"text"`
	Sep  string `json:"sep"`
}

func python(t testing.TB) string {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import csv").Run(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("Python is not installed, and CI holds the cells against its csv module: apt-get install python3")
		}
		t.Skip("Python is not installed; install the Debian package python3 to hold the cells against its csv module")
	}
	return python
}

// TestCellsAgainstPythonAndGo cuts random RFC 4180 text with the room's own
// tokenizer, with encoding/csv in its strict mode and with Python's csv module
// in its strict mode.
func TestCellsAgainstPythonAndGo(t *testing.T) {
	rng := rand.New(rand.NewPCG(4180, 1))
	var cases []csvCase
	for range 400 {
		cases = append(cases, randomCSV(rng))
	}
	in, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python(t), "-c", pythonCells)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(in), os.Stderr
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var its [][][]string
	if err := json.Unmarshal(text, &its); err != nil || len(its) != len(cases) {
		t.Fatalf("%d answers, %v", len(its), err)
	}
	cells := 0
	for i, c := range cases {
		var ours [][]string
		for _, rec := range cut(c.Text, c.Sep[0], maxText) {
			ours = append(ours, rec.cells)
			cells += len(rec.cells)
			if rec.lax {
				t.Errorf("%q: quotes that match were taken for such that do not", c.Text)
			}
		}
		reader := csv.NewReader(strings.NewReader(c.Text))
		reader.Comma, reader.FieldsPerRecord = rune(c.Sep[0]), -1
		gos, err := reader.ReadAll()
		if err != nil {
			t.Fatalf("%q: %v", c.Text, err)
		}
		// encoding/csv makes LF of CRLF inside quotes
		if !same(unified(ours), unified(gos)) {
			t.Errorf("%q: ours %q, encoding/csv %q", c.Text, ours, gos)
		}
		if theirs := filledOnly(its[i]); !same(ours, theirs) {
			t.Errorf("%q: ours %q, Python %q", c.Text, ours, theirs)
		}
	}
	if cells < 2000 {
		t.Errorf("only %d cells were compared", cells)
	}
}

// What this room writes, the two read as it was meant.
func TestWrittenTextAgainstGo(t *testing.T) {
	rng := rand.New(rand.NewPCG(4180, 2))
	for range 300 {
		in := randomTable(rng)
		out, err := Write(in)
		if err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(strings.NewReader(out.Text)).ReadAll()
		if err != nil || len(records) != len(in.Rows)+1 {
			t.Fatalf("%q: %d records, %v", out.Text, len(records), err)
		}
		for i, row := range in.Rows {
			last := records[i+1][len(records[i+1])-1]
			if row.Note != "" && last != strings.ReplaceAll(row.Note, "\r\n", "\n") {
				t.Errorf("note %q was written as %q", row.Note, last)
			}
		}
	}
}

func randomCSV(rng *rand.Rand) csvCase {
	sep := oneOf(rng, ",", ";", "\t", "|")
	end := oneOf(rng, "\n", "\r\n")
	var b strings.Builder
	for range 1 + rng.IntN(5) {
		b.WriteString(oneOf(rng, "12", "a", "1500.5")) // no record is empty
		for range rng.IntN(4) {
			b.WriteString(sep)
			if rng.IntN(2) == 0 {
				b.WriteString(oneOf(rng, "", "7", "x y", "1.5", "é°", "-", "a'b"))
				continue
			}
			var inside strings.Builder
			for range rng.IntN(6) {
				inside.WriteString(oneOf(rng, "a", `""`, sep, "\n", "\r\n", " ", "9", "#"))
			}
			b.WriteString(`"` + inside.String() + `"`)
		}
		b.WriteString(end)
		if rng.IntN(5) == 0 {
			b.WriteString(end)
		}
	}
	return csvCase{b.String(), sep}
}

func same(a, b [][]string) bool {
	return slices.EqualFunc(a, b, func(x, y []string) bool { return slices.Equal(x, y) })
}

func filledOnly(records [][]string) [][]string {
	return slices.DeleteFunc(records, func(r []string) bool { return len(r) == 0 })
}

func unified(records [][]string) (out [][]string) {
	for _, rec := range records {
		var cells []string
		for _, c := range rec {
			cells = append(cells, strings.ReplaceAll(c, "\r\n", "\n"))
		}
		out = append(out, cells)
	}
	return out
}
