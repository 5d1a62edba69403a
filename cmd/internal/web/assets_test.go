package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/andybalholm/brotli"
)

func TestEveryAssetIsServedWithItsTypeAndTag(t *testing.T) {
	s := newSite(t)
	for address, a := range s.assets {
		plain := ask(s, "GET", address, "")
		if plain.Code != 200 || plain.Header().Get("Content-Type") != a.mediaType || a.mediaType == "" {
			t.Errorf("%s: %d %s", address, plain.Code, plain.Header().Get("Content-Type"))
		}
		if digest := sha256.Sum256(plain.Body.Bytes()); base64.StdEncoding.EncodeToString(digest[:]) != a.hash {
			t.Errorf("%s: the bytes sent do not have the hash the worker is told", address)
		}
		for _, coding := range []string{"", "gzip", "br, gzip"} {
			w := ask(s, "GET", address, "", header("Accept-Encoding", coding))
			if unpacked := unpack(t, w.Header().Get("Content-Encoding"), w.Body.Bytes()); !bytes.Equal(unpacked, plain.Body.Bytes()) {
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
	if w := ask(s, "GET", "/", "", header("If-None-Match", `"old", W/`+gz), header("Accept-Encoding", "gzip")); w.Code != 304 {
		t.Errorf("a list of tags: %d", w.Code)
	}
	if w := ask(s, "GET", "/", "", header("Accept-Encoding", "gzip;q=0, br;q=0")); w.Header().Get("Content-Encoding") != "" {
		t.Errorf("sent %q, which was refused", w.Header().Get("Content-Encoding"))
	}
}

func TestUnknownPathsGetAPlainPage(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/nowhere", "/js/", "/index.html.gz", "/wasm/pointsmith.wasm.gz", "/wasm/.keep", "/apikey", "/css"} {
		w := ask(s, "GET", path, "")
		if w.Code != 404 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") || !strings.Contains(w.Body.String(), "Open Pointsmith") {
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
		for _, rule := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval';", "frame-ancestors 'none'", "require-trusted-types-for 'script'"} {
			if !strings.Contains(csp, rule) {
				t.Errorf("%s: %q is not in %q", path, rule, csp)
			}
		}
		if strings.Contains(csp, "unsafe-inline") || strings.Contains(csp, "'unsafe-eval'") || strings.Contains(csp, "*") {
			t.Errorf("%s: %q", path, csp)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "no-referrer" || h.Get("Cross-Origin-Opener-Policy") != "same-origin" || !strings.Contains(h.Get("Permissions-Policy"), "microphone=(self)") {
			t.Errorf("%s: %v", path, h)
		}
	}
}

func TestWorkerKnowsEveryFileAndChangesWithThem(t *testing.T) {
	s := newSite(t)
	text := ask(s, "GET", "/sw.js", "").Body.String()
	found := regexp.MustCompile(`^const FILES=(\{.*?\});const VERSION="([0-9a-f]{16})";\n`).FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("the worker starts with %.200q", text)
	}
	var files map[string]string
	if err := json.Unmarshal([]byte(found[1]), &files); err != nil {
		t.Fatal(err)
	}
	for address, a := range s.assets {
		if want := "sha256-" + a.hash; address != "/sw.js" && files[address] != want {
			t.Errorf("%s: the worker is told %q, it is %q", address, files[address], want)
		}
	}
	if len(files) != len(s.assets)-1 || files["/sw.js"] != "" || files["/"] == "" {
		t.Errorf("%d files for %d assets", len(files), len(s.assets))
	}
	version := func(css string) string {
		assets, err := prepare(fstest.MapFS{"index.html": {Data: []byte("<p>a")}, "sw.js": {Data: []byte("self")}, "a.css": {Data: []byte(css)}}, "test")
		if err != nil {
			t.Fatal(err)
		}
		return string(assets["/sw.js"].plain.bytes)
	}
	if version("a{color:red}") != version("a{ color: red }") || version("a{color:red}") == version("a{color:tan}") {
		t.Error("the version does not follow the bytes that are served")
	}
}

func TestManifestListsTheIconsThereAre(t *testing.T) {
	s := newSite(t)
	w := ask(s, "GET", "/manifest.webmanifest", "")
	var m webManifest
	if err := json.Unmarshal(w.Body.Bytes(), &m); err != nil || w.Header().Get("Content-Type") != "application/manifest+json" {
		t.Fatalf("%v %s", err, w.Header())
	}
	if m.Name != "Pointsmith" || m.Display != "standalone" || m.StartURL != "./" {
		t.Errorf("%+v", m)
	}
	for _, icon := range m.Icons {
		if ask(s, "GET", "/"+icon.Source, "").Code != 200 {
			t.Errorf("%s is listed and not there", icon.Source)
		}
	}
	assets, err := prepare(fstest.MapFS{"index.html": {}, "icons/icon-192.png": {Data: []byte("x")}, "icons/maskable-512.png": {Data: []byte("x")}}, "test")
	if err != nil || strings.Count(string(assets[manifestPath].plain.bytes), `"src"`) != 2 {
		t.Errorf("%v %s", err, assets[manifestPath].plain.bytes)
	}
}

func TestAFileOfUnknownKindIsAnError(t *testing.T) {
	if _, err := prepare(fstest.MapFS{"index.html": {}, "notes.doc": {Data: []byte("x")}}, "test"); err == nil || !strings.Contains(err.Error(), "notes.doc") {
		t.Errorf("%v", err)
	}
	if _, err := prepare(fstest.MapFS{"a.css": {}}, "test"); err == nil {
		t.Error("an app without a page was taken")
	}
	if _, err := prepare(fstest.MapFS{"index.html": {}, "a.js": {Data: []byte("let = = 1")}}, "test"); err == nil || !strings.Contains(err.Error(), "a.js") {
		t.Errorf("a broken script: %v", err)
	}
}

// The minifier must leave what is served readable to a real parser. Node reads
// every script as it is sent; a script that minified to nothing is caught too.
func TestMinifiedScriptsAreStillScripts(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("node is needed to read the scripts: ", err)
	}
	dir := t.TempDir()
	s := newSite(t)
	var scripts []string
	for address, a := range s.assets {
		if !strings.HasSuffix(address, ".js") {
			continue
		}
		if len(bytes.TrimSpace(a.plain.bytes)) == 0 {
			t.Errorf("%s minified to nothing", address)
		}
		ending := ".mjs"
		if address == workerPath || address == loaderPath || strings.HasSuffix(address, "/first-paint.js") { // plain scripts
			ending = ".cjs"
		}
		name := filepath.Join(dir, strings.ReplaceAll(strings.Trim(address, "/"), "/", "-")+ending)
		if err := os.WriteFile(name, a.plain.bytes, 0o600); err != nil {
			t.Fatal(err)
		}
		scripts = append(scripts, name)
	}
	for _, name := range scripts {
		if said, err := exec.Command(node, "--check", name).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", filepath.Base(name), err, said)
		}
	}
}

func TestMinifiedPageKeepsWhatStyleSheetsLookAt(t *testing.T) {
	out, err := minified("a.html", []byte("<!doctype html><html><head><title>x</title></head><body><input type=\"text\" value=\"\"><p>a</p></body></html>"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<html>", "</body>", `type="text"`, "</p>"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%s is gone from %s", want, out)
		}
	}
}

// Every file one of ours names must be there: a module that is missing breaks
// the whole page, and only offline would anyone notice a missing picture.
func TestEveryImportIsEmbedded(t *testing.T) {
	app := embeddedApp(t)
	names := regexp.MustCompile(`(?:from\s*|import\s*\(?\s*)["'](\.[^"']+)["']`)
	err := fs.WalkDir(app, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(name, ".js") || strings.HasPrefix(name, "wasm/") {
			return err
		}
		text, err := fs.ReadFile(app, name)
		if err != nil {
			return err
		}
		for _, found := range names.FindAllStringSubmatch(string(text), -1) {
			target := filepath.ToSlash(filepath.Join(filepath.Dir(name), found[1]))
			if _, err := fs.Stat(app, target); err != nil && !strings.HasPrefix(target, "wasm/") {
				t.Errorf("%s imports %s, which is not there", name, target)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
