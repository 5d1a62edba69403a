package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A Broken is an entry of a garage file that is not as it was written. It is
// kept whole, apart from what is sound.
type Broken struct {
	Bucket string    `json:"bucket"` // where it stood, as in the layout: "devices", "documents"
	Key    []byte    `json:"key"`
	Entry  []byte    `json:"entry"` // as it was found
	Found  time.Time `json:"found"`
}

func newBroken(bucket, key, entry []byte, now time.Time) Broken {
	return Broken{string(bucket), bytes.Clone(key), bytes.Clone(entry), now.UTC()}
}

// What an entry of each bucket is, in words.
var entryWords = map[string]string{"documents": "a document", "kept": "a kept copy", "past": "a past version",
	"answers": "the answer to a push", "chosen": "a choice", "photos": "a photo", "devices": "a device",
	"codes": "a pairing code", "broken": "what was set aside", "feed": "the order of changes",
	"meta": "the garage itself"}

var readableName = regexp.MustCompile(`"(?:name|title)":"([^"\\\pC]{1,80})"`)

// String says which one it is, with the name that can still be read in it:
// `the record of a device ("Anna's phone")`.
func (b Broken) String() string {
	what := entryWords[b.Bucket]
	if what == "" {
		what = "something"
	}
	what = "the record of " + what
	if name := b.Name(); name != "" {
		return fmt.Sprintf("%s (%q)", what, name)
	}
	if keyShape.Match(b.Key) {
		return fmt.Sprintf("%s (%s)", what, b.Key)
	}
	return what
}

var keyShape = regexp.MustCompile(`^[a-z]{1,16}/[a-z0-9]{16,32}`)

// Name is what can still be read of the name in it; it may be misspelt.
func (b Broken) Name() string {
	if m := readableName.FindSubmatch(b.Entry); m != nil && b.Bucket != "photos" {
		return string(bytes.ToValidUTF8(m[1], []byte("?")))
	}
	return ""
}

// setApart keeps a broken entry whole in a bucket of its own.
func setApart(tx *bolt.Tx, b Broken) error {
	said, err := json.Marshal(b)
	if err != nil {
		return err
	}
	stem := fmt.Sprintf("%s/%s", b.Bucket, digest(string(b.Key)))
	key := []byte(stem)
	for n := 2; tx.Bucket(bucketBroken).Get(key) != nil; n++ {
		key = fmt.Appendf(nil, "%s/%d", stem, n)
	}
	return put(tx, bucketBroken, key, sealed(bucketBroken, key, sealedEntry, said))
}

// apart lists what was set apart.
func apart(tx *bolt.Tx) (all []Broken, err error) {
	b := tx.Bucket(bucketBroken)
	if b == nil {
		return nil, nil // of an older layout
	}
	err = b.ForEach(func(k, v []byte) error {
		var one Broken
		err := readEntry(bucketBroken, k, v, &one)
		all = append(all, one)
		return err
	})
	return all, err
}

// BrokenDevices lists the records of devices that are not as they were
// written, also those set apart earlier. None of them lets anybody in.
func (s *Store) BrokenDevices() (broken []Broken, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		all, err := apart(tx)
		if err != nil {
			return err
		}
		for _, one := range all {
			if one.Bucket == string(bucketDevices) {
				broken = append(broken, one)
			}
		}
		return tx.Bucket(bucketDevices).ForEach(func(k, v []byte) error {
			if readEntry(bucketDevices, k, v, new(Device)) != nil {
				broken = append(broken, newBroken(bucketDevices, k, v, time.Now()))
			}
			return nil
		})
	})
	if err != nil {
		return nil, fmt.Errorf("list broken devices: %w", err)
	}
	return broken, nil
}

// A Mended tells what Mend did.
type Mended struct {
	Before  string         // where the damaged file is now, as it was found
	Broken  []Broken       // entries that are not as they were written, set apart in the new file
	Missing map[string]int // entries of each bucket that are no longer to be found
	Trouble []string       // what else was not as it was written
	Report  Report         // what the garage holds now
}

// String says in one line what is broken and what is missing.
func (m Mended) String() string {
	said := slices.Clone(m.Trouble)
	for n, one := range m.Broken {
		if n == mostNamed {
			said = append(said, fmt.Sprintf("%d more", len(m.Broken)-n))
			break
		}
		said = append(said, one.String()+" is not as it was written")
	}
	for _, name := range slices.Sorted(maps.Keys(m.Missing)) {
		said = append(said, fmt.Sprintf("of %q %d are missing", name, m.Missing[name]))
	}
	return strings.Join(said, "; ")
}

// mostNamed is how many broken entries are named in one line. Chosen: a line
// that somebody reads to its end.
const mostNamed = 10

// Mend makes a damaged garage file usable: what proves sound goes into a new
// file, what is broken is set apart in it, whole, and the damaged file is set
// aside under a name with the time in it. The garage gets a new name, so that
// phones compare all they hold and send what it lacks. Where the current
// version of a document is broken and a past one is not, that stands again.
//
// It returns ErrLocked when a process holds the file, ErrDamaged when too
// little can be read or the file is cut short, and other errors when it is no
// garage file or cannot be written; then nothing was changed.
func Mend(garage string, now time.Time) (Mended, error) { return mend(garage, now, false) }

// TryMend says what Mend would find, and changes nothing.
func TryMend(garage string, now time.Time) (Mended, error) { return mend(garage, now, true) }

func mend(garage string, now time.Time, isTrial bool) (m Mended, err error) {
	if err := isHeld(garage); err != nil {
		return m, fmt.Errorf("mend %q: %w", garage, err)
	}
	draft, err := emptyDraft(garage)
	if err != nil {
		return m, fmt.Errorf("mend: %w", writingError(err))
	}
	defer os.Remove(draft)
	s, err := salvage(garage, draft, now)
	if err == nil {
		err = s.finish(draft)
	}
	if err != nil {
		return m, fmt.Errorf("mend %q: %w", garage, writingError(err))
	}
	m = Mended{Broken: s.broken, Missing: s.missing, Trouble: s.trouble}
	if m.Report, err = Inspect(draft); err != nil {
		return m, fmt.Errorf("mend: %w", err)
	}
	if m.Report.Path = garage; isTrial {
		return m, nil
	}
	if m.Before, err = aside(garage, damagedMark, now); err != nil {
		return m, err
	}
	if err := os.Rename(draft, garage); err != nil {
		return m, fmt.Errorf("mend: %w; the damaged file is %q now", err, m.Before)
	}
	return m, syncFolder(garage)
}

// finish brings the draft to this layout, orders its documents anew, and sets
// apart what is broken.
func (s *salvaged) finish(draft string) error {
	garage, err := Open(draft)
	if err != nil {
		return err
	}
	garage.db.NoSync = true // brought to the disk once, at the end
	err = garage.db.Update(func(tx *bolt.Tx) error {
		if err := orderAnew(tx); err != nil {
			return err
		}
		if err := s.standAgain(tx); err != nil {
			return err
		}
		for _, one := range s.broken {
			if err := setApart(tx, one); err != nil {
				return err
			}
		}
		return nameGarage(tx)
	})
	if err == nil {
		err = errors.Join(garage.db.Sync(), garage.Check())
	}
	return errors.Join(err, garage.Close())
}

// orderAnew makes the feed from the documents, and lets the sequences go on
// where they are.
func orderAnew(tx *bolt.Tx) error {
	last := purgeMark(tx)
	byCursor := map[uint64][]byte{}
	var again []record
	err := tx.Bucket(bucketDocuments).ForEach(func(k, v []byte) error {
		r, err := decode(bucketDocuments, k, v)
		if err != nil {
			return err
		}
		if r.Cursor == 0 || byCursor[r.Cursor] != nil {
			again = append(again, *r)
			return nil
		}
		byCursor[r.Cursor], last = r.key(), max(last, r.Cursor)
		return nil
	})
	if err != nil {
		return err
	}
	err = errors.Join(tx.Bucket(bucketFeed).SetSequence(last), tx.Bucket(bucketPast).SetSequence(lastPast(tx)))
	for cursor, key := range byCursor {
		if err == nil {
			err = tx.Bucket(bucketFeed).Put(feedKey(cursor), key)
		}
	}
	if err == nil {
		err = recount(tx)
	}
	for _, r := range again {
		if err == nil {
			err = save(tx, nil, r)
		}
	}
	return err
}

func lastPast(tx *bolt.Tx) (order uint64) {
	_ = tx.Bucket(bucketPast).ForEach(func(k, _ []byte) error { // visit fails for nothing, so this does not
		if len(k) > 8 {
			order = max(order, binary.BigEndian.Uint64(k[len(k)-8:]))
		}
		return nil
	})
	return order
}

// standAgain gives documents whose current version is broken, or of which only
// copies are left, the newest version there is.
func (s *salvaged) standAgain(tx *bolt.Tx) error {
	var keys [][]byte
	for _, one := range s.broken {
		isDocument := one.Bucket == string(bucketDocuments) && keyShape.Match(one.Key)
		if isDocument && !bytes.Contains(one.Entry, []byte(`"deleted":true`)) {
			keys = append(keys, one.Key)
		}
	}
	kept, err := keptUnder(tx, nil)
	if err != nil {
		return err
	}
	for _, k := range kept {
		keys = append(keys, k.key())
	}
	for _, key := range keys {
		if tx.Bucket(bucketDocuments).Get(key) != nil {
			continue
		}
		var newest *record
		if err := eachPast(tx, key, func(r *record) bool { newest = r; return true }); err != nil {
			return err
		}
		for _, k := range kept {
			if newest == nil && bytes.Equal(k.key(), key) {
				newest = &record{Document: k.Document, Device: k.Device, Received: k.KeptAt}
			}
		}
		if newest == nil {
			continue
		}
		if err := save(tx, nil, *newest); err != nil {
			return err
		}
	}
	return nil
}
