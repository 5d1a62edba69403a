package store_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pointsmith/store"
)

// A world is a server and some phones with everything that can go wrong
// between them, and a record of what was typed and may not be lost.
type world struct {
	store   *store.Store
	path    string
	now     time.Time // by the server's clock
	phones  []*phone
	arrived []store.Change // pushes the server has had
	late    []store.Change // pushes still on their way; nobody waits for the answer
	typed   int
	alive   map[string]bool // values that must be somewhere
	over    map[string]bool // values somebody typed over or chose against, having seen them
	purged  bool
}

var modelIDs = []string{"aaaaaaaaaaaaaaaa", "bbbbbbbbbbbbbbbb"}

// TestSyncConvergesAndLosesNothing lets two or three phones with wrong clocks
// edit, delete, bring back and choose, over a link that drops, repeats, delays
// and reorders, with a server that is restarted and forgets old deletions. Once
// it is quiet all phones hold what the server holds, pushes sent again change
// nothing, and every value typed is in a current document or in a kept copy,
// unless someone who had it on the screen replaced it.
func TestSyncConvergesAndLosesNothing(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(t *rapid.T) {
		runs++
		w := newWorld(t, filepath.Join(dir, fmt.Sprintf("%d.db", runs)))
		defer func() { w.store.Close() }()
		t.Repeat(map[string]func(*rapid.T){
			"type": w.typeValue, "type again": w.typeValue, "mark": w.markRemoved, "delete": w.deleteDocument,
			"bring back": w.bringBack,
			"push":       w.push, "push more": w.push, "late": w.deliverLate, "repeat": w.repeat, "pull": w.pull,
			"choose": w.choose, "restart": w.restart, "clock": w.clock, "season": w.season,
		})
		w.quiet(t)
		w.converged(t)
		w.nothingLost(t)
		w.idempotent(t)
		if err := w.store.Check(); err != nil {
			t.Fatal(err)
		}
	})
}

func newWorld(t *rapid.T, path string) *world {
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	w := &world{store: s, path: path, now: noon, alive: map[string]bool{}, over: map[string]bool{}}
	for n := range rapid.IntRange(2, 3).Draw(t, "phones") {
		w.phones = append(w.phones, &phone{name: fmt.Sprintf("phone %d", n+1), docs: map[string]*held{}})
	}
	return w
}

func (w *world) phone(t *rapid.T) *phone { return rapid.SampledFrom(w.phones).Draw(t, "phone") }

// tick lets time pass.
func (w *world) tick() time.Time {
	w.now = w.now.Add(time.Second)
	return w.now
}

// value is a new one that must not be lost; old is what it replaces.
func (w *world) value(old string) string {
	w.replaced(old)
	w.typed++
	v := fmt.Sprintf("v%d", w.typed)
	w.alive[v] = true
	return v
}

func (w *world) replaced(v string) {
	delete(w.alive, v)
	w.over[v] = true
}

func (w *world) typeValue(t *rapid.T) {
	p := w.phone(t)
	kind, id := rapid.SampledFrom([]string{"car", "visit"}).Draw(t, "kind"), rapid.SampledFrom(modelIDs).Draw(t, "id")
	if h := p.docs[keyOf(kind, id)]; h != nil && h.Deleted {
		t.Skip("a removed document is not edited")
	}
	where := rapid.SampledFrom([]string{"name", "notes", "fact", "reading", "reading", "place"}).Draw(t, "where")
	item := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "item")
	set := rapid.SampledFrom([]string{"s", "t"}).Draw(t, "set")
	p.edit(kind, id, w.tick(), func(b *body) { w.write(b, where, set, item) })
}

func (w *world) write(b *body, where, set, item string) {
	switch where {
	case "name":
		b.Name = w.value(b.Name)
	case "notes":
		b.Notes = w.value(b.Notes)
	case "fact":
		if b.Facts == nil {
			b.Facts = map[string]modelFact{}
		}
		b.Facts[item] = modelFact{w.value(b.Facts[item].Value)}
	default:
		n := slices.IndexFunc(b.Sets, func(s modelSet) bool { return s.ID == set })
		if n < 0 {
			b.Sets, n = append(b.Sets, modelSet{ID: set, Readings: []modelReading{}}), len(b.Sets)
		}
		s := &b.Sets[n]
		if where == "place" {
			s.Place = w.value(s.Place)
			return
		}
		m := slices.IndexFunc(s.Readings, func(r modelReading) bool { return r.ID == item })
		if m < 0 {
			s.Readings, m = append(s.Readings, modelReading{ID: item}), len(s.Readings)
		}
		s.Readings[m].Deg = w.value(s.Readings[m].Deg)
	}
}

// held draws a document a phone holds.
func (w *world) held(t *rapid.T, deleted bool) (*phone, *held) {
	p := w.phone(t)
	var keys []string
	for _, key := range slices.Sorted(maps.Keys(p.docs)) {
		if p.docs[key].Deleted == deleted {
			keys = append(keys, key)
		}
	}
	if len(keys) == 0 {
		t.Skip("the phone holds none")
	}
	return p, p.docs[rapid.SampledFrom(keys).Draw(t, "document")]
}

func (w *world) markRemoved(t *rapid.T) {
	p, h := w.held(t, false)
	p.edit(h.Kind, h.ID, w.tick(), func(b *body) {
		for n := range b.Sets {
			for m := range b.Sets[n].Readings {
				b.Sets[n].Readings[m].Removed = rapid.Bool().Draw(t, "removed")
			}
		}
	})
}

func (w *world) deleteDocument(t *rapid.T) {
	p, h := w.held(t, false)
	for _, v := range readBody(h.Body).values() {
		delete(w.alive, v)
	}
	h.Deleted = true
	p.stamp(h, w.tick())
}

func (w *world) bringBack(t *rapid.T) {
	p, h := w.held(t, true)
	// A deletion that is on its way had seen these values, and stands. So does what came after the version this phone
	// deleted and takes up again unsent: to the server it has changed nothing.
	current, err := w.store.Get(h.Kind, h.ID)
	isOvertaken := h.waits && err == nil && current.Revision != h.Revision
	if !isOvertaken && !w.deletesElsewhere(p, h) {
		for _, v := range readBody(h.Body).values() {
			if !w.over[v] {
				w.alive[v] = true
			}
		}
	}
	h.Deleted = false
	p.stamp(h, w.tick())
}

func (w *world) deletesElsewhere(p *phone, h *held) bool {
	isIt := func(c store.Change) bool { return c.Deleted && c.Kind == h.Kind && c.ID == h.ID && c.Device != p.name }
	for _, other := range w.phones {
		o := other.docs[keyOf(h.Kind, h.ID)]
		if other != p && (o != nil && o.waits && o.Deleted || other.sending != nil && isIt(*other.sending)) {
			return true
		}
	}
	return slices.ContainsFunc(w.late, isIt)
}

func (w *world) clock(t *rapid.T) {
	p := w.phone(t)
	p.skew = time.Duration(rapid.SampledFrom([]int{0, 1, -1, 40000, -40000}).Draw(t, "hours")) * time.Hour
}

// season lets a year pass, after which deletions are forgotten.
func (w *world) season(t *rapid.T) {
	if !rapid.Bool().Draw(t, "a year passes") || len(w.late) > 0 { // no push is a year on its way
		t.Skip("not now")
	}
	w.now = w.now.Add(400 * 24 * time.Hour)
	if _, err := w.store.Tidy(w.now); err != nil {
		t.Fatal(err)
	}
	w.purged = true
}

func (w *world) restart(t *rapid.T) {
	if err := w.store.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(w.path)
	if err != nil {
		t.Fatal(err)
	}
	w.store = s
}

func (w *world) deliver(t *rapid.T, c store.Change) store.Answer {
	c.Received = w.tick()
	w.arrived = append(w.arrived, c)
	a, err := w.store.Put(c)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func (w *world) push(t *rapid.T) {
	p := w.phone(t)
	c := p.next()
	if c == nil {
		t.Skip("nothing waits")
	}
	w.meet(t, p)
	switch rapid.SampledFrom([]string{"good", "good", "good", "answer lost", "lost", "late",
		"edited meanwhile"}).Draw(t, "link") {
	case "good":
		p.answered(c, w.deliver(t, *c))
	case "answer lost":
		w.deliver(t, *c)
	case "late":
		w.late = append(w.late, *c)
	case "edited meanwhile":
		a := w.deliver(t, *c)
		if h := p.docs[keyOf(c.Kind, c.ID)]; !h.Deleted {
			p.edit(c.Kind, c.ID, w.tick(), func(b *body) { b.Name = w.value(b.Name) })
		}
		p.answered(c, a)
	}
}

// meet lets a phone that knows no garage ask for its first page before it
// pushes, as round of sync.js does.
func (w *world) meet(t *rapid.T, p *phone) {
	if p.place.Garage != "" {
		return
	}
	f, err := w.store.Feed(p.place, 1)
	if err != nil {
		t.Fatal(err)
	}
	p.page(f)
}

func (w *world) deliverLate(t *rapid.T) {
	if len(w.late) == 0 {
		t.Skip("nothing is on its way")
	}
	n := rapid.IntRange(0, len(w.late)-1).Draw(t, "which")
	c := w.late[n]
	w.late = slices.Delete(w.late, n, n+1)
	w.deliver(t, c)
}

func (w *world) repeat(t *rapid.T) {
	if len(w.arrived) == 0 || w.purged {
		t.Skip("nothing to repeat")
	}
	w.deliver(t, rapid.SampledFrom(w.arrived).Draw(t, "which"))
}

func (w *world) pull(t *rapid.T) {
	p := w.phone(t)
	f, err := w.store.Feed(p.place, rapid.IntRange(1, 3).Draw(t, "page"))
	if err != nil {
		t.Fatal(err)
	}
	if rapid.IntRange(0, 3).Draw(t, "link") > 0 {
		p.page(f)
	}
}

func (w *world) choose(t *rapid.T) {
	all, err := w.store.AllKept()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Skip("nothing is kept")
	}
	k := rapid.SampledFrom(all).Draw(t, "copy")
	current, err := w.store.Get(k.Kind, k.ID)
	if err != nil {
		t.Fatal(err)
	}
	w.typed++
	c := store.Choice{Take: rapid.SampledFrom([]string{store.TakeKept, store.TakeCurrent, store.TakeBoth}).Draw(t,
		"take"),
		Current: current.Revision, NewID: fmt.Sprintf("copy%016d", w.typed), Now: w.tick()}
	chosen, err := w.store.Choose(k.Kind, k.ID, k.Revision, c)
	if err != nil {
		t.Fatal(err)
	}
	stays := map[string]bool{}
	for _, d := range []*store.Document{&chosen.Document, chosen.New} {
		if d != nil {
			for _, v := range readBody(d.Body).values() {
				stays[v] = true
			}
		}
	}
	for _, d := range []store.Document{k.Document, current} { // both were seen
		for _, v := range readBody(d.Body).values() {
			if !stays[v] {
				w.replaced(v)
			}
		}
	}
	if again, err := w.store.Choose(k.Kind, k.ID, k.Revision, c); err != nil || !sameChosen(again, chosen) {
		t.Fatalf("the same choice again: %+v, %v; was %+v", again, err, chosen)
	}
}

func sameChosen(a, b store.Chosen) bool {
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	return string(x) == string(y)
}
