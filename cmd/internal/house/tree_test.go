package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const top = "../../.."

// A source is one Go file of ours, whatever it is built for.
type source struct {
	path string // from the top, with slashes
	file *ast.File
	set  *token.FileSet
}

func (s source) isTest() bool { return strings.HasSuffix(s.path, "_test.go") }

func (s source) folder() string { return filepath.ToSlash(filepath.Dir(s.path)) }

func (s source) imports() []string {
	var paths []string
	for _, i := range s.file.Imports {
		paths = append(paths, strings.Trim(i.Path.Value, `"`))
	}
	return paths
}

// walk calls visit for every file that belongs to the tree.
func walk(t *testing.T, visit func(path string)) {
	t.Helper()
	err := filepath.WalkDir(top, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := entry.Name()
		if entry.IsDir() && (name == "node_modules" || name == ".git") {
			return filepath.SkipDir
		}
		if !entry.IsDir() {
			inside, err := filepath.Rel(top, path)
			if err != nil {
				return err
			}
			visit(filepath.ToSlash(inside))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	walk(t, func(path string) {
		if !strings.HasSuffix(path, ".go") {
			return
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, filepath.Join(top, path), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, source{path, file, set})
	})
	if len(all) < 50 {
		t.Fatalf("only %d Go files found; the walk is broken", len(all))
	}
	return all
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(top, path))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
