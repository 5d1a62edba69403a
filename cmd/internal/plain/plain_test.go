package plain

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log/slog"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
	"unicode/utf8"
)

// What terminals obey, and what must not reach one.
const evil = "Linnet\x1b]0;owned\x07\x1b[2J\r\n\u009b31m\x7f\u202eexe.txt\u2066\u200f\u2028end\xff\x9b"

func TestTextHasNothingATerminalObeys(t *testing.T) {
	got := Text(evil, 1000)
	if strings.ContainsFunc(got, isObeyed) || !utf8.ValidString(got) {
		t.Errorf("%q", got)
	}
	for _, shown := range []string{`Linnet\x1b]0;owned\x07`, `\x0d\x0a`, `\u009b31m`, `\x7f`, `\u202eexe`, `\u2066`,
		`\u200f`, `\u2028end`, `\xff\x9b`} {
		if !strings.Contains(got, shown) {
			t.Errorf("%s does not show %s", got, shown)
		}
	}
	for _, plain := range []string{"", "Linnet", "Zoë’s 1½ Litre — 10 °C, 車", strings.Repeat("é", 50)} {
		if got := Text(plain, 100); got != plain {
			t.Errorf("%q became %q", plain, got)
		}
	}
}

func TestTextIsBoundedBetweenLetters(t *testing.T) {
	for most := range 40 {
		got := Text(strings.Repeat("é\x1b", 1000), most)
		if inside, cut := strings.CutSuffix(got, "…"); !cut || len(inside) > most || !utf8.ValidString(inside) ||
			strings.Count(inside, `\`) != strings.Count(inside, `\x1b`) {
			t.Errorf("%d bytes: %q", most, got)
		}
	}
}

func TestJSONMeansTheSame(t *testing.T) {
	in, err := json.Marshal(map[string]string{"name": evil, "also": "é…"})
	if err != nil {
		t.Fatal(err)
	}
	out := JSON(in)
	var a, b map[string]string
	if json.Unmarshal(in, &a) != nil || json.Unmarshal(out, &b) != nil || fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("%s became %s", in, out)
	}
	for _, r := range string(out) {
		if r != utf8.RuneError && isObeyed(r) {
			t.Errorf("%q is left", r)
		}
	}
}

func TestALineOfTheLogIsBounded(t *testing.T) {
	var out bytes.Buffer
	log := Log(slog.NewTextHandler(&out, nil))
	long := strings.Repeat("/\x1b[2J", 5000)
	log.With("from", long).Warn("refused", "path", long, "error", fmt.Errorf("open %s", long), "any", []string{long},
		slog.Group("g", "in", long))
	log.Info("paired", "name", evil)
	if out.Len() > 8000 || strings.Count(out.String(), "\n") != 2 {
		t.Errorf("%d bytes in %d lines", out.Len(), strings.Count(out.String(), "\n"))
	}
	if strings.ContainsFunc(strings.ReplaceAll(out.String(), "\n", ""), isObeyed) {
		t.Errorf("%q", out.String())
	}
}

// locked is a buffer that timers may write into.
type locked struct {
	mu sync.Mutex
	bytes.Buffer
}

func (l *locked) Write(text []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.Buffer.Write(text)
}

// taken gives what was written since it was taken before.
func (l *locked) taken() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	defer l.Reset()
	return l.String()
}

func TestOfOneRefusalAMinuteHasTenLinesAndASum(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out locked
		log := Log(slog.NewTextHandler(&out, nil))
		for range 1000 {
			log.Warn("refused: unpaired", "path", "/x")
			log.Info("paired")
		}
		log.Error("another")
		said := out.taken()
		if n := strings.Count(said, "unpaired"); n != linesPerSpell {
			t.Errorf("%d lines", n)
		}
		if !strings.Contains(said, "another") || strings.Count(said, "msg=paired\n") != 1000 {
			t.Error("other lines are held back too")
		}
		time.Sleep(2 * spell)
		synctest.Wait()
		if got := out.taken(); strings.Count(got, "\n") != 1 || !strings.Contains(got, "left out\"=990") {
			t.Errorf("when the minute is over: %q", got)
		}
		log.Warn("refused: unpaired", "path", "/x")
		if got := out.taken(); strings.Count(got, "\n") != 1 || !strings.Contains(got, "path=/x") {
			t.Errorf("after that: %q", got)
		}
	})
}

func TestManyMessagesAreNotRememberedForEver(t *testing.T) {
	var out bytes.Buffer
	h := Log(slog.NewTextHandler(&out, nil)).Handler().(*handler)
	log := slog.New(h)
	for n := range 10 * messages {
		log.Error(fmt.Sprint("kind ", n))
	}
	if len(h.counts.of) > messages+1 {
		t.Errorf("%d messages are remembered", len(h.counts.of))
	}
}
