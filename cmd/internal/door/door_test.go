package door

import (
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"pointsmith/cmd/internal/localca"
)

func newDoor(t *testing.T) (*Door, *localca.Authority) {
	t.Helper()
	a, err := localca.Make(localca.FilesFor(filepath.Join(t.TempDir(), "garage.db")), "workshop", nil, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	d, err := New(a, "7373", "", func(host string) bool {
		return strings.HasPrefix(host, "192.0.2.1") || strings.HasPrefix(host, "garage.local")
	})
	if err != nil {
		t.Fatal(err)
	}
	return d, a
}

func ask(h http.Handler, target string, change ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest("GET", target, nil)
	r.Host = "192.0.2.1:7374"
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestTheCertificateIsServedInThreeForms(t *testing.T) {
	d, a := newDoor(t)
	for path, mediaType := range map[string]string{"/pointsmith.crt": "application/x-x509-ca-cert",
		"/pointsmith.pem": "application/x-pem-file", "/pointsmith.mobileconfig": "application/x-apple-aspen-config"} {
		w := ask(d.Handler(), path)
		if w.Code != 200 || w.Header().Get("Content-Type") != mediaType ||
			w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: %d %v", path, w.Code, w.Header())
		}
		der := w.Body.Bytes()
		if path == "/pointsmith.pem" {
			block, _ := pem.Decode(der)
			der = block.Bytes
		}
		if path == "/pointsmith.mobileconfig" {
			continue
		}
		if c, err := x509.ParseCertificate(der); err != nil || !c.Equal(a.Certificate) {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func TestThePageShowsWhatToCompareAndTheStepsOfThisPhone(t *testing.T) {
	d, a := newDoor(t)
	for agent, first := range map[string]string{"Mozilla/5.0 (Linux; Android 14)": "Android",
		"Mozilla/5.0 (iPhone; CPU iPhone OS 17_0)": "iPhone, iPad", "Mozilla/5.0 (X11; Linux)": "Another computer"} {
		text := ask(d.Handler(), "/", func(r *http.Request) { r.Header.Set("User-Agent", agent) }).Body.String()
		if !strings.Contains(strings.ReplaceAll(text, "</span><span>", ""), a.Fingerprint()) ||
			!strings.Contains(text, `href="https://192.0.2.1:7373/"`) || !strings.Contains(text, "<code>local</code>") {
			t.Errorf("%s: %s", agent, text)
		}
		open := regexp.MustCompile(`<details open>\s*<summary>([^<]*)`).FindAllStringSubmatch(text, -1)
		if len(open) != 1 || open[0][1] != first {
			t.Errorf("%s: open is %v", agent, open)
		}
		if strings.Count(text, "<details") != 3 || strings.Contains(text, "<script") ||
			strings.Contains(text, " style=") {
			t.Errorf("%s: %s", agent, text)
		}
	}
}

func TestThePageKnowsItsNames(t *testing.T) {
	d, _ := newDoor(t)
	if w := ask(d.Handler(), "/", func(r *http.Request) {
		r.Host = "garage.local"
	}); !strings.Contains(w.Body.String(), `"https://garage.local:7373/"`) {
		t.Errorf("%s", w.Body)
	}
	for _, path := range []string{"/", "/pointsmith.crt", "/tick/x"} {
		if w := ask(d.Handler(), path, func(r *http.Request) { r.Host = "evil.example" }); w.Code != 403 {
			t.Errorf("%s by a foreign name: %d", path, w.Code)
		}
	}
	for _, path := range []string{"/api/v1/garage", "/index.html", "/js/frame/main.js", "/arrived/x", "/tick/",
		"/garage-authority.key"} {
		if w := ask(d.Handler(), path); w.Code != 404 {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	if csp := ask(d.Handler(), "/").Header().Get("Content-Security-Policy"); !strings.Contains(csp,
		"default-src 'none'") || strings.Contains(csp, "script-src") || strings.Contains(csp, "unsafe") {
		t.Error(csp)
	}
}

func overTLS(r *http.Request) { r.TLS = new(tls.ConnectionState) }

func TestTheTickComesOnceTheMarkerArrivedOverTLS(t *testing.T) {
	d, _ := newDoor(t)
	secure := d.OverTLS(http.NotFoundHandler())
	tick := regexp.MustCompile(`<iframe src="([^"]+)"`).FindStringSubmatch(ask(d.Handler(), "/").Body.String())[1]
	hasTick := func() bool { return strings.Contains(ask(d.Handler(), tick).Body.String(), "✓") }

	waiting := ask(d.Handler(), tick).Body.String()
	picture := regexp.MustCompile(`<img src="https://192\.0\.2\.1:7373([^"]+)"`).FindStringSubmatch(waiting)
	if picture == nil || !strings.Contains(waiting, `http-equiv="refresh"`) || hasTick() {
		t.Fatalf("before: %s", waiting)
	}
	ask(secure, picture[1]) // over plain HTTP it counts for nothing
	ask(secure, arrivedPath+"made-up", overTLS)
	if hasTick() {
		t.Error("a tick without HTTPS")
	}
	w := ask(secure, picture[1], overTLS)
	if w.Code != 200 || w.Header().Get("Cross-Origin-Resource-Policy") != "cross-origin" ||
		w.Header().Get("Cache-Control") != "no-store" {
		t.Errorf("the picture: %d %v", w.Code, w.Header())
	}
	if !hasTick() || strings.Contains(ask(d.Handler(), tick).Body.String(), "refresh") {
		t.Error("no tick after HTTPS, or it goes on asking")
	}
	if strings.Contains(ask(d.Handler(), tickPath+"made-up").Body.String(), "✓") {
		t.Error("a marker nobody was given has a tick")
	}
	if w := ask(secure, "/", overTLS); w.Code != 404 {
		t.Errorf("other paths are not passed on: %d", w.Code)
	}
}

// A phone that came by the number is sent to the name only when it found it.
func TestTheNameThatStaysIsPreferred(t *testing.T) {
	d, _ := newDoor(t)
	d.name = "garage.local"
	page := ask(d.Handler(), "/").Body.String()
	if strings.Count(page, `then open <a href="https://garage.local:7373/">`) != 3 ||
		strings.Count(page, `does not find it: <a href="https://192.0.2.1:7373/">`) != 3 {
		t.Errorf("the steps lead elsewhere: %s", page)
	}
	byName := func(r *http.Request) { r.Host = "GARAGE.local:7374" }
	if page := ask(d.Handler(), "/", byName).Body.String(); strings.Contains(page, "does not find it") {
		t.Errorf("who came by the name is told of a number: %s", page)
	}
	for _, arrives := range []string{"192.0.2.1", "garage.local"} {
		marker := strings.ToLower(rand.Text())
		d.arrivals.expect(marker)
		waiting := ask(d.Handler(), tickPath+marker).Body.String()
		for _, name := range []string{"192.0.2.1", "garage.local"} {
			if !strings.Contains(waiting, `<img src="https://`+name+`:7373/arrived/`+marker+`"`) {
				t.Errorf("no picture from %s: %s", name, waiting)
			}
		}
		ask(d.OverTLS(http.NotFoundHandler()), arrivedPath+marker, overTLS, func(r *http.Request) {
			r.Host = arrives + ":7373"
		})
		tick := ask(d.Handler(), tickPath+marker).Body.String()
		if !strings.Contains(tick, "✓") || !strings.Contains(tick, `href="https://`+arrives+`:7373/"`) {
			t.Errorf("it arrived by %s: %s", arrives, tick)
		}
	}
}

// The page stays open on the phone while the server is started again.
func TestAMarkerFromBeforeARestartStillWorks(t *testing.T) {
	d, a := newDoor(t)
	tick := regexp.MustCompile(`<iframe src="([^"]+)"`).FindStringSubmatch(ask(d.Handler(), "/").Body.String())[1]
	d, err := New(a, "7373", "", d.isOwnHost)
	if err != nil {
		t.Fatal(err)
	}
	ask(d.Handler(), tick)
	ask(d.OverTLS(http.NotFoundHandler()), strings.Replace(tick, tickPath, arrivedPath, 1), overTLS)
	if !strings.Contains(ask(d.Handler(), tick).Body.String(), "✓") {
		t.Error("no tick")
	}
}

func TestMarkersAreForgottenInTime(t *testing.T) {
	var a arrivals
	for n := range mostMarkers * 3 {
		a.expect(fmt.Sprint(n))
		a.arrive(fmt.Sprint(n, "x"), false)
	}
	if len(a.known) != mostMarkers || len(a.order) != mostMarkers {
		t.Errorf("%d markers are held", len(a.known))
	}
}
