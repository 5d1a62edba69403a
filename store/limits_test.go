package store_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

const (
	limitedRole = "POINTSMITH_TEST_LIMITED_ROLE"
	limitedFile = "POINTSMITH_TEST_LIMITED_FILE"
)

// playLimited is what the program does when it is started with a role: it
// works under a limit its parent set, and says what went wrong, or nothing.
func playLimited(role, path string) {
	var err error
	switch role {
	case "readonly":
		err = useReadOnly(path)
	case "small":
		signal.Ignore(syscall.SIGXFSZ)
		limit := syscall.Rlimit{Cur: 128 << 10, Max: 128 << 10}
		if err = syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err == nil {
			err = fillUp(path)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

func limited(t *testing.T, path, role string) error {
	t.Helper()
	dir := filepath.Dir(path)
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), limitedRole+"="+role, limitedFile+"="+path)
	if role == "readonly" {
		for _, p := range []string{filepath.Dir(dir), dir} { // the test's own folders let their owner in only
			if err := os.Chmod(p, 0o755); err != nil {
				return err
			}
		}
		if err := errors.Join(os.Chmod(path, 0o444), os.Chmod(dir, 0o555)); err != nil {
			return err
		}
		defer func() { _ = errors.Join(os.Chmod(dir, 0o755), os.Chmod(path, 0o600)) }()
		if os.Geteuid() == 0 { // root may write everywhere: somebody else tries
			cmd.Path = readableByAll(t, os.Args[0])
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
	}
	out, err := cmd.CombinedOutput()
	if err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
}

// readableByAll is the test program where anybody can run it.
func readableByAll(t *testing.T, program string) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "store-test")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	content, err := os.ReadFile(program)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "store.test")
	if err := errors.Join(os.Chmod(dir, 0o755), os.WriteFile(path, content, 0o755)); err != nil {
		t.Fatal(err)
	}
	return path
}

func useReadOnly(path string) error {
	_, err := store.Open(path)
	if err == nil || !strings.Contains(err.Error(), "a folder you may write") {
		return fmt.Errorf("open: %v", err)
	}
	if _, err := store.Inspect(path); err == nil {
		if _, err = store.CopyFile(path, path+".copy"); !errors.Is(err, os.ErrPermission) {
			return fmt.Errorf("copy: %v", err)
		}
	} else {
		return fmt.Errorf("inspect: %v", err)
	}
	if _, err := store.Open(filepath.Join(filepath.Dir(path), "new.db")); err == nil ||
		!strings.Contains(err.Error(), "a folder you may write") {
		return fmt.Errorf("new file: %v", err)
	}
	if _, err := store.Mend(path, noon); !errors.Is(err, os.ErrPermission) || errors.Is(err, store.ErrDamaged) {
		return fmt.Errorf("mend: %v", err)
	}
	if _, err := store.SetAside(path, noon); !errors.Is(err, os.ErrPermission) {
		return fmt.Errorf("set aside: %v", err)
	}
	return nil
}

// fillUp writes until there is no room, and proves that what was answered is
// there, that the store goes on answering, and that nothing is left behind.
func fillUp(path string) error {
	s, err := store.Open(path)
	if err != nil {
		return err
	}
	n := 0
	for ; n < 10_000; n++ {
		c := numbered(n)
		c.Body = []byte(`{"notes":"` + strings.Repeat("x", 4000) + `"}`)
		if _, err = s.Put(c); err != nil {
			break
		}
	}
	if !errors.Is(err, store.ErrNoSpace) || n < 3 {
		return fmt.Errorf("after %d documents: %v", n, err)
	}
	if _, err := s.CopyToday(noon); !errors.Is(err, store.ErrNoSpace) && err != nil {
		return fmt.Errorf("copy: %v", err)
	}
	for round := range 2 {
		if err := s.Check(); err != nil {
			return err
		}
		docs, _, err := s.Since(0)
		if err != nil || len(docs) != n {
			return fmt.Errorf("round %d: %d documents of %d, %v", round, len(docs), n, err)
		}
		if err := s.Close(); err != nil {
			return err
		}
		if s, err = store.Open(path); err != nil {
			return err
		}
	}
	if parts, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*.part")); len(parts) > 0 {
		return fmt.Errorf("left behind: %v", parts)
	}
	return s.Close()
}

func TestFileThatMayNotGrowLosesNothing(t *testing.T) {
	if err := limited(t, filepath.Join(t.TempDir(), "garage.db"), "small"); err != nil {
		t.Error(err)
	}
}

// A disk that is really full: a small one is made in memory. Where that is not
// allowed, the test above stands in, by a limit on the size of files.
func TestFullDiskLosesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=256k"); err != nil {
		t.Logf("no disk can be mounted here (%v); a file that may not grow stands in", err)
		if err := limited(t, filepath.Join(dir, "garage.db"), "small"); err != nil {
			t.Error(err)
		}
		return
	}
	defer func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	}()
	path := filepath.Join(dir, "garage.db")
	if err := fillUp(path); err != nil {
		t.Error(err)
	}
	storetest.OpenFile(t, path).Close()
}
