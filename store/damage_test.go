package store_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

// filled makes a garage file with documents and a kept copy, and says in one
// text what is in it.
func filled(t testing.TB) (path, content string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "garage.db")
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 40 {
		put(t, s, numbered(n))
	}
	put(t, s, change("", 9, `{"name":"Linnet"}`))
	put(t, s, change("", 5, `{"name":"Finch"}`))
	content = contentOf(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path, content
}

func contentOf(t testing.TB, s *store.Store) string {
	docs, _, err := s.Since(0)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := s.AllKept()
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprint(docs, kept)
}

func TestCutFileIsDamagedWhereverItIsCut(t *testing.T) {
	path, _ := filled(t)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, length := range []int{1, 17, 79, 80, 100, 4096, 4200, 8192, 12288, len(whole) / 3, len(whole) / 2} {
		cut := filepath.Join(t.TempDir(), "cut.db")
		if err := os.WriteFile(cut, whole[:length], 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Inspect(cut); !errors.Is(err, store.ErrDamaged) &&
			(length >= 80 || !errors.Is(err, store.ErrNotGarage)) {
			t.Errorf("inspect %d bytes: %v", length, err)
		}
		s, err := store.Open(cut)
		if err == nil {
			s.Close()
			t.Errorf("%d bytes were opened", length)
		}
		if after, _ := os.ReadFile(cut); string(after) != string(whole[:length]) {
			t.Errorf("%d bytes: the damaged file was changed", length)
		}
	}
}

// A flipped bit either lies where nothing is stored, and everything reads as it
// was, or is found. It never passes for something else, and nothing crashes.
func TestFlippedBitIsFoundOrHarmless(t *testing.T) {
	path, want := filled(t)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 2))
	flipped := filepath.Join(t.TempDir(), "flipped.db")
	found := 0
	for range 600 {
		at, bit := random.IntN(len(whole)), byte(1)<<random.IntN(8)
		whole[at] ^= bit
		if err := os.WriteFile(flipped, whole, 0o600); err != nil {
			t.Fatal(err)
		}
		whole[at] ^= bit
		if _, err := store.Inspect(flipped); err != nil {
			found++
			if !errors.Is(err, store.ErrDamaged) && !errors.Is(err, store.ErrNotGarage) &&
				!errors.Is(err, store.ErrNewerSchema) {
				t.Errorf("byte %d: %v", at, err)
			}
			continue
		}
		s, err := store.Open(flipped)
		if err != nil {
			t.Errorf("byte %d: inspected as sound, then %v", at, err)
			continue
		}
		if got := contentOf(t, s); got != want {
			t.Errorf("byte %d: passed for sound with\n%s", at, got)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if found < 30 {
		t.Errorf("only %d of 600 flips were found; this tries nothing", found)
	}
}

// FuzzInspect: a file that comes in to be restored, whatever is in it, is
// refused or sound; it never crashes the program.
func FuzzInspect(f *testing.F) {
	path, _ := filled(f)
	whole, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(uint32(5000), uint8(1), uint32(len(whole)))
	f.Add(uint32(16), uint8(255), uint32(len(whole)))
	f.Add(uint32(9000), uint8(7), uint32(9100))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, at uint32, change uint8, length uint32) {
		mutated := append([]byte{}, whole[:min(int(length), len(whole))]...)
		if len(mutated) > 0 {
			mutated[int(at)%len(mutated)] ^= change
		}
		from, garage := filepath.Join(dir, "from.db"), filepath.Join(dir, "garage.db")
		if err := os.WriteFile(from, mutated, 0o600); err != nil {
			t.Fatal(err)
		}
		defer os.Remove(garage)
		_, inspectErr := store.Inspect(from)
		_, err := store.Restore(from, garage, time.Now())
		if (err == nil) != (inspectErr == nil) {
			t.Fatalf("inspect says %v, restore %v", inspectErr, err)
		}
		if _, statErr := os.Stat(garage); (statErr == nil) != (err == nil) {
			t.Fatalf("restore says %v, the garage file %v", err, statErr)
		}
	})
}

func TestReadOnlyFolderIsSaidAndNothingIsChanged(t *testing.T) {
	path, want := filled(t)
	err := limited(t, path, "readonly")
	if err != nil {
		t.Fatal(err)
	}
	if got := contentOf(t, storetest.OpenFile(t, path)); got != want {
		t.Error("the garage was changed")
	}
}

func TestEveryReleasedLayoutOpensForEver(t *testing.T) {
	for layout := uint64(1); layout <= store.Layout(); layout++ {
		name := fmt.Sprintf("v%d.db", layout)
		old, err := os.ReadFile(filepath.Join("..", "testdata", "db", name))
		if err != nil {
			t.Fatalf("a file of layout %d has to be stored with the release: %v", layout, err)
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, old, 0o600); err != nil {
			t.Fatal(err)
		}
		report, err := store.Inspect(path)
		if err != nil || report.Layout != layout {
			t.Errorf("%s: layout %d, %v", name, report.Layout, err)
		}
		s := storetest.OpenFile(t, path)
		d, err := s.Get("car", "car0000000000001")
		if err != nil || string(d.Body) != `{"name":"Hartsmere Linnet 1250","owner":"","distributorId":"dist000000000001","facts":{"idle":{"value":"800","unit":"rpm","source":"measured","note":"a < b & c"}},"demo":false}` {
			t.Errorf("%s: %s %v", name, d.Body, err)
		}
		kept, err := s.AllKept()
		if err != nil || len(kept) != 1 || kept[0].KeptAt.IsZero() {
			t.Errorf("%s: kept %v %v", name, kept, err)
		}
		if d, err := s.Get("car", "car0000000000002"); err != nil || !d.Deleted {
			t.Errorf("%s: %+v %v", name, d, err)
		}
		report, err = s.Inspect()
		if err != nil || report.Layout != store.Layout() || report.Documents["visit"] != 1 ||
			report.Documents["distributor"] != 1 {
			t.Errorf("%s: %+v %v", name, report, err)
		}
		// A push that was answered before the change of layout is known again.
		again := store.Change{Kind: "distributor", ID: "dist000000000001", ChangedAt: noon,
			Body: []byte(`{"name":"Hartsmere 4-17","typeNumber":"4-17","facts":{"gap":{"value":"0.015","unit":"in","source":"book","note":""}},"sheet":{"rows":[{"rpm":"450","min":"0.5","max":"2.5"}]},"sheetSource":""}`)}
		if a := put(t, s, again); a.Kept || a.Document != nil {
			t.Errorf("%s: %+v", name, a)
		}
	}
}

// FuzzPut: whatever a phone sends as a body, the store refuses it, or gives it
// back as it was, spaces outside strings aside.
func FuzzPut(f *testing.F) {
	for _, seed := range []string{
		`{}`, `{"name":"Linnet"}`, ` { "facts" : { "idle" : { "value" : "850" } } } `, `{"a":"<b>&amp;\u2028"}`,
		"{\"a\":\"\u2028\"}",
		`[]`, `null`, `{"a":NaN}`, `{"a":1e999}`, `{"a":1}{"b":2}`, "{\"a\":\"\xff\"}", `{"a":1,"a":2}`, `{`, ``,
	} {
		f.Add([]byte(seed))
	}
	s := storetest.Open(f)
	f.Fuzz(func(t *testing.T, body []byte) {
		c := change("", 0, string(body))
		base, err := s.Get("car", someID)
		if err == nil {
			c.Base = base.Revision
		}
		if _, err := s.Put(c); err != nil {
			return
		}
		var want bytes.Buffer
		if err := json.Compact(&want, body); err != nil {
			t.Fatalf("%q was taken, and is not JSON: %v", body, err)
		}
		d, err := s.Get("car", someID)
		if err != nil || !bytes.Equal(d.Body, want.Bytes()) {
			t.Fatalf("put %q, got %q, %v", want.Bytes(), d.Body, err)
		}
	})
}

// bbolt's own check counts as far as the length of a page says: a flipped bit
// there once took all the memory there was.
func TestADamagedPageLengthIsNotCountedOut(t *testing.T) {
	path, want := filled(t)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	used := usedPages(t, path)
	for _, id := range used.ids[2:] {
		damaged := bytes.Clone(whole)
		damaged[id*used.size+15] ^= 0x40 // the highest byte of "overflow": a thousand million pages
		if err := os.WriteFile(path, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		if _, err := store.Inspect(path); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("page %d: %v", id, err)
		}
		if took := time.Since(began); took > 5*time.Second {
			t.Fatalf("page %d: took %v", id, took)
		}
		if _, err := store.Mend(path, noon); err != nil {
			t.Errorf("page %d: %v", id, err)
			continue
		}
		s := storetest.OpenFile(t, path)
		if got := contentOf(t, s); got != want {
			t.Errorf("page %d: mended to\n%.300s", id, got)
		}
		s.Close()
	}
}

// A garage of an older layout that is damaged is mended too, and brought up to
// this one: of the broken document the newest past version stands, where there
// was one, and the others are as they were.
func TestADamagedOlderLayoutIsMended(t *testing.T) {
	for _, layout := range []string{"v1", "v2", "v3", "v4"} {
		old, err := os.ReadFile(filepath.Join("..", "testdata", "db", layout+".db"))
		if err != nil {
			t.Fatal(err)
		}
		damaged := bytes.ReplaceAll(old, []byte(`{"kind":"distributor"`), []byte(`{"kind":"distributo"r`))
		path := filepath.Join(t.TempDir(), "old.db")
		if err := os.WriteFile(path, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Inspect(path); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: passes for sound: %v", layout, err)
		}
		try, err := store.TryMend(path, noon)
		if after, _ := os.ReadFile(path); err != nil || !bytes.Equal(after, damaged) || len(try.Broken) == 0 {
			t.Errorf("%s: tried: %v %v", layout, try, err)
		}
		m, err := store.Mend(path, noon)
		if err != nil || m.String() != try.String() || m.Report.Layout != store.Layout() ||
			m.Report.Documents["visit"] != 1 || m.Report.Kept != 1 || len(m.Report.Broken) != len(m.Broken) {
			t.Errorf("%s: %v, %+v, %v", layout, m, m.Report, err)
		}
		s := storetest.OpenFile(t, path)
		if d, err := s.Get("car", "car0000000000001"); err != nil || !bytes.Contains(d.Body, []byte("Linnet 1250")) {
			t.Errorf("%s: %s %v", layout, d.Body, err)
		}
		if _, err := s.Get("distributor", "dist000000000001"); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("%s: the broken document: %v", layout, err)
		}
		s.Close()
	}
}

// Of a document whose current version is broken the newest past one stands
// again; a phone that holds the lost one pushes it, and nothing is in its way.
func TestThePastVersionStandsForABrokenOne(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	a := put(t, s, change("", 0, `{"name":"Linnet","owner":"Ann"}`))
	b := put(t, s, change(a.Revision, 1, `{"name":"Linnet","owner":"Bea"}`))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	flippedIn(t, path, `"owner":"Bea"`, 10)
	m, err := store.Mend(path, noon)
	if err != nil || m.String() != `the record of a document ("Linnet") is not as it was written` {
		t.Fatalf("%v %v", m, err)
	}
	s = storetest.OpenFile(t, path)
	wantCurrent(t, s, `{"name":"Linnet","owner":"Ann"}`)
	put(t, s, change(b.Revision, 2, `{"name":"Linnet","owner":"Bea"}`))
	wantCurrent(t, s, `{"name":"Linnet","owner":"Bea"}`)
}
