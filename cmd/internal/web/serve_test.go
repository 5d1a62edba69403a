package web

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

func startSite(t *testing.T) (address string, stop context.CancelFunc, ended chan error) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	t.Cleanup(stop)
	s := newSite(t)
	ended = make(chan error, 1)
	go func() { ended <- Serve(ctx, s.log, Front{Listener: listener, Handler: s.Handler()}) }()
	return listener.Addr().String(), stop, ended
}

func TestServeFinishesRunningRequestsWhenItStops(t *testing.T) {
	address, stop, ended := startSite(t)
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	body := putCar(`{"name":"Linnet"}`)
	fmt.Fprintf(conn, "PUT %s HTTP/1.1\r\nHost: localhost\r\nContent-Length: %d\r\n\r\n%s", carPath,
		len(body), body[:10])
	time.Sleep(100 * time.Millisecond) // the handler is now reading
	stop()
	time.Sleep(100 * time.Millisecond)
	fmt.Fprint(conn, body[10:])
	answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil || answer.StatusCode != 200 {
		t.Fatalf("the running request was cut off: %v %v", answer, err)
	}
	answer.Body.Close()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(8 * time.Second):
		t.Fatal("still serving")
	}
	if _, err := net.DialTimeout("tcp", address, time.Second); err == nil {
		t.Error("the address is still taken")
	}
}

func TestServeStopsAlthoughAConnectionIdles(t *testing.T) {
	address, stop, ended := startSite(t)
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprint(conn, "GET /api/v1/status HTTP/1.1\r\nHost: localhost\r\n\r\n")
	if line, err := bufio.NewReader(conn).ReadString('\n'); err != nil || !strings.Contains(line, "200") {
		t.Fatal(line, err)
	}
	start := time.Now()
	stop()
	<-ended
	if took := time.Since(start); took > 2*time.Second {
		t.Errorf("took %v", took)
	}
}
