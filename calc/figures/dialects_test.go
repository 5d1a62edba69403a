package figures

import (
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// TestEveryDialectIsReadRightOrAsked draws tables and dialects at random. What
// is read without a question must be right to the last row; what is asked must
// be right, or left out and said so, once the questions are answered truly.
func TestEveryDialectIsReadRightOrAsked(t *testing.T) {
	n := drawn(3000)
	if os.Getenv("FIGURES_FULL") == "1" {
		n = 100_000
	}
	type count struct{ all, silent, asked, onlyWhat, short, open int }
	counts, ids := map[string]*count{}, map[string]int{}
	for seed := range n {
		m := newMade(rand.New(rand.NewPCG(uint64(seed), 7)))
		name := m.heads
		if m.torn {
			name = "torn"
		}
		if counts[name] == nil {
			counts[name] = &count{}
		}
		c := counts[name]
		c.all++
		out := read(t, m.text, Hints{})
		if len(out.Asks) == 0 {
			c.silent++
			if got, want := m.compare(out); want != "" || got != "" {
				t.Errorf("seed %d, %s: wrong and nothing asked: got %s want %s\n%q", seed, name, got, want, m.text)
			}
			continue
		}
		c.asked++
		c.onlyWhat += one(len(out.Asks) == 1 && out.Asks[0].ID == "what")
		for _, a := range out.Asks {
			ids[name+" "+a.ID]++
		}
		out, done := m.converse(t, out)
		if !done {
			if !m.torn {
				t.Errorf("seed %d: asks %v without end\n%q", seed, askIDs(out), m.text)
			}
			c.open++
			continue
		}
		got, want := m.compare(out)
		if got != "" {
			t.Errorf("seed %d, %s: wrong after true answers: got %s want %s\n%q", seed, name, got, want, m.text)
		}
		if want != "" {
			c.short++
			if !m.torn {
				t.Errorf("seed %d, %s: true answers lost a row: want %s; left out %v\n%q", seed, name, want,
					out.LeftOut, m.text)
			}
		}
	}
	for name, c := range counts {
		t.Logf("heads %-8s %5d tables: %5d right and nothing asked, %5d asked (%d only whether book or readings), of these %d with rows "+
			"left out and said so, %d with no true answer", name, c.all, c.silent, c.asked, c.onlyWhat, c.short, c.open)
	}
	t.Logf("questions by heads: %v", ids)
	if c := counts["full"]; (c.asked-c.onlyWhat)*50 > c.all {
		t.Errorf("of %d tables whose heads say the units, %d were asked about more than whether they are the book's or "+
			"readings; at most one in 50", c.all, c.asked-c.onlyWhat)
	}
	if counts["none"].silent > 0 || counts["bare"].silent > 0 {
		t.Error("crank or distributor was taken for granted")
	}
}

// drawn is how many are drawn: fewer under WebAssembly, which takes longer.
func drawn(n int) int {
	if runtime.GOARCH == "wasm" {
		return n / 8
	}
	return n
}

// converse answers until nothing is asked; false where no choice is true, or
// the true one leaves no row.
func (m *made) converse(t *testing.T, out ReadOut) (ReadOut, bool) {
	answers := map[string]string{}
	for range 8 {
		if len(out.Asks) == 0 {
			return out, true
		}
		for _, a := range out.Asks {
			if answers[a.ID] = m.answer(a, len(out.Columns)); answers[a.ID] == "" {
				return out, false
			}
		}
		var err error
		if out, err = Read(ReadIn{Text: m.text, Hints: Hints{Answers: answers}}); err != nil {
			if !m.torn || !strings.HasPrefix(err.Error(), "hints.answers.commas") {
				t.Fatalf("%q: %v", m.text, err)
			}
			return out, false
		}
	}
	return out, false
}

// compare gives the rows that are not right, and the right ones that are
// missing although they should be there. A row that is missing and said to be
// left out is want only.
func (m *made) compare(out ReadOut) (got, want string) {
	byLine := map[int][]string{}
	for i, text := range rowTexts(out.Rows) {
		line := out.Rows[i].Line
		byLine[line] = append(byLine[line], text)
	}
	for line, rows := range byLine {
		if !slices.Equal(rows, m.lines[line]) {
			return strings.Join(rows, "; "), strings.Join(m.lines[line], "; ")
		}
	}
	if out.AngleUnit != m.angle || out.SpeedUnit != m.speed || out.Base != m.base {
		return out.AngleUnit + " " + out.SpeedUnit + " " + out.Base, m.angle + " " + m.speed + " " + m.base
	}
	for line, rows := range m.lines {
		if byLine[line] != nil {
			continue
		}
		if !slices.ContainsFunc(out.LeftOut, func(l Left) bool { return l.Line == line }) {
			return "nothing, and not a word of it", strings.Join(rows, "; ")
		}
		want = strings.Join(rows, "; ")
	}
	return "", want
}
