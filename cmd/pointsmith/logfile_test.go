package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLogKeepsItselfShortAndLosesNoLineBeforeTheLastFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pointsmith.log")
	l := &logFile{path: path, most: 1000, now: time.Now}
	if err := l.open(); err != nil {
		t.Fatal(err)
	}
	const lines = 100
	for n := range lines {
		if _, err := fmt.Fprintf(l, "time=2026-05-01T12:00:00Z line=%03d\n", n); err != nil {
			t.Fatal(err)
		}
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	var all string
	for _, name := range []string{path + ".1", path} {
		text, err := os.ReadFile(name)
		if err != nil || len(text) > 1000 {
			t.Fatalf("%s: %d bytes, %v", name, len(text), err)
		}
		all += string(text)
	}
	held := strings.Count(all, "\n")
	if held < 30 {
		t.Fatalf("only %d lines are left", held)
	}
	for n := lines - held; n < lines; n++ {
		if !strings.Contains(all, fmt.Sprintf("line=%03d\n", n)) {
			t.Errorf("line %d is lost", n)
		}
	}
	if entries, err := os.ReadDir(filepath.Dir(path)); err != nil || len(entries) != 2 {
		t.Errorf("%v %v", entries, err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

// A log is moved away by those who keep logs; nobody tells the server.
func TestLogThatWasMovedBeginsAnew(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pointsmith.log")
	l, err := openLog(path)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	at := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	l.now = func() time.Time { return at }
	fmt.Fprintln(l, "first")
	if err := os.Rename(path, path+".old"); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(l, "second")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(l, "third")
	for name, want := range map[string]string{path + ".old": "first", path: "third"} {
		text, err := os.ReadFile(name)
		if want = "time=2026-05-01T12:00:00Z " + want + "\n"; err != nil || string(text) != want {
			t.Errorf("%s: %q, want %q; %v", name, text, want, err)
		}
	}
}

// A folder that is gone takes the log with it and not the server.
func TestLogWithoutAFolderFailsNobody(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "logs")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "pointsmith.log")
	l, err := openLog(path)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if err := os.RemoveAll(folder); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if n, err := l.Write([]byte("lost\n")); n != 5 || err != nil {
			t.Fatal(n, err)
		}
	}
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(l, "kept")
	if text, err := os.ReadFile(path); err != nil || !strings.HasSuffix(string(text), " kept\n") {
		t.Errorf("%q %v", text, err)
	}
}

// What stands in the way of the file before costs no line.
func TestLogThatCannotBeSetAsideGoesOn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pointsmith.log")
	if err := os.MkdirAll(filepath.Join(path+".1", "not empty"), 0o755); err != nil {
		t.Fatal(err)
	}
	l := &logFile{path: path, most: 50, now: time.Now}
	if err := l.open(); err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for n := range 5 {
		fmt.Fprintf(l, "time=2026-05-01T12:00:00Z line=%d\n", n)
	}
	if text, err := os.ReadFile(path); err != nil || strings.Count(string(text), "line=") != 5 {
		t.Errorf("%q %v", text, err)
	}
}
