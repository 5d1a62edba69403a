package web

import (
	"log/slog"
	"net/http/httptest"
	"testing"
	"time"
)

// A proxy on this machine that does not say whom it passes on looks like the
// owner. Where all pair it is let in as the device whose token it brings.
func TestWhereAllPairThisMachineDoesToo(t *testing.T) {
	s := newSiteAt(t, slog.New(slog.DiscardHandler), time.Now)
	if w := ask(s, "GET", "/api/v1/garage", ""); w.Code != 200 {
		t.Fatalf("without it: %d %s", w.Code, w.Body)
	}
	s.pairAll = true
	for _, loopback := range []string{here, "[::1]:50000"} {
		wantProblem(t, ask(s, "GET", "/api/v1/garage", "", from(loopback)), 401, "not paired")
		wantProblem(t, ask(s, "POST", "/api/v1/pair/code", `{}`, from(loopback)), 401, "not paired")
		wantProblem(t, ask(s, "GET", "/api/v1/backup", "", from(loopback)), 401, "not paired")
	}
	owner, guest := bearer(pairedToken(t, s, true)), bearer(pairedToken(t, s, false))
	if w := ask(s, "GET", "/api/v1/garage", "", guest); w.Code != 200 {
		t.Errorf("paired: %d %s", w.Code, w.Body)
	}
	wantProblem(t, ask(s, "POST", "/api/v1/pair/code", `{}`, guest), 403, "guest")
	wantProblem(t, ask(s, "GET", "/api/v1/backup", "", owner), 403, "own machine")
	for _, path := range []string{"/api/v1/garage", "/api/v1/backup", "/api/v1/export"} { // the program's other verbs
		r := httptest.NewRequest("GET", path, nil)
		r.Host, r.RemoteAddr = "127.0.0.1:7373", here
		w := httptest.NewRecorder()
		if s.CommandHandler().ServeHTTP(w, r); w.Code != 200 {
			t.Errorf("a command asks for %s: %d %.200s", path, w.Code, w.Body)
		}
	}
}
