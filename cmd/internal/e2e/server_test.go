//go:build e2e

package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// A server is the real program as a process of its own, so that it can be
// killed without warning.
type server struct {
	t       testing.TB
	program string
	garage  string // the garage file
	address string // the same after every start
	cmd     *exec.Cmd
	ended   chan struct{}
	said    bytes.Buffer
}

func newServer(t testing.TB) *server {
	t.Helper()
	s := &server{t: t, program: build(t, "pointsmith/cmd/pointsmith"), garage: filepath.Join(t.TempDir(), "garage.db"),
		address: freeAddress(t)}
	t.Cleanup(s.kill)
	s.start()
	return s
}

// freeAddress is one that nothing listens at just now.
func freeAddress(t testing.TB) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	return listener.Addr().String()
}

func (s *server) origin() string { return "http://" + s.address }

// start runs the program and waits until it answers.
func (s *server) start() {
	s.t.Helper()
	s.said.Reset()
	s.cmd = exec.Command(s.program, "serve", "-listen", s.address, "-data", s.garage)
	s.cmd.Env = append(os.Environ(), "HOME="+filepath.Dir(s.garage))
	s.cmd.Stdout, s.cmd.Stderr = &s.said, &s.said
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	s.ended = make(chan struct{})
	started := make(chan error)
	go func() {
		runtime.LockOSThread() // the death signal hangs on the thread that started the process
		err := s.cmd.Start()
		started <- err
		if err == nil {
			_ = s.cmd.Wait()
		}
		close(s.ended)
	}()
	if err := <-started; err != nil {
		s.t.Fatal(err)
	}
	until(s.t, "the server answers", func() bool {
		answer, err := http.Get(s.origin() + "/api/v1/status")
		if err != nil {
			return false
		}
		defer answer.Body.Close()
		return answer.StatusCode == http.StatusOK
	})
}

// kill is kill -9 of the whole process group.
func (s *server) kill() { s.end(syscall.SIGKILL) }

// stop asks the server to end, as Ctrl-C does.
func (s *server) stop() { s.end(syscall.SIGTERM) }

func (s *server) end(signal syscall.Signal) {
	if s.cmd == nil || s.cmd.Process == nil {
		return
	}
	_ = syscall.Kill(-s.cmd.Process.Pid, signal)
	select {
	case <-s.ended:
	case <-time.After(10 * time.Second):
		_ = syscall.Kill(-s.cmd.Process.Pid, syscall.SIGKILL)
		s.t.Errorf("the server did not end after %v; it said:\n%s", signal, s.said.String())
	}
	s.cmd = nil
}

// get reads JSON from the server.
func get(t testing.TB, address string, into any) {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		t.Fatalf("GET %s: %s", address, answer.Status)
	}
	if err := json.NewDecoder(answer.Body).Decode(into); err != nil {
		t.Fatal(err)
	}
}

// until waits for something to become true.
func until(t testing.TB, what string, isTrue func() bool) {
	t.Helper()
	if !within(patience, isTrue) {
		t.Fatalf("waited %v in vain until %s", patience, what)
	}
}

// patience is how long anything may take on a busy machine.
const patience = 60 * time.Second

func within(limit time.Duration, isTrue func() bool) bool {
	for deadline := time.Now().Add(limit); ; time.Sleep(20 * time.Millisecond) {
		if isTrue() {
			return true
		}
		if time.Now().After(deadline) {
			return false
		}
	}
}

func number(x float64) string { return fmt.Sprintf("%g", x) }
