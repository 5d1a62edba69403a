package assets

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"pointsmith"
	"pointsmith/cmd/internal/shape"
)

func embeddedApp(t testing.TB) fs.FS {
	t.Helper()
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		t.Fatal(err)
	}
	return app
}

// preparedOnce saves each test the minifying, which takes long under the race
// detector. No test changes a file.
var preparedOnce = sync.OnceValues(func() (Files, error) {
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		return nil, err
	}
	return Prepare(app, "test")
})

func prepared(t testing.TB) Files {
	t.Helper()
	files, err := preparedOnce()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestWorkerKnowsEveryFileAndChangesWithThem(t *testing.T) {
	all := prepared(t)
	text := string(all["/sw.js"].Bytes())
	found := regexp.MustCompile(`^const FILES=(\{.*?\});const VERSION="([0-9a-f]{16})";\n`).FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("the worker starts with %.200q", text)
	}
	var files map[string]string
	if err := json.Unmarshal([]byte(found[1]), &files); err != nil {
		t.Fatal(err)
	}
	for address, a := range all {
		if want := "sha256-" + a.Hash; address != "/sw.js" && files[address] != want {
			t.Errorf("%s: the worker is told %q, it is %q", address, files[address], want)
		}
	}
	if len(files) != len(all)-1 || files["/sw.js"] != "" || files["/"] == "" {
		t.Errorf("%d files for %d assets", len(files), len(all))
	}
	version := func(css string) string {
		assets, err := Prepare(fstest.MapFS{"index.html": {Data: []byte("<p>a")}, "sw.js": {Data: []byte("self")},
			"a.css": {Data: []byte(css)}}, "test")
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
	all := prepared(t)
	var m webManifest
	if err := json.Unmarshal(all[manifestPath].Bytes(), &m); err != nil ||
		all[manifestPath].MediaType != "application/manifest+json" {
		t.Fatalf("%v %s", err, all[manifestPath].MediaType)
	}
	if m.Name != "Pointsmith" || m.Display != "standalone" || m.StartURL != "./" {
		t.Errorf("%+v", m)
	}
	for _, icon := range m.Icons {
		if all["/"+icon.Source] == nil {
			t.Errorf("%s is listed and not there", icon.Source)
		}
	}
	assets, err := Prepare(fstest.MapFS{"index.html": {}, "icons/icon-192.png": {Data: []byte("x")},
		"icons/maskable-512.png": {Data: []byte("x")}}, "test")
	if err != nil || strings.Count(string(assets[manifestPath].plain.bytes), `"src"`) != 2 {
		t.Errorf("%v %s", err, assets[manifestPath].plain.bytes)
	}
}

func TestAFileOfUnknownKindIsAnError(t *testing.T) {
	if _, err := Prepare(fstest.MapFS{"index.html": {}, "notes.doc": {Data: []byte("x")}}, "test"); err == nil ||
		!strings.Contains(err.Error(), "notes.doc") {
		t.Errorf("%v", err)
	}
	if _, err := Prepare(fstest.MapFS{"a.css": {}}, "test"); err == nil {
		t.Error("an app without a page was taken")
	}
}

// What is served must be readable to a real parser. Node reads every script as it
// is sent; one of which nothing is left is caught too.
func TestServedScriptsAreStillScripts(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("node is needed to read the scripts: ", err)
	}
	dir := t.TempDir()
	var scripts []string
	for address, a := range prepared(t) {
		if !strings.HasSuffix(address, ".js") {
			continue
		}
		if len(bytes.TrimSpace(a.plain.bytes)) == 0 {
			t.Errorf("nothing is left of %s", address)
		}
		ending := ".mjs"
		// plain scripts
		if address == workerPath || address == "/wasm/wasm_exec.js" || strings.HasSuffix(address, "/first-paint.js") {
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
	out, err := minified("a.html",
		[]byte("<!doctype html><html><head><title>x</title></head><body><input type=\"text\" value=\"\"><p>a</p></body></html>"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<html>", "</body>", `type="text"`, "</p>"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%s is gone from %s", want, out)
		}
	}
}

// What the app knows of documents is there without go generate, and is never
// older than this program.
func TestShapesAreThisPrograms(t *testing.T) {
	app := fstest.MapFS{"index.html": {Data: []byte("<html></html>")},
		shape.ScriptPath: {Data: []byte("export const shapes = {}")}}
	for _, hasFile := range []bool{true, false} {
		assets, err := readApp(app)
		if err != nil {
			t.Fatal(err)
		}
		served := assets["/"+shape.ScriptPath]
		if served == nil || !bytes.Contains(served.plain.bytes, []byte("confirmedTotal")) ||
			served.MediaType != mediaTypes[".js"] {
			t.Errorf("on the disk %v: %+v", hasFile, served)
		}
		delete(app, shape.ScriptPath)
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
			if _, err := fs.Stat(app, target); err != nil && !strings.HasPrefix(target, "wasm/") &&
				target != shape.ScriptPath {
				t.Errorf("%s imports %s, which is not there", name, target)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// BenchmarkPrepare is what a start costs: every asset minified, compressed and
// hashed.
func BenchmarkPrepare(b *testing.B) {
	app := embeddedApp(b)
	for b.Loop() {
		if _, err := Prepare(app, "test"); err != nil {
			b.Fatal(err)
		}
	}
}
