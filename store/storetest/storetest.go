package storetest

import (
	"os"
	"path/filepath"
	"testing"

	"pointsmith/store"
)

// Open opens a new store in a temporary folder. When the test ends the whole
// file is checked; a file that fails is copied aside and named in the log.
func Open(t testing.TB) *store.Store {
	t.Helper()
	return OpenFile(t, filepath.Join(t.TempDir(), "garage.db"))
}

// OpenFile is Open for a file the test names itself, to reopen it later.
func OpenFile(t testing.TB, path string) *store.Store {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	t.Cleanup(func() { Check(t, path, s) })
	return s
}

// Check fails the test when the file behind s is inconsistent. A store the
// test has closed is opened again for it.
func Check(t testing.TB, path string, s *store.Store) {
	t.Helper()
	if s.Path() == "" { // closed by the test
		again, err := store.Open(path)
		if err != nil {
			t.Errorf("reopen for the check: %v", err)
			return
		}
		defer again.Close()
		s = again
	}
	if err := s.Check(); err != nil {
		t.Errorf("%v; copy: %s", err, copyAside(t, path))
	}
}

func copyAside(t testing.TB, path string) string {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		return err.Error()
	}
	f, err := os.CreateTemp("", "broken-garage-*.db")
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	if _, err := f.Write(content); err != nil {
		return err.Error()
	}
	return f.Name()
}
