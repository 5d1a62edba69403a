//go:build linux

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"pointsmith/cmd/internal/lan"
)

// A garageServer is the whole program on a host of its own.
type garageServer struct {
	t        *testing.T
	out, err locked
	cmd      *exec.Cmd
	folder   string
}

type locked struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// serveOn starts it in a folder with an authority, and waits until it has said
// where it is.
func serveOn(t *testing.T, h lan.Host, args ...string) *garageServer {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	s := &garageServer{t: t, folder: t.TempDir()}
	if err := os.Symlink(self, s.program()); err != nil {
		t.Fatal(err)
	}
	h.Run(s.program(), "trust", "-data", s.garage())
	s.cmd = h.Command(s.program(), append([]string{"serve", "-data", s.garage()}, args...)...)
	s.cmd.Stdout, s.cmd.Stderr = &s.out, &s.err
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.stop() })
	s.has(&s.out, "stop with Ctrl-C")
	return s
}

func (s *garageServer) program() string { return filepath.Join(s.folder, "pointsmith") }

func (s *garageServer) garage() string { return filepath.Join(s.folder, "garage.db") }

func (s *garageServer) has(stream *locked, words string) {
	s.t.Helper()
	for deadline := time.Now().Add(20 * time.Second); !strings.Contains(stream.String(), words); {
		if time.Now().After(deadline) {
			s.t.Fatalf("it says\n%s\n%s\nand not %q", s.out.String(), s.err.String(), words)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// stop is Ctrl-C; what follows is how the program ended.
func (s *garageServer) stop() error {
	if s.cmd.ProcessState != nil {
		return nil
	}
	_ = s.cmd.Process.Signal(os.Interrupt)
	return s.cmd.Wait()
}

// status is what a phone that trusts the garage gets at an address when it
// asks for a name.
func (s *garageServer) status(phone lan.Host, name, address string) string {
	s.t.Helper()
	const client = `
import socket, ssl, sys
name, address, authority = sys.argv[1:]
trust = ssl.create_default_context(cafile=authority)
with trust.wrap_socket(socket.create_connection((address, 7373), 10), server_hostname=name) as s:
    s.sendall(f"GET /api/v1/status HTTP/1.0\r\nHost: {name}:7373\r\n\r\n".encode())
    print(b"".join(iter(lambda: s.recv(9000), b"")).decode())`
	return phone.Run("/usr/bin/python3", "-c", client, name, address,
		filepath.Join(s.folder, "garage-authority.crt"))
}

// The server stands at one address of the house, the router gives it another,
// and a phone finds it by the same name, with the certificate it trusts.
func TestOneNameForEver(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	server := serveOn(t, garage)
	for _, line := range []string{
		"  on a phone        https://pointsmith.local:7373/\n  or by number      https://192.168.77.20:7373/\n",
		"  first, once       http://pointsmith.local:7374/",
		"                    or http://192.168.77.20:7374/\n",
	} {
		server.has(&server.out, line)
	}
	code := garage.Run("/usr/bin/python3", "-c", `
import urllib.request
print(urllib.request.urlopen("http://localhost:7373/api/v1/pair/code", b"{}").read().decode())`)
	if !strings.Contains(code, `"address":"https://pointsmith.local:7373"`) {
		t.Errorf("a code made on the server's own machine leads to %s", code)
	}
	paired := garage.Run(server.program(), "pair", "-data", server.garage())
	if !strings.Contains(paired, "  on the phone      https://pointsmith.local:7373/#/join/") {
		t.Errorf("pair leads to %s", paired)
	}
	client := phone.Look("name", "pointsmith.local")
	client.Has("held 192.168.77.20", 20*time.Second)
	for _, name := range []string{"pointsmith.local", "192.168.77.20"} {
		if got := server.status(phone, name, "192.168.77.20"); !strings.Contains(got, `"product":"pointsmith"`) {
			t.Errorf("%s gives %s", name, got)
		}
	}
	phone.Look("service", "_https._tcp.local").
		Has("found pointsmith._https._tcp.local. pointsmith.local. 7373 192.168.77.20", 20*time.Second)

	garage.Move("192.168.77.31/24")
	client.Has("held 192.168.77.31", 20*time.Second)
	for _, name := range []string{"pointsmith.local", "192.168.77.31"} {
		if got := server.status(phone, name, "192.168.77.31"); !strings.Contains(got, `"product":"pointsmith"`) {
			t.Errorf("after the move %s gives %s", name, got)
		}
	}
	server.has(&server.err, `msg="pointsmith.local answers" at="192.168.77.31`)
	if err := server.stop(); err != nil {
		t.Errorf("it ends with %v: %s", err, server.err.String())
	}
	client.Has("held", 20*time.Second)
}

func TestWhereTheNameDoesNotAnswerTheNumberIsSaid(t *testing.T) {
	garage, _ := lan.GarageAndPhone(t)
	garage.Run("ip", "link", "set", lan.Interface, "multicast", "off")
	server := serveOn(t, garage)
	server.has(&server.out, "  on a phone        https://192.168.77.20:7373/\n")
	server.has(&server.out, "  first, once       http://192.168.77.20:7374/")
	server.has(&server.err, "warning: pointsmith.local does not answer here: no network of this machine takes multicast; phones get the address in numbers")
	if strings.Contains(server.out.String(), ".local:") {
		t.Errorf("it sends phones to a name: %s", server.out.String())
	}
}

func TestTwoGaragesOnOneNetworkNeedTwoNames(t *testing.T) {
	garage, other := lan.GarageAndPhone(t)
	serveOn(t, garage)
	second := serveOn(t, other)
	second.has(&second.err, "warning: pointsmith.local is the name of another machine, at ")
	second.has(&second.err, "do: give this server a name of its own, as -name garage")
	second.has(&second.out, "  on a phone        https://192.168.77.40:7373/\n")
	if err := second.stop(); err != nil {
		t.Error(err)
	}
	third := serveOn(t, other, "-name", "Shed")
	third.has(&third.out, "  on a phone        https://shed.local:7373/\n")
	garage.Look("name", "shed.local").Has("held 192.168.77.40", 20*time.Second)
	if got := third.status(garage, "shed.local", "192.168.77.40"); !strings.Contains(got, `"product":"pointsmith"`) {
		t.Errorf("shed.local gives %s", got)
	}
	off := serveOn(t, garage, "-name", "off", "-listen", "192.168.77.20:7375")
	off.has(&off.out, "  on a phone        https://192.168.77.20:7375/\n")
	if said := off.out.String() + off.err.String(); strings.Contains(said, ".local") {
		t.Errorf("it speaks of a name although that is off: %s", said)
	}
}

// A server at one address answers with that one only.
func TestTheNameHasTheAddressThatIsServed(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	garage.Run("ip", "address", "add", "192.168.77.21/24", "dev", lan.Interface)
	server := serveOn(t, garage, "-listen", "192.168.77.21:7373")
	server.has(&server.out, "  on a phone        https://pointsmith.local:7373/\n  or by number      https://192.168.77.21:7373/\n")
	client := phone.Look("name", "pointsmith.local")
	client.Has("held 192.168.77.21", 20*time.Second)
	if said := client.Said(); strings.Contains(said, "192.168.77.20") {
		t.Errorf("the address that is not served was given too: %s", said)
	}
}

func TestAPhoneIsSentOnlyToNamesItsCertificateHolds(t *testing.T) {
	given := security{config: tlsConfig(nil), hosts: []string{"house.example", "garage.local"}}
	own := security{config: tlsConfig(nil), holdsFor: func(name string) bool { return name == "pointsmith.local" }}
	for name, want := range map[string][3]bool{"pointsmith.local": {true, false, true},
		"garage.local": {true, true, false}} {
		if got := [3]bool{security{}.mayBe(name), given.mayBe(name), own.mayBe(name)}; got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

func TestANameIsOneWord(t *testing.T) {
	for given, want := range map[string]networkName{"garage": "garage", "Shed-2.local": "shed-2", "off": ""} {
		name := networkName(defaultName)
		if err := name.Set(given); err != nil || name != want {
			t.Errorf("%s gives %q, %v", given, name, err)
		}
	}
	for _, given := range []string{"", "a b", "a.b", "-a", "a-", "ä", "http://a", strings.Repeat("a", 64)} {
		name := networkName(defaultName)
		if err := name.Set(given); err == nil || name != defaultName {
			t.Errorf("%q is taken as %q", given, name)
		}
	}
}
