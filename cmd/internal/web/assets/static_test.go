package assets

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// smallApp is an app with everything a site needs, and little of it.
func smallApp() fstest.MapFS {
	return fstest.MapFS{
		"index.html": {Data: []byte("<!doctype html><html><head><title>x</title></head><body></body></html>")},
		"sw.js":      {Data: []byte("self.a = 1;")}, "js/frame/main.js": {Data: []byte("console.log( 1 );")},
		"wasm/pointsmith.wasm": {Data: []byte("engine")}, "wasm/pointsmith.wasm.br": {Data: []byte("small")},
	}
}

func TestAStaticSiteIsTheSameTwice(t *testing.T) {
	app := fstest.MapFS{"wasm/pointsmith.wasm": {Data: []byte("engine")}} // if go generate was not run
	embedded := embeddedApp(t)
	err := fs.WalkDir(embedded, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := fs.ReadFile(embedded, name)
		app[name] = &fstest.MapFile{Data: content}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	one, err := Static(app, "1", true)
	if err != nil {
		t.Fatal(err)
	}
	two, err := Static(app, "1", true)
	if err != nil || !slices.EqualFunc(one, two, func(a, b StaticFile) bool {
		return a.Path == b.Path && bytes.Equal(a.Content, b.Content)
	}) {
		t.Errorf("two runs differ, %v", err)
	}
}

func TestAStaticSiteIsWhole(t *testing.T) {
	files, err := Static(smallApp(), "1", false)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	for _, f := range files {
		all[f.Path] = f.Content
	}
	if last := files[len(files)-1].Path; last != "sw.js" || len(all) != len(files) {
		t.Errorf("last is %s, %d of %d", last, len(all), len(files))
	}
	var note SiteNote
	if err := json.Unmarshal(all["site.json"], &note); err != nil || note.Server || note.Version != "1" ||
		len(note.Files) != len(files) {
		t.Errorf("%+v %v", note, err)
	}
	for _, name := range note.Files {
		if all[name] == nil {
			t.Errorf("%s is listed and not there", name)
		}
	}
	if page := string(all["index.html"]); !strings.Contains(page,
		`<meta http-equiv="Content-Security-Policy" content="default-src 'self'; script-src 'self'`) ||
		strings.Contains(page, "frame-ancestors") ||
		strings.Index(page, "Content-Security") > strings.Index(page, "<title>") {
		t.Errorf("the page is %s", page)
	}
	found := regexp.MustCompile(`^const FILES=(\{.*?\});`).FindSubmatch(all["sw.js"])
	var kept map[string]string
	if found == nil || json.Unmarshal(found[1], &kept) != nil {
		t.Fatalf("the worker begins with %.100s", all["sw.js"])
	}
	for address, hash := range kept {
		name := strings.TrimPrefix(address, "/")
		if address == "/" {
			name = "index.html"
		}
		if digest := sha256.Sum256(all[name]); "sha256-"+base64.StdEncoding.EncodeToString(digest[:]) != hash {
			t.Errorf("%s: the file does not have the hash the worker is told", address)
		}
	}
	for _, name := range []string{"/", "/site.json", "/js/frame/main.js", "/wasm/pointsmith.wasm",
		"/manifest.webmanifest"} {
		if kept[name] == "" {
			t.Errorf("%s is not kept offline", name)
		}
	}
	if strings.Contains(string(all["404.html"]), `href="/`) {
		t.Error("the page for wrong addresses leaves the folder of the site")
	}
}

// Nothing in the app may name a file from the root: the site may lie in a folder.
func TestTheAppNamesNoFileFromTheRoot(t *testing.T) {
	fromRoot := regexp.MustCompile(`(?:(?:href|src)="/|(?:from|import\()\s*["'` + "`" + `]/|url\(["']?/)[^/]`)
	for address, a := range prepared(t) {
		if found := fromRoot.FindString(string(a.plain.bytes)); found != "" && address != enginePath {
			t.Errorf("%s: %q", address, found)
		}
	}
}

func TestCompressedCopiesAreThereWhenWanted(t *testing.T) {
	app := smallApp()
	app["js/long.js"] = &fstest.MapFile{Data: []byte(strings.Repeat(`console.log("a");`, 1000))}
	names := func(compressed bool) string {
		files, err := Static(app, "1", compressed)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, f := range files {
			all = append(all, f.Path)
		}
		return strings.Join(all, " ")
	}
	if with := names(true); !strings.Contains(with, "js/long.js.gz") || !strings.Contains(with, "pointsmith.wasm.br") ||
		strings.Contains(with, "sw.js.") {
		t.Error(with)
	}
	if without := names(false); strings.Contains(without, ".gz") || strings.Contains(without, ".br") {
		t.Error(without)
	}
}

func TestASiteWithoutAnEngineIsRefused(t *testing.T) {
	for name, word := range map[string]string{"wasm/pointsmith.wasm": "go generate", "sw.js": "service worker",
		"index.html": "index.html"} {
		app := smallApp()
		delete(app, name)
		if _, err := Static(app, "1", false); err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("without %s: %v", name, err)
		}
	}
	app := smallApp()
	app["index.html"] = &fstest.MapFile{Data: []byte("<p>no head")}
	if _, err := Static(app, "1", false); err == nil || !strings.Contains(err.Error(), "<head>") {
		t.Errorf("a page without a head: %v", err)
	}
}
