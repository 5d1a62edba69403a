package store_test

import (
	"encoding/json"
	"reflect"
	"slices"

	"pgregory.net/rapid"

	"pointsmith/store"
)

// What must hold once it is quiet.

// quiet lets everything arrive and every phone sync until nothing moves.
func (w *world) quiet(t *rapid.T) {
	for len(w.late) > 0 {
		w.deliverLate(t)
	}
	for range 20 {
		moved := false
		for _, p := range w.phones {
			w.meet(t, p)
			for c := p.next(); c != nil; c = p.next() {
				moved = true
				p.answered(c, w.deliver(t, *c))
			}
			for more := true; more; {
				f, err := w.store.Feed(p.place, 2)
				if err != nil {
					t.Fatal(err)
				}
				moved = moved || len(f.Documents) > 0 || f.Compare != ""
				p.page(f)
				more = f.More
			}
		}
		if !moved {
			return
		}
	}
	t.Fatal("twenty quiet rounds, and still something moves")
}

func (w *world) converged(t *rapid.T) {
	all, _, err := w.store.Since(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range w.phones {
		listed := map[string]bool{}
		for _, d := range all {
			key := keyOf(d.Kind, d.ID)
			listed[key] = true
			h := p.docs[key]
			if h == nil || h.waits || h.Revision != d.Revision || h.Deleted != d.Deleted || !d.Deleted &&
				!reflect.DeepEqual(readBody(h.Body), readBody(d.Body)) {
				t.Fatalf("%s holds %+v, the server %+v", p.name, h, d)
			}
		}
		for key, h := range p.docs {
			if !listed[key] && !(w.purged && h.Deleted) {
				t.Fatalf("%s holds %s, which the server does not have", p.name, key)
			}
		}
	}
}

// everywhere gathers every value in current documents and kept copies.
func (w *world) everywhere(t *rapid.T) map[string]bool {
	found := map[string]bool{}
	all, _, err := w.store.Since(0)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := w.store.AllKept()
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range kept {
		all = append(all, k.Document)
	}
	for _, d := range all {
		for _, v := range readBody(d.Body).values() {
			found[v] = true
		}
	}
	return found
}

func (w *world) nothingLost(t *rapid.T) {
	found := w.everywhere(t)
	for v := range w.alive {
		if !found[v] {
			t.Fatalf("%s was typed, nobody replaced it, and it is gone", v)
		}
	}
}

// idempotent sends everything that ever arrived once more.
func (w *world) idempotent(t *rapid.T) {
	if w.purged {
		return
	}
	state := func() string {
		all, _, err := w.store.Since(0)
		if err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(all, func(a, b store.Document) int {
			return slices.Compare([]byte(a.Kind+a.ID), []byte(b.Kind+b.ID))
		})
		kept, err := w.store.AllKept()
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal([]any{all, kept})
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	before := state()
	for _, c := range rapid.Permutation(w.arrived).Draw(t, "again") {
		c.Received = w.tick()
		if _, err := w.store.Put(c); err != nil {
			t.Fatal(err)
		}
	}
	if after := state(); after != before {
		t.Fatalf("repeats changed\n%s\nto\n%s", before, after)
	}
}
