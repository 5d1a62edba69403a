package house

import (
	"go/ast"
	"os"
	"slices"
	"strings"
	"testing"
)

const (
	fileLines     = 400
	functionLines = 40
)

func TestFilesAreShort(t *testing.T) {
	walk(t, func(path string) {
		ours := strings.HasSuffix(path, ".go") || strings.HasSuffix(path, ".js") || strings.HasSuffix(path, ".css") ||
			strings.HasSuffix(path, ".html")
		// the first is Go's own, the second is generated
		if !ours || strings.HasPrefix(path, "pwa/app/wasm/") || strings.HasPrefix(path, "pwa/app/made/") {
			return
		}
		if n := strings.Count(read(t, path), "\n"); n > fileLines {
			t.Errorf("%s has %d lines; at most %d", path, n, fileLines)
		}
	})
}

// Tests may be longer: a table is not harder to read for having more rows.
func TestFunctionsAreShort(t *testing.T) {
	for _, s := range sources(t) {
		if s.isTest() {
			continue
		}
		for _, d := range s.file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := s.set.Position(f.End()).Line - s.set.Position(f.Pos()).Line + 1; n > functionLines {
				t.Errorf("%s: %s has %d lines; at most %d", s.path, f.Name.Name, n, functionLines)
			}
		}
	}
}

func TestTopLevelHoldsNothingElse(t *testing.T) {
	allowed := []string{"cmd", "pwa", "calc", "store", "testdata", "go.mod", "go.sum", "README.md",
		"DEVELOPERS.md", "embed.go"}
	entries, err := os.ReadDir(top)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(allowed, e.Name()) && !strings.HasPrefix(e.Name(), ".") {
			t.Errorf("%s stands at the top level; there may be only %s and dot-files", e.Name(),
				strings.Join(allowed, ", "))
		}
	}
}

func TestFilesHaveTellingNames(t *testing.T) {
	for _, s := range sources(t) {
		for part := range strings.SplitSeq(strings.TrimSuffix(s.path, ".go"), "/") {
			for _, vague := range []string{"util", "utils", "common", "helper", "helpers", "manager", "misc"} {
				if part == vague {
					t.Errorf("%s says nothing about what is in it", s.path)
				}
			}
		}
	}
}
