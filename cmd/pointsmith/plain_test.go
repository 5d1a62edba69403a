package main

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"pointsmith/cmd/internal/plain"
	"pointsmith/store"
)

// evilName renames a window, clears a screen, turns the direction of writing,
// begins a line, and is very long.
var evilName = "Linnet\x1b]0;owned\x07\x1b[2J\u009b31m\u202e\nwarning: all is lost" + strings.Repeat("x", 100_000)

// wantPlain fails for what a terminal would obey, and for lines no terminal holds.
func wantPlain(t *testing.T, what, said string) {
	t.Helper()
	for line := range strings.Lines(said) {
		if n := strings.IndexFunc(strings.TrimSuffix(line, "\n"), func(r rune) bool {
			return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
		}); n >= 0 || len(line) > 4000 || strings.HasPrefix(line, "warning") {
			t.Errorf("%s says a line of %d bytes, obeyed from byte %d: %.300q", what, len(line), n, line)
		}
	}
	if !strings.Contains(said, "Linnet") || !strings.Contains(said, "]0;owned") {
		t.Errorf("%s does not show the name: %.300q", what, said)
	}
}

func TestNamesFromAGarageFileAreSaidPlainly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	garage, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	code, _, err := garage.NewCode(false, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	_, device, err := garage.Pair(code, evilName, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for _, body := range []string{`{"name":"a"}`, `{"name":"b"}`} { // neither knows of the other: one is kept aside
		if _, err := garage.Put(store.Change{Kind: "car", ID: "abcdefgh01234567", ChangedAt: time.Now(),
			Device: evilName, Body: []byte(body)}); err != nil {
			t.Fatal(err)
		}
	}
	if err := garage.Close(); err != nil {
		t.Fatal(err)
	}
	for _, words := range [][]string{{"pair", "-list"}, {"check"}, {"pair", "-revoke", device.ID}} {
		var out, failed bytes.Buffer
		words = append([]string{words[0], "-data", path}, words[1:]...)
		if status := run(terminal{&out, &failed}, strings.NewReader(""), words); status != exitDone {
			t.Fatalf("%v ended with %d: %s", words, status, &failed)
		}
		wantPlain(t, fmt.Sprint(words[0], words[3:]), out.String())
	}
}

// A reason may name a file, and a file's name holds anything.
func TestAReasonIsSaidPlainly(t *testing.T) {
	var out, failed bytes.Buffer
	run(terminal{&out, &failed}, strings.NewReader(""), []string{"import", "-data",
		filepath.Join(t.TempDir(), "garage.db"), "Linnet\x1b]0;owned\x07\u202e.json"})
	wantPlain(t, "import", failed.String())
}

func TestAnswersOfCalculationsHoldNothingATerminalObeys(t *testing.T) {
	var out, failed bytes.Buffer
	in := `{"text":"rpm,deg\n800,4\n1200,8\nLinnet\u001b]0;owned` + "\u009b31m\u202e\u007f" + `,9"}`
	if status := run(terminal{&out, &failed}, strings.NewReader(in),
		[]string{"calc", "figures.read"}); status != exitDone {
		t.Fatalf("%d %s", status, &failed)
	}
	wantPlain(t, "figures.read", out.String())
}

// Long paths, from whoever may do nothing here: the log stays a log.
func TestRefusalsDoNotFillTheLog(t *testing.T) {
	garage, err := store.Open(filepath.Join(t.TempDir(), "garage.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer garage.Close()
	var log bytes.Buffer
	site, err := newSite(garage, nil, false, plain.Log(slog.NewTextHandler(&log, nil)))
	if err != nil {
		t.Fatal(err)
	}
	long := strings.Repeat("x\x1b[2J", 6000)
	for n := range 2000 {
		r := httptest.NewRequest("GET", "/api/v1/garage/car/abcdefgh01234567", nil)
		r.URL.Path, r.RemoteAddr, r.Host = "/api/v1/photos/"+long, "192.0.2.7:50000", "192.0.2.1:7373"
		if n%2 == 0 {
			r.Host = long
		}
		site.Handler().ServeHTTP(httptest.NewRecorder(), r)
	}
	lines := strings.Split(strings.TrimSpace(log.String()), "\n")
	if log.Len() > 20_000 || len(lines) > 30 || len(lines) < 15 {
		t.Errorf("%d bytes in %d lines", log.Len(), len(lines))
	}
	for _, line := range lines {
		if len(line) > 1000 || strings.ContainsFunc(line, unicode.IsControl) {
			t.Errorf("%d bytes: %.300q", len(line), line)
		}
	}
}
