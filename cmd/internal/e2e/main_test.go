//go:build e2e

package e2e

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"syscall"
	"testing"
	"time"

	"pointsmith/cmd/internal/web/assets"
)

// runFolder holds everything this run writes: profiles, garages, the binary.
var runFolder string

func TestMain(m *testing.M) {
	os.Exit(run(m))
}

func run(m *testing.M) int {
	if _, err := os.Stat("../../../pwa/app/wasm/pointsmith.wasm"); err != nil {
		fmt.Fprintln(os.Stderr,
			"FAIL: the engine is not built, and no phone would calculate; run go generate ./... first")
		return 1
	}
	if digest, err := assets.SourcesDigest(os.DirFS("../../../pwa/app")); err != nil || digest != stampOfBundle() {
		fmt.Fprintln(os.Stderr,
			"FAIL: the bundle is older than its sources, and not what phones get; run go generate ./... first", err)
		return 1
	}
	var err error
	if runFolder, err = os.MkdirTemp("", "pointsmith-e2e-"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(runFolder)
	os.Setenv("TMPDIR", runFolder) // browsers leave folders behind
	code := m.Run()
	concluded.close()
	furnished.close()
	closeShared()
	if left := leftBehind(); len(left) > 0 {
		fmt.Fprintf(os.Stderr, "FAIL: processes were left behind: %v\n", left)
		code = 1
	}
	foreign, requests := strangers(runFolder)
	if launches.Load() > 0 && requests < 20 {
		fmt.Fprintf(os.Stderr, "FAIL: the browsers noted only %d requests; the look is broken\n", requests)
		code = 1
	}
	for _, address := range foreign {
		fmt.Fprintf(os.Stderr, "FAIL: a browser asked for %s\n", address)
		code = 1
	}
	// chosen: a few in some thousand are a busy machine, more are pages that jump
	for _, missed := range missedTaps.all {
		fmt.Fprintf(os.Stderr, "missed, because the page moved: %s\n", missed)
	}
	if missed := len(missedTaps.all); missed > 10 {
		fmt.Fprintf(os.Stderr, "FAIL: %d taps missed because the page moved\n", missed)
		code = 1
	}
	if most := mostOpen.Load(); most > 3 { // the shared one, and two that listen side by side
		fmt.Fprintf(os.Stderr, "FAIL: %d browsers ran at a time\n", most)
		code = 1
	}
	return code
}

// stampOfBundle is the digest of what the bundle was made of.
func stampOfBundle() string {
	stated, err := os.ReadFile(filepath.Join("../../../pwa/app", assets.BundleDigest))
	if err != nil {
		return err.Error()
	}
	return string(stated)
}

// leftBehind names the processes of this run that still live, and kills them.
// Every one of ours has the run's folder in its command line or surroundings.
func leftBehind() (left []string) {
	for deadline := time.Now().Add(3 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		ours := processesOf(runFolder)
		if len(ours) == 0 {
			return nil
		}
		if time.Now().After(deadline) {
			for _, pid := range ours {
				line, _ := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid))
				left = append(left, fmt.Sprintf("%d %.120s", pid, bytes.ReplaceAll(line, []byte{0}, []byte{' '})))
				_ = syscall.Kill(pid, syscall.SIGKILL)
			}
			return left
		}
	}
}

// processesOf lists the processes that name a folder in their command line or
// environment, this one apart.
func processesOf(folder string) (pids []int) {
	entries, _ := filepath.Glob("/proc/[0-9]*")
	for _, entry := range entries {
		pid, err := strconv.Atoi(filepath.Base(entry))
		if err != nil || pid == os.Getpid() {
			continue
		}
		line, _ := os.ReadFile(entry + "/cmdline")
		surroundings, _ := os.ReadFile(entry + "/environ")
		if len(line) > 0 && bytes.Contains(append(line, surroundings...), []byte(folder)) {
			pids = append(pids, pid)
		}
	}
	return pids
}

var building sync.Mutex

// build makes a program of this module, once in a run, and gives its path.
func build(t testing.TB, of string) string {
	t.Helper()
	building.Lock()
	defer building.Unlock()
	path := filepath.Join(runFolder, filepath.Base(of))
	if _, err := os.Stat(path); err == nil {
		return path
	}
	out, err := exec.Command("go", "build", "-o", path, of).CombinedOutput()
	if err != nil {
		t.Fatalf("build %s: %v\n%s", of, err, out)
	}
	return path
}
