package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pointsmith/calc"
)

const inches = `{"value":20,"from":"inHg","to":"kPa"}`

// stubborn makes a site whose long calculations last until they are let go.
func stubborn(t *testing.T) (s *Site, running *atomic.Int32, letGo func()) {
	t.Helper()
	s = newSite(t)
	running, stop := new(atomic.Int32), make(chan struct{})
	s.lanes.call = func(method string, in []byte) ([]byte, error) {
		if quick[method] {
			return calc.Call(method, in)
		}
		running.Add(1)
		defer running.Add(-1)
		<-stop
		return []byte(`{}`), nil
	}
	return s, running, sync.OnceFunc(func() { close(stop) })
}

// inBackground asks for so many long calculations from an address.
func inBackground(s *Site, n int, address string) chan *httptest.ResponseRecorder {
	answers := make(chan *httptest.ResponseRecorder, n)
	for range n {
		go func() { answers <- ask(s, "POST", "/api/v1/calc/advance.fit", `{}`, from(address)) }()
	}
	return answers
}

func TestQuickCalculationsDoNotWaitBehindLongOnes(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, running, letGo := stubborn(t)
		answers := inBackground(s, 20, phone)
		synctest.Wait()
		if n, places := running.Load(), int32(1); n < places || n >= 20 {
			t.Errorf("%d long ones run at a time", n)
		}
		begun := time.Now()
		if w := ask(s, "POST", "/api/v1/calc/convert", inches, from("192.0.2.8:1")); w.Code != 200 ||
			time.Since(begun) > 0 {
			t.Errorf("%d after %v: %s", w.Code, time.Since(begun), w.Body)
		}
		large := `{"value":20,"from":"inHg","to":"kPa"` + strings.Repeat(" ", quickBytes) + `}`
		begun = time.Now()
		w := ask(s, "POST", "/api/v1/calc/convert", large, from("192.0.2.8:1"))
		wantProblem(t, w, 503, "20 seconds", "wait 10 seconds")
		if w.Header().Get("Retry-After") != "10" || time.Since(begun) != calcWait {
			t.Errorf("a large input: Retry-After %q after %v", w.Header().Get("Retry-After"), time.Since(begun))
		}
		letGo()
		for range 20 {
			<-answers
		}
	})
}

func TestTheQueueOfCalculationsHasAnEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, running, letGo := stubborn(t)
		answers := inBackground(s, 500, phone)
		synctest.Wait()
		refused := len(answers)
		if want := 500 - calcQueue - int(running.Load()); refused != want {
			t.Errorf("%d are refused at once, want %d", refused, want)
		}
		wantProblem(t, <-answers, 503, "64 that wait")
		letGo()
		for range 499 {
			<-answers
		}
	})
}

// A calculation cannot be stopped; the one who asked is told, and its place is
// taken until it ends.
func TestACalculationIsGivenUpAndKeepsItsPlace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, running, letGo := stubborn(t)
		begun := time.Now()
		w := ask(s, "POST", "/api/v1/calc/advance.fit", `{}`, from(phone))
		wantProblem(t, w, 503, "60 seconds", "given up")
		if w.Header().Get("Retry-After") == "" || time.Since(begun) != calcTime {
			t.Errorf("Retry-After %q after %v", w.Header().Get("Retry-After"), time.Since(begun))
		}
		for range 5 {
			ask(s, "POST", "/api/v1/calc/advance.fit", `{}`, from(phone))
		}
		if n := running.Load(); n > max(int32(runtime.GOMAXPROCS(0)-1), 1) {
			t.Errorf("%d run at a time", n)
		}
		letGo()
		synctest.Wait()
		if w := ask(s, "POST", "/api/v1/calc/advance.fit", `{}`, from(phone)); w.Code != 200 || running.Load() != 0 {
			t.Errorf("afterwards %d, %d run", w.Code, running.Load())
		}
	})
}

func TestWhoeverHasGoneIsNotCalculatedFor(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, _, letGo := stubborn(t)
		var begun atomic.Int32
		call := s.lanes.call
		s.lanes.call = func(method string, in []byte) ([]byte, error) {
			begun.Add(1)
			return call(method, in)
		}
		answers := inBackground(s, 10, phone)
		synctest.Wait()
		ctx, leave := context.WithCancel(t.Context())
		gone := make(chan struct{})
		go func() {
			defer close(gone)
			ask(s, "POST", "/api/v1/calc/sound.rpm", `{}`, from("192.0.2.8:1"),
				func(r *http.Request) { *r = *r.WithContext(ctx) })
		}()
		synctest.Wait()
		leave()
		<-gone
		letGo()
		for range 10 {
			if w := <-answers; w.Code != 200 {
				t.Errorf("%d %s", w.Code, w.Body)
			}
		}
		if n := begun.Load(); n != 10 {
			t.Errorf("%d were calculated for ten that stayed", n)
		}
	})
}

func TestAFaultInACalculationIsAnAnswer(t *testing.T) {
	var log bytes.Buffer
	s := newSiteAt(t, logInto(&log), time.Now)
	s.lanes.call = func(string, []byte) ([]byte, error) { panic("a fault of ours") }
	for range 5 { // the place is given back
		wantProblem(t, ask(s, "POST", "/api/v1/calc/convert", inches), 500)
	}
	if !strings.Contains(log.String(), "a fault of ours") {
		t.Errorf("the log says %s", &log)
	}
}

func TestQuickCalculationsAreInTheTable(t *testing.T) {
	known := map[string]bool{}
	for _, m := range calc.Describe() {
		known[m.Name] = true
	}
	for name := range quick {
		if !known[name] {
			t.Errorf("%s is no calculation", name)
		}
	}
	for _, long := range []string{"advance.fit", "advance.judge", "combustion.places", "shelf.nearest", "sound.rpm",
		fmt.Sprint("new", len(known))} {
		if quick[long] {
			t.Errorf("%s is called quick", long)
		}
	}
}
