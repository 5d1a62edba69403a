package web

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pointsmith/store"
)

// A stalled body gives nothing and notes that somebody waits for it.
type stalled struct {
	read *atomic.Int32
	end  chan struct{}
}

func (s stalled) Read([]byte) (int, error) {
	s.read.Add(1)
	<-s.end
	return 0, io.ErrUnexpectedEOF
}

// stall sends a body that is announced and does not come.
func stall(s *Site, body stalled, method, path string, length int64) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, body)
	r.Host, r.RemoteAddr, r.ContentLength = "localhost:7373", phone, length
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w
}

func heap() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

func TestStalledBodiesTakeBoundedRoom(t *testing.T) {
	for name, c := range map[string]struct {
		length int64
		most   int32
	}{"announced": {1 << 20, strangerRoom >> 20}, "of unknown length": {-1, strangerRoom >> 21}} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := newSite(t)
				member := bearer(pairedToken(t, s, false))
				body := stalled{new(atomic.Int32), make(chan struct{})}
				answers := make(chan *httptest.ResponseRecorder, 600)
				before := heap()
				for range 600 {
					go func() { answers <- stall(s, body, "POST", "/api/v1/calc/advance.fit", c.length) }()
				}
				synctest.Wait()
				if n := body.read.Load(); n != c.most {
					t.Errorf("%d bodies are read at a time, want %d", n, c.most)
				}
				if took := heap() - before; took > 2*strangerRoom {
					t.Errorf("they take %d MB", took>>20)
				}
				begun := time.Now()
				if w := ask(s, "PUT", carPath, putCar(`{"name":"Linnet"}`), from(phone), member); w.Code != 200 ||
					time.Since(begun) > 0 {
					t.Errorf("a phone of the garage: %d after %v", w.Code, time.Since(begun))
				}
				w := ask(s, "POST", "/api/v1/calc/convert", inches, from("192.0.2.8:1"))
				if w.Header().Get("Retry-After") != "5" || time.Since(begun) != roomWait {
					t.Errorf("Retry-After %q after %v", w.Header().Get("Retry-After"), time.Since(begun))
				}
				wantProblem(t, w, 503, fmt.Sprint(strangerRoom, " bytes at a time"), "wait 5 seconds")
				synctest.Wait()
				close(body.end)
				refused := 0
				for range 600 {
					if w := <-answers; w.Code == 503 {
						refused++
					}
				}
				if refused != 600-int(c.most) {
					t.Errorf("%d were refused", refused)
				}
				if w := ask(s, "POST", "/api/v1/calc/convert", inches, from("192.0.2.8:1")); w.Code != 200 {
					t.Errorf("afterwards: %d %s", w.Code, w.Body)
				}
			})
		})
	}
}

// A file of the whole garage fits into the members' room, and gives it back.
func TestRoomIsGivenBack(t *testing.T) {
	s := newSite(t)
	large := putCar(fmt.Sprintf(`{"name":"Linnet","notes":%q}`, strings.Repeat("x", 20000)))
	for range 2 * memberRoom / store.MaxBody {
		if w := ask(s, "PUT", carPath, large); w.Code == 503 {
			t.Fatal(w.Body)
		}
	}
	if !s.rooms.members.TryAcquire(memberRoom) || !s.rooms.strangers.TryAcquire(strangerRoom) {
		t.Error("room is not given back")
	}
}

// A pipeListener takes connections that are no more than two ends of a pipe.
type pipeListener struct{ conns chan net.Conn }

func (l pipeListener) Accept() (net.Conn, error) {
	conn, ok := <-l.conns
	if !ok {
		return nil, net.ErrClosed
	}
	return conn, nil
}

func (l pipeListener) Close() error   { return nil }
func (l pipeListener) Addr() net.Addr { return &net.TCPAddr{} }

// A body that stops for long, or creeps, is not waited for.
func TestASlowBodyIsGivenUp(t *testing.T) {
	for name, c := range map[string]struct {
		every time.Duration // between two bytes
		after time.Duration // it is given up
	}{"stops": {time.Hour, bodyStart}, "creeps": {5 * time.Second, bodyTime(1 << 20)}} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := newSite(t)
				listener := pipeListener{make(chan net.Conn)}
				ctx, stop := context.WithCancel(t.Context())
				ended := make(chan error)
				go func() { ended <- Serve(ctx, s.log, Front{listener, nil, s.Handler()}) }()
				near, far := net.Pipe()
				listener.conns <- near
				begun := time.Now()
				fmt.Fprint(far, "POST /api/v1/calc/convert HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1048576\r\n\r\n{")
				quit := make(chan struct{})
				go func() {
					defer close(quit)
					for {
						time.Sleep(c.every)
						if _, err := far.Write([]byte(" ")); err != nil {
							return
						}
					}
				}()
				answer, err := http.ReadResponse(bufio.NewReader(far), nil)
				if err != nil {
					t.Fatal(err)
				}
				text, _ := io.ReadAll(answer.Body)
				took := time.Since(begun)
				if answer.StatusCode != 408 || !strings.Contains(string(text), "10 seconds without a byte") ||
					took < c.after || took > c.after+time.Second {
					t.Errorf("%d after %v: %s", answer.StatusCode, took, text)
				}
				far.Close()
				stop()
				close(listener.conns)
				<-ended
				<-quit
			})
		})
	}
}
