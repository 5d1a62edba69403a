package house

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// What the folders of the app may import, besides themselves. Pages are the
// top, lib is the ground. A single file may be named where the folder as a
// whole may not be imported: data/server.js says whether there is a server at
// all, which the calculation door and the versions line have to know, and
// offline/register.js whether the app is kept for work without a network.
var scriptArrows = map[string][]string{
	"lib":        {},
	"procedures": {"lib"},
	"calc":       {"lib", "platform.js", "data/server.js"},
	"data":       {"calc", "procedures", "lib", "platform.js", "settings.js"},
	"elements":   {"calc", "data", "procedures", "lib", "platform.js", "settings.js", "offline/register.js"},
	"offline":    {"elements", "lib", "platform.js", "settings.js", "data/server.js"},
	"pages":      {"calc", "data", "procedures", "elements", "offline", "lib", "platform.js", "settings.js"},
}

var scriptImport = regexp.MustCompile(`(?m)(?:^import\s[^;]*?|^export\s[^;]*?from\s*|\bimport\s*\(?\s*)["'](\.[^"']+)["']`)

func appScripts(t *testing.T, visit func(name, text string)) {
	t.Helper()
	n := 0
	walk(t, func(file string) {
		name, inside := strings.CutPrefix(file, "pwa/app/js/")
		if inside && strings.HasSuffix(name, ".js") {
			n++
			visit(name, read(t, file))
		}
	})
	if n < 10 {
		t.Fatalf("only %d scripts found; the walk is broken", n)
	}
}

func TestScriptsImportDownwards(t *testing.T) {
	seen := 0
	appScripts(t, func(name, text string) {
		room, _, _ := strings.Cut(name, "/")
		allowed, isRoom := scriptArrows[room]
		if !isRoom { // main.js and its like stand above all rooms
			return
		}
		for _, found := range scriptImport.FindAllStringSubmatch(text, -1) {
			seen++
			target := path.Join(path.Dir(name), found[1])
			to, _, _ := strings.Cut(target, "/")
			if to != room && !slices.Contains(allowed, to) && !slices.Contains(allowed, target) && !strings.HasPrefix(target, "../wasm/") {
				t.Errorf("js/%s imports %s, which lies against the arrows", name, found[1])
			}
		}
	})
	if seen < 20 {
		t.Fatalf("only %d imports found; the pattern is broken", seen)
	}
}

// Text from a document is put on the page as text, never read as markup.
func TestScriptsNeverMakeMarkupOfText(t *testing.T) {
	markup := regexp.MustCompile(`\.(innerHTML|outerHTML)\b|insertAdjacentHTML|document\.write|\beval\(|new Function\(|createContextualFragment`)
	appScripts(t, func(name, text string) {
		if found := markup.FindString(text); found != "" {
			t.Errorf("js/%s uses %s", name, found)
		}
	})
}
