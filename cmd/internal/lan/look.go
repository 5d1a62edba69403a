//go:build linux

package lan

import (
	"bufio"
	_ "embed"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

//go:embed look.py
var lookScript string

// A Look is a client of multicast DNS that shares nothing with this program.
type Look struct {
	t     *testing.T
	mu    sync.Mutex
	lines []string
	said  strings.Builder
}

// Look starts it on that host: what is "name" or "service", see look.py.
func (h Host) Look(what, name string) *Look {
	h.t.Helper()
	l := &Look{t: h.t}
	cmd := h.Command("/usr/bin/python3", "-c", lookScript, what, name)
	cmd.Stderr = &l.said
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		h.t.Fatalf("the client: %v", err)
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			l.mu.Lock()
			l.lines = append(l.lines, lines.Text())
			l.mu.Unlock()
		}
		_ = cmd.Wait()
	}()
	h.t.Cleanup(func() {
		_ = cmd.Process.Signal(syscall.SIGKILL)
		<-ended
		if h.t.Failed() && l.said.Len() > 0 {
			h.t.Logf("the client said: %s", l.said.String())
		}
	})
	return l
}

// Said is all it has printed.
func (l *Look) Said() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Join(l.lines, "\n")
}

// Has waits until the last line is the one given, for a time that counts from
// now, and returns how long it took.
func (l *Look) Has(line string, atMost time.Duration) time.Duration {
	l.t.Helper()
	began := time.Now()
	for {
		l.mu.Lock()
		lines := slices.Clone(l.lines)
		l.mu.Unlock()
		if len(lines) > 0 && lines[len(lines)-1] == line {
			return time.Since(began)
		}
		if time.Since(began) > atMost {
			l.t.Fatalf("%v have passed and the client says %q, not %q", atMost, lines, line)
		}
		time.Sleep(20 * time.Millisecond)
	}
}
