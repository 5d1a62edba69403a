package house

import (
	"go/ast"
	"strings"
	"testing"
)

func TestEveryPackageHasADocFile(t *testing.T) {
	hasDoc, folders := map[string]bool{}, map[string]bool{}
	for _, s := range sources(t) {
		if strings.Contains(s.path, "testdata/") {
			continue
		}
		folders[s.folder()] = true
		// the root's one file
		if strings.HasSuffix(s.path, "doc.go") && s.file.Doc.Text() != "" || s.path == "embed.go" {
			hasDoc[s.folder()] = true
		}
	}
	for folder := range folders {
		if !hasDoc[folder] {
			t.Errorf("%s has no doc.go with a package comment", folder)
		}
	}
}

func TestWhatIsExportedIsExplained(t *testing.T) {
	for _, s := range sources(t) {
		if s.isTest() {
			continue
		}
		for _, d := range s.file.Decls {
			for _, name := range unexplained(d) {
				t.Errorf("%s: %s has no comment that begins with its name or an article and its name", s.path, name)
			}
		}
	}
}

// unexplained lists the exported names of a declaration that have no comment.
// A group's comment serves the constants and variables in it.
func unexplained(d ast.Decl) (names []string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && !startsWith(d.Doc, d.Name.Name) && isExportedReceiver(d) {
			names = append(names, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				if spec.Name.IsExported() && !startsWith(d.Doc, spec.Name.Name) &&
					!startsWith(spec.Doc, spec.Name.Name) {
					names = append(names, spec.Name.Name)
				}
			case *ast.ValueSpec:
				if spec.Names[0].IsExported() && d.Doc == nil && spec.Doc == nil && spec.Comment == nil {
					names = append(names, spec.Names[0].Name)
				}
			}
		}
	}
	return names
}

func isExportedReceiver(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return true
	}
	kind := f.Recv.List[0].Type
	if pointer, ok := kind.(*ast.StarExpr); ok {
		kind = pointer.X
	}
	name, ok := kind.(*ast.Ident)
	return !ok || name.IsExported()
}

func startsWith(doc *ast.CommentGroup, name string) bool {
	words := strings.Fields(doc.Text())
	for n, word := range words {
		if strings.Trim(word, ",:;.") == name {
			return true
		}
		if n == 0 && word != "A" && word != "An" && word != "The" {
			break
		}
		if n == 1 {
			break
		}
	}
	return false
}
