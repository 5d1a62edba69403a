package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// said is a terminal that is read while it is written to.
type said struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *said) Write(text []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(text)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// startServe runs the verb until the test ends, and gives its address.
func startServe(t *testing.T) (address string, log *said) {
	t.Helper()
	var out said
	log = new(said)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() {
		ended <- serve(ctx, terminal{&out, log},
			serving{listen: "127.0.0.1:0", data: filepath.Join(t.TempDir(), "garage.db")})
	}()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	at := regexp.MustCompile(`http://(127\.0\.0\.1:\d+)/`)
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if found := at.FindStringSubmatch(out.String()); found != nil && strings.Contains(out.String(), "Ctrl-C") {
			return found[1], log
		}
	}
	t.Fatalf("it does not serve: %s %s", out.String(), log)
	return "", nil
}

func askOver(t *testing.T, conn net.Conn, path, host string) string {
	t.Helper()
	fmt.Fprintf(conn, "GET %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", path, host)
	line, err := bufio.NewReader(conn).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// Six hundred connections that say nothing: the oldest are closed, and the next
// one is answered. Then hundreds that are refused: the log stays a log.
func TestServeIsNotCrowdedOut(t *testing.T) {
	address, log := startServe(t)
	dial := func() net.Conn {
		conn, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		return conn
	}
	var silent []net.Conn
	for range 600 {
		silent = append(silent, dial())
	}
	last := dial()
	defer last.Close()
	if line := askOver(t, last, "/api/v1/status", "localhost"); !strings.Contains(line, "200") {
		t.Errorf("beside the silent ones: %q", line)
	}
	closed := 0
	for _, conn := range silent {
		_ = conn.SetReadDeadline(time.Now().Add(time.Millisecond))
		if _, err := conn.Read(make([]byte, 1)); !os.IsTimeout(err) {
			closed++
		}
		conn.Close()
	}
	if closed < 600-512 {
		t.Errorf("%d of 600 were closed", closed)
	}
	for range 300 {
		conn := dial()
		if line := askOver(t, conn, "/"+strings.Repeat("x", 8000), "evil.example"); !strings.Contains(line, "403") {
			t.Errorf("a foreign name: %q", line)
		}
		conn.Close()
	}
	if lines := strings.Count(log.String(), "\n"); lines > 20 || len(log.String()) > 10_000 ||
		!strings.Contains(log.String(), "does not go by that name") {
		t.Errorf("%d bytes in %d lines", len(log.String()), lines)
	}
}
