package web

import (
	"bytes"
	"crypto/tls"
	"net/http"
	"os"
	"strings"
	"testing"
)

func TestForeignHostIsRefusedEverywhere(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/api/v1/status", "/api/v1/garage", "/nowhere"} {
		for _, name := range []string{"evil.example", "evil.example:7373", "localhost.evil.example", "",
			"127.0.0.1.evil.example"} {
			wantProblem(t, ask(s, "GET", path, "", host(name)), 403, "Host", "-host")
		}
	}
}

// Whoever is turned away at the door is in the log, with where from and what for.
func TestEveryRefusalAtTheDoorIsLogged(t *testing.T) {
	var log bytes.Buffer
	s := newSiteAt(t, logInto(&log), newClock().now)
	for name, c := range map[string]struct {
		method, path string
		change       []func(*http.Request)
		status       int
		words        []string
	}{
		"unpaired":          {"GET", "/api/v1/garage", nil, 401, []string{"not paired", "path=/api/v1/garage"}},
		"unpaired, writing": {"PUT", carPath, nil, 401, []string{"not paired", "method=PUT"}},
		"wrong token": {"GET", "/api/v1/garage", []func(*http.Request){bearer("wrong")}, 401,
			[]string{"not paired"}},
		"wrong origin": {"GET", "/api/v1/garage",
			[]func(*http.Request){header("Origin", "https://evil.example")}, 403,
			[]string{"Another page", "origin=https://evil.example"}},
		"rebinding host": {"GET", "/api/v1/garage", []func(*http.Request){host("rebound.evil.example")}, 403,
			[]string{"does not go by that name", "host=rebound.evil.example"}},
		"another site's frame": {"GET", "/api/v1/garage",
			[]func(*http.Request){header("Sec-Fetch-Site", "cross-site")}, 403, []string{"Another page"}},
		"pairing by another": {"POST", "/api/v1/pair",
			[]func(*http.Request){header("Origin", "https://evil.example")}, 403,
			[]string{"Another page", "path=/api/v1/pair"}},
		"a guest opening a door": {"POST", "/api/v1/pair/code", []func(*http.Request){bearer(pairedToken(t, s, false))},
			403, []string{"open or close"}},
	} {
		log.Reset()
		w := ask(s, c.method, c.path, `{}`, append([]func(*http.Request){from(phone), host("192.0.2.1:7373")},
			c.change...)...)
		if w.Code != c.status {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
		lines := strings.Split(strings.TrimSpace(log.String()), "\n")
		if len(lines) != 1 {
			t.Errorf("%s: %d lines in the log: %q", name, len(lines), lines)
		}
		for _, word := range append(c.words, "level=WARN", "from="+phone) {
			if !strings.Contains(lines[0], word) {
				t.Errorf("%s: %q does not say %q", name, lines[0], word)
			}
		}
		if strings.Contains(log.String(), "wrong ") || strings.Contains(log.String(), "Bearer") {
			t.Errorf("%s: the token stands in the log: %s", name, &log)
		}
	}
}

func TestOwnHostsAreAnswered(t *testing.T) {
	s := newSite(t)
	machine, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	short, _, _ := strings.Cut(machine, ".")
	for _, name := range []string{"localhost", "LOCALHOST:7373", "127.0.0.1:7373", "192.168.1.20", "[::1]:7373",
		"[fe80::1]", machine, short + ".local:7373", "garage.example", "Garage.Example.:80"} {
		if w := ask(s, "GET", "/api/v1/status", "", host(name)); w.Code != 200 {
			t.Errorf("%q: %d %s", name, w.Code, w.Body)
		}
	}
}

func TestForeignOriginIsRefused(t *testing.T) {
	s := newSite(t)
	for _, origin := range []string{"https://evil.example", "null", "http://localhost", "http://localhost:7374",
		"file://localhost:7373", "http://127.0.0.1:7373", ":"} {
		wantProblem(t, ask(s, "POST", "/api/v1/calc/convert", `{}`, header("Origin", origin)), 403, "Origin")
		wantProblem(t, ask(s, "GET", "/api/v1/garage", "", header("Origin", origin)), 403, "Origin")
	}
	for _, origin := range []string{"http://localhost:7373", "https://LOCALHOST:7373"} {
		if w := ask(s, "GET", "/api/v1/garage", "", header("Origin", origin)); w.Code != 200 {
			t.Errorf("own origin %s: %d %s", origin, w.Code, w.Body)
		}
	}
}

// overTLS makes a request one that came over TLS, to the server's TLS name.
func overTLS(r *http.Request) { r.TLS = &tls.ConnectionState{} }

func TestOverTLSThePageMustHaveComeThatWayToo(t *testing.T) {
	s := newSite(t)
	wantProblem(t, ask(s, "GET", "/api/v1/garage", "", overTLS, header("Origin", "http://localhost:7373")),
		403, "Origin")
	if w := ask(s, "GET", "/api/v1/garage", "", overTLS, header("Origin", "https://localhost:7373")); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

func TestRequestsOfOtherPagesAreRefused(t *testing.T) {
	s := newSite(t)
	for _, site := range []string{"cross-site", "same-site"} {
		wantProblem(t, ask(s, "GET", "/api/v1/garage", "", header("Sec-Fetch-Site", site)), 403, "Sec-Fetch-Site")
	}
	for _, site := range []string{"same-origin", "none"} {
		if w := ask(s, "GET", "/api/v1/garage", "", header("Sec-Fetch-Site", site)); w.Code != 200 {
			t.Errorf("%s: %d %s", site, w.Code, w.Body)
		}
	}
	if w := ask(s, "GET", "/", "", header("Sec-Fetch-Site", "cross-site")); w.Code != 200 {
		t.Errorf("a link to the app: %d", w.Code)
	}
}

// memberRoutes are all routes that read or write a garage or its devices.
func memberRoutes(t *testing.T, s *Site) (all []route) {
	t.Helper()
	for _, row := range s.routes() {
		if row.about.members {
			all = append(all, row)
		}
	}
	if len(all) < 8 {
		t.Fatalf("only %d routes are for members", len(all))
	}
	return all
}

func TestNobodyUsesAGarageUnpaired(t *testing.T) {
	s := newSite(t)
	token := pairedToken(t, s, false)
	for _, row := range memberRoutes(t, s) {
		target := strings.NewReplacer("{kind}", "car", "{id}", carID).Replace(row.path)
		for name, change := range map[string]func(*http.Request){
			"no token": from(phone), "from the LAN over IPv6": from("[2001:db8::1]:50000"),
			"unreadable address":                   from("somewhere"),
			"passed on by a proxy on this machine": header("X-Forwarded-For", "192.0.2.7"),
			"passed on, said otherwise":            header("Forwarded", "for=127.0.0.1"),
		} {
			w := ask(s, row.method, target, putCar(`{"name":"Linnet"}`), change)
			wantProblem(t, w, 401, "paired", "Authorization")
			if w.Header().Get("WWW-Authenticate") == "" {
				t.Errorf("%s %s %s: no WWW-Authenticate", row.method, row.path, name)
			}
		}
		for _, wrong := range []string{"Bearer ", "Bearer wrong", "Basic " + token, token, "Bearer " + token + "x",
			"Bearer " + token[1:], "Bearer " + strings.ToUpper(token)} {
			wantProblem(t, ask(s, row.method, target, "", from(phone), header("Authorization", wrong)), 401)
		}
		for _, wrong := range []string{"pointsmith=", "pointsmith=wrong", "__Host-pointsmith=" + token[1:],
			"other=" + token} {
			wantProblem(t, ask(s, row.method, target, "", from(phone), header("Cookie", wrong)), 401)
		}
	}
	if n, err := s.store.Count(); n != 0 || err != nil {
		t.Errorf("the garage holds %d, %v", n, err)
	}
}

func TestPairedDevicesAndThisMachineUseTheGarage(t *testing.T) {
	s := newSite(t)
	token := pairedToken(t, s, false)
	for name, value := range map[string]string{"Authorization": "Bearer " + token, "Cookie": "pointsmith=" + token} {
		if w := ask(s, "PUT", carPath, putCar(`{"name":"Linnet"}`), from(phone), header(name, value)); w.Code != 200 {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
	for _, loopback := range []string{here, "127.8.8.8:1", "[::1]:50000", "[::ffff:127.0.0.1]:50000"} {
		if w := ask(s, "GET", "/api/v1/garage", "", from(loopback)); w.Code != 200 {
			t.Errorf("from %s: %d %s", loopback, w.Code, w.Body)
		}
	}
}

func TestStatusTellsStrangersLittle(t *testing.T) {
	s := newSite(t)
	stranger := wantJSON[map[string]any](t, ask(s, "GET", "/api/v1/status", "", from(phone)))
	if _, told := stranger["documents"]; told || stranger["access"] != "none" {
		t.Errorf("%v", stranger)
	}
	for access, change := range map[string]func(*http.Request){"owner": bearer(pairedToken(t, s, true)),
		"guest": bearer(pairedToken(t, s, false))} {
		if got := wantJSON[map[string]any](t, ask(s, "GET", "/api/v1/status", "", from(phone),
			change)); got["access"] != access || got["documents"] != 0.0 {
			t.Errorf("%s: %v", access, got)
		}
	}
}

func TestAppCalcAndStatusAreOpenToTheHouse(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/sw.js", "/api/v1/status", "/api/v1/calc", "/api/v1/openapi.json"} {
		if w := ask(s, "GET", path, "", from(phone), host("192.0.2.1:7373")); w.Code != 200 {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	if w := ask(s, "POST", "/api/v1/calc/convert", `{"value":20,"from":"inHg","to":"kPa"}`,
		from(phone)); w.Code != 200 {
		t.Errorf("calc: %d %s", w.Code, w.Body)
	}
}

// Over plain HTTP from another machine browsers ignore the opener policy and
// complain, so it is not sent there.
func TestTheOpenerPolicyIsSentWhereItCounts(t *testing.T) {
	s := newSite(t)
	for _, c := range []struct {
		change func(*http.Request)
		want   string
	}{{host("192.0.2.1:7373"), ""}, {host("[::1]:7373"), "same-origin"}, {host("127.0.0.2"), "same-origin"},
		{overTLS, "same-origin"}, {header("X-Forwarded-Proto", "https"), "same-origin"}} {
		if got := ask(s, "GET", "/", "", c.change).Header().Get("Cross-Origin-Opener-Policy"); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
