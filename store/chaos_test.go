package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"testing/cryptotest"
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
		c.Received = noon.Add(time.Hour) // a clock that ran would make records of other lengths
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
	inOrder(t, g.path)
	return g
}

// inOrder writes a file anew, entry by entry: bbolt gives pages to the buckets
// of one step as chance has it, and a seed shall mean one file.
func inOrder(t testing.TB, path string) {
	t.Helper()
	from, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	to, err := bolt.Open(path+".new", 0o600, &bolt.Options{Timeout: time.Second, NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(bolt.Compact(to, from, 1), to.Close(), from.Close(),
		os.Rename(path+".new", path)); err != nil {
		t.Fatal(err)
	}
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

// chaosFlips is how many bits are turned over, one at a time; chaosLonger is
// the variable of the environment that asks for more.
const (
	chaosFlips  = 500
	chaosLonger = "POINTSMITH_CHAOS_FLIPS"
)

// Whatever bit of a garage file turns over, it is found, or all that is read
// is as it was. Where it is found, the garage is mended: what is broken is
// named, all the rest is there, and it goes on.
func TestChaosIsFoundOrHarmlessAndTheRestGoesOn(t *testing.T) {
	flips := chaosFlips
	if text := os.Getenv(chaosLonger); text != "" {
		if _, err := fmt.Sscan(text, &flips); err != nil {
			t.Fatalf("%s: %v", chaosLonger, err)
		}
	}
	cryptotest.SetGlobalRandom(t, 5) // tokens and names are the same in every run
	g := livedIn(t)
	want := g.readFile(t, g.path)
	whole, err := os.ReadFile(g.path)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(7, 11))
	used := usedPages(t, g.path)
	found, untouched := 0, 0
	for n := range flips {
		at, bit := used.pick(random, n), byte(1)<<random.IntN(8)
		dir := t.TempDir()
		flipped := filepath.Join(dir, "garage.db")
		whole[at] ^= bit
		err := os.WriteFile(flipped, whole, 0o600)
		whole[at] ^= bit
		if err != nil {
			t.Fatal(err)
		}
		where := fmt.Sprintf("flip %d, byte %d, bit %d", n, at, bit)
		if _, err := store.Inspect(flipped); err == nil {
			if lost := missingFrom(want, g.readFile(t, flipped)); len(lost) > 0 {
				t.Errorf("%s: passes for sound, and differs: %.150q", where, lost)
			}
			if n%25 == 0 { // each push asks the disk
				g.pushesAgain(t, flipped, where)
			}
			continue
		} else if !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", where, err)
			continue
		}
		found++
		if g.mends(t, flipped, where, want) {
			untouched++
		}
		if found%8 == 0 { // each takes some writes that reach the disk
			goesOn(t, flipped, where)
		}
		os.RemoveAll(dir)
	}
	t.Logf("%d of %d flips found in %d pages in use, %d of those lost nothing", found, flips, len(used.ids), untouched)
	if found < flips/5 || found > flips*9/10 {
		t.Errorf("%d of %d flips were found; this tries nothing", found, flips)
	}
}

// mends mends a damaged file and looks whether the rest is there. Nothing may
// be gone that is not told.
func (g lived) mends(t *testing.T, path, where string, want map[string]bool) (isWhole bool) {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, err := store.Mend(path, noon)
	if err != nil {
		t.Errorf("%s: %v", where, err)
		return false
	}
	if after, err := os.ReadFile(m.Before); err != nil || !bytes.Equal(before, after) {
		t.Errorf("%s: the damaged file is not kept as it was: %v", where, err)
	}
	if m.String() == "" {
		t.Errorf("%s: mended without a word", where)
	}
	got := g.readFile(t, path)
	var lost []string
	for _, line := range missingFrom(want, got) {
		if !strings.HasPrefix(line, "cursor ") { // the garage has a new name, as it should
			lost = append(lost, line)
		}
	}
	told := len(m.Broken)
	for _, n := range m.Missing {
		told += n
	}
	isTold := told > 0 || strings.Contains(m.String(), "the last change may be missing") ||
		strings.Contains(m.String(), "may be older")
	if len(lost) > 0 && !isTold || told == 0 && len(lost) > 2 {
		t.Errorf("%s: %q is told, lost are %.300q", where, m, lost)
	}
	return len(lost) == 0
}

// goesOn works with a mended garage: documents, phones.
func goesOn(t *testing.T, path, where string) {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	put(t, s, store.Change{Kind: "visit", ID: "afterafterafter1", ChangedAt: noon, Received: noon,
		Body: []byte(`{"n":1}`)})
	token, _, err := s.Pair(newCode(t, s, noon), "New phone", noon)
	if err != nil {
		t.Errorf("%s: pair: %v", where, err)
	}
	if _, _, err := s.DeviceOf(token, noon); err != nil {
		t.Errorf("%s: %v", where, err)
	}
	if err := s.Check(); err != nil {
		t.Errorf("%s: after going on: %v", where, err)
	}
}

// pushesAgain sends every push once more: all of them are known.
func (g lived) pushesAgain(t *testing.T, path, where string) {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	before, _ := s.Feed(store.Place{}, 0)
	for _, c := range g.pushed {
		put(t, s, c)
	}
	after, err := s.Feed(store.Place{}, 0)
	if err != nil || after.Cursor != before.Cursor || after.Kept != before.Kept {
		t.Errorf("%s: pushes sent again change something: %+v, before %+v, %v", where, after, before, err)
	}
}

func (g lived) readFile(t testing.TB, path string) map[string]bool {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	return g.read(t, s)
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
