package web

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
	"time"
)

// pairedToken pairs a device through the store and gives its token.
func pairedToken(t testing.TB, s *Site, isOwner bool) string {
	t.Helper()
	code, _, err := s.store.NewCode(isOwner, s.now())
	if err != nil {
		t.Fatal(err)
	}
	token, _, err := s.store.Pair(code, "Test phone", s.now())
	if err != nil {
		t.Fatal(err)
	}
	return token
}

func bearer(token string) func(*http.Request) { return header("Authorization", "Bearer "+token) }

// tryCode sends a code from somewhere.
func tryCode(s *Site, code, address string, change ...func(*http.Request)) *httptest.ResponseRecorder {
	return ask(s, "POST", "/api/v1/pair", fmt.Sprintf(`{"code":%q,"name":"Greasy phone"}`, code),
		append(change, from(address), host("192.0.2.1:7373"))...)
}

func makeCode(t testing.TB, s *Site, change ...func(*http.Request)) string {
	t.Helper()
	return wantJSON[codeMade](t, ask(s, "POST", "/api/v1/pair/code", `{}`, change...)).Code
}

// Who is let in comes to the name that stays, whatever address the owner used.
func TestACodeLeadsToTheNameThatStays(t *testing.T) {
	s := newSite(t)
	for _, address := range []string{"", "https://pointsmith.local:7373"} {
		s.SendTo(address)
		made := wantJSON[codeMade](t, ask(s, "POST", "/api/v1/pair/code", `{}`))
		if made.Address != address || !strings.HasPrefix(made.Path, "/#/join/") {
			t.Errorf("sent to %q it leads to %+v", address, made)
		}
	}
}

// A clock that tests turn by hand.
type clock struct{ at time.Time }

func (c *clock) now() time.Time       { return c.at }
func (c *clock) turn(d time.Duration) { c.at = c.at.Add(d) }

// sleep turns the clock instead of waiting.
func (c *clock) sleep(_ context.Context, d time.Duration) { c.turn(d) }

func newClock() *clock { return &clock{time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)} }
func logInto(to *bytes.Buffer) *slog.Logger {
	return slog.New(slog.NewTextHandler(to, &slog.HandlerOptions{Level: slog.LevelDebug}))
}

func TestACodeOpensTheGarageOnce(t *testing.T) {
	var log bytes.Buffer
	s := newSiteAt(t, logInto(&log), time.Now)
	code := makeCode(t, s)
	w := tryCode(s, code, phone)
	d := wantJSON[paired](t, w).Device
	cookies := w.Result().Cookies()
	if d.Name != "Greasy phone" || d.Owner || d.ID == "" || len(cookies) != 1 {
		t.Fatalf("%+v %v", d, cookies)
	}
	c := cookies[0]
	if c.Name != "pointsmith" || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Secure || c.MaxAge < 86400 ||
		c.Path != "/" || c.Domain != "" {
		t.Errorf("over plain http: %v", c)
	}
	if strings.Contains(w.Body.String(), c.Value) {
		t.Error("the token stands in the answer, where scripts can read it")
	}
	if w := ask(s, "GET", "/api/v1/garage", "", from(phone), func(r *http.Request) { r.AddCookie(c) }); w.Code != 200 {
		t.Errorf("with the cookie: %d %s", w.Code, w.Body)
	}
	replay := tryCode(s, code, phone)
	wantProblem(t, replay, 401, "used", "pointsmith pair")
	if len(replay.Result().Cookies()) != 0 {
		t.Error("a replayed code got a cookie")
	}
	if !strings.Contains(log.String(), "level=WARN") || !strings.Contains(log.String(), "does not open") {
		t.Errorf("the replay is not in the log: %s", &log)
	}
	bare := strings.ReplaceAll(code, "-", "")
	for _, secret := range []string{code, bare, c.Value} {
		if strings.Contains(log.String(), secret) {
			t.Errorf("the log holds %q", secret)
		}
	}
}

func TestOverTLSTheCookieIsBoundToTheHost(t *testing.T) {
	s := newSite(t)
	for name, change := range map[string]func(*http.Request){"TLS": overTLS,
		"TLS taken off before us": header("Origin", "https://192.0.2.1:7373")} {
		c := tryCode(s, makeCode(t, s), phone, change).Result().Cookies()[0]
		if c.Name != "__Host-pointsmith" || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode ||
			c.Path != "/" || c.Domain != "" {
			t.Errorf("%s: %v", name, c)
		}
	}
}

func TestAPairingFromAForeignPageIsRefused(t *testing.T) {
	s := newSite(t)
	code := makeCode(t, s)
	wantProblem(t, tryCode(s, code, phone, header("Origin", "https://evil.example")), 403, "Origin")
	w := ask(s, "POST", "/api/v1/pair", fmt.Sprintf(`{"code":%q,"name":"x"}`, code), from(phone),
		host("rebound.evil.example"))
	wantProblem(t, w, 403, "Host")
	if w := tryCode(s, code, phone); w.Code != 200 {
		t.Errorf("a refused request spent the code: %d %s", w.Code, w.Body)
	}
}

func TestAPairingIsReadStrictly(t *testing.T) {
	s := newSite(t)
	code := makeCode(t, s)
	for body, field := range map[string]string{
		`{"code":"` + code + `"}`:                                          "name",
		`{"code":"` + code + `","name":" "}`:                               "name",
		`{"code":"` + code + `","name":"<b>x</b>"}`:                        "name",
		`{"code":"` + code + `","name":"` + strings.Repeat("x", 81) + `"}`: "name",
		`{"code":"` + code + `","name":"a\u0007"}`:                         "name",
		`{"name":"x"}`: "code",
		`{"code":"` + strings.Repeat("A", 41) + `","name":"x"}`: "code",
		`{"code":"` + code + `","name":"x","owner":true}`:       "owner",
	} {
		wantProblem(t, ask(s, "POST", "/api/v1/pair", body, from(phone)), 422, field)
	}
	wantProblem(t, ask(s, "POST", "/api/v1/pair", `{`, from(phone)), 400)
	wantProblem(t, ask(s, "POST", "/api/v1/pair", strings.Repeat(" ", 5000), from(phone)), 413)
	if w := tryCode(s, strings.ToLower(code), phone); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// A thousand guesses from one address, as fast as they come: none is let in,
// nearly all are not even looked at, all are in the log.
func TestAThousandGuessesAreRefusedAndLogged(t *testing.T) {
	for name, address := range map[string]func(n int) string{
		"one address":   func(int) string { return phone },
		"one IPv6 /64":  func(n int) string { return fmt.Sprintf("[2001:db8::%x]:999", n+1) },
		"no address":    func(int) string { return "somewhere" },
		"proxied, said": func(n int) string { return "127.0.0.1:999" },
	} {
		t.Run(name, func(t *testing.T) {
			var log bytes.Buffer
			at := newClock()
			s := newSiteAt(t, logInto(&log), at.now)
			s.sleep = at.sleep
			code := makeCode(t, s)
			log.Reset()
			looked := 0
			for n := range 1000 {
				w := tryCode(s, fmt.Sprintf("WRNG-2%03d", n), address(n),
					header("X-Forwarded-For", fmt.Sprint("10.1.1.", n)))
				switch {
				case w.Code == 401:
					looked++
				case w.Code != 429 || w.Header().Get("Retry-After") == "":
					t.Fatalf("guess %d: %d %s", n, w.Code, w.Body)
				}
				if len(w.Result().Cookies()) > 0 {
					t.Fatalf("guess %d got a cookie", n)
				}
				at.turn(time.Millisecond)
			}
			if looked != triesPerMinute {
				t.Errorf("%d guesses were looked at, want %d", looked, triesPerMinute)
			}
			if n := strings.Count(log.String(), "level=WARN"); n != 1000 {
				t.Errorf("%d are in the log", n)
			}
			if bytes.Contains(log.Bytes(), []byte("WRNG")) {
				t.Error("guesses stand in the log")
			}
			w := tryCode(s, code, phone)
			if want := map[bool]int{true: 429, false: 200}[name == "one address"]; w.Code != want {
				t.Errorf("the right code right after: %d", w.Code)
			}
		})
	}
}

// Thousands of guesses from many addresses at once: they are slowed down, and a
// phone with a good code is let in, at once or when it comes again as told.
func TestGuessesFromElsewhereDoNotShutOutAGoodCode(t *testing.T) {
	at := newClock()
	s := newSiteAt(t, slog.New(slog.DiscardHandler), at.now)
	var longest time.Duration
	s.sleep = func(_ context.Context, d time.Duration) { longest = max(longest, d) } // all come at one moment
	code := makeCode(t, s)
	looked := 0
	for n := range 3000 {
		if w := tryCode(s, "AAAA-AAAA", fmt.Sprintf("10.0.%d.%d:999", n/200, n%200)); w.Code == 401 {
			looked++
		}
	}
	if most := int(lookWait/lookEvery) + 1; looked != most || longest != lookWait {
		t.Errorf("%d were looked at, the last after %v; want %d", looked, longest, most)
	}
	w := tryCode(s, code, phone)
	if w.Code != 429 || w.Header().Get("Retry-After") != "1" {
		t.Errorf("the right code at that moment: %d, Retry-After %q", w.Code, w.Header().Get("Retry-After"))
	}
	at.turn(time.Second)
	if w := tryCode(s, code, phone); w.Code != 200 {
		t.Errorf("the right code a second later: %d %s", w.Code, w.Body)
	}
	for n := range 100 {
		tryCode(s, "AAAA-AAAA", fmt.Sprintf("10.1.0.%d:999", n))
		at.turn(lookEvery)
	}
	if w := tryCode(s, makeCode(t, s), "192.0.2.9:1"); w.Code != 200 {
		t.Errorf("after a hundred wrong ones from elsewhere: %d %s", w.Code, w.Body)
	}
}

func TestWhoLosesTheRaceForACodeDoesNotGuess(t *testing.T) {
	at := newClock()
	s := newSiteAt(t, slog.New(slog.DiscardHandler), at.now)
	s.sleep = at.sleep
	for range 4 * triesPerMinute {
		code := makeCode(t, s)
		first, second := tryCode(s, code, phone), tryCode(s, code, phone)
		if first.Code != 200 {
			t.Fatalf("a good code: %d %s", first.Code, first.Body)
		}
		wantProblem(t, second, 401, "used")
	}
	code := makeCode(t, s)
	tryCode(s, code, phone)
	at.turn(raceTime)
	for range triesPerMinute {
		wantProblem(t, tryCode(s, code, phone), 401) // that is no race any more
	}
	wantProblem(t, tryCode(s, code, phone), 429)
}

// Many at the same moment: one is let in.
func TestOneOfManyWinsTheRaceForACode(t *testing.T) {
	s := newSite(t)
	code := makeCode(t, s)
	answers := make(chan int)
	for range triesPerMinute {
		go func() { answers <- tryCode(s, code, phone).Code }()
	}
	count := map[int]int{}
	for range triesPerMinute {
		count[<-answers]++
	}
	if count[200] != 1 || count[401] != triesPerMinute-1 || len(s.tries.made) != 0 {
		t.Errorf("%v, %d tries are counted", count, len(s.tries.made))
	}
}

func TestWaitingAsToldHelps(t *testing.T) {
	at := newClock()
	s := newSiteAt(t, slog.New(slog.DiscardHandler), at.now)
	s.sleep = at.sleep
	for range triesPerMinute {
		tryCode(s, "AAAA-AAAA", phone)
	}
	w := tryCode(s, "AAAA-AAAA", phone)
	told, err := strconv.Atoi(w.Header().Get("Retry-After"))
	if w.Code != 429 || err != nil || told < 1 || told > 60 {
		t.Fatalf("%d, Retry-After %q", w.Code, w.Header().Get("Retry-After"))
	}
	if w := tryCode(s, "AAAA-AAAA", "192.0.2.8:1"); w.Code != 401 {
		t.Errorf("another address had to wait too: %d", w.Code)
	}
	at.turn(time.Duration(told) * time.Second)
	if w := tryCode(s, makeCode(t, s), phone); w.Code != 200 { // a good code is no guess
		t.Errorf("after waiting: %d %s", w.Code, w.Body)
	}
	at.turn(time.Hour)
	tryCode(s, "AAAA-AAAA", phone)
	if len(s.tries.made) != 1 {
		t.Errorf("%d tries are remembered", len(s.tries.made))
	}
}

func TestOwnersOpenAndCloseGuestsDoNot(t *testing.T) {
	s := newSite(t)
	owner, guest := bearer(pairedToken(t, s, true)), bearer(pairedToken(t, s, false))
	wantProblem(t, ask(s, "POST", "/api/v1/pair/code", `{}`, from(phone), guest), 403, "owner")
	code := makeCode(t, s, from(phone), owner)
	stranger := wantJSON[paired](t, tryCode(s, code, "192.0.2.50:1")).Device

	list := wantJSON[deviceList](t, ask(s, "GET", "/api/v1/devices", "", from(phone), guest))
	if len(list.Devices) != 3 || list.This == "" {
		t.Fatalf("%+v", list)
	}
	path := "/api/v1/devices/"
	wantProblem(t, ask(s, "DELETE", path+stranger.ID, "", from(phone), guest), 403, "owner")
	if w := ask(s, "DELETE", path+stranger.ID, "", from(phone), owner); w.Code != 200 {
		t.Errorf("an owner: %d %s", w.Code, w.Body)
	}
	wantProblem(t, ask(s, "DELETE", path+stranger.ID, "", from(phone), owner), 404, "no such device")
	w := ask(s, "DELETE", path+list.This, "", from(phone), guest) // a guest may leave
	if c := w.Result().Cookies(); w.Code != 200 || len(c) != 1 || c[0].MaxAge >= 0 {
		t.Errorf("leaving: %d %v", w.Code, c)
	}
	wantProblem(t, ask(s, "GET", "/api/v1/garage", "", from(phone), guest), 401)
}

// Cookies end in browsers after some time; use makes them begin anew.
func TestTheCookieIsRenewedByUse(t *testing.T) {
	at := newClock()
	s := newSiteAt(t, slog.New(slog.DiscardHandler), at.now)
	token := pairedToken(t, s, false)
	use := func() []*http.Cookie {
		return ask(s, "GET", "/api/v1/garage", "", from(phone),
			header("Cookie", "pointsmith="+token)).Result().Cookies()
	}
	if c := use(); len(c) != 0 {
		t.Errorf("at once: %v", c)
	}
	at.turn(time.Hour)
	if c := use(); len(c) != 1 || c[0].Value != token {
		t.Errorf("an hour later: %v", c)
	}
}
