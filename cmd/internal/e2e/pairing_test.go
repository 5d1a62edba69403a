//go:build e2e

package e2e

import (
	"fmt"
	"net/http"
	"testing"
	"time"
)

// fromElsewhere makes the server take every request for one of another machine.
func fromElsewhere(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.RemoteAddr = "192.0.2.7:50000"
		next.ServeHTTP(w, r)
	})
}

// reply gives status and, where there is one, the title of the answer.
const reply = `(method, path, body) => fetch(path, {method, body: body && JSON.stringify(body)}).then(async (a) => a.status + " " + ((await a.json()).title ?? ""))`

// What only a browser can show of pairing: the cookie opens the garage, comes
// back after a restart of the page, and no script can read it.
func TestABrowserIsPairedOnceAndRemembered(t *testing.T) {
	s := newSite(t)
	s.serve(fromElsewhere(*s.now.Load()))
	p := shared(t).visitor(t, s.origin())
	p.watch.expect(`/api/v1/.* 401|status of 401`)
	p.open("#/help")
	ask := func(method, path, body string) string {
		t.Helper()
		return eval[string](p, fmt.Sprintf(`(%s)(%q, %q, %s)`, reply, method, path, body))
	}
	const car = "/api/v1/garage/car/abcdefgh01234567"
	push := fmt.Sprintf(`{base: "", changedAt: %q, body: {name: "Linnet"}}`, time.Now().UTC().Format(time.RFC3339))
	for _, refused := range []string{ask("GET", "/api/v1/garage", "undefined"), ask("PUT", car, push),
		ask("GET", "/api/v1/devices", "undefined")} {
		if refused != "401 This phone is not paired with the garage" {
			t.Errorf("unpaired: %s", refused)
		}
	}
	code, _, err := s.store.NewCode(false, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	pairing := fmt.Sprintf(`{code: %q, name: "Greasy phone"}`, code)
	if said := ask("POST", "/api/v1/pair", pairing); said != "200 " {
		t.Fatalf("paired: %s", said)
	}
	if said := ask("POST", "/api/v1/pair", pairing); said != "401 This code does not open the garage" {
		t.Errorf("the same code again: %s", said)
	}
	if said := ask("PUT", car, push); said != "200 " {
		t.Errorf("a push: %s", said)
	}
	p.reload()
	if said := ask("GET", car, "undefined"); said != "200 " {
		t.Errorf("after a reload: %s", said)
	}
	if cookies := eval[string](p, "document.cookie"); cookies != "" {
		t.Errorf("scripts can read %q", cookies)
	}
	devices, err := s.store.Devices()
	if err != nil || len(devices) != 1 || devices[0].Name != "Greasy phone" {
		t.Fatalf("%+v %v", devices, err)
	}
	if _, err := s.store.Revoke(devices[0].ID); err != nil {
		t.Fatal(err)
	}
	if said := ask("GET", car, "undefined"); said != "401 This phone is not paired with the garage" {
		t.Errorf("revoked: %s", said)
	}
}
