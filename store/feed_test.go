package store_test

import (
	"fmt"
	"testing"
	"time"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

func numbered(n int) store.Change {
	return store.Change{Kind: "visit", ID: fmt.Sprintf("visit%011d", n), ChangedAt: noon, Received: noon,
		Body: []byte(`{"rpm":"850"}`)}
}

func feed(t *testing.T, s *store.Store, from store.Place, limit int) store.Feed {
	t.Helper()
	f, err := s.Feed(from, limit)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFeedComesInPagesAndGoesOnAnywhere(t *testing.T) {
	s := storetest.Open(t)
	for n := range 25 {
		put(t, s, numbered(n))
	}
	seen := map[string]bool{}
	place, pages := store.Place{}, 0
	for more := true; more; pages++ {
		f := feed(t, s, place, 10)
		if f.Compare != "" || pages < 2 && len(f.Documents) != 10 {
			t.Fatalf("page %d: %d documents, compare %q", pages, len(f.Documents), f.Compare)
		}
		if again := feed(t, s, place, 10); len(again.Documents) != len(f.Documents) { // the answer was lost
			t.Errorf("page %d again has %d", pages, len(again.Documents))
		}
		for _, d := range f.Documents {
			seen[d.ID] = true
		}
		place, more = store.Place{Cursor: f.Cursor, Garage: f.Garage}, f.More
		put(t, s, numbered(100+pages)) // others go on writing
	}
	if pages != 3 || len(seen) < 27 {
		t.Errorf("%d pages, %d documents", pages, len(seen))
	}
	if f := feed(t, s, place, 0); len(f.Documents) != 1 {
		t.Errorf("%d documents were written after the last page", len(f.Documents))
	}
}

func TestPageIsBoundedInBytes(t *testing.T) {
	s := storetest.Open(t)
	for n := range 5 {
		c := numbered(n)
		c.Body = []byte(`{"notes":"` + fmt.Sprintf("%0900000d", n) + `"}`)
		put(t, s, c)
	}
	if f := feed(t, s, store.Place{}, 0); len(f.Documents) != 3 || !f.More {
		t.Errorf("%d documents, more %v", len(f.Documents), f.More)
	}
}

func TestFeedSaysWhenEverythingHasToBeCompared(t *testing.T) {
	s := storetest.Open(t)
	first := put(t, s, numbered(1))
	put(t, s, numbered(2))
	away := feed(t, s, store.Place{}, 1) // a phone that saw the first and went away
	if _, err := s.Delete(store.Change{Kind: "visit", ID: numbered(2).ID,
		Base: feed(t, s, store.Place{}, 0).Documents[1].Revision, ChangedAt: noon, Received: noon}); err != nil {
		t.Fatal(err)
	}
	if n, err := s.Tidy(noon.AddDate(0, 0, 300)); err != nil || n != 0 {
		t.Errorf("after 300 days %d deletions were forgotten, %v", n, err)
	}
	place := store.Place{Cursor: away.Cursor, Garage: away.Garage}
	if f := feed(t, s, place, 0); f.Compare != "" || len(f.Documents) != 1 || !f.Documents[0].Deleted {
		t.Errorf("within the year: %+v", f)
	}
	if n, err := s.Tidy(noon.AddDate(0, 0, 370)); err != nil || n != 1 {
		t.Fatalf("%d deletions were forgotten, %v", n, err)
	}
	f := feed(t, s, place, 0)
	if f.Compare != store.CompareForgotten || len(f.Documents) != 1 || f.Documents[0].Revision != first.Revision {
		t.Errorf("after the year: %+v", f)
	}
	if f = feed(t, s, store.Place{Cursor: 1, Garage: f.Garage}, 0); f.Compare != "" {
		t.Errorf("a phone that has compared is asked again")
	}
	fresh := feed(t, s, store.Place{}, 1)
	if fresh.Compare != "" || feed(t, s, store.Place{Cursor: fresh.Cursor, Garage: fresh.Garage}, 0).Compare != "" {
		t.Error("a fresh phone has nothing to compare")
	}
	met := store.Place{Garage: away.Garage} // found it empty, pushed the second, and has not asked since
	if f = feed(t, s, met, 0); f.Compare != store.CompareForgotten {
		t.Errorf("a phone that met the empty garage: %+v", f)
	}
	if f = feed(t, s, store.Place{Cursor: 1, Garage: "anotherone.0"}, 0); f.Compare != store.CompareOther ||
		len(f.Documents) != 1 {
		t.Errorf("from another file: %+v", f)
	}
	if f = feed(t, s, store.Place{Cursor: 900}, 0); f.Compare != store.CompareOther {
		t.Errorf("from a place not reached yet: %+v", f)
	}
}

func TestDeletionWithACopyWaitingIsNotForgotten(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"name":"Linnet"}`))
	if _, err := s.Delete(change(a.Revision, 1, "")); err != nil {
		t.Fatal(err)
	}
	put(t, s, change(a.Revision, 2, `{"name":"Finch"}`))
	if n, err := s.Tidy(noon.AddDate(3, 0, 0)); err != nil || n != 0 {
		t.Errorf("%d, %v", n, err)
	}
	kept, err := s.AllKept()
	if err != nil || len(kept) != 1 || kept[0].Why != store.WhyDeleted {
		t.Fatal(kept, err)
	}
	current, _ := s.Get("car", someID)
	if _, err := s.Choose("car", someID, kept[0].Revision, store.Choice{Take: store.TakeKept, Current: current.Revision,
		Now: noon.Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	wantCurrent(t, s, `{"name":"Finch"}`)
}
