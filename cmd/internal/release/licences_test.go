package main

import (
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
)

func textOfGo(t *testing.T) string {
	t.Helper()
	root, err := command(t.Context(), ".", nil, "go", "env", "GOROOT")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(strings.TrimSpace(root), "LICENSE"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestLicencesAreFoundUpToThePackage(t *testing.T) {
	bsd := textOfGo(t)
	top := t.TempDir()
	for name, text := range map[string]string{"LICENSE.md": bsd, "deep/COPYING": "My own terms.",
		"deep/er/x.go":  "package x",
		"aside/LICENSE": "of a package that is not used", "THIRD_PARTY_LICENSES/one": "One's terms.",
		"license.go": "package x"} {
		if err := write(filepath.Join(top, name), []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	m := module{path: "example.com/m", version: "v1.0.0", folder: top, part: inProgram, packages: []string{top}}
	names := func() (all []string) {
		t.Helper()
		var err error
		if m.licences, err = m.findLicences(); err != nil {
			t.Fatal(err)
		}
		for _, l := range m.licences {
			all = append(all, l.name)
		}
		return all
	}
	if got := names(); !slices.Equal(got, []string{"LICENSE.md", "THIRD_PARTY_LICENSES/one"}) || m.ids() != nil {
		t.Errorf("%v %v", got, m.ids())
	}
	if err := os.RemoveAll(filepath.Join(top, "THIRD_PARTY_LICENSES")); err != nil {
		t.Fatal(err)
	}
	if got := names(); !slices.Equal(got, []string{"LICENSE.md"}) || !slices.Equal(m.ids(), []string{"BSD-3-Clause"}) {
		t.Errorf("%v %v", got, m.ids())
	}
	m.packages = []string{filepath.Join(top, "deep", "er")}
	if got := names(); !slices.Equal(got, []string{"LICENSE.md", "deep/COPYING"}) || m.ids() != nil {
		t.Errorf("%v %v", got, m.ids())
	}
	paper := string(licenceText("This", []module{m}))
	if !strings.Contains(paper, "example.com/m v1.0.0: deep/COPYING\n") || !strings.Contains(paper, "My own terms.") ||
		!strings.Contains(paper, strings.TrimSpace(bsd)) {
		t.Error(paper)
	}
	if err := os.Remove(filepath.Join(top, "LICENSE.md")); err != nil {
		t.Fatal(err)
	}
	_, err := m.findLicences()
	for _, part := range []string{"example.com/m v1.0.0 has no licence", "; limit: ", "; do: "} {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("a module without a licence: %v, want %q in it", err, part)
		}
	}
}

func TestOnlyAWholeLicenceIsNamed(t *testing.T) {
	bsd := textOfGo(t)
	for name, c := range map[string]struct{ text, want string }{
		"as it is":           {bsd, "BSD-3-Clause"},
		"with a title":       {"The licence of this library\n\n" + bsd, "BSD-3-Clause"},
		"with a condition":   {bsd + "\nYou may not use it on Sundays, nor in a car of a colour.\n", ""},
		"two in one":         {bsd + "\n\n" + bsd, ""},
		"half":               {bsd[:len(bsd)/2], ""},
		"an address":         {"https://opensource.org/licenses/MIT", ""},
		"nothing of a known": {"Use it well.", ""},
	} {
		if got := certain([]byte(c.text)); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

func TestProgramAndListMustAgree(t *testing.T) {
	inside := []*debug.Module{{Path: "b", Version: "v2.0.0", Sum: "h1:x"}, {Path: "a", Version: "v1.0.0", Sum: "h1:y"}}
	linked := []module{{path: "a", version: "v1.0.0", sum: "h1:y"}, {path: "b", version: "v2.0.0", sum: "h1:x"}}
	if err := agree(inside, linked); err != nil {
		t.Error(err)
	}
	linked[1].sum = "h1:z"
	if agree(inside, linked) == nil || agree(inside, linked[:1]) == nil || agree(inside[:1], linked) == nil {
		t.Error("what differs is taken for the same")
	}
}

func TestEveryTargetHasItsName(t *testing.T) {
	want := "linux-amd64.tar.gz linux-arm64.tar.gz linux-armv7.tar.gz macos-amd64.tar.gz macos-arm64.tar.gz windows-amd64.zip"
	var got []string
	for _, each := range targets {
		got = append(got, strings.TrimPrefix(each.archive("1.2.3"), "pointsmith-1.2.3-"))
	}
	if strings.Join(got, " ") != want {
		t.Errorf("%v", got)
	}
	if !slices.Contains(targets[2].env(), "GOARM=7") || !slices.Contains(targets[0].env(), "CGO_ENABLED=0") {
		t.Error("an armv7 program is not for ARM 7, or one needs C")
	}
	files := []written{{name: "one.zip", content: make([]byte, 14_400_000)},
		{name: "two.zip", content: make([]byte, 900_000)}}
	if lines := strings.Split(table(files), "\n"); len(lines) != 4 || !strings.Contains(lines[1], "one.zip") ||
		!strings.Contains(lines[1], " 14.4 MB  0000") || !strings.Contains(lines[2], " 0.9 MB  ") {
		t.Errorf("%q", lines)
	}
}
