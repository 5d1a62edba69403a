package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"pointsmith/cmd/internal/web/assets"
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
	site, err := assemble(Options{Store: garage, Version: "test", Log: slog.New(slog.DiscardHandler)}, assets.Files{})
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	go func() { // whoever started us has gone when this ends
		_, _ = io.Copy(io.Discard, os.Stdin)
		os.Exit(1)
	}()
	fmt.Println(listener.Addr())
	return Serve(context.Background(), slog.New(slog.DiscardHandler),
		Front{Listener: listener, Handler: site.Handler()})
}

const (
	garages = 4 // killed side by side, to be done sooner
	writers = 4
)

// TestServerKilledWhileWritingLosesNothingAnswered kills the server without
// warning 200 times (80 under the race detector) while four phones write, side
// by side in four garage files, at moments spread over some tens of milliseconds. Every push that was
// answered is there afterwards, and the file passes its full check.
func TestServerKilledWhileWritingLosesNothingAnswered(t *testing.T) {
	var all sync.WaitGroup
	counts := make([]int, garages)
	dir, began := t.TempDir(), time.Now()
	for n := range garages {
		all.Go(func() { counts[n] = killAgainAndAgain(t, filepath.Join(dir, fmt.Sprintf("%d.db", n)), kills/garages) })
	}
	all.Wait()
	answered := 0
	for _, n := range counts {
		answered += n
	}
	if answered < kills*writers {
		t.Errorf("only %d pushes were answered; this tries nothing", answered)
	}
	t.Logf("%d kills, %d pushes answered, none lost, %v", kills, answered, time.Since(began).Round(time.Second))
}

// killAgainAndAgain kills servers of one garage file and returns how many
// pushes they had answered. Between the checks a server itself opens what the
// one before it left.
func killAgainAndAgain(t *testing.T, path string, times int) int {
	answered := map[string]string{} // revision by id
	for round := range times {
		revisions, err := writeUntilKilled(path, round)
		if err != nil {
			t.Errorf("round %d: %v", round, err)
			return 0
		}
		for id, revision := range revisions {
			answered[id] = revision
		}
		if (round+1)%10 != 0 {
			continue
		}
		if err := holds(path, answered); err != nil {
			t.Errorf("round %d: %v", round, err)
		}
	}
	return len(answered)
}

// holds proves that a garage file is sound and has what was answered.
func holds(path string, answered map[string]string) error {
	garage, err := store.Open(path)
	if err != nil {
		return err
	}
	defer garage.Close()
	if err := garage.Check(); err != nil {
		return err
	}
	for id, revision := range answered {
		if d, err := garage.Get("visit", id); err != nil || d.Revision != revision {
			return fmt.Errorf("%s was answered and is gone: %w", id, err)
		}
	}
	return nil
}

// writeUntilKilled starts the server, lets the phones write, kills it, and
// returns what was answered.
func writeUntilKilled(path string, round int) (map[string]string, error) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), crashFile+"="+path)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err == nil {
		_, err = cmd.StdinPipe() // ends with this process, and the server with it
	}
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return nil, err
	}
	defer cmd.Wait() // it was killed: the status says nothing
	defer cmd.Process.Kill()
	var address string
	if _, err := fmt.Fscanln(out, &address); err != nil {
		return nil, fmt.Errorf("the server did not start: %w: %s", err, said.String())
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
		time.Sleep(time.Duration(round%23) * time.Millisecond)
	case <-time.After(30 * time.Second):
		err = errors.New("the server is too slow to be killed while writing")
	}
	err = errors.Join(err, cmd.Process.Kill())
	phones.Wait()
	return answered, err
}

func pushTo(client *http.Client, address, id string) (revision string, err error) {
	r, err := http.NewRequest("PUT", "http://"+address+"/api/v1/garage/visit/"+id,
		strings.NewReader(putCar(`{"notes":"`+strings.Repeat("x", 500)+`"}`)))
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
