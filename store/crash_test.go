package store_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

const crashFile = "POINTSMITH_TEST_CRASH_FILE"

// TestMain lets this program be its own victim: started with crashFile set it
// writes until it is killed, with limitedRole it works under a limit.
func TestMain(m *testing.M) {
	if path := os.Getenv(crashFile); path != "" {
		writeForEver(path)
	}
	if role := os.Getenv(limitedRole); role != "" {
		playLimited(role, os.Getenv(limitedFile))
	}
	os.Exit(m.Run())
}

func crashID(n int) string { return fmt.Sprintf("visit%011d", n) }

// writeForEver says each number on standard output once it is stored.
func writeForEver(path string) {
	s, err := store.Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	for n := 0; ; n++ {
		if _, err := s.Put(store.Change{Kind: "visit", ID: crashID(n), ChangedAt: noon,
			Body: json.RawMessage(`{"rpm":"850"}`)}); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println(n)
	}
}

func TestKilledWhileWritingLosesNothingAnswered(t *testing.T) {
	dir := t.TempDir()
	for round := range 5 {
		path := filepath.Join(dir, fmt.Sprintf("%d.db", round))
		last := writeAndKill(t, path, 20+37*round)
		s := storetest.OpenFile(t, path)
		for n := range last + 1 {
			if _, err := s.Get("visit", crashID(n)); err != nil {
				t.Errorf("round %d: %d was answered and is gone: %v", round, n, err)
			}
		}
	}
}

// writeAndKill starts the writer, kills it after it has answered more than
// enough pushes, and returns the last number it answered.
func writeAndKill(t *testing.T, path string, enough int) (last int) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), crashFile+"="+path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	last = -1
	lines := bufio.NewReader(out)
	for {
		line, err := lines.ReadString('\n')
		if err != nil { // a torn last line was never answered
			break
		}
		if _, err := fmt.Sscan(strings.TrimSpace(line), &last); err != nil {
			t.Fatal(err)
		}
		if last == enough {
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	cmd.Wait() // it was killed: the status says nothing
	if last < enough {
		t.Fatalf("the writer stopped by itself after %d", last)
	}
	return last
}
