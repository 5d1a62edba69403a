//go:build e2e

package e2e

import (
	"bytes"
	"fmt"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"pointsmith/cmd/internal/web/assets"
)

// passingScreens are the pages by which a garage is passed on and kept.
func passingScreens(p *page, car string) []screen {
	p.t.Helper()
	link := linkOf(p, car)
	return []screen{
		{"card", car + "/card", "Send this card", true},
		{"wall", car + "/wall", "The order of work", false},
		{"a card that came", "#/card/" + link, "Nothing has been stored", true},
		{"a cut link", "#/card/" + link[:90], "cut off", true},
		{"open a card", "#/card", "The setup link", true},
		{"keep safe", "#/keep-safe", "Install first, then enter", true},
		{"join", "#/join", "Pair it again", true},
		{"devices", "#/devices", "Let another phone in", true},
		{"kept", "#/kept", "you see both", true},
		{"one kept", keptOne(p), "Where they differ", true},
		{"reset", "#/reset", "wrong since an update", false},
	}
}

// keptOne makes a copy that waits for a choice, and gives its address.
func keptOne(p *page) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`(async () => {
		const put = async (base, name) => (await (await fetch("/api/v1/garage/car/keptkeptkeptkept0", {method: "PUT", body: JSON.stringify({base, changedAt: %q, device: "Another phone",
			body: {name, owner: "", distributorId: "", facts: {plugGap: {value: name.length + "", unit: "thou", source: "book", note: ""}}, demo: false}})})).json()).revision;
		const first = await put("", "The one car");
		await put(first, "The other car");
		await put(first, "The third of the cars");
		const {copies: [copy]} = await (await fetch("/api/v1/kept")).json();
		const {syncNow} = await import("/js/kept/sync.js");
		await syncNow();
		return "#/kept/car/" + copy.id + "/" + copy.revision;
	})()`, time.Now().UTC().Format(time.RFC3339)))
}

// passing is a phone of its own with something on every one of these pages.
func passing(t testing.TB) (p *page, all []screen) {
	t.Helper()
	p = shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	return p, passingScreens(p, waitForCar(p))
}

// plainHost serves the app as files and nothing else, from a folder, and gives
// its address.
func plainHost(t *testing.T) (origin string) {
	t.Helper()
	files, err := assets.Static(appFiles(t), "test", false)
	if err != nil {
		t.Fatal(err)
	}
	content := map[string][]byte{}
	for _, f := range files {
		content["/tools/"+f.Path] = f.Content
	}
	content["/tools/"] = content["/tools/index.html"]
	listener, err := net.Listen("tcp", freeAddress(t))
	if err != nil {
		t.Fatal(err)
	}
	host := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if content[r.URL.Path] == nil {
			http.Error(w, "no such page", http.StatusNotFound)
			return
		}
		name := r.URL.Path
		if strings.HasSuffix(name, "/") {
			name += "index.html"
		}
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(content[r.URL.Path]))
	})}
	ended := make(chan struct{})
	go func() { _ = host.Serve(listener); close(ended) }()
	t.Cleanup(func() { _ = host.Close(); <-ended })
	return "http://" + listener.Addr().String() + "/tools"
}

// On a plain web host there is no word of a server and no request for one;
// cars come and go by file and link.
func TestAPlainHostIsNeverAskedForAServer(t *testing.T) {
	origin := plainHost(t)
	p := shared(t).visitor(t, origin)
	p.firstRun() // a request that fails, such as one for /api, fails the test
	p.tap("button", demoOffer)
	car := waitForCar(p)
	for _, hash := range []string{"#/", "#/settings", "#/keep-safe"} {
		p.open(hash)
		p.seesNot("Meet the server", "Last synced", "Pair this phone", "on the server")
	}
	p.open("#/join")
	p.sees("there is nothing to pair with")
	p.open("#/devices")
	p.sees("nobody to let in")
	link := linkOf(p, car)
	friend := shared(t).visitor(t, origin)
	friend.firstRun()
	friend.open("#/card/" + link)
	keepsACopy(friend)
}

// A week without a second place is said, and an export ends it.
func TestAWeekAloneIsSaid(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	addCar(p, "Nowhere else")
	stored(p)
	p.watch.expectNoServer()
	s.shut()
	eval[bool](p, `Promise.all([import("/js/kept/garage.js"), import("/js/kept/this-phone.js")]).then(async ([{garage}, {thisPhone}]) => {
		const past = new Date(Date.now() - 9 * 24 * 3600 * 1000).toISOString();
		await garage.settle(garage.everything(), (doc) => ({doc: {...doc, changedAt: past}, stillWaiting: true}));
		await thisPhone.put("syncedAt", undefined);
		return true;
	})`)
	p.reload()
	p.open("#/")
	p.sees("For 9 days this garage has been on this phone alone")
	p.tap("button", "Later")
	p.seesNot("on this phone alone")
	eval[bool](p, `import("/js/kept/this-phone.js").then(({thisPhone}) => thisPhone.put("remindLaterAt", undefined)).then(() => true)`)
	p.reload()
	p.open("#/")
	p.tap("link", "Keep it safe")
	p.sees("Never to a file")
	p.tap("button", "Export the garage to a file")
	p.sees("Exported")
	p.seesNot("Never to a file")
	p.open("#/")
	p.seesNot("on this phone alone")
}
