package web

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"testing"
	"time"

	"pointsmith/cmd/internal/plain"
)

// A named connection comes from wherever it says.
type named struct {
	net.Conn
	from string
}

func (n named) RemoteAddr() net.Addr { return net.TCPAddrFromAddrPort(netip.MustParseAddrPort(n.from)) }

func newCrowd(most, fromOne, left int, log *bytes.Buffer) *Crowd {
	c := NewCrowd(plain.Log(logInto(log).Handler()))
	c.most, c.fromOne, c.left = most, fromOne, left
	return c
}

// arrives gives a connection's guest, nil where it was refused, and its far end.
func arrives(c *Crowd, from string) (*guest, net.Conn) {
	near, far := net.Pipe()
	return c.let(named{near, from}), far
}

// isClosed reports whether the near end of a pipe was closed.
func isClosed(far net.Conn) bool {
	_ = far.SetReadDeadline(time.Now().Add(time.Millisecond))
	_, err := far.Read(make([]byte, 1))
	return err == io.EOF
}

func TestOneAddressDoesNotCrowdOutTheOthers(t *testing.T) {
	var log bytes.Buffer
	c := newCrowd(100, 4, 10, &log)
	for n := range 50 {
		g, _ := arrives(c, fmt.Sprintf("192.0.2.7:%d", 1000+n))
		if (g != nil) != (n < 4) {
			t.Fatalf("connection %d from one address: let in is %v", n, g != nil)
		}
		if g != nil {
			noteState(g, http.StateActive)
		}
	}
	if g, _ := arrives(c, "[2001:db8::1]:1"); g == nil {
		t.Error("another address has no room")
	}
	for n := range 20 {
		if g, _ := arrives(c, fmt.Sprintf("127.0.0.1:%d", 1000+n)); g == nil {
			t.Error("this machine is counted as one address")
		}
	}
}

func TestTheSilentMakeRoomAndThoseAtWorkDoNot(t *testing.T) {
	var log bytes.Buffer
	c := newCrowd(12, 12, 2, &log)
	var guests []*guest
	var far []net.Conn
	for n := range 10 {
		g, end := arrives(c, fmt.Sprintf("192.0.2.%d:1", n))
		noteState(g, http.StateActive)
		guests, far = append(guests, g), append(far, end)
	}
	if g, _ := arrives(c, "192.0.2.99:1"); g != nil {
		t.Error("an eleventh is let in while ten are at work")
	}
	if g, _ := arrives(c, here); g == nil {
		t.Error("this machine has no room left for it")
	} else {
		g.Close()
	}
	noteState(guests[6], http.StateIdle)
	noteState(guests[3], http.StateIdle)
	g, _ := arrives(c, "192.0.2.99:1")
	if g == nil || !isClosed(far[6]) || isClosed(far[3]) {
		t.Errorf("let in: %v; closed the longest silent %v, another %v", g != nil, isClosed(far[6]), isClosed(far[3]))
	}
	noteState(g, http.StateActive)
	noteState(guests[3], http.StateActive)
	guests[6].Close() // the server closes it too, later: not counted twice
	if g, _ := arrives(c, "192.0.2.98:1"); g != nil {
		t.Error("room was made twice")
	}
	guests[0].Close()
	guests[0].Close()
	if g, _ := arrives(c, "192.0.2.98:1"); g == nil || len(c.guests) != 10 || len(c.from) != 10 {
		t.Errorf("after one has gone: %v, %d guests from %d", g != nil, len(c.guests), len(c.from))
	}
}

// Over real connections, TLS and plain at one address: a hundred that say
// nothing, and a page is served all the same.
func TestSilentConnectionsAreBounded(t *testing.T) {
	var log bytes.Buffer
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	c := newCrowd(10, 10, 0, &log)
	s := newSite(t)
	_, plainHalf := Split(c.Guard(listener), s.log)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, s.log, Front{plainHalf, nil, s.Handler()}) }()
	defer func() { stop(); <-ended }()
	for n := range 100 {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if n%2 == 0 {
			fmt.Fprint(conn, "GET ") // a request that never ends
		}
	}
	conn, err := net.Dial("tcp", listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprint(conn, "GET /api/v1/status HTTP/1.1\r\nHost: localhost\r\n\r\n")
	if line, err := bufio.NewReader(conn).ReadString('\n'); err != nil || !strings.Contains(line, "200") {
		t.Errorf("%q %v", line, err)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if len(c.guests) > 10 {
		t.Errorf("%d connections are open", len(c.guests))
	}
}

func TestRefusedConnectionsAreInTheLogOnce(t *testing.T) {
	var log bytes.Buffer
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	guarded := newCrowd(0, 1, 0, &log).Guard(listener)
	ended := make(chan error, 1)
	go func() {
		_, err := guarded.Accept()
		ended <- err
	}()
	for range 200 {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := conn.Read(make([]byte, 1)); err == nil {
			t.Error("something was said")
		}
		conn.Close()
	}
	listener.Close()
	if err := <-ended; err == nil {
		t.Error("one was let in")
	}
	if n := strings.Count(log.String(), "too many"); n == 0 || n > 20 {
		t.Errorf("%d lines", n)
	}
}
