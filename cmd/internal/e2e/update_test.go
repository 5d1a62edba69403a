//go:build e2e

package e2e

import (
	"bytes"
	"net/http"
	"slices"
	"testing"
	"testing/fstest"
)

// version is the app with one sentence changed.
func version(t testing.TB, sentence string) fstest.MapFS {
	t.Helper()
	const was = "How to use it"
	files := copyOf(t, appFiles(t))
	help := files["js/help/help-page.js"]
	if !bytes.Contains(help.Data, []byte(was)) {
		t.Fatalf("the help page no longer says %q", was)
	}
	files["js/help/help-page.js"] = &fstest.MapFile{Data: bytes.ReplaceAll(help.Data, []byte(was), []byte(sentence))}
	return files
}

// readyOffline is said once, when the whole app is kept on the phone.
const readyOffline = "Ready to work offline"

const keptVersions = `caches.keys()`

func TestANewVersionWaitsUntilItIsAccepted(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	old := eval[[]string](p, keptVersions)
	if len(old) != 1 {
		t.Fatalf("kept versions: %v", old)
	}

	held, release := gate("/sw.js", s.make(version(t, "Use it so")))
	s.serve(held)
	p.reload()
	p.writes("Name of the car", "Half ty")
	release()
	p.sees("New version ready")
	p.open("#/help")
	p.sees("How to use it") // still the old one, whole
	p.tap("button", "Reload")
	p.sees("Use it so")
	until(t, "the old version is gone", func() bool {
		now := eval[[]string](p, keptVersions)
		return len(now) == 1 && now[0] != old[0]
	})
	p.open("#/")
	p.holds("Name of the car", "Half ty")
}

// A phone that nobody has touched takes the new version at once.
func TestANewVersionIsTakenWhereNobodyIsTyping(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.open("#/help")
	p.sees("How to use it", readyOffline)
	s.serve(s.make(version(t, "Use it so")))
	p.reload()
	p.sees("Use it so")
}

// Half a deploy: the new worker's list does not match the bytes that are
// served. The version before stays, whole, and works without a server.
func TestATornDeployLeavesTheOldVersion(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.open("#/help")
	p.sees(readyOffline)
	old := eval[[]string](p, keptVersions)
	whole := s.make(version(t, "Never to be seen"))
	before := *s.now.Load()
	s.serve(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/sw.js" {
			whole.ServeHTTP(w, r)
			return
		}
		before.ServeHTTP(w, r)
	}))
	p.watch.expect("integrity")
	end := eval[string](p, `navigator.serviceWorker.getRegistration().then((registration) => new Promise((done) => {
		registration.addEventListener("updatefound", () => {
			const coming = registration.installing;
			coming.addEventListener("statechange", () => done(coming.state));
		});
		registration.update().catch((error) => done(String(error)));
	}))`)
	if end != "redundant" {
		t.Errorf("the torn version became %q", end)
	}
	if now := eval[[]string](p, keptVersions); !slices.Equal(now, old) {
		t.Errorf("kept versions were %v and are %v", old, now)
	}
	p.watch.expectNoServer()
	s.shut()
	p.reload()
	p.sees("How to use it")
	p.seesNot("Never to be seen", "New version ready")
}
