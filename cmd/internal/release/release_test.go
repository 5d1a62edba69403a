//go:build !race

package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

const top = "../../.."

// copied puts what a build needs into a folder, as it lies here: also what is in no
// commit yet, and an engine that was made before, so that it is compressed once only.
func copied(t *testing.T, to string) string {
	t.Helper()
	for _, part := range []string{"calc", "cmd", "store", "pwa", "embed.go", "go.mod", "go.sum", readmeName} {
		err := filepath.WalkDir(filepath.Join(top, part), func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				if entry != nil && (entry.Name() == "node_modules" || entry.Name() == "made") {
					return filepath.SkipDir
				}
				return err
			}
			name, err := filepath.Rel(top, path)
			if err != nil {
				return err
			}
			content, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			return write(filepath.Join(to, name), content)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return to
}

// here is the target that runs on this machine, other one of another kind of archive.
func hereAndOther(t *testing.T) (here, other target) {
	t.Helper()
	other = targets[len(targets)-1]
	for _, each := range targets {
		if each.system != runtime.GOOS || each.processor != runtime.GOARCH {
			continue
		}
		if each == other {
			other = targets[0]
		}
		return each, other
	}
	t.Fatalf("no archive is for %s/%s, where this test runs", runtime.GOOS, runtime.GOARCH)
	return
}

// The race detector makes packing seven times slower and has nothing to see here, so
// .ci/check runs this without it. Two folders with the same sources give the same archives, byte for byte, and what
// is in one, unpacked in an empty folder, is the whole program.
func TestTwoFoldersGiveTheSameArchives(t *testing.T) {
	here, other := hereAndOther(t)
	base, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	var contents [2]map[string][]byte
	for n, folder := range []string{"first", "a second one/deeper"} {
		source := copied(t, filepath.Join(base, folder))
		if n == 1 { // the engine must be made anew, its compressed copies only where it came out otherwise
			made := filepath.Join(base, "first/pwa/app/wasm")
			if err := os.CopyFS(filepath.Join(base, "wasm"), os.DirFS(made)); err != nil {
				t.Fatal(err)
			}
			at := filepath.Join(source, "pwa/app/wasm")
			if err := errors.Join(os.RemoveAll(at), os.Rename(filepath.Join(base, "wasm"), at)); err != nil {
				t.Fatal(err)
			}
		}
		r, err := prepare(t.Context(), source, strings.Repeat("c0ffee", 6), testDay)
		if err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(base, fmt.Sprint("out", n))
		files, err := r.archives(t.Context(), out, []target{here, other})
		if err != nil {
			t.Fatal(err)
		}
		contents[n] = readAll(t, out)
		if len(files) != 2 || len(contents[n]) != 3 {
			t.Fatalf("%d archives, %d files in the folder; want 2 and 3", len(files), len(contents[n]))
		}
		for _, f := range files {
			if got := contents[n][f.name]; !bytes.Equal(got, f.content) || sha256.Sum256(got) != f.sum ||
				!strings.Contains(string(contents[n][sumsName]), fmt.Sprintf("%x  %s\n", f.sum, f.name)) {
				t.Errorf("%s is not as the table and %s say", f.name, sumsName)
			}
		}
	}
	for name, content := range contents[0] {
		if !bytes.Equal(content, contents[1][name]) {
			t.Errorf("%s differs between two folders", name)
		}
	}
	version := versionHere(t)
	for _, each := range []target{here, other} {
		files := unpack(t, contents[0][each.archive(version)])
		holdsAll(t, each, version, files)
		if bytes.Contains(files[each.folder(version)+"/"+each.program()], []byte(base)) {
			t.Errorf("%s: the program says where it was built", each.name)
		}
	}
	serves(t, here, version, unpack(t, contents[0][here.archive(version)]))
}

func versionHere(t *testing.T) string {
	t.Helper()
	version, err := versionOf(top + "/cmd/pointsmith/version.go")
	if err != nil {
		t.Fatal(err)
	}
	return version
}

func readAll(t *testing.T, folder string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if files[e.Name()], err = os.ReadFile(filepath.Join(folder, e.Name())); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// unpack reads an archive, and looks at what a file of it may say beside its content.
func unpack(t *testing.T, archive []byte) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	take := func(name string, mode fs.FileMode, when time.Time, from io.Reader) {
		content, err := io.ReadAll(from)
		if err != nil {
			t.Fatal(err)
		}
		wanted := fs.FileMode(0o644)
		if strings.HasSuffix(name, "/pointsmith") || strings.HasSuffix(name, ".exe") {
			wanted = 0o755
		}
		if mode != wanted || !when.Equal(testDay) {
			t.Errorf("%s has mode %v and the time %v", name, mode, when)
		}
		files[name] = content
	}
	if bytes.HasPrefix(archive, []byte("PK")) {
		z, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range z.File {
			content, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			take(f.Name, f.Mode(), f.Modified, content)
		}
		return files
	}
	z, err := gzip.NewReader(bytes.NewReader(archive))
	if err != nil {
		t.Fatal(err)
	}
	for from := tar.NewReader(z); ; {
		head, err := from.Next()
		if errors.Is(err, io.EOF) {
			return files
		}
		if err != nil {
			t.Fatal(err)
		}
		if head.Uname+head.Gname != "" || head.Uid+head.Gid != 0 {
			t.Errorf("%s names its owner", head.Name)
		}
		take(head.Name, head.FileInfo().Mode(), head.ModTime, from)
	}
}

// holdsAll holds the papers in an archive against what its program says is in it.
func holdsAll(t *testing.T, of target, version string, files map[string][]byte) {
	t.Helper()
	in := of.folder(version) + "/"
	program := files[in+of.program()]
	info, err := buildinfo.Read(bytes.NewReader(program))
	if err != nil {
		t.Fatal(err)
	}
	var b bill
	if err := json.Unmarshal(files[in+billName], &b); err != nil {
		t.Fatal(err)
	}
	if sum := fmt.Sprintf("%x", sha256.Sum256(program)); b.Metadata.Component.Hashes[0].Content != sum {
		t.Errorf("%s: the bill is of another program", of.name)
	}
	papers := string(files[in+licencesName])
	if len(info.Deps) < 5 || len(files) != 4 || len(files[in+readmeName]) < 1000 {
		t.Fatalf("%s holds %d files and %d modules", of.name, len(files), len(info.Deps))
	}
	for _, m := range info.Deps {
		if !slices.ContainsFunc(b.Components, func(c component) bool {
			return c.Name == m.Path && c.Version == m.Version && len(c.Licences) > 0 &&
				slices.Contains(c.Properties, property{"go.sum", m.Sum})
		}) {
			t.Errorf("%s: %s %s is not in the bill", of.name, m.Path, m.Version)
		}
		if !strings.Contains(papers, "\n"+m.Path+" "+m.Version+": LICENSE") {
			t.Errorf("%s: no licence of %s", of.name, m.Path)
		}
	}
	for _, owner := range []string{"The Go Authors", "Ben Johnson", "Evan Wallace"} {
		if !strings.Contains(papers, owner) {
			t.Errorf("%s: nothing of %s among the licences", of.name, owner)
		}
	}
}

// serves unpacks an archive in an empty folder, starts what is in it and asks for the app.
func serves(t *testing.T, of target, version string, files map[string][]byte) {
	t.Helper()
	folder := t.TempDir()
	for name, content := range files {
		if err := write(filepath.Join(folder, name), content); err != nil {
			t.Fatal(err)
		}
	}
	program := filepath.Join(folder, of.folder(version), of.program())
	if err := os.Chmod(program, 0o755); err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := listener.Addr().String()
	listener.Close()
	cmd := exec.Command(program, "-listen", address, "-data", filepath.Join(folder, "garage.db"))
	var said bytes.Buffer
	cmd.Dir, cmd.Stderr, cmd.Env = folder, &said, []string{"HOME=" + folder}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	for path, want := range map[string]string{
		"/":                     "made/app/main.js", // the bundle, made of exactly these sources
		"/made/app/main.js":     "import",
		"/api/v1/status":        fmt.Sprintf(`"version":%q,"wasm":true`, version),
		"/wasm/pointsmith.wasm": "\x00asm",
		"/wasm/wasm_exec.js":    "The Go Authors",
	} {
		if got := ask(t, "http://"+address+path); !strings.Contains(got, want) {
			t.Errorf("%s answers %.300q, want %q in it", path, got, want)
		}
	}
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil || said.Len() > 0 {
		t.Errorf("it ended with %v and said %s", err, said.String())
	}
}

func ask(t *testing.T, url string) string {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		answer, err := http.Get(url)
		if err == nil {
			defer answer.Body.Close()
			text, err := io.ReadAll(answer.Body)
			if err != nil || answer.StatusCode != http.StatusOK {
				t.Fatalf("%s answers %s, %v", url, answer.Status, err)
			}
			return string(text)
		}
		if time.Now().After(deadline) {
			t.Fatal(err)
		}
	}
}
