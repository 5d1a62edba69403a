package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"io"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"

	"pointsmith/cmd/internal/web/assets"
)

func TestEveryAssetIsServedWithItsTypeAndTag(t *testing.T) {
	s := newSite(t)
	for address, a := range s.assets {
		plain := ask(s, "GET", address, "")
		if plain.Code != 200 || plain.Header().Get("Content-Type") != a.MediaType || a.MediaType == "" {
			t.Errorf("%s: %d %s", address, plain.Code, plain.Header().Get("Content-Type"))
		}
		if digest := sha256.Sum256(plain.Body.Bytes()); base64.StdEncoding.EncodeToString(digest[:]) != a.Hash {
			t.Errorf("%s: the bytes sent do not have the hash the worker is told", address)
		}
		for _, coding := range []string{"", "gzip", "br, gzip"} {
			w := ask(s, "GET", address, "", header("Accept-Encoding", coding))
			if unpacked := unpack(t, w.Header().Get("Content-Encoding"), w.Body.Bytes()); !bytes.Equal(unpacked,
				plain.Body.Bytes()) {
				t.Errorf("%s as %q is something else", address, coding)
			}
			tag := w.Header().Get("ETag")
			again := ask(s, "GET", address, "", header("Accept-Encoding", coding), header("If-None-Match", tag))
			if tag == "" || again.Code != 304 || again.Body.Len() != 0 || again.Header().Get("ETag") != tag {
				t.Errorf("%s as %q, tag %s: %d with %d bytes", address, coding, tag, again.Code, again.Body.Len())
			}
			if w.Header().Get("Cache-Control") != "no-cache" || w.Header().Get("Vary") != "Accept-Encoding" {
				t.Errorf("%s: %v", address, w.Header())
			}
		}
	}
}

func unpack(t *testing.T, coding string, body []byte) []byte {
	t.Helper()
	var r io.Reader = bytes.NewReader(body)
	var err error
	switch coding {
	case "gzip":
		r, err = gzip.NewReader(r)
	case "br":
		r = brotli.NewReader(r)
	}
	if err != nil {
		t.Fatal(err)
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return plain
}

func TestTagOfOtherBytesOrCodingDoesNotMatch(t *testing.T) {
	s := newSite(t)
	gz := ask(s, "GET", "/", "", header("Accept-Encoding", "gzip")).Header().Get("ETag")
	if w := ask(s, "GET", "/", "", header("If-None-Match", gz)); w.Code != 200 {
		t.Errorf("the tag of the compressed page matched the plain one: %d", w.Code)
	}
	if w := ask(s, "GET", "/", "", header("If-None-Match", `"old", W/`+gz),
		header("Accept-Encoding", "gzip")); w.Code != 304 {
		t.Errorf("a list of tags: %d", w.Code)
	}
	if w := ask(s, "GET", "/", "",
		header("Accept-Encoding", "gzip;q=0, br;q=0")); w.Header().Get("Content-Encoding") != "" {
		t.Errorf("sent %q, which was refused", w.Header().Get("Content-Encoding"))
	}
}

func TestUnknownPathsGetAPlainPage(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/nowhere", "/js/", "/index.html.gz", "/wasm/pointsmith.wasm.gz", "/wasm/.keep",
		"/apikey", "/css"} {
		w := ask(s, "GET", path, "")
		if w.Code != 404 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") ||
			!strings.Contains(w.Body.String(), "Open Pointsmith") {
			t.Errorf("%s: %d %.80s", path, w.Code, w.Body)
		}
	}
	wantProblem(t, ask(s, "POST", "/", ""), 405, "GET, HEAD")
}

func TestEveryAnswerCarriesThePolicy(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/sw.js", "/nowhere", "/api/v1/status", "/api/nowhere", carPath} {
		h := ask(s, "GET", path, "").Header()
		csp := h.Get("Content-Security-Policy")
		for _, rule := range []string{"default-src 'self'; script-src", "object-src 'none'", "frame-src 'none'",
			"media-src 'none'", "script-src 'self' 'wasm-unsafe-eval';", "frame-ancestors 'none'",
			"require-trusted-types-for 'script'"} {
			if !strings.Contains(csp, rule) {
				t.Errorf("%s: %q is not in %q", path, rule, csp)
			}
		}
		if strings.Contains(csp, "unsafe-inline") || strings.Contains(csp, "'unsafe-eval'") ||
			strings.Contains(csp, "*") {
			t.Errorf("%s: %q", path, csp)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" ||
			h.Get("Cross-Origin-Opener-Policy") != "same-origin" ||
			!strings.Contains(h.Get("Permissions-Policy"), "microphone=(self)") {
			t.Errorf("%s: %v", path, h)
		}
	}
}

func TestTheServerSaysThatItIsOne(t *testing.T) {
	s := newSite(t)
	if note := wantJSON[assets.SiteNote](t, ask(s, "GET", assets.SitePath, "")); !note.Server ||
		note.Product != "pointsmith" || note.Version != "test" || note.Files != nil {
		t.Errorf("%+v", note)
	}
}
