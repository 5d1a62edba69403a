package web

import (
	"fmt"
	"io"
	"net"
	"net/http/httptest"
	"os"
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

// Over a real connection: a body that stops is not waited for.
func TestASlowBodyIsGivenUp(t *testing.T) {
	if bodyTime(maxShort) > 11*time.Second || bodyTime(1<<20) > 45*time.Second || bodyTime(MaxGarageFile) > readTime {
		t.Errorf("%v, %v, %v", bodyTime(maxShort), bodyTime(1<<20), bodyTime(MaxGarageFile))
	}
	w := &deadlines{ResponseRecorder: httptest.NewRecorder()}
	r := httptest.NewRequest("POST", "/api/v1/calc/convert", &slow{w: w})
	r.Host, r.RemoteAddr, r.ContentLength = "localhost:7373", phone, 1<<20
	newSite(t).Handler().ServeHTTP(w, r)
	wantProblem(t, w.ResponseRecorder, 408, "10 seconds without a byte")
}

// deadlines keeps the time until which the request may be read.
type deadlines struct {
	*httptest.ResponseRecorder
	until time.Time
}

func (d *deadlines) SetReadDeadline(until time.Time) error {
	d.until = until
	return nil
}

// slow is a connection that breaks off where it would have to wait too long.
type slow struct{ w *deadlines }

func (s *slow) Read(to []byte) (int, error) {
	if left := time.Until(s.w.until); left > 0 && left <= bodyStart {
		return 0, &net.OpError{Op: "read", Err: osTimeout{}}
	}
	return len(to), nil
}

type osTimeout struct{}

func (osTimeout) Error() string { return "i/o timeout" }
func (osTimeout) Unwrap() error { return os.ErrDeadlineExceeded }
