//go:build e2e

package e2e

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"
)

// runFolder holds everything this run writes: profiles, garages, the binary.
var runFolder string

func TestMain(m *testing.M) {
	os.Exit(run(m))
}

func run(m *testing.M) int {
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
	if missed := missedTaps.Load(); missed > 10 { // chosen: a few in some thousand are a busy machine, more are pages that jump
		fmt.Fprintf(os.Stderr, "FAIL: %d taps missed because the page moved\n", missed)
		code = 1
	}
	if most := mostOpen.Load(); most > 3 { // the shared one, and two that listen side by side
		fmt.Fprintf(os.Stderr, "FAIL: %d browsers ran at a time\n", most)
		code = 1
	}
	return code
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

// build makes a program of this module and gives its path.
func build(t testing.TB, of string) string {
	t.Helper()
	path := filepath.Join(runFolder, filepath.Base(of))
	out, err := exec.Command("go", "build", "-o", path, of).CombinedOutput()
	if err != nil {
		t.Fatalf("build %s: %v\n%s", of, err, out)
	}
	return path
}
