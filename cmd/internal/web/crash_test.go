package web

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"pointsmith/store"
)

const crashFile = "POINTSMITH_TEST_CRASH_FILE"

// TestMain lets this program be the server that is killed.
func TestMain(m *testing.M) {
	if path := os.Getenv(crashFile); path != "" {
		if err := serveForEver(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// serveForEver serves a garage, without the app, which nobody asks for here.
func serveForEver(path string) error {
	garage, err := store.Open(path)
	if err != nil {
		return err
	}
	site, err := assemble(Options{Store: garage, Version: "test", Log: slog.New(slog.DiscardHandler)}, map[string]*asset{})
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Println(listener.Addr())
	return Serve(context.Background(), slog.New(slog.DiscardHandler), Front{Listener: listener, Handler: site.Handler()})
}

const (
	kills   = 200
	writers = 4
)

// TestServerKilledWhileWritingLosesNothingAnswered kills the server without
// warning 200 times while four phones write, in one garage file, at moments
// spread over some tens of milliseconds. Every push that was answered is there
// afterwards, and the file passes its full check.
func TestServerKilledWhileWritingLosesNothingAnswered(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	answered := map[string]string{} // revision by id
	began := time.Now()
	for round := range kills {
		for id, revision := range writeUntilKilled(t, path, round) {
			answered[id] = revision
		}
		if (round+1)%20 != 0 { // the server itself opens what the one before it left
			continue
		}
		garage, err := store.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := garage.Check(); err != nil {
			t.Fatal(err)
		}
		for id, revision := range answered {
			if d, err := garage.Get("visit", id); err != nil || d.Revision != revision {
				t.Errorf("round %d: %s was answered and is gone: %v", round, id, err)
			}
		}
		if err := garage.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if len(answered) < kills*writers {
		t.Errorf("only %d pushes were answered; this tries nothing", len(answered))
	}
	t.Logf("%d kills, %d pushes answered, none lost, %v", kills, len(answered), time.Since(began).Round(time.Second))
}

// writeUntilKilled starts the server, lets the phones write, kills it, and
// returns what was answered.
func writeUntilKilled(t *testing.T, path string, round int) map[string]string {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), crashFile+"="+path)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Wait() // it was killed: the status says nothing
	defer cmd.Process.Kill()
	var address string
	if _, err := fmt.Fscanln(out, &address); err != nil {
		t.Fatalf("round %d: the server did not start: %v %s", round, err, said.String())
	}
	answered, enough := map[string]string{}, make(chan struct{})
	var lock sync.Mutex
	var phones sync.WaitGroup
	for phone := range writers {
		phones.Go(func() {
			client := &http.Client{Transport: &http.Transport{}}
			defer client.CloseIdleConnections()
			for n := 0; ; n++ {
				id := fmt.Sprintf("round%03dphone%dno%05d", round, phone, n)
				revision, err := pushTo(client, address, id)
				if err != nil {
					return
				}
				lock.Lock()
				answered[id] = revision
				if len(answered) == 2*writers {
					close(enough)
				}
				lock.Unlock()
			}
		})
	}
	select {
	case <-enough:
	case <-time.After(20 * time.Second):
		t.Errorf("round %d: the server is too slow to be killed while writing", round)
	}
	time.Sleep(time.Duration(round%23) * time.Millisecond)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	phones.Wait()
	return answered
}

func pushTo(client *http.Client, address, id string) (revision string, err error) {
	r, err := http.NewRequest("PUT", "http://"+address+"/api/v1/garage/visit/"+id, strings.NewReader(putCar(`{"notes":"`+strings.Repeat("x", 500)+`"}`)))
	if err != nil {
		return "", err
	}
	answer, err := client.Do(r)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	var a store.Answer
	if err := json.NewDecoder(answer.Body).Decode(&a); err != nil || answer.StatusCode != http.StatusOK {
		return "", fmt.Errorf("%s: %w", answer.Status, err)
	}
	return a.Revision, nil
}
