//go:build e2e

package e2e

import (
	"regexp"
	"strings"
)

// module is a module of the app that a test looks into; in what is served it
// is part of the bundle (cmd/internal/gen, forTheBrowserTests).
var module = regexp.MustCompile(`import\("((?:/[a-z]+)*?)/js/([^"]+)"\)`)

func bundled(expression string) string {
	expression = module.ReplaceAllString(expression, `import("$1/made/app/rooms.js").then((all) => all["$2"])`)
	return strings.ReplaceAll(expression, "/js/ear/ear-worklet.js", "/made/app/ear-worklet.js")
}
