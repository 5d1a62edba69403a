package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func countOf(t *testing.T, events ...string) (*count, string) {
	t.Helper()
	var out strings.Builder
	c := newCount(&out)
	if err := c.read(strings.NewReader(strings.Join(events, "\n"))); err != nil {
		t.Fatal(err)
	}
	return c, out.String()
}

const (
	onePass = `{"Action":"pass","Package":"p","Test":"TestA"}`
	oneSkip = `{"Action":"skip","Package":"p","Test":"TestB"}`
	oneFail = `{"Action":"output","Package":"p","Test":"TestC","Output":"c.go:1: because\n"}` + "\n" +
		`{"Action":"fail","Package":"p","Test":"TestC"}`
	endFail = `{"Action":"output","Package":"p","Output":"panic: oh\n"}` + "\n" + `{"Action":"fail","Package":"p"}`
	noTests = `{"Action":"skip","Package":"q"}`
	noBuild = `{"ImportPath":"r","Action":"build-output","Output":"r.go:1: undefined\n"}` + "\n" +
		`{"Action":"fail","Package":"r"}`
	rambling = `# some word of a linker`
)

func TestGoodRun(t *testing.T) {
	if c, out := countOf(t, onePass, noTests); !c.isGood() || c.passed != 1 || out != "" {
		t.Errorf("%+v %q", c, out)
	}
}

func TestWhatIsNotGood(t *testing.T) {
	for name, x := range map[string]struct {
		events        []string
		failed, skips int
		says          string
	}{
		"a failure shows its words":     {[]string{onePass, oneFail, endFail}, 1, 0, "because"},
		"a skip":                        {[]string{onePass, oneSkip}, 0, 1, "skip p TestB"},
		"a package that stops":          {[]string{onePass, endFail}, 1, 0, "panic: oh"},
		"a package that does not build": {[]string{onePass, noBuild}, 1, 0, "undefined"},
		"no test at all":                {[]string{noTests}, 0, 0, ""},
		"nothing":                       {nil, 0, 0, ""},
		"words of others":               {[]string{rambling}, 0, 0, rambling},
	} {
		if c, out := countOf(t, x.events...); c.isGood() || c.failed != x.failed || c.skipped != x.skips ||
			!strings.Contains(out, x.says) {
			t.Errorf("%s: %+v %q", name, c, out)
		}
	}
}

func TestCountsAreAddedUpInTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sum")
	for range 2 {
		c, _ := countOf(t, onePass, oneSkip)
		if err := addTo(path, c); err != nil {
			t.Fatal(err)
		}
	}
	if text, _ := os.ReadFile(path); string(text) != "1 1\n1 1\n" {
		t.Errorf("%q", text)
	}
}
