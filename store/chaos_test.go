package store_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store"
)

// A lived garage has everything a garage file holds: documents of several
// kinds and sizes, removed ones, a past, copies that wait, choices, photos,
// devices and an open code.
type lived struct {
	path   string
	tokens []string // of the paired devices
	photos []string // their ids
	pushed []store.Change
	everBy map[string][]string // what was ever typed of a document, with what is waiting of it
}

func livedIn(t testing.TB) lived {
	t.Helper()
	g := lived{path: filepath.Join(t.TempDir(), "garage.db")}
	s, err := store.Open(g.path)
	if err != nil {
		t.Fatal(err)
	}
	push := func(c store.Change) store.Answer {
		g.pushed = append(g.pushed, c)
		return put(t, s, c)
	}
	for n := range 30 {
		c := numbered(n)
		c.Body = []byte(fmt.Sprintf(`{"name":"car %d","notes":%q}`, n, strings.Repeat("rising ", 40+n)))
		a := push(c)
		for again := range n % 4 {
			c.Base, c.ChangedAt = a.Revision, c.ChangedAt.Add(time.Minute)
			c.Body = []byte(fmt.Sprintf(`{"name":"car %d","notes":"version %d"}`, n, again))
			a = push(c)
		}
		if n%7 == 3 {
			c.Base, c.Deleted = a.Revision, true
			push(c)
		}
	}
	push(change("", 9, `{"name":"Linnet"}`))
	push(change("", 5, `{"name":"Finch"}`))
	push(change("", 4, `{"name":"Wren"}`))
	kept, err := s.AllKept()
	if err != nil || len(kept) != 2 {
		t.Fatal(kept, err)
	}
	current, _ := s.Get("car", someID)
	if _, err := s.Choose("car", someID, kept[0].Revision,
		store.Choice{Take: store.TakeCurrent, Current: current.Revision, Now: noon}); err != nil {
		t.Fatal(err)
	}
	for n := range 5 {
		token, _, err := s.Pair(newCode(t, s, noon), fmt.Sprint("Phone ", n), noon)
		if err != nil {
			t.Fatal(err)
		}
		g.tokens = append(g.tokens, token)
		photo := []byte("\xff\xd8\xff" + strings.Repeat(fmt.Sprint("picture ", n), 90*n))
		g.photos = append(g.photos, store.PhotoID(photo))
		if err := s.PutPhoto(store.PhotoID(photo), photo); err != nil {
			t.Fatal(err)
		}
	}
	newCode(t, s, noon)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return g
}

// read gives everything that can be read of a garage, each thing a line.
func (g lived) read(t testing.TB, s *store.Store) map[string]bool {
	t.Helper()
	lines := map[string]bool{}
	say := func(format string, a ...any) { lines[fmt.Sprintf(format, a...)] = true }
	f, err := s.Feed(store.Place{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	say("cursor %d garage %s", f.Cursor, f.Garage)
	for _, d := range f.Documents {
		say("document %s %s %s %v %v %s", d.Kind, d.ID, d.Revision, d.Deleted, d.ChangedAt, d.Body)
	}
	all, err := s.Everything()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range all {
		say("everything %s %s %v %s", d.Kind, d.ID, d.Deleted, d.Body)
	}
	kept, err := s.AllKept()
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range kept {
		say("kept %s %s %s %s %v %s", k.Kind, k.ID, k.Revision, k.Name, k.KeptAt, k.Body)
	}
	devices, err := s.Devices()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range devices {
		say("device %+v", d)
	}
	for _, token := range g.tokens {
		if d, _, err := s.DeviceOf(token, noon); err == nil {
			say("token of %s", d.Name)
		} else if !errors.Is(err, store.ErrUnknownDevice) {
			t.Fatal(err)
		}
	}
	ids, err := s.PhotoIDs()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		photo, err := s.Photo(id)
		if err != nil {
			t.Fatal(err)
		}
		say("photo %s %d", id, len(photo))
	}
	return lines
}

func missingFrom(want, got map[string]bool) (lines []string) {
	for line := range want {
		if !got[line] {
			lines = append(lines, line)
		}
	}
	sort.Strings(lines)
	return lines
}

// Whatever bit of a garage file turns over, it is found, or all that is read
// is as it was.
func TestChaosIsFoundOrHarmless(t *testing.T) {
	g := livedIn(t)
	s, err := store.Open(g.path)
	if err != nil {
		t.Fatal(err)
	}
	want := g.read(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(g.path)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(7, 11))
	used := usedPages(t, g.path)
	flipped := filepath.Join(t.TempDir(), "flipped.db")
	found := 0
	for n := range 500 {
		at, bit := used.pick(random, n), byte(1)<<random.IntN(8)
		whole[at] ^= bit
		err := os.WriteFile(flipped, whole, 0o600)
		whole[at] ^= bit
		if err != nil {
			t.Fatal(err)
		}
		if _, err := store.Inspect(flipped); err != nil {
			found++
			continue
		}
		s, err := store.Open(flipped)
		if err != nil {
			t.Errorf("byte %d bit %d: sound, then %v", at, bit, err)
			continue
		}
		if lost := missingFrom(want, g.read(t, s)); len(lost) > 0 {
			t.Errorf("byte %d bit %d: passes for sound, and differs: %.150q", at, bit, lost)
		}
		s.Close()
	}
	t.Logf("%d of 500 found in %d bytes", found, len(whole))
}

// pages are those of a file that something lies in.
type pages struct {
	size int
	ids  []int
}

func usedPages(t testing.TB, path string) (p pages) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second, ReadOnly: true, PreLoadFreelist: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	p.size = db.Info().PageSize
	err = db.View(func(tx *bolt.Tx) error {
		for id := 0; id < int(tx.Size())/p.size; id++ {
			info, err := tx.Page(id)
			if err != nil || info == nil {
				return err
			}
			if info.Type != "free" {
				p.ids = append(p.ids, id)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// pick gives a place in the file. Most lie where something is stored, a third
// of those at the head of a page, where one bit does most harm.
func (p pages) pick(random *rand.Rand, n int) int {
	page := p.ids[random.IntN(len(p.ids))] * p.size
	switch n % 5 {
	case 0:
		return random.IntN((p.ids[len(p.ids)-1] + 1) * p.size)
	case 1, 2:
		return page + random.IntN(160)
	}
	return page + random.IntN(p.size)
}
