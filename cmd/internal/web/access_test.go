package web

import (
	"net/http"
	"os"
	"strings"
	"testing"
)

func TestForeignHostIsRefusedEverywhere(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/api/v1/status", "/api/v1/garage", "/nowhere"} {
		for _, name := range []string{"evil.example", "evil.example:7373", "localhost.evil.example", "", "127.0.0.1.evil.example"} {
			wantProblem(t, ask(s, "GET", path, "", host(name)), 403, "Host", "-host")
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
	for _, name := range []string{"localhost", "LOCALHOST:7373", "127.0.0.1:7373", "192.168.1.20", "[::1]:7373", "[fe80::1]", machine, short + ".local:7373", "garage.example", "Garage.Example.:80"} {
		if w := ask(s, "GET", "/api/v1/status", "", host(name)); w.Code != 200 {
			t.Errorf("%q: %d %s", name, w.Code, w.Body)
		}
	}
}

func TestForeignOriginIsRefused(t *testing.T) {
	s := newSite(t)
	for _, origin := range []string{"https://evil.example", "null", "http://localhost", "http://localhost:7374", "file://localhost:7373", "http://127.0.0.1:7373", ":"} {
		wantProblem(t, ask(s, "POST", "/api/v1/calc/convert", `{}`, header("Origin", origin)), 403, "Origin")
		wantProblem(t, ask(s, "GET", "/api/v1/garage", "", header("Origin", origin)), 403, "Origin")
	}
	for _, origin := range []string{"http://localhost:7373", "https://LOCALHOST:7373"} {
		if w := ask(s, "GET", "/api/v1/garage", "", header("Origin", origin)); w.Code != 200 {
			t.Errorf("own origin %s: %d %s", origin, w.Code, w.Body)
		}
	}
}

func TestGarageFromElsewhereWantsTheKey(t *testing.T) {
	s := newSite(t)
	asks := map[string]string{"GET": "/api/v1/garage", "PUT": carPath, "DELETE": carPath}
	for method, path := range asks {
		for name, change := range map[string]func(*http.Request){
			"no key": from(phone), "from the LAN over IPv6": from("[2001:db8::1]:50000"), "unreadable address": from("somewhere"),
			"passed on by a proxy on this machine": header("X-Forwarded-For", "192.0.2.7"),
		} {
			w := ask(s, method, path, putCar(`{"name":"Linnet"}`), change)
			wantProblem(t, w, 401, "key", "Authorization")
			if w.Header().Get("WWW-Authenticate") == "" {
				t.Errorf("%s %s: no WWW-Authenticate", method, name)
			}
		}
		for _, wrong := range []string{"Bearer ", "Bearer wrong", "Basic " + s.AccessKey(), s.AccessKey(), "Bearer " + s.AccessKey() + "x", "Bearer " + s.AccessKey()[1:]} {
			wantProblem(t, ask(s, method, path, "", from(phone), header("Authorization", wrong)), 401)
		}
	}
	for _, path := range []string{carPath, carPath + "/kept"} {
		wantProblem(t, ask(s, "GET", path, "", from(phone)), 401)
	}
	if w := ask(s, "PUT", carPath, putCar(`{"name":"Linnet"}`), from(phone), header("Authorization", "Bearer "+s.AccessKey())); w.Code != 200 {
		t.Errorf("with the key: %d %s", w.Code, w.Body)
	}
	for _, loopback := range []string{here, "127.8.8.8:1", "[::1]:50000", "[::ffff:127.0.0.1]:50000"} {
		if w := ask(s, "GET", "/api/v1/garage", "", from(loopback)); w.Code != 200 {
			t.Errorf("from %s: %d %s", loopback, w.Code, w.Body)
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
	if w := ask(s, "POST", "/api/v1/calc/convert", `{"value":20,"from":"inHg","to":"kPa"}`, from(phone)); w.Code != 200 {
		t.Errorf("calc: %d %s", w.Code, w.Body)
	}
}

func TestRefusalsDoNotShowTheKey(t *testing.T) {
	s := newSite(t)
	w := ask(s, "GET", "/api/v1/garage", "", from(phone), header("Authorization", "Bearer wrong"))
	if strings.Contains(w.Body.String(), s.AccessKey()) {
		t.Error("the refusal carries the key")
	}
}
