package house

import (
	"regexp"
	"strings"
	"testing"
)

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

// Text from a document is put on the page as text, never read as markup.
func TestScriptsNeverMakeMarkupOfText(t *testing.T) {
	markup := regexp.MustCompile(
		`\.(innerHTML|outerHTML)\b|insertAdjacentHTML|document\.write|\beval\(|new Function\(|createContextualFragment`)
	appScripts(t, func(name, text string) {
		if found := markup.FindString(text); found != "" {
			t.Errorf("js/%s uses %s", name, found)
		}
	})
}
