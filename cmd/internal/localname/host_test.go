//go:build linux

package localname

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/ipv4"

	"pointsmith/cmd/internal/lan"
)

// asHost in the environment makes this test program a responder on the host it
// is started on; its value is one of the kinds below.
const asHost = "LOCALNAME_HOST"

const (
	usualOne = "usual"
	silent   = "silent"    // its answers never come
	keepPort = "keep port" // another program has the port to itself
	rude     = "rude"      // it answers without having asked whether it may
	wrongWay = "wrong way" // it says all the time that it has the name, from a port that nobody may answer from
)

func TestMain(m *testing.M) {
	if what := os.Getenv(asHost); what != "" {
		respond(what)
		return
	}
	os.Exit(m.Run())
}

// fast is the usual pace but for the waits that only save traffic.
var fast = pace{look: 200 * time.Millisecond, again: time.Second, check: time.Second, probe: usual.probe,
	patience: usual.patience, repeat: usual.repeat}

// respond answers for garage.local and says how that stands, until its input
// ends.
func respond(what string) {
	o := Options{Name: "garage.local", Networks: networksHere, Service: aService, pace: fast,
		Log: slog.New(slog.NewTextHandler(os.Stdout, nil))}
	var err error
	switch what {
	case wrongWay:
		fmt.Println("it says so", sayFromElsewhere())
		return
	case silent:
		o.answer = func(Options, []Network) (io.Closer, error) { return io.NopCloser(nil), nil }
	case keepPort:
		_, err = net.ListenPacket("udp4", ":5353")
	case rude:
		_, err = answer(o, networksHere())
		fmt.Println("it answers", err)
		_, _ = io.Copy(io.Discard, os.Stdin)
		return
	}
	if err != nil {
		fmt.Println(err)
		return
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	r := Begin(ctx, o)
	s := r.First()
	fmt.Println("first", s, s.Others)
	_, _ = io.Copy(io.Discard, os.Stdin)
	stop()
	r.Wait()
	fmt.Println("left")
}

func sayFromElsewhere() error {
	conn, err := net.ListenUDP("udp4", nil)
	if err != nil {
		return err
	}
	w := wire{ipv4.NewPacketConn(conn), networksHere()}
	for range 300 {
		if err := w.tell("garage.local", aService, nameTTL); err != nil {
			return err
		}
		time.Sleep(10 * time.Millisecond)
	}
	return nil
}

func networksHere() (all []Network) {
	i, err := net.InterfaceByName(lan.Interface)
	if err != nil {
		return nil
	}
	assigned, err := i.Addrs()
	if err != nil {
		return nil
	}
	n := Network{Interface: *i}
	for _, a := range assigned {
		n.Addresses = append(n.Addresses, netip.MustParsePrefix(a.String()).Addr())
	}
	if !slices.ContainsFunc(n.Addresses, netip.Addr.Is4) {
		return nil
	}
	return []Network{n}
}

// A process is a responder on one of the hosts.
type process struct {
	t     *testing.T
	input io.Closer
	ended chan struct{}
	mu    sync.Mutex
	said  strings.Builder
}

func start(t *testing.T, h lan.Host, what string) *process {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := h.Command(self)
	cmd.Env = append(os.Environ(), asHost+"="+what)
	p := &process{t: t, ended: make(chan struct{})}
	input, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	p.input = input
	out, err := cmd.StdoutPipe()
	if err == nil {
		cmd.Stderr = cmd.Stdout
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(p.ended)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			p.mu.Lock()
			fmt.Fprintln(&p.said, lines.Text())
			p.mu.Unlock()
		}
		_ = cmd.Wait()
	}()
	t.Cleanup(p.end)
	return p
}

// end stops it as Ctrl-C would.
func (p *process) end() {
	_ = p.input.Close()
	<-p.ended
}

func (p *process) says(words string) {
	p.t.Helper()
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		p.mu.Lock()
		said := p.said.String()
		p.mu.Unlock()
		if strings.Contains(said, words) {
			return
		}
		if time.Now().After(deadline) {
			p.t.Fatalf("it says %q, and not %q", said, words)
		}
	}
}
