//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"image/png"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// The browser itself reads the manifest and finds nothing against installing.
func TestTheAppCanBeInstalled(t *testing.T) {
	s := newSite(t)
	p := shared(t).visitor(t, s.origin())
	p.firstRun()
	ctx, cancel := p.limited()
	defer cancel()
	read, err := chromedp.Call(ctx, cdppage.GetAppManifest, cdppage.GetAppManifestParams{})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range read.Errors {
		t.Errorf("manifest: %s", e.Message)
	}
	faults, err := chromedp.Call(ctx, cdppage.GetInstallabilityErrors, cdp.Empty{})
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range faults.InstallabilityErrors {
		if fault.ErrorID != "in-incognito" { // every visitor of these tests is one
			t.Errorf("not installable: %s %v", fault.ErrorID, fault.ErrorArguments)
		}
	}
	hasIconsOfTheSaidSizes(t, read.URL, []byte(read.Data))
	state := eval[string](p,
		`navigator.serviceWorker.ready.then((r) => r.active.state + " " + new URL(r.scope).pathname)`)
	if state != "activated /" {
		t.Errorf("the service worker is %q", state)
	}
	if !eval[bool](p, `!!navigator.serviceWorker.controller`) {
		t.Error("the service worker does not rule the page")
	}
}

func hasIconsOfTheSaidSizes(t *testing.T, from string, text []byte) {
	t.Helper()
	var manifest struct {
		Name, Display, ID string
		Scope             string `json:"scope"`
		StartURL          string `json:"start_url"`
		Icons             []struct{ Src, Sizes, Type, Purpose string }
	}
	if err := json.Unmarshal(text, &manifest); err != nil {
		t.Fatal(err)
	}
	base, _ := url.Parse(from)
	scope, start := resolve(t, base, manifest.Scope), resolve(t, base, manifest.StartURL)
	if !strings.HasPrefix(start, scope) || manifest.Name == "" || manifest.Display != "standalone" {
		t.Errorf("manifest: start %q, scope %q, name %q, display %q", start, scope, manifest.Name, manifest.Display)
	}
	found := map[string]bool{} // sizes and purposes of the PNG icons
	for _, icon := range manifest.Icons {
		answer, err := http.Get(resolve(t, base, icon.Src))
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != icon.Type {
			t.Errorf("icon %s: %s, %s", icon.Src, answer.Status, answer.Header.Get("Content-Type"))
			continue
		}
		if icon.Type != "image/png" {
			continue
		}
		picture, err := png.DecodeConfig(answer.Body)
		if size := fmt.Sprintf("%dx%d", picture.Width, picture.Height); err != nil || size != icon.Sizes {
			t.Errorf("icon %s is %s, not %s (%v)", icon.Src, size, icon.Sizes, err)
		}
		found[icon.Sizes+" "+icon.Purpose] = true
	}
	hasEverySize(t, found)
}

func hasEverySize(t *testing.T, found map[string]bool) {
	t.Helper()
	for _, want := range []string{"192x192 any", "512x512 any", "512x512 maskable"} {
		if !found[want] && !found[strings.TrimSuffix(want, "any")] {
			t.Errorf("no PNG icon %s among %v", want, found)
		}
	}
}

func resolve(t *testing.T, base *url.URL, reference string) string {
	t.Helper()
	address, err := base.Parse(reference)
	if err != nil {
		t.Fatal(err)
	}
	return address.String()
}
