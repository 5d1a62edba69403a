package store_test

import (
	"errors"
	"fmt"
	"io"
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
	copies, err := store.DailyCopies(path, day.AddDate(0, 0, 89))
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
	before, _ := store.DailyCopies(path, day.AddDate(0, 0, 89))
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
	after, _ := store.DailyCopies(path, day.AddDate(0, 0, 89))
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

// Who was revoked after the backup stays out, and who was paired after it
// stays in; a code that was open then opens nothing now.
func TestRestoreLeavesThePairedDevicesAsTheyAre(t *testing.T) {
	dir := t.TempDir()
	garage, saved := filepath.Join(dir, "garage.db"), filepath.Join(dir, "saved.db")
	s := storetest.OpenFile(t, garage)
	code := func() string {
		t.Helper()
		code, _, err := s.NewCode(false, noon)
		if err != nil {
			t.Fatal(err)
		}
		return code
	}
	pair := func(name string) (string, store.Device) {
		t.Helper()
		token, d, err := s.Pair(code(), name, noon)
		if err != nil {
			t.Fatal(err)
		}
		return token, d
	}
	stays, _ := pair("stays")
	lost, lostDevice := pair("lost")
	spent := code()
	if _, err := s.CopyTo(saved); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Revoke(lostDevice.ID); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Pair(spent, "by the code", noon); err != nil {
		t.Fatal(err)
	}
	since, _ := pair("since")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	open := func(restored store.Restored, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if s, err = store.Open(garage); err != nil {
			t.Fatal(err)
		}
	}
	want := func(token, name string, isIn bool) {
		t.Helper()
		if _, _, err := s.DeviceOf(token, noon); (err == nil) != isIn || err != nil &&
			!errors.Is(err, store.ErrUnknownDevice) {
			t.Errorf("%s: %v", name, err)
		}
	}
	try, err := store.TryRestore(saved, garage)
	if err != nil || !try.KeepsDevices || try.Devices != 3 {
		t.Errorf("tried: %+v %v", try, err)
	}
	r, err := store.Restore(saved, garage, noon)
	open(r, err)
	want(stays, "paired before and after", true)
	want(since, "paired since", true)
	want(lost, "revoked since", false)
	if _, _, err := s.Pair(spent, "again", noon); !errors.Is(err, store.ErrCode) {
		t.Errorf("a spent code opens the restored garage: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}

	// Nothing readable is left: then the backup's own list stands, and it is said.
	if err := os.WriteFile(garage, []byte("not a garage any more, whatever it was before"), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err = store.Restore(saved, garage, noon.Add(time.Hour))
	open(r, err)
	defer s.Close()
	if r.KeepsDevices || r.Devices != 2 || r.Trouble == nil {
		t.Errorf("%+v", r)
	}
	want(stays, "paired when the backup was made", true)
	want(since, "paired since, in a file that is lost", false)
	if _, _, err := s.Pair(spent, "again", noon); !errors.Is(err, store.ErrCode) {
		t.Errorf("a code from the backup opens the restored garage: %v", err)
	}
}

// Setting a folder aside would take everything in it away.
func TestAFolderIsNotRestoredOver(t *testing.T) {
	folder := t.TempDir()
	s := storetest.OpenFile(t, filepath.Join(folder, "garage.db"))
	saved := filepath.Join(folder, "saved.db")
	if _, err := s.CopyTo(saved); err != nil {
		t.Fatal(err)
	}
	shelf := filepath.Join(folder, "shelf")
	if err := os.MkdirAll(filepath.Join(shelf, "in it"), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Restore(saved, shelf, noon); err == nil {
		t.Error("restored over a folder")
	}
	if info, err := os.Stat(filepath.Join(shelf, "in it")); err != nil || !info.IsDir() {
		t.Errorf("the folder was touched: %v", err)
	}
}

// A reader that takes the beginning of a backup and then stalls holds up
// nobody: the garage goes on, and grows.
func TestAStalledReaderOfACopyHoldsUpNobody(t *testing.T) {
	s := storetest.OpenFile(t, filepath.Join(t.TempDir(), "garage.db"))
	reader, writer := io.Pipe()
	defer reader.Close()
	copied := make(chan error, 1)
	go func() { copied <- s.WriteTo(writer, func(int64) {}) }()
	if _, err := io.ReadFull(reader, make([]byte, 1024)); err != nil {
		t.Fatal(err)
	}
	body := []byte(`{"note":"` + strings.Repeat("x", 200_000) + `"}`)
	done := make(chan error, 1)
	go func() {
		for n := range 120 { // 24 MB: the file has to be mapped anew, more than once
			_, err := s.Put(store.Change{Kind: "visit", ID: fmt.Sprintf("stalledstalled%04d", n),
				ChangedAt: time.Now(), Body: body})
			if err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(30 * time.Second):
		t.Fatal("after half a minute the garage still waits for the reader")
	}
	reader.Close()
	if err := <-copied; !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("the copy ended with %v", err)
	}
}

// A copy of 2036, made while a clock was ahead, is not the newest, takes no
// place from a real one, and stays.
func TestADailyCopyOfADayToComeTakesNoPlace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := storetest.OpenFile(t, path)
	put(t, s, change("", 0, `{"name":"Linnet"}`))
	ahead := time.Date(2036, 2, 1, 20, 0, 0, 0, time.UTC)
	if _, err := s.CopyToday(ahead); err != nil {
		t.Fatal(err)
	}
	day := time.Date(2026, 6, 1, 20, 0, 0, 0, time.UTC)
	for n := range 60 {
		if _, err := s.CopyToday(day.AddDate(0, 0, n)); err != nil {
			t.Fatal(err)
		}
	}
	last := day.AddDate(0, 0, 59)
	copies, err := store.DailyCopies(path, last)
	if err != nil || len(copies) != 7+4+1 {
		t.Fatalf("%d copies, %v", len(copies), err)
	}
	if newest := copies[0]; newest.IsAhead || newest.Day.Format(time.DateOnly) != last.Format(time.DateOnly) {
		t.Errorf("the newest is %+v", newest)
	}
	for n, c := range copies {
		if c.IsAhead != (n == 11) || c.IsAhead != (c.Day.Year() == 2036) {
			t.Errorf("copy %d: %+v", n, c)
		}
	}
	if copies, err = store.DailyCopies(path, ahead); err != nil || copies[0].IsAhead || copies[0].Day.Year() != 2036 {
		t.Errorf("when its day has come: %+v %v", copies, err)
	}
}
