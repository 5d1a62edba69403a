package store_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

// conflict makes two versions meet and returns the copy that was kept.
func conflict(t *testing.T, s *store.Store) store.Copy {
	t.Helper()
	c := change("", 5, `{"name":"Linnet","facts":{"idle":{"value":"850"}}}`)
	c.Device = "Ann's phone"
	put(t, s, c)
	if a := put(t, s, change("", 9, `{"name":"Finch","facts":{"gap":{"value":"0.015"}}}`)); !a.Kept {
		t.Fatalf("answer %+v", a)
	}
	kept, err := s.Kept("car", someID)
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	return kept[0]
}

func TestCopyIsNamedByWhatWhereAndWhen(t *testing.T) {
	s := storetest.Open(t)
	k := conflict(t, s)
	if k.Name != "Linnet (from Ann's phone, 2026-05-01)" || k.Why != store.WhyBoth || k.Device != "Ann's phone" ||
		!k.KeptAt.Equal(noon.Add(24*time.Hour)) {
		t.Errorf("%+v", k)
	}
	c := change("", 1, fmt.Sprintf(`{"name":"%s (from x, 2026-01-01)"}`, strings.Repeat("é", 60)))
	c.Device = "<b>\u202e(phone)" + strings.Repeat("y", 90)
	put(t, s, c)
	kept, _ := s.Kept("car", someID)
	name := kept[len(kept)-1].Name
	if len(kept) != 2 {
		t.Fatal(kept)
	}
	for _, k := range kept {
		if len([]rune(k.Name)) > 80 || strings.ContainsAny(k.Name, "<>\u202e") || strings.Count(k.Name, "(from") != 1 {
			t.Errorf("name %q", name)
		}
	}
}

func TestChoosing(t *testing.T) {
	const newID = "copy0000000000001"
	for take, want := range map[string]struct{ current, made string }{
		store.TakeKept:    {`{"name":"Linnet","facts":{"idle":{"value":"850"},"gap":{"value":"0.015"}}}`, ""},
		store.TakeCurrent: {`{"name":"Finch","facts":{"gap":{"value":"0.015"},"idle":{"value":"850"}}}`, ""},
		store.TakeBoth: {`{"name":"Finch","facts":{"gap":{"value":"0.015"},"idle":{"value":"850"}}}`,
			`{"name":"Linnet (from Ann's phone, 2026-05-01)","facts":{"idle":{"value":"850"}}}`},
	} {
		t.Run(take, func(t *testing.T) {
			s := storetest.Open(t)
			k := conflict(t, s)
			current, _ := s.Get("car", someID)
			chosen, err := s.Choose("car", someID, k.Revision,
				store.Choice{Take: take, Current: current.Revision, NewID: newID})
			if err != nil || string(chosen.Document.Body) != want.current {
				t.Fatalf("%s %v", chosen.Document.Body, err)
			}
			wantCurrent(t, s, want.current)
			wantKept(t, s)
			if want.made != "" {
				if d, err := s.Get("car", newID); err != nil || string(d.Body) != want.made || chosen.New == nil {
					t.Errorf("%s %v", d.Body, err)
				}
			}
			again, err := s.Choose("car", someID, k.Revision,
				store.Choice{Take: take, Current: current.Revision, NewID: newID})
			if err != nil || again.Document.Revision != chosen.Document.Revision || again.Cursor != chosen.Cursor {
				t.Errorf("again: %+v %v", again, err)
			}
			other := map[string]string{store.TakeKept: store.TakeCurrent, store.TakeCurrent: store.TakeBoth,
				store.TakeBoth: store.TakeKept}[take]
			if _, err := s.Choose("car", someID, k.Revision,
				store.Choice{Take: other, Current: chosen.Document.Revision, NewID: newID}); !errors.Is(err,
				store.ErrChosen) {
				t.Errorf("another choice afterwards: %v", err)
			}
		})
	}
}

func TestChoosingWhatCannotBe(t *testing.T) {
	s := storetest.Open(t)
	k := conflict(t, s)
	current, _ := s.Get("car", someID)
	for name, c := range map[string]struct {
		revision string
		choice   store.Choice
		want     error
	}{
		"no such copy":   {"0123", store.Choice{Take: store.TakeKept, Current: current.Revision}, store.ErrNotFound},
		"it has changed": {k.Revision, store.Choice{Take: store.TakeKept, Current: "0123"}, store.ErrMoved},
		"no such choice": {k.Revision, store.Choice{Take: "neither", Current: current.Revision}, store.ErrTake},
		"odd id": {k.Revision, store.Choice{Take: store.TakeBoth, Current: current.Revision, NewID: "x"},
			store.ErrKey},
		"id in use": {k.Revision, store.Choice{Take: store.TakeBoth, Current: current.Revision, NewID: someID},
			store.ErrTaken},
		"does not fit": {k.Revision, store.Choice{Take: store.TakeKept, Current: current.Revision,
			Fits: func([]byte) bool { return false }}, store.ErrTooLarge},
	} {
		if _, err := s.Choose("car", someID, c.revision, c.choice); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if all, err := s.AllKept(); err != nil || len(all) != 1 {
		t.Errorf("a refused choice left %v, %v", all, err)
	}
}

// The bound: the push that would need one copy too many is refused whole, no
// copy goes, and it is taken once someone has chosen.
func TestKeptCopiesAreBoundedAndNoneIsDropped(t *testing.T) {
	s := storetest.Open(t)
	put(t, s, change("", 59, `{"name":"current"}`))
	for n := range store.MaxKept {
		put(t, s, change("", 0, fmt.Sprintf(`{"name":"n%d"}`, n)))
	}
	last := change("", 0, `{"name":"one too many"}`)
	if _, err := s.Put(last); !errors.Is(err, store.ErrTooManyKept) {
		t.Fatalf("%v", err)
	}
	kept, err := s.Kept("car", someID)
	if err != nil || len(kept) != store.MaxKept || string(kept[0].Body) == "" {
		t.Fatalf("%d kept, %v", len(kept), err)
	}
	wantCurrent(t, s, `{"name":"current"}`)
	current, _ := s.Get("car", someID)
	if _, err := s.Choose("car", someID, kept[0].Revision,
		store.Choice{Take: store.TakeCurrent, Current: current.Revision}); err != nil {
		t.Fatal(err)
	}
	if a := put(t, s, last); !a.Kept {
		t.Errorf("%+v", a)
	}
}

func TestClockThatRunsAheadDoesNotWinForEver(t *testing.T) {
	s := storetest.Open(t)
	ahead := change("", 0, `{"n":"ahead"}`)
	ahead.ChangedAt = noon.AddDate(50, 0, 0)
	ahead.Received = noon
	put(t, s, ahead)
	later := change("", 0, `{"n":"later"}`)
	later.ChangedAt, later.Received = noon.Add(time.Hour), noon.Add(2*time.Hour)
	put(t, s, later)
	wantCurrent(t, s, `{"n":"later"}`)
	wantKept(t, s, `{"n":"ahead"}`)
}

func TestImportTakesInWhatIsNewAndNothingTwice(t *testing.T) {
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"name":"first"}`))
	put(t, s, change(a.Revision, 1, `{"name":"second"}`))
	file := []store.Change{
		change("", 0, `{"name":"first"}`), // an older state that was here
		{Kind: "car", ID: "new00000000000001", ChangedAt: noon, Body: []byte(`{"name":"new"}`)},
		{Kind: "car", ID: "gone0000000000001", ChangedAt: noon, Deleted: true,
			Body: []byte(`{"name":"removed on the phone"}`)},
		{Kind: "visit", ID: someID, ChangedAt: noon, Body: []byte(`{"title":"visit"}`)},
	}
	sum, err := s.Import(file, nil, noon)
	if err != nil || sum != (store.Imported{New: 3, Known: 1}) {
		t.Errorf("%+v %v", sum, err)
	}
	if sum, err = s.Import(file, nil, noon); err != nil || sum.New+sum.Kept+sum.United != 0 {
		t.Errorf("again: %+v %v", sum, err)
	}
	if d, err := s.Get("car", "gone0000000000001"); err != nil || !d.Deleted {
		t.Errorf("%+v %v", d, err)
	}
	third := change("", 2, `{"name":"third"}`)
	third.Deleted = true // removed there, and not here
	if sum, err = s.Import([]store.Change{third}, nil, noon); err != nil || sum != (store.Imported{Left: 1, Kept: 1}) {
		t.Errorf("%+v %v", sum, err)
	}
	wantCurrent(t, s, `{"name":"second"}`)
	if _, err = s.Import([]store.Change{change("", 3, `{"name":"fourth"}`), {Kind: "Car"}}, nil, noon); !errors.Is(err,
		store.ErrBody) {
		t.Errorf("%v", err)
	}
	wantKept(t, s, `{"name":"third"}`) // and of the fourth nothing: all or none
}

// What was removed goes along: with what was in it, or as a bare removal, so
// that a phone which comes later does not bring it back unasked.
func TestImportTakesInWhatWasRemoved(t *testing.T) {
	const bare, left = "bare000000000001", "left000000000001"
	s := storetest.Open(t)
	a := put(t, s, change("", 0, `{"name":"first"}`))
	b := put(t, s, change(a.Revision, 1, `{"name":"as it was removed"}`))
	gone := change(b.Revision, 2, "")
	if _, err := s.Delete(gone); err != nil {
		t.Fatal(err)
	}
	put(t, s, change(a.Revision, 3, `{"name":"typed by someone who did not know"}`))
	if _, err := s.Delete(store.Change{Kind: "car", ID: bare, ChangedAt: noon, Received: noon}); err != nil {
		t.Fatal(err)
	}
	all, err := s.Everything()
	if err != nil || len(all) != 2 {
		t.Fatalf("%+v %v", all, err)
	}
	kept, err := s.AllKept()
	if err != nil || len(kept) != 1 {
		t.Fatalf("%+v %v", kept, err)
	}
	bodies := map[string]string{}
	var file []store.Change
	for _, d := range all {
		bodies[d.ID] = string(d.Body)
		file = append(file, store.Change{Kind: d.Kind, ID: d.ID, ChangedAt: d.ChangedAt, Deleted: d.Deleted,
			Body: d.Body, Received: noon})
	}
	if bodies[someID] != `{"name":"as it was removed"}` || bodies[bare] != `{}` {
		t.Fatalf("%q", bodies)
	}

	fresh := storetest.Open(t)
	sum, err := fresh.Import(file, kept, noon)
	if err != nil || sum != (store.Imported{New: 1, Removed: 1, Kept: 1}) {
		t.Errorf("%+v %v", sum, err)
	}
	again, err := fresh.Everything()
	if err != nil || len(again) != 2 || !again[0].Deleted || !again[1].Deleted {
		t.Fatalf("%+v %v", again, err)
	}
	for _, d := range again {
		if string(d.Body) != bodies[d.ID] {
			t.Errorf("%s: %s", d.ID, d.Body)
		}
	}
	if now, err := fresh.AllKept(); err != nil || len(now) != 1 || now[0].Why != store.WhyDeleted {
		t.Errorf("the copy that waits: %+v %v", now, err)
	}
	if sum, err = fresh.Import(file, kept, noon); err != nil || sum != (store.Imported{Known: 3}) {
		t.Errorf("again: %+v %v", sum, err)
	}

	past := store.Copy{Document: store.Document{Kind: "car", ID: someID, Revision: "aa", ChangedAt: noon,
		Body: []byte(`{"name":"as it was removed"}`)}}
	if sum, err = fresh.Import(nil, []store.Copy{past}, noon); err != nil || sum != (store.Imported{Kept: 1}) {
		t.Errorf("a copy that says what was in it before it was removed is still to be chosen about: %+v %v", sum, err)
	}

	put(t, fresh, store.Change{Kind: "car", ID: left, ChangedAt: noon, Body: []byte(`{"name":"here"}`), Received: noon})
	sum, err = fresh.Import([]store.Change{{Kind: "car", ID: left, ChangedAt: noon, Deleted: true, Body: []byte(`{}`)},
		{Kind: "car", ID: bare, ChangedAt: noon, Deleted: true, Body: []byte(`{"name":"what was in it"}`),
			Received: noon}}, nil, noon)
	if err != nil || sum != (store.Imported{Left: 1, United: 1}) {
		t.Errorf("%+v %v", sum, err)
	}
	if d, err := fresh.Get("car", left); err != nil || d.Deleted {
		t.Errorf("%+v %v", d, err)
	}
	all, _ = fresh.Everything()
	for _, d := range all {
		if d.ID == bare && (!d.Deleted || string(d.Body) != `{"name":"what was in it"}`) {
			t.Errorf("%+v", d)
		}
	}
}
