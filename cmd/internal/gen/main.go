package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
)

const (
	source = "./cmd/wasm"
	target = "pwa/app/wasm"
	engine = "pointsmith.wasm"
)

// A build says what lies in the folder; build.json holds it.
type build struct {
	Go     string `json:"go"`
	SHA256 string `json:"sha256"` // of the engine, hexadecimal
	Bytes  int    `json:"bytes"`
	Gzip   int    `json:"gzipBytes"`
	Brotli int    `json:"brotliBytes"`
}

func main() {
	if err := errors.Join(generate(), describe(), bundle()); err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}

func generate() error {
	if err := os.MkdirAll(target, 0o755); err != nil {
		return err
	}
	program, err := compile()
	if err != nil {
		return err
	}
	if err := copyLoader(); err != nil {
		return err
	}
	digest := sha256.Sum256(program)
	b := build{Go: runtime.Version(), SHA256: hex.EncodeToString(digest[:]), Bytes: len(program)}
	if earlier, ok := readBuild(); ok && earlier.SHA256 == b.SHA256 && earlier.Go == b.Go {
		return write(engine, program) // the compressed copies are of these very bytes
	}
	if b.Gzip, err = compress(program, ".gz", gzipped); err != nil {
		return err
	}
	if b.Brotli, err = compress(program, ".br", brotlied); err != nil {
		return err
	}
	if err := write(engine, program); err != nil {
		return err
	}
	text, err := json.MarshalIndent(b, "", "\t")
	if err != nil {
		return err
	}
	return write("build.json", append(text, '\n')) // last: it vouches for the others
}

// compile builds the engine. -trimpath, -buildvcs=false and the empty build id
// make its bytes depend on nothing but the sources and the version of Go.
func compile() ([]byte, error) {
	dir, err := os.MkdirTemp("", "engine")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, engine)
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", out, source)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build %s: %w\n%s", source, err, said)
	}
	return os.ReadFile(out)
}

// copyLoader takes wasm_exec.js from the Go that runs this program, which is
// the one that built the engine.
func copyLoader() error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("ask go for its folder: %w", err)
	}
	text, err := os.ReadFile(filepath.Join(string(root[:len(root)-1]), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	return write("wasm_exec.js", text)
}

// readBuild returns what build.json says, if the files it vouches for are there.
func readBuild() (b build, ok bool) {
	text, err := os.ReadFile(filepath.Join(target, "build.json"))
	if err != nil || json.Unmarshal(text, &b) != nil {
		return b, false
	}
	for suffix, size := range map[string]int{".gz": b.Gzip, ".br": b.Brotli} {
		info, err := os.Stat(filepath.Join(target, engine+suffix))
		if err != nil || info.Size() != int64(size) {
			return b, false
		}
	}
	return b, true
}

func write(name string, content []byte) error { return replace(filepath.Join(target, name), content) }

// replace writes a file in one step, so that a build never embeds half of it,
// and leaves it alone when it is the same.
func replace(path string, content []byte) error {
	if old, err := os.ReadFile(path); err == nil && string(old) == string(content) {
		return nil
	}
	if err := os.WriteFile(path+".new", content, 0o644); err != nil {
		return err
	}
	return os.Rename(path+".new", path)
}
