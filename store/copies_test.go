package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

func TestDailyCopiesAreSevenDaysAndFourWeeks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := storetest.OpenFile(t, path)
	put(t, s, change("", 0, `{"name":"Linnet"}`))
	day := time.Date(2026, 1, 1, 20, 0, 0, 0, time.UTC)
	for n := range 90 {
		made, err := s.CopyToday(day.AddDate(0, 0, n))
		if err != nil || !made {
			t.Fatal(made, err)
		}
	}
	if made, err := s.CopyToday(day.AddDate(0, 0, 89)); err != nil || made {
		t.Errorf("a second copy of a day: %v %v", made, err)
	}
	copies, err := store.DailyCopies(path)
	if err != nil || len(copies) != 11 {
		t.Fatalf("%d copies, %v", len(copies), err)
	}
	last := day.AddDate(0, 0, 89)
	for n, c := range copies {
		age := int(last.Sub(c.Day).Hours() / 24)
		if n < 7 && age != n || n >= 7 && (age < 7 || age > 7+5*7) {
			t.Errorf("copy %d is %d days old", n, age)
		}
		if report, err := store.Inspect(c.Path); err != nil || report.Documents["car"] != 1 {
			t.Errorf("%s: %v", c.Path, err)
		}
		if info, _ := os.Stat(c.Path); info.Mode().Perm() != 0o600 {
			t.Errorf("mode %v", info.Mode())
		}
	}
	if parts, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(parts) > 0 {
		t.Errorf("left behind: %v", parts)
	}
}

// A garage that no longer passes its check makes no copy, and none goes.
func TestDamagedGarageReplacesNoGoodCopy(t *testing.T) {
	path, _ := filled(t)
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	day := time.Date(2026, 1, 1, 20, 0, 0, 0, time.UTC)
	for n := range 12 {
		if _, err := s.CopyToday(day.AddDate(0, 0, n)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before, _ := store.DailyCopies(path)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	damaged := strings.ReplaceAll(string(whole), `"rpm":"850"`, `"rpm":"851"`)
	if err := os.WriteFile(path, []byte(damaged), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err = store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	made, err := s.CopyToday(day.AddDate(0, 0, 40))
	after, _ := store.DailyCopies(path)
	if made || !errors.Is(err, store.ErrDamaged) || len(after) != len(before) {
		t.Errorf("made %v, %v; %d copies before, %d after", made, err, len(before), len(after))
	}
}

func TestRestoreSetsAsideAndTellsPhones(t *testing.T) {
	dir := t.TempDir()
	garage, saved := filepath.Join(dir, "garage.db"), filepath.Join(dir, "saved.db")
	s := storetest.OpenFile(t, garage)
	put(t, s, change("", 0, `{"name":"saved"}`))
	if _, err := s.CopyTo(saved); err != nil {
		t.Fatal(err)
	}
	if _, err := s.CopyTo(saved); !errors.Is(err, os.ErrExist) {
		t.Errorf("a copy was written over: %v", err)
	}
	put(t, s, change("", 9, `{"name":"after it"}`))
	known := feed(t, s, store.Place{}, 0)
	if _, err := store.Restore(saved, garage, noon); !errors.Is(err, store.ErrLocked) {
		t.Fatalf("restored over an open garage: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	r, err := store.Restore(saved, garage, noon)
	if err != nil || r.Before != garage+".replaced-20260501T120000Z" || r.Previous.Kept != 1 {
		t.Fatalf("%+v %v", r, err)
	}
	if report, err := store.Inspect(r.Before); err != nil || report.Kept != 1 {
		t.Errorf("what was there: %+v %v", report, err)
	}
	s = storetest.OpenFile(t, garage)
	wantCurrent(t, s, `{"name":"saved"}`)
	if f := feed(t, s, store.Place{Cursor: known.Cursor, Garage: known.Garage}, 0); f.Compare != store.CompareOther {
		t.Errorf("a phone that knew the other state is not told: %+v", f)
	}
}
