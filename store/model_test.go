package store_test

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pointsmith/store"
)

// A garageModel is what a store must amount to, held in maps.
type garageModel struct {
	store   *store.Store
	path    string
	current map[string]version         // by id
	lost    map[string]map[string]bool // bodies that must be among the kept, by id
	pushed  []store.Change             // to repeat them
	answers []store.Answer             // what they were answered
	phone   map[string]store.Document  // a phone that follows the feed
	cursor  uint64                     // the phone's
	seen    map[string][]string        // every revision ever current, by id
}

type version struct {
	revision string
	at       time.Time
	body     string // "" when deleted
}

var modelIDs = []string{"aaaaaaaaaaaaaaaa", "bbbbbbbbbbbbbbbb", "cccccccccccccccc"}

// TestStoreAgreesWithModel pushes, deletes, repeats and reopens in any order.
// After every step the store equals the model, a phone following the feed
// equals the store, and no body is gone that its replacer had not seen.
func TestStoreAgreesWithModel(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		runs++
		path := filepath.Join(dir, fmt.Sprintf("%d.db", runs))
		s, err := store.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		m := &garageModel{store: s, path: path, current: map[string]version{}, lost: map[string]map[string]bool{},
			phone: map[string]store.Document{}, seen: map[string][]string{}}
		defer func() { m.store.Close() }()
		t.Repeat(map[string]func(*rapid.T){
			"put": m.put, "delete": m.remove, "repeat": m.repeat, "pull": m.pull, "reopen": m.reopen, "": m.compare,
		})
		if err := m.store.Check(); err != nil {
			t.Fatal(err)
		}
	})
}

func (m *garageModel) base(t *rapid.T, id string) string {
	known := append([]string{"", "0123456789abcdef"}, m.seen[id]...)
	if rapid.Bool().Draw(t, "edited from current") {
		return m.current[id].revision
	}
	return rapid.SampledFrom(known).Draw(t, "base")
}

func (m *garageModel) put(t *rapid.T) {
	id := rapid.SampledFrom(modelIDs).Draw(t, "id")
	c := store.Change{Kind: "visit", ID: id, Base: m.base(t, id),
		ChangedAt: noon.Add(time.Duration(rapid.IntRange(0, 50).Draw(t, "minute")) * time.Minute),
		Body:      json.RawMessage(fmt.Sprintf(`{"n":%d}`, rapid.IntRange(0, 8).Draw(t, "n")))}
	m.push(t, c)
}

func (m *garageModel) remove(t *rapid.T) {
	id := rapid.SampledFrom(modelIDs).Draw(t, "id")
	c := store.Change{Kind: "visit", ID: id, Base: m.base(t, id),
		ChangedAt: noon.Add(time.Duration(rapid.IntRange(0, 50).Draw(t, "minute")) * time.Minute)}
	m.push(t, c)
}

func (m *garageModel) send(t *rapid.T, c store.Change) store.Answer {
	var a store.Answer
	var err error
	if c.Body == nil {
		a, err = m.store.Delete(c.Kind, c.ID, c.Base, c.ChangedAt)
	} else {
		a, err = m.store.Put(c)
	}
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func (m *garageModel) push(t *rapid.T, c store.Change) {
	for _, earlier := range m.pushed {
		if earlier.ID == c.ID && earlier.Base == c.Base && earlier.ChangedAt.Equal(c.ChangedAt) && string(earlier.Body) == string(c.Body) {
			t.Skip("that is a repeat")
		}
	}
	before, existed := m.current[c.ID]
	a := m.send(t, c)
	m.pushed, m.answers = append(m.pushed, c), append(m.answers, a)
	body := string(c.Body)
	switch {
	case existed && before.body == body:
		return
	case !existed || before.revision == c.Base || c.ChangedAt.After(before.at):
		if existed && before.revision != c.Base {
			m.mustKeep(c.ID, before.body)
		}
	case c.ChangedAt.Equal(before.at): // either may win; the other must be kept
		d, err := m.store.Get(c.Kind, c.ID)
		if err != nil {
			t.Fatal(err)
		}
		if d.Revision == before.revision {
			m.mustKeep(c.ID, body)
			return
		}
		m.mustKeep(c.ID, before.body)
	default:
		m.mustKeep(c.ID, body)
		return
	}
	m.current[c.ID] = version{a.Revision, c.ChangedAt, body}
	m.seen[c.ID] = append(m.seen[c.ID], a.Revision)
}

func (m *garageModel) mustKeep(id, body string) {
	if body == "" {
		return
	}
	if m.lost[id] == nil {
		m.lost[id] = map[string]bool{}
	}
	m.lost[id][body] = true
}

func (m *garageModel) repeat(t *rapid.T) {
	if len(m.pushed) == 0 {
		t.Skip("nothing pushed yet")
	}
	n := rapid.IntRange(0, len(m.pushed)-1).Draw(t, "which push")
	a := m.send(t, m.pushed[n])
	if a.Revision != m.answers[n].Revision || a.Kept != m.answers[n].Kept {
		t.Fatalf("push %d was answered %+v, its repeat %+v", n, m.answers[n], a)
	}
}

func (m *garageModel) pull(t *rapid.T) {
	docs, next, err := m.store.Since(m.cursor)
	if err != nil || next < m.cursor {
		t.Fatalf("cursor went from %d to %d, %v", m.cursor, next, err)
	}
	for _, d := range docs {
		m.phone[d.ID] = d
	}
	m.cursor = next
	if len(m.phone) != len(m.current) {
		t.Fatalf("the phone holds %d documents of %d", len(m.phone), len(m.current))
	}
	for id, want := range m.current {
		if m.phone[id].Revision != want.revision {
			t.Fatalf("the phone holds %s at %s, current is %s", id, m.phone[id].Revision, want.revision)
		}
	}
}

func (m *garageModel) reopen(t *rapid.T) {
	if err := m.store.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(m.path)
	if err != nil {
		t.Fatal(err)
	}
	m.store = s
}

func (m *garageModel) compare(t *rapid.T) {
	live := 0
	for id, want := range m.current {
		d, err := m.store.Get("visit", id)
		body := string(d.Body)
		if d.Deleted {
			body = ""
		} else {
			live++
		}
		if err != nil || d.Revision != want.revision || body != want.body {
			t.Fatalf("%s is %+v, %v; want %+v", id, d, err, want)
		}
		m.compareKept(t, id)
	}
	if n, err := m.store.Count(); err != nil || n != live {
		t.Fatalf("counted %d, %v; want %d", n, err, live)
	}
}

func (m *garageModel) compareKept(t *rapid.T, id string) {
	kept, err := m.store.Kept("visit", id)
	if err != nil || len(kept) != len(m.lost[id]) {
		t.Fatalf("%s: %d versions kept, %v; want %v", id, len(kept), err, m.lost[id])
	}
	for _, k := range kept {
		if !m.lost[id][string(k.Body)] {
			t.Fatalf("%s: kept %s, which never lost", id, k.Body)
		}
	}
}
