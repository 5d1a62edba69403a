package store_test

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

const someID = "abcdefgh01234567"

var noon = time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)

func change(base string, minutes int, body string) store.Change {
	return store.Change{Kind: "car", ID: someID, Base: base, ChangedAt: noon.Add(time.Duration(minutes) * time.Minute),
		Body: json.RawMessage(body), Received: noon.Add(24 * time.Hour)}
}

func put(t testing.TB, s *store.Store, c store.Change) store.Answer {
	t.Helper()
	a, err := s.Put(c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func wantCurrent(t testing.TB, s *store.Store, body string) {
	t.Helper()
	d, err := s.Get("car", someID)
	if err != nil || string(d.Body) != body {
		t.Fatalf("current is %s, %v; want %s", d.Body, err, body)
	}
}

func wantKept(t testing.TB, s *store.Store, bodies ...string) {
	t.Helper()
	kept, err := s.Kept("car", someID)
	if err != nil || len(kept) != len(bodies) {
		t.Fatalf("kept %d versions, %v; want %d", len(kept), err, len(bodies))
	}
	for _, want := range bodies {
		found := false
		for _, k := range kept {
			found = found || string(k.Body) == want
		}
		if !found {
			t.Errorf("%s is not among the kept versions", want)
		}
	}
}

func TestPutThenGetGivesWhatWasTyped(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, ` { "name" : "Linnet  <&>" } `))
	if a.Kept || a.Cursor != 1 {
		t.Errorf("answer %+v", a)
	}
	wantCurrent(t, s, `{"name":"Linnet  <&>"}`)
	d, _ := s.Get("car", someID)
	if d.Revision != a.Revision || !d.ChangedAt.Equal(noon) || d.Deleted {
		t.Errorf("document %+v", d)
	}
}

func TestPutOnCurrentBaseKeepsNothingAside(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"n":1}`))
	b := put(t, s, change(a.Revision, 1, `{"n":2}`))
	if b.Kept || b.Revision == a.Revision {
		t.Errorf("answer %+v", b)
	}
	wantCurrent(t, s, `{"n":2}`)
	wantKept(t, s)
}

func TestLaterChangeWinsAndTheOtherIsKept(t *testing.T) {
	for name, order := range map[string][]int{"later arrives last": {5, 9}, "later arrives first": {9, 5}} {
		t.Run(name, func(t *testing.T) {
			s := storetest.Open(t)
			a := put(t, s, change("", 0, `{"n":0}`))
			bodies := map[int]string{5: `{"n":5}`, 9: `{"n":9}`}
			put(t, s, change(a.Revision, order[0], bodies[order[0]]))
			c := put(t, s, change(a.Revision, order[1], bodies[order[1]]))
			if !c.Kept {
				t.Errorf("answer %+v does not say that a version was kept", c)
			}
			wantCurrent(t, s, `{"n":9}`)
			wantKept(t, s, `{"n":5}`)
		})
	}
}

func TestSameChangeTwiceIsStoredOnce(t *testing.T) {
	s := storetest.Open(t)
	first := change("", 0, `{"n":1}`)
	a := put(t, s, first)
	if again := put(t, s, first); !reflect.DeepEqual(again, a) {
		t.Errorf("answered %+v, then %+v", a, again)
	}
	later := first
	later.ChangedAt = later.ChangedAt.Add(time.Hour)
	if again := put(t, s, later); !reflect.DeepEqual(again, a) {
		t.Errorf("same body with another time answered %+v, want %+v", again, a)
	}
	b := put(t, s, change(a.Revision, 1, `{"n":2}`))
	late := put(t, s, first) // a retry that was under way for long
	if late.Revision != a.Revision || late.Kept || late.Cursor != b.Cursor {
		t.Errorf("late retry answered %+v", late)
	}
	wantCurrent(t, s, `{"n":2}`)
	wantKept(t, s)
}

func TestLosingPushTwiceIsKeptOnce(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 9, `{"n":9}`))
	a := put(t, s, change("", 5, `{"n":5}`))
	b := put(t, s, change("", 5, `{"n":5}`))
	c := put(t, s, change("", 6, `{"n":5}`))
	if !a.Kept || a.Revision != b.Revision || !b.Kept || !c.Kept {
		t.Errorf("answers %+v %+v %+v", a, b, c)
	}
	wantKept(t, s, `{"n":5}`)
}

func TestLoserLearnsWhatIsCurrent(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 9, `{"n":9}`))
	_, seen, _ := s.Since(0)
	put(t, s, change("", 5, `{"n":5}`))
	docs, _, err := s.Since(seen)
	if err != nil || len(docs) != 1 || string(docs[0].Body) != `{"n":9}` {
		t.Errorf("after losing, the feed gives %v, %v", docs, err)
	}
}

func TestDeleteLeavesTombstoneInFeed(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"n":1}`))
	b, err := s.Delete(change(a.Revision, 1, ""))
	if err != nil || b.Kept {
		t.Fatalf("delete: %+v, %v", b, err)
	}
	docs, cursor, _ := s.Since(a.Cursor)
	if len(docs) != 1 || !docs[0].Deleted || string(docs[0].Body) != `{}` || cursor != b.Cursor {
		t.Errorf("feed %+v, cursor %d", docs, cursor)
	}
	if live, _ := s.List(); len(live) != 0 {
		t.Errorf("deleted document is listed: %+v", live)
	}
	if n, _ := s.Count(); n != 0 {
		t.Errorf("counted %d", n)
	}
	put(t, s, change(b.Revision, 2, `{"n":1}`))
	wantCurrent(t, s, `{"n":1}`)
	wantKept(t, s)
}

func TestDeleteAgainstUnseenEditLosesNothing(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"n":1}`))
	put(t, s, change(a.Revision, 1, `{"n":2}`))
	b, err := s.Delete(change(a.Revision, 5, ""))
	if err != nil || !b.Kept {
		t.Fatalf("delete: %+v, %v", b, err)
	}
	wantKept(t, s, `{"n":2}`)
	c := put(t, s, change(a.Revision, 3, `{"n":3}`)) // typed before the deletion, arrives after it
	if !c.Kept {
		t.Errorf("answer %+v", c)
	}
	wantKept(t, s, `{"n":2}`, `{"n":3}`)
}

func TestPutRefusesWhatItCannotKeep(t *testing.T) {
	s := storetest.Open(t)
	for name, c := range map[string]struct {
		change store.Change
		want   error
	}{
		"array":     {change("", 0, `[]`), store.ErrBody},
		"broken":    {change("", 0, `{"a":`), store.ErrBody},
		"nothing":   {change("", 0, ``), store.ErrBody},
		"NaN":       {change("", 0, `{"a":NaN}`), store.ErrBody},
		"too large": {change("", 0, `{"a":"`+strings.Repeat("x", store.MaxBody)+`"}`), store.ErrTooLarge},
		"no time":   {store.Change{Kind: "car", ID: someID, Body: json.RawMessage(`{}`)}, store.ErrTime},
		"short id": {store.Change{Kind: "car", ID: "abc", ChangedAt: noon, Body: json.RawMessage(`{}`)},
			store.ErrKey},
		"slash": {store.Change{Kind: "car", ID: "abcdefgh0123456/7", ChangedAt: noon, Body: json.RawMessage(`{}`)},
			store.ErrKey},
		"odd kind": {store.Change{Kind: "Car", ID: someID, ChangedAt: noon, Body: json.RawMessage(`{}`)},
			store.ErrKey},
		"no kind": {store.Change{ID: someID, ChangedAt: noon, Body: json.RawMessage(`{}`)}, store.ErrKey},
		"upper-case": {store.Change{Kind: "car", ID: "ABCDEFGH01234567", ChangedAt: noon, Body: json.RawMessage(`{}`)},
			store.ErrKey},
	} {
		if _, err := s.Put(c.change); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if docs, cursor, _ := s.Since(0); len(docs) != 0 || cursor != 0 {
		t.Errorf("a refused push left %d documents, cursor %d", len(docs), cursor)
	}
}

func TestGetOfUnknownIsNotFound(t *testing.T) {
	if _, err := storetest.Open(t).Get("car", someID); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("%v", err)
	}
}

func TestSinceWithForeignCursorGivesEverything(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 0, `{}`))
	if docs, cursor, err := s.Since(900); err != nil || len(docs) != 1 || cursor != 1 {
		t.Errorf("%d documents, cursor %d, %v", len(docs), cursor, err)
	}
	if docs, cursor, err := s.Since(1); err != nil || len(docs) != 0 || cursor != 1 {
		t.Errorf("nothing new: %d documents, cursor %d, %v", len(docs), cursor, err)
	}
}

func TestReopenKeepsEverything(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := storetest.OpenFile(t, path)
	put(t, s, change("", 9, `{"n":9}`))
	put(t, s, change("", 5, `{"n":5}`))
	s.Close()
	s = storetest.OpenFile(t, path)
	wantCurrent(t, s, `{"n":9}`)
	wantKept(t, s, `{"n":5}`)
	if a := put(t, s, change("", 1, `{"n":1}`)); a.Cursor != 3 {
		t.Errorf("cursor %d after reopening, want 3", a.Cursor)
	}
	info, _ := os.Stat(path)
	if info.Mode().Perm() != 0o600 {
		t.Errorf("file mode %v", info.Mode())
	}
}

func TestOpenLockedFileSaysSoInTime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	storetest.OpenFile(t, path)
	start := time.Now()
	_, err := store.Open(path)
	if !errors.Is(err, store.ErrLocked) || time.Since(start) > 2*time.Second {
		t.Errorf("%v after %v", err, time.Since(start))
	}
}

func TestOpenRefusesWhatIsNotAGarageAndLeavesItAlone(t *testing.T) {
	dir := t.TempDir()
	text := filepath.Join(dir, "letter.txt")
	content := strings.Repeat("dear sir, ", 2000)
	if err := os.WriteFile(text, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(text); !errors.Is(err, store.ErrNotGarage) {
		t.Errorf("a letter: %v", err)
	}
	if after, _ := os.ReadFile(text); string(after) != content {
		t.Error("the letter was changed")
	}
	foreign := filepath.Join(dir, "foreign.db")
	editBolt(t, foreign, func(tx *bolt.Tx) error { _, err := tx.CreateBucket([]byte("stamps")); return err })
	if _, err := store.Open(foreign); !errors.Is(err, store.ErrNotGarage) {
		t.Errorf("somebody else's bbolt file: %v", err)
	}
}

func TestOpenRefusesNewerLayout(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := storetest.OpenFile(t, path)
	put(t, s, change("", 0, `{}`))
	s.Close()
	setVersion := func(v byte) {
		editBolt(t, path, func(tx *bolt.Tx) error {
			meta := tx.Bucket([]byte("meta"))
			return errors.Join(meta.Delete([]byte("sums")), meta.Put([]byte("version"), []byte{0, 0, 0, 0, 0, 0, 0, v}))
		})
	}
	setVersion(200)
	if _, err := store.Open(path); !errors.Is(err, store.ErrNewerSchema) ||
		!strings.Contains(err.Error(), "newer Pointsmith") {
		t.Errorf("%v", err)
	}
	setVersion(1) // so that the check at the end can open it; the refusal changed nothing
	wantCurrent(t, storetest.OpenFile(t, path), `{}`)
}

func editBolt(t *testing.T, path string, edit func(tx *bolt.Tx) error) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.Update(edit); err != nil {
		t.Fatal(err)
	}
}
