package web

import (
	"bytes"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"
)

// A file that is removed or replaced under the server takes what is sent and
// is gone when the server ends: nothing may be acknowledged.
func TestNothingIsStoredInAGarageFileThatIsGone(t *testing.T) {
	for name, c := range map[string]struct {
		away func(path string) error
		word string
	}{
		"removed": {os.Remove, "removed or moved"},
		"moved":   {func(path string) error { return os.Rename(path, path+".aside") }, "removed or moved"},
		"replaced": {func(path string) error {
			return os.Rename(writeBeside(t, path), path)
		}, "another file"},
	} {
		t.Run(name, func(t *testing.T) {
			var log bytes.Buffer
			s := newSiteAt(t, logInto(&log), time.Now)
			code := makeCode(t, s)
			put := func() int { return ask(s, "PUT", carPath, putCar(`{"name":"Linnet"}`)).Code }
			if status := put(); status != 200 {
				t.Fatal(status)
			}
			log.Reset()
			path := s.store.Path()
			if err := os.Link(path, path+".kept"); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = os.Rename(path+".kept", path) }) // the store is checked at its place
			if err := c.away(path); err != nil {
				t.Fatal(err)
			}
			wantProblem(t, ask(s, "PUT", carPath, putCar(`{"name":"Wren"}`)), 503, c.word, "nothing is lost",
				"pointsmith backup")
			wantProblem(t, ask(s, "DELETE", carPath, `{"base":"","changedAt":"2026-05-01T12:00:00Z"}`), 503, c.word)
			wantProblem(t, ask(s, "POST", "/api/v1/pair/code", `{}`), 503, c.word)
			wantProblem(t, tryCode(s, code, phone), 503, c.word)
			if w := ask(s, "GET", carPath, ""); w.Code != 200 || !strings.Contains(w.Body.String(), "Linnet") {
				t.Errorf("reading: %d %s", w.Code, w.Body)
			}
			if n := strings.Count(log.String(), "level=ERROR"); n != 4 ||
				!strings.Contains(log.String(), "pointsmith restore") {
				t.Errorf("the log says %s", &log)
			}
			if name == "moved" {
				if err := os.Rename(s.store.Path()+".aside", s.store.Path()); err != nil {
					t.Fatal(err)
				}
				if status := put(); status != 200 {
					t.Errorf("back in its place: %d", status)
				}
			}
		})
	}
}

func writeBeside(t *testing.T, path string) string {
	t.Helper()
	if err := os.WriteFile(path+".other", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	return path + ".other"
}

func TestAGoodTokenCountsBesideAStaleOne(t *testing.T) {
	s := newSite(t)
	good := pairedToken(t, s, false)
	for name, headers := range map[string][2]string{
		"a stale cookie beside a good bearer": {"pointsmith=stale; __Host-pointsmith=older", "Bearer " + good},
		"a stale bearer beside a good cookie": {"pointsmith=" + good, "Bearer stale"},
		"a stale cookie beside a good one":    {"pointsmith=" + good + "; __Host-pointsmith=stale", ""},
	} {
		if w := ask(s, "GET", "/api/v1/garage", "", from(phone), header("Cookie", headers[0]),
			func(r *http.Request) { r.Header.Set("Authorization", headers[1]) }); w.Code != 200 {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
	wantProblem(t, ask(s, "GET", "/api/v1/garage", "", from(phone), header("Cookie", "pointsmith=stale"),
		bearer("stale")), 401)
}
