//go:build e2e

package e2e

import (
	"bytes"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"pointsmith/cmd/internal/web/assets"
)

// houseName is no loopback name to a browser: it grants it nothing that it
// does not grant to any name. Only the browsers here resolve it, to 127.0.0.1.
const houseName = "garage.local"

// inHouse makes a browser find the house's server. No flag makes it accept a
// certificate.
func inHouse() chromedp.ExecAllocatorOption {
	return chromedp.Flag("host-resolver-rules", "MAP "+houseName+" 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1")
}

// A house is a server that goes by houseName.
type house struct {
	*server
	page string // address of the plain page with the certificate
}

func newHouse(t *testing.T, hasAuthority bool) house {
	t.Helper()
	program := build(t, "pointsmith/cmd/pointsmith")
	folder := t.TempDir()
	h := house{&server{t: t, program: filepath.Join(folder, "pointsmith"), garage: filepath.Join(folder, "garage.db"),
		address: freeAddress(t)}, freeAddress(t)}
	script := fmt.Sprintf("#!/bin/sh\nexec '%s' \"$@\" -host %s -trust-page %s\n", program, houseName, h.page)
	if err := os.WriteFile(h.program, []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	if hasAuthority {
		if out, err := exec.Command(program, "trust", "-data", h.garage).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
	}
	t.Cleanup(h.kill)
	h.start()
	return h
}

func atHouse(scheme, address string) string {
	_, port, _ := net.SplitHostPort(address)
	return scheme + "://" + net.JoinHostPort(houseName, port)
}

// trusts puts the house's authority into the certificate store of a browser's
// home, as a person would with its settings.
func (h house) trusts(profile string) {
	h.t.Helper()
	store := filepath.Join(profile, "home", ".pki", "nssdb")
	if err := os.MkdirAll(store, 0o700); err != nil {
		h.t.Fatal(err)
	}
	certificate := strings.TrimSuffix(h.garage, ".db") + "-authority.crt"
	for _, args := range [][]string{{"-N", "--empty-password"},
		{"-A", "-t", "C,,", "-n", "garage", "-i", certificate}} {
		if out, err := exec.Command("certutil",
			append([]string{"-d", "sql:" + store}, args...)...).CombinedOutput(); err != nil {
			h.t.Fatalf("certutil %v: %v\n%s(bash .ci/check installs it)", args, err, out)
		}
	}
}

func TestAPhoneThatTrustsTheHouseKeepsTheApp(t *testing.T) {
	h := newHouse(t, true)
	profile := filepath.Join(t.TempDir(), "phone")
	h.trusts(profile)
	b := launch(t, profile, inHouse())
	p := b.phone(t, atHouse("https", h.address))
	p.open("#/")
	p.sees("Ready to work offline")
	p.seesNot("Works while connected only")
	const isKept = `isSecureContext && navigator.serviceWorker.ready.then((r) => r.active.state === "activated" || r.active.state === "activating")`
	if !eval[bool](p, isKept) {
		t.Error("the service worker is not active")
	}
	addCar(p, "Kept over HTTPS")
	stored(p)

	p.watch.expectNoServer()
	h.kill()
	p.reload()
	p.open("#/")
	p.sees("Kept over HTTPS")
}

// frame gives what the small frame on the page with the certificate says, and
// whether it has been loaded again since it was asked last.
const (
	frameText   = `document.querySelector("iframe").contentDocument?.body?.innerText ?? ""`
	frameMark   = `(document.querySelector("iframe").contentWindow.wasSeen = true)`
	frameIsNew  = `document.querySelector("iframe").contentDocument?.readyState === "complete" && !document.querySelector("iframe").contentWindow.wasSeen`
	leavesPlain = `left the origin: https://garage\.local:\d+/arrived/`
)

func TestThePlainPageTicksOnceThePhoneTrusts(t *testing.T) {
	h := newHouse(t, true)
	profile := filepath.Join(t.TempDir(), "phone")
	h.trusts(profile)
	p := launch(t, profile, inHouse()).phone(t, atHouse("http", h.page))
	p.watch.expect(leavesPlain)
	p.watch.expect("favicon")
	p.do(chromedp.Navigate(p.origin + "/"))
	p.sees("compare this fingerprint", "Android", "iPhone, iPad")
	until(t, "the tick is there", func() bool { return strings.Contains(eval[string](p, frameText), "✓") })
	if to := eval[string](p,
		`document.querySelector("iframe").contentDocument.querySelector("a").href`); to != atHouse("https", h.address)+
		"/" {
		t.Errorf("the way on leads to %s", to)
	}
}

func TestAPhoneThatDoesNotTrustIsRefusedAndGetsNoTick(t *testing.T) {
	h := newHouse(t, true)
	p := launch(t, filepath.Join(t.TempDir(), "phone"), inHouse()).phone(t, atHouse("http", h.page))
	p.watch.expect(leavesPlain)
	p.watch.expect("favicon")
	p.watch.expect("ERR_CERT_AUTHORITY_INVALID")
	p.do(chromedp.Navigate(p.origin + "/"))
	for range 3 { // each look is a chance to be wrong
		until(t, "the frame is loaded", func() bool { return eval[bool](p, frameIsNew) })
		if text := eval[string](p, frameText); !strings.Contains(text, "Not yet") {
			t.Fatalf("the frame says %q", text)
		}
		eval[bool](p, frameMark)
	}
	ctx, cancel := p.limited()
	defer cancel()
	p.watch.expect("left the origin: https://garage")
	err := chromedp.Do(ctx, chromedp.Navigate(atHouse("https", h.address)+"/"))
	if err == nil || !strings.Contains(err.Error(), "ERR_CERT_AUTHORITY_INVALID") {
		t.Errorf("the app was opened without trust: %v", err)
	}
}

// Over plain HTTP the app says at once what it cannot do, and works meanwhile.
func TestOverPlainHTTPTheAppExplainsAndWorks(t *testing.T) {
	h := newHouse(t, false)
	p := launch(t, filepath.Join(t.TempDir(), "phone"), inHouse()).phone(t, atHouse("http", h.address))
	p.open("#/")
	p.sees("Works while connected only", "plain HTTP")
	if eval[bool](p, "isSecureContext") {
		t.Fatal("this name is trusted without HTTPS; the test shows nothing")
	}
	addCar(p, "Over plain HTTP")
	stored(p)
	p.reload()
	p.open("#/")
	p.sees("Over plain HTTP")
	p.open("#/settings")
	p.tap("button", "Sync now")
	p.sees("Nothing waits to be sent")
}

// A static site in a folder of a plain host: whole without its host.
func TestAStaticSiteWorksFromAFolder(t *testing.T) {
	files, err := assets.Static(appFiles(t), "test", false)
	if err != nil {
		t.Fatal(err)
	}
	content := map[string][]byte{}
	for _, f := range files {
		content["/cars/tools/"+f.Path] = f.Content
	}
	content["/cars/tools/"] = content["/cars/tools/index.html"]
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
	shut := func() { _ = host.Close(); <-ended }
	t.Cleanup(shut)

	p := shared(t).visitor(t, "http://"+listener.Addr().String()+"/cars/tools")
	// the app asks for a server, and takes no for an answer
	p.watch.expect(`/api/v1/.* 404|404 .*/api/v1/|status of 404.*/api/`)
	p.open("#/")
	p.sees("Ready to work offline")
	p.watch.expectNoServer()
	shut()
	p.reload()
	p.tap("button", demoOffer)
	p.open(waitForCar(p) + "/verdict")
	p.sees("What is found")
	if n := eval[int](p, `caches.keys().then((all) => all.length)`); n != 1 {
		t.Errorf("%d versions are kept", n)
	}
	if policy := eval[string](p,
		`document.querySelector("meta[http-equiv=Content-Security-Policy]").content`); !strings.Contains(policy,
		"object-src 'none'") {
		t.Errorf("the page's policy is %q", policy)
	}
}
