package web

import (
	"encoding/json"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"pointsmith"
	"pointsmith/calc"
	"pointsmith/cmd/internal/web/assets"
	"pointsmith/store/storetest"
)

// The addresses of a phone in the house and of the server's own machine.
const (
	phone = "192.0.2.7:50000"
	here  = "127.0.0.1:50000"
)

// preparedOnce saves each test the minifying, which takes long under the race
// detector. No test changes an asset.
var preparedOnce = sync.OnceValues(func() (assets.Files, error) {
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		return nil, err
	}
	return assets.Prepare(app, "test")
})

func newSite(t testing.TB) *Site {
	t.Helper()
	return newSiteAt(t, slog.New(slog.DiscardHandler), time.Now)
}

// newSiteAt is newSite with a log and a clock of the test's own.
func newSiteAt(t testing.TB, log *slog.Logger, now func() time.Time) *Site {
	t.Helper()
	files, err := preparedOnce()
	if err != nil {
		t.Fatal(err)
	}
	s, err := assemble(Options{Store: storetest.Open(t), Version: "test", Hosts: []string{"garage.example"}, Log: log,
		Now: now}, files)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// ask sends one request from the server's own machine unless a header changes it.
func ask(s *Site, method, target, body string, change ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, target, strings.NewReader(body))
	r.Host, r.RemoteAddr = "localhost:7373", here
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w
}

func header(name, value string) func(*http.Request) {
	return func(r *http.Request) { r.Header.Set(name, value) }
}

func from(address string) func(*http.Request) {
	return func(r *http.Request) { r.RemoteAddr = address }
}

func host(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }

// wantProblem checks that an answer is a whole problem document.
func wantProblem(t testing.TB, w *httptest.ResponseRecorder, status int, words ...string) calc.Problem {
	t.Helper()
	var p calc.Problem
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil {
		t.Fatalf("%d %.200q is not a problem document: %v", w.Code, w.Body, err)
	}
	if w.Code != status || p.Status != status || w.Header().Get("Content-Type") != "application/problem+json" {
		t.Errorf("answered %d %s (%s), want %d", w.Code, w.Body, w.Header().Get("Content-Type"), status)
	}
	if p.Title == "" || p.Do == "" {
		t.Errorf("%s lacks a title or what to do", w.Body)
	}
	for _, word := range words {
		if !strings.Contains(w.Body.String(), word) {
			t.Errorf("%q is not in %s", word, w.Body)
		}
	}
	if w.Body.Len() > 2000 {
		t.Errorf("the problem has %d bytes", w.Body.Len())
	}
	return p
}

func wantJSON[T any](t testing.TB, w *httptest.ResponseRecorder) (v T) {
	t.Helper()
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/json" {
		t.Fatalf("answered %d %.300q", w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatalf("%.300q: %v", w.Body, err)
	}
	return v
}
