package store_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

// neverSet is what a machine says whose clock has lost its battery.
var neverSet = time.Date(1970, 1, 1, 0, 3, 0, 0, time.UTC)

// A server whose clock was never set blames no phone, and what it writes can
// be taken in elsewhere.
func TestAClockThatWasNeverSetSpoilsNothing(t *testing.T) {
	s := storetest.Open(t)
	for n, name := range []string{"Linnet", "Finch"} {
		c := change("", 9-4*n, fmt.Sprintf(`{"name":%q}`, name))
		c.Received = neverSet
		put(t, s, c)
	}
	kept, err := s.AllKept()
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	current, _ := s.Get("car", someID)
	chosen, err := s.Choose("car", someID, kept[0].Revision, store.Choice{Take: store.TakeBoth,
		Current: current.Revision, NewID: "copy0000000000001", Now: neverSet})
	if err != nil || chosen.New == nil {
		t.Fatalf("the server's clock is not the phone's fault: %v", err)
	}
	all, err := s.Everything()
	if err != nil {
		t.Fatal(err)
	}
	var file []store.Change
	for _, d := range all {
		if d.ChangedAt.Year() != 2026 {
			t.Errorf("%s counts as of %v", d.Body, d.ChangedAt)
		}
		file = append(file, store.Change{Kind: d.Kind, ID: d.ID, ChangedAt: d.ChangedAt, Body: d.Body, Received: noon})
	}
	fresh := storetest.Open(t)
	if sum, err := fresh.Import(file, nil, noon); err != nil || sum != (store.Imported{New: 2}) {
		t.Errorf("%+v %v", sum, err)
	}
	if _, err := s.Tidy(noon.AddDate(0, 6, 0)); err != nil {
		t.Fatal(err)
	}
	if again, err := s.Everything(); err != nil || len(again) != 2 {
		t.Errorf("once the clock is set: %v %v", again, err)
	}
}

// A file that was written while a clock was not set is taken in; its times are
// noted, and yield to every true one.
func TestAFileWithImpossibleTimesIsTakenIn(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 0, `{"name":"typed here"}`))
	file := []store.Change{
		{Kind: "car", ID: someID, ChangedAt: neverSet, Body: []byte(`{"name":"typed there"}`), Received: noon},
		{Kind: "car", ID: "new00000000000001", ChangedAt: neverSet, Body: []byte(`{"name":"new"}`), Received: noon},
	}
	copies := []store.Copy{{Document: store.Document{Kind: "car", ID: "lone0000000000001", Revision: "aa",
		ChangedAt: neverSet.AddDate(400, 0, 0), Body: []byte(`{"name":"a copy alone"}`)}}}
	sum, err := s.Import(file, copies, noon)
	if err != nil || sum != (store.Imported{New: 2, Kept: 1, Undated: 3}) {
		t.Fatalf("%+v %v", sum, err)
	}
	wantCurrent(t, s, `{"name":"typed here"}`)
	wantKept(t, s, `{"name":"typed there"}`)
	if sum, err = s.Import(file, copies, noon); err != nil || sum != (store.Imported{Known: 3, Undated: 3}) {
		t.Errorf("again: %+v %v", sum, err)
	}
	phone := change("", 0, `{"name":"a phone's clock"}`)
	phone.ChangedAt = neverSet
	if _, err := s.Put(phone); !errors.Is(err, store.ErrTime) {
		t.Errorf("a push with such a time is the phone's: %v", err)
	}
}

func edited(k store.Copy, body string) store.Copy {
	k.Body = []byte(body)
	return k
}

// A file that somebody edited may give another body to a revision that is
// here, waiting or chosen about. Both stay.
func TestAnEditedFileTakesNoCopysPlace(t *testing.T) {
	s := storetest.Open(t)
	k := conflict(t, s)
	other := edited(k, `{"name":"edited in the file"}`)
	sum, err := s.Import(nil, []store.Copy{other}, noon)
	if err != nil || sum != (store.Imported{Kept: 1}) {
		t.Errorf("%+v %v", sum, err)
	}
	wantKept(t, s, string(k.Body), string(other.Body))
	if sum, err = s.Import(nil, []store.Copy{other, k}, noon); err != nil || sum != (store.Imported{Known: 2}) {
		t.Errorf("again: %+v %v", sum, err)
	}
	kept, _ := s.Kept("car", someID)
	current, _ := s.Get("car", someID)
	for _, one := range kept { // each by itself
		if _, err := s.Choose("car", someID, one.Revision,
			store.Choice{Take: store.TakeCurrent, Current: current.Revision}); err != nil {
			t.Error(err)
		}
	}
	wantKept(t, s)
	late := edited(k, `{"name":"edited after the choice"}`)
	sum, err = s.Import(nil, []store.Copy{k, late}, noon)
	if err != nil || sum != (store.Imported{Known: 1, Kept: 1}) {
		t.Errorf("after the choice: %+v %v", sum, err)
	}
	wantKept(t, s, string(late.Body))
}

// What an import says it kept is what waits then, whatever is in the file, and
// nothing of the file is lost.
func TestImportSaysWhatItStores(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		runs++
		s, err := store.Open(filepath.Join(dir, fmt.Sprintf("%d.db", runs)))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		for range rapid.IntRange(1, 3).Draw(t, "files") {
			var file []store.Change
			var copies []store.Copy
			bodies := map[string]bool{}
			for n := range rapid.IntRange(1, 6).Draw(t, "entries") {
				body := fmt.Sprintf(`{"name":"n%d"}`, rapid.IntRange(0, 5).Draw(t, "body"))
				at := noon.Add(time.Duration(n) * time.Minute)
				bodies[body] = true
				if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
					file = append(file, store.Change{Kind: "car", ID: someID, ChangedAt: at, Body: []byte(body),
						Received: noon.AddDate(0, 0, 1)})
					continue
				}
				copies = append(copies, store.Copy{Document: store.Document{Kind: "car", ID: someID, ChangedAt: at,
					Revision: rapid.SampledFrom([]string{"aa", "bb"}).Draw(t, "revision"), Body: []byte(body)}})
			}
			before, _ := s.AllKept()
			sum, err := s.Import(file, copies, noon.AddDate(0, 0, 1))
			if err != nil {
				t.Fatal(err)
			}
			after, err := s.AllKept()
			if err != nil || len(after)-len(before) != sum.Kept {
				t.Fatalf("%+v, and %d wait instead of %d: %v", sum, len(after), len(before), err)
			}
			if n := sum.New + sum.Known + sum.United + sum.Kept; n != len(file)+len(copies) {
				t.Fatalf("%+v of %d", sum, len(file)+len(copies))
			}
			found := map[string]bool{}
			current, _ := s.Get("car", someID)
			found[string(current.Body)] = true
			for _, k := range after {
				found[string(k.Body)] = true
			}
			for body := range bodies {
				if !found[body] {
					t.Fatalf("%s is neither current nor waiting", body)
				}
			}
		}
	})
}

// Five versions that go by one revision are five copies.
func TestFiveCopiesOfOneRevisionAreFive(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 0, `{"name":"here"}`))
	var copies []store.Copy
	for n := range 5 {
		copies = append(copies, store.Copy{Document: store.Document{Kind: "car", ID: someID, Revision: "aa",
			ChangedAt: noon, Body: []byte(fmt.Sprintf(`{"name":"version %d"}`, n))}})
	}
	sum, err := s.Import(nil, copies, noon)
	kept, _ := s.AllKept()
	if err != nil || sum != (store.Imported{Kept: 5}) || len(kept) != 5 {
		t.Errorf("said %+v, stored %d, %v", sum, len(kept), err)
	}
}

// Keeping both cuts nothing: a visit's title may be long, and where the name of
// the copy would be too long for a document, its own stays.
func TestKeepBothCutsNoName(t *testing.T) {
	long := strings.Repeat("points, dwell, ", 22) + "plugs"
	for _, c := range []struct {
		key  string
		most int // characters of the name that a document may have
		want string
	}{
		{"title", 400, long + " (from another device, 2026-05-01)"},
		{"title", len(long) + 5, long},
		{"name", 0, long + " (from another device, 2026-05-01)"},
	} {
		s := storetest.Open(t)
		put(t, s, change("", 5, fmt.Sprintf(`{"%s":%q,"notes":"a"}`, c.key, long)))
		put(t, s, change("", 9, fmt.Sprintf(`{"%s":"another","notes":"b"}`, c.key)))
		kept, _ := s.AllKept()
		current, _ := s.Get("car", someID)
		choice := store.Choice{Take: store.TakeBoth, Current: current.Revision, NewID: "copy0000000000001"}
		if c.most > 0 {
			choice.Fits = func(body []byte) bool { return len(body) <= c.most+len(`{"title":"","notes":"a"}`) }
		}
		chosen, err := s.Choose("car", someID, kept[0].Revision, choice)
		if err != nil || chosen.New == nil {
			t.Fatal(err)
		}
		if want := fmt.Sprintf(`{"%s":%q,"notes":"a"}`, c.key, c.want); string(chosen.New.Body) != want {
			t.Errorf("%s, want %s", chosen.New.Body, want)
		}
	}
}
