package store

import (
	"fmt"
	"os"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A Report says what is in a garage file.
type Report struct {
	Path       string
	Bytes      int64
	Layout     uint64         // version of the layout; this program writes Layout
	Documents  map[string]int // by kind, deleted ones not counted
	Deleted    int            // deletions that are remembered
	Kept       int            // copies that wait for a choice
	OldestKept *Copy          // the one that has waited longest, or nil
	Changed    time.Time      // time of the latest change, zero when there is none
	Photos     int
	PhotoBytes int64 // of all photos together

	Broken []Broken // entries that were not as they were written, and are kept apart
}

// Layout is the version of the layout this program writes.
func Layout() uint64 { return uint64(len(migrations)) }

// Inspect opens a garage file for reading only, reads and checks all of it and
// says what is in it. It changes nothing, and works beside other readers. It
// returns ErrNoFile, ErrLocked when a server holds the file, ErrNotGarage,
// ErrNewerSchema, or ErrDamaged.
func Inspect(path string) (Report, error) {
	info, err := os.Stat(path)
	if err != nil {
		if os.IsNotExist(err) {
			err = ErrNoFile
		}
		return Report{}, fmt.Errorf("inspect %q: %w", path, err)
	}
	if info.Size() == 0 {
		return Report{}, fmt.Errorf("inspect %q: %w: it is empty", path, ErrDamaged)
	}
	s, err := open(path, true)
	if err != nil {
		return Report{}, fmt.Errorf("inspect %q: %w", path, err)
	}
	defer s.Close()
	return s.Inspect()
}

// Inspect is the same for an open store.
func (s *Store) Inspect() (Report, error) {
	r := Report{Path: s.Path(), Documents: map[string]int{}}
	err := guarded(func() (err error) { r.Layout, err = s.version(); return err })
	if err == nil && r.Layout > Layout() {
		err = fmt.Errorf("layout %d, this program knows %d: %w", r.Layout, Layout(), ErrNewerSchema)
	}
	if err == nil && r.Layout == 0 {
		err = ErrNotGarage
	}
	if err == nil {
		err = s.Check()
	}
	if err == nil {
		err = guarded(func() error { return s.db.View(r.count) })
	}
	if err != nil {
		return Report{}, fmt.Errorf("inspect %q: %w", s.Path(), err)
	}
	return r, nil
}

func (r *Report) count(tx *bolt.Tx) error {
	r.Bytes = tx.Size()
	err := tx.Bucket(bucketDocuments).ForEach(func(k, v []byte) error {
		d, err := decode(bucketDocuments, k, v)
		if err != nil {
			return err
		}
		if d.Deleted {
			r.Deleted++
		} else {
			r.Documents[d.Kind]++
		}
		if d.ChangedAt.After(r.Changed) {
			r.Changed = d.ChangedAt
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := r.countPhotos(tx); err != nil {
		return err
	}
	if r.Broken, err = apart(tx); err != nil {
		return err
	}
	kept, err := keptUnder(tx, nil)
	if r.Kept = len(kept); r.Kept > 0 {
		r.OldestKept = &kept[0]
	}
	return err
}

// hasOurs reports whether a bucket goes by a name of ours.
func hasOurs(tx *bolt.Tx) bool {
	c := tx.Cursor()
	for name, _ := c.First(); name != nil; name, _ = c.Next() {
		if near := nearest(name); near != "" && near != string(bucketMeta) {
			return true
		}
	}
	return false
}

// version reads the layout's version, and proves it where there are sums; a
// new file has 0. A bbolt file with buckets but none of ours is somebody else's.
func (s *Store) version() (version uint64, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		meta := tx.Bucket(bucketMeta)
		if name, _ := tx.Cursor().First(); meta == nil && name == nil {
			return nil
		}
		if meta == nil || len(meta.Get(keyVersion)) != 8 {
			if hasOurs(tx) {
				return fmt.Errorf("%w: its layout cannot be read", ErrDamaged)
			}
			return ErrNotGarage
		}
		version = layoutIn(meta)
		if version > Layout() && len(meta.Get(keySums)) < sumsTallies {
			return nil // a later program's own way of keeping sums
		}
		_, err := checkMeta(meta)
		return err
	})
	return version, err
}
