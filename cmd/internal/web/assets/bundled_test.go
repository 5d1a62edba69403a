package assets

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A bundle is served only while it was made of exactly the sources beside it.
func TestOnlyAFreshBundleIsServed(t *testing.T) {
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }
	app := fstest.MapFS{"index.html": file("<p>plain"), "sw.js": file("self"), "js/main.js": file("let plain=1"),
		"css/a.css": file("a{color:red}"), bundledPage: file("<p>bundled"), BundleFolder + "/main.js": file("let a=1")}
	digest, err := SourcesDigest(app)
	if err != nil {
		t.Fatal(err)
	}
	serves := func(name string, bundled bool) {
		t.Helper()
		files, err := Prepare(app, "test")
		if err != nil {
			t.Fatal(err)
		}
		isThere := func(address string) bool { return files[address] != nil }
		if isThere("/"+BundleFolder+"/main.js") != bundled || isThere("/js/main.js") == bundled ||
			isThere("/css/a.css") == bundled || isThere("/made/shapes.js") == bundled ||
			strings.Contains(string(files["/"].Bytes()), "bundled") != bundled || isThere("/"+BundleDigest) ||
			isThere("/"+bundledPage) {
			t.Errorf("%s: what is served is %v", name, files)
		}
	}
	serves("without a digest", false)
	app[BundleDigest] = file(digest)
	serves("fresh", true)
	for name, change := range map[string]func(){
		"a changed module":      func() { app["js/main.js"] = file("let plain=2") },
		"a new module":          func() { app["js/more.js"] = file("let more=1") },
		"a changed style sheet": func() { app["css/a.css"] = file("a{color:tan}") },
		"a changed page":        func() { app["index.html"] = file("<p>other") },
	} {
		kept := fstest.MapFS{}
		for at, f := range app {
			kept[at] = f
		}
		change()
		serves(name, false)
		app = kept
	}
}
