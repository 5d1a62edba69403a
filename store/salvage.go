package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math/bits"
	"os"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store/pagefile"
)

// A salvaged garage is what proves sound of a damaged file, in a draft of a
// new one, and what does not.
type salvaged struct {
	file    *pagefile.File
	now     time.Time
	meta    map[string][]byte
	sums    []byte // nil: not to be trusted, or of an older layout
	layout  uint64
	found   map[string]tally // of each bucket, sound and broken
	broken  []Broken
	missing map[string]int
	trouble []string
	lost    int // pages that cannot be followed

	db    *bolt.DB
	tx    *bolt.Tx
	bytes int
	err   error
}

// Bounds. Chosen: a page that makes no sense gives a few hundred entries that
// make none; a step of the draft fits into memory.
const (
	mostApart = 1000
	stepBytes = 8 << 20
)

// salvage reads the damaged file and fills the draft.
func salvage(garage, draft string, now time.Time) (*salvaged, error) {
	if err := checkHead(garage); errors.Is(err, ErrNotGarage) || errors.Is(err, errCut) {
		return nil, err
	}
	f, err := os.Open(garage)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	s := &salvaged{now: now, meta: map[string][]byte{}, found: map[string]tally{}, missing: map[string]int{}}
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if s.file, err = pagefile.New(f, info.Size()); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	if !s.file.OtherIsWhole {
		s.trouble = append(s.trouble,
			"one of the two first pages is not as it was written, so that the last change may be missing")
	}
	roots := s.roots()
	if err := s.readMeta(roots); err != nil {
		return nil, err
	}
	if s.db, err = bolt.Open(draft, 0o600, &bolt.Options{Timeout: lockWait, NoSync: true}); err != nil {
		return nil, err
	}
	s.fill(roots)
	return s, errors.Join(s.err, s.db.Close()) // finish brings it to the disk
}

// roots gives what stands for each bucket, found by its name or by one that is
// a bit away from it.
func (s *salvaged) roots() map[string][]byte {
	roots := map[string][]byte{}
	var pages [][]byte
	s.file.OnLeaf = func(page []byte) { pages = append(pages, page) }
	defer func() { s.file.OnLeaf = nil }()
	s.file.Walk(s.file.Meta.Root, func(l pagefile.Leaf) {
		name := nearest(l.Key)
		if name == "" || name != string(l.Key) {
			s.trouble = append(s.trouble, fmt.Sprintf("%.20q is no name of a bucket", l.Key))
		}
		if name != "" {
			roots[name] = l.Value
		}
	}, func() { s.lost++ })
	for _, name := range append([][]byte{bucketMeta}, tallied...) {
		if s.proves(name, roots[string(name)]) {
			continue
		}
		for _, page := range pages {
			s.search(page, name, roots)
		}
	}
	return roots
}

// search looks for what stands for a bucket behind its name on a page whose
// own account of it is damaged. What proves itself there is taken.
func (s *salvaged) search(page, name []byte, roots map[string][]byte) {
	for at := 0; ; {
		next := bytes.Index(page[at:], name)
		if next < 0 {
			return
		}
		at += next + len(name)
		if value := page[at:]; s.proves(name, value) {
			roots[string(name)] = value
			return
		}
	}
}

// proves reports whether a bucket has an entry that is as it was written.
func (s *salvaged) proves(name, value []byte) (isOne bool) {
	seen := s.file.Seen
	defer func() { s.file.Seen = seen }()
	s.file.Seen = map[uint64]bool{}
	s.file.Bucket(value, func(l pagefile.Leaf) {
		if bytes.Equal(name, bucketMeta) {
			_, err := unseal(name, keySums, l.Value)
			isOne = isOne || err == nil && bytes.Equal(l.Key, keySums) ||
				bytes.Equal(l.Key, keyVersion) && len(l.Value) == 8
			return
		}
		isOne = isOne || !bytes.Equal(name, bucketFeed) && !l.IsBucket && proveEntry(name, l.Key, l.Value) == nil
	}, func() {})
	return isOne
}

func nearest(name []byte) string {
	if isKnownBucket(name) {
		return string(name)
	}
	for _, known := range append([][]byte{bucketMeta}, tallied...) {
		away := 8 * max(len(known)-len(name), len(name)-len(known))
		for n := range min(len(known), len(name)) {
			away += bits.OnesCount8(known[n] ^ name[n])
		}
		if away == 1 {
			return string(known)
		}
	}
	return ""
}

// readMeta finds out the layout, by the sums or, without them, by the version.
func (s *salvaged) readMeta(roots map[string][]byte) error {
	s.file.Bucket(roots[string(bucketMeta)], func(l pagefile.Leaf) { s.meta[string(l.Key)] = bytes.Clone(l.Value) },
		func() { s.lost++ })
	if v := s.meta[string(keyVersion)]; len(v) == 8 {
		s.layout = binary.BigEndian.Uint64(v)
	}
	sums := s.meta[string(keySums)]
	delete(s.meta, string(keySums))
	if _, err := unseal(bucketMeta, keySums, sums); err == nil && len(sums) >= sumsTallies {
		s.sums, s.layout = sums, binary.BigEndian.Uint64(sums[headLength:])
		if v := s.meta[string(keyVersion)]; len(v) != 8 || binary.BigEndian.Uint64(v) != s.layout {
			s.trouble = append(s.trouble, "the number of its layout is not as it was written")
		}
	} else if s.layout >= sealedSince {
		s.trouble = append(s.trouble, "the count of what it holds is not as it was written")
	}
	switch {
	case s.layout == 0 || s.layout > Layout() && s.sums == nil:
		return fmt.Errorf("%w: its layout cannot be read", ErrDamaged)
	case s.layout > Layout():
		return ErrNewerSchema
	}
	return nil
}

// fill puts into the draft what proves sound.
func (s *salvaged) fill(roots map[string][]byte) {
	for n, name := range tallied {
		if s.layout < madeIn[n] {
			continue
		}
		s.step(func() error { _, err := s.tx.CreateBucketIfNotExists(name); return err })
		if bytes.Equal(name, bucketFeed) {
			continue // the documents know it all
		}
		if roots[string(name)] == nil {
			s.trouble = append(s.trouble, fmt.Sprintf("%q is not to be found", name))
			continue
		}
		s.file.Bucket(roots[string(name)], func(l pagefile.Leaf) { s.take(name, l) }, func() { s.lost++ })
	}
	s.fillFromStrays()
	s.countMissing()
	s.step(func() error {
		meta, err := s.tx.CreateBucketIfNotExists(bucketMeta)
		for key, value := range s.meta {
			if err == nil {
				err = meta.Put([]byte(key), value)
			}
		}
		if err == nil {
			err = meta.Put(keyVersion, binary.BigEndian.AppendUint64(nil, s.layout))
		}
		if err == nil && s.layout >= sealedSince {
			err = recount(s.tx)
		}
		return err
	})
	s.commit()
}

// countMissing says what is no longer to be found, and what else is wrong.
func (s *salvaged) countMissing() {
	for n, name := range tallied {
		if s.sums == nil || bytes.Equal(name, bucketFeed) {
			continue
		}
		want, have := tallyAt(s.sums, n), s.found[string(name)]
		if gone := int(want.entries) - int(have.entries); gone > 0 {
			s.missing[string(name)] = gone
		} else if have.sum != want.sum && !slices.ContainsFunc(s.broken, func(b Broken) bool {
			return b.Bucket == string(name)
		}) {
			s.trouble = append(s.trouble,
				fmt.Sprintf("some of %q may be older than they were%s", name, look[string(name)]))
		}
	}
	if s.lost > 0 {
		s.trouble = append(s.trouble, fmt.Sprintf("pages that cannot be followed: %d", s.lost))
	}
	if len(s.trouble)+len(s.broken)+len(s.missing) == 0 {
		s.trouble = []string{"its pages were out of order, and nothing in them is lost"}
	}
}

// look is what to do about a bucket that is older than it was.
var look = map[string]string{"devices": " (look through pointsmith pair -list, and revoke who is out)"}

// take puts an entry into the draft, or among the broken.
func (s *salvaged) take(name []byte, l pagefile.Leaf) {
	err := proveEntry(name, l.Key, l.Value)
	if err == nil && bytes.Equal(name, bucketDocuments) {
		var r *record
		if r, err = decode(name, l.Key, l.Value); err == nil && !bytes.Equal(r.key(), l.Key) {
			err = ErrDamaged
		}
	}
	if err != nil || len(l.Key) == 0 || l.IsBucket {
		if belongsElsewhere(name, l) {
			return // a wrong page was taken for one of this bucket
		}
		if len(s.broken) < mostApart && len(l.Key)+len(l.Value) > 0 {
			s.broken = append(s.broken, newBroken(name, l.Key, l.Value, s.now))
		}
		s.count(name, l)
		return
	}
	s.count(name, l)
	s.step(func() error { return s.tx.Bucket(name).Put(l.Key, l.Value) })
	if s.bytes += len(l.Value); s.bytes > stepBytes {
		s.commit()
	}
}

func (s *salvaged) count(name []byte, l pagefile.Leaf) {
	t := s.found[string(name)]
	t.more(name, l.Key, l.Value)
	s.found[string(name)] = t
}

func belongsElsewhere(name []byte, l pagefile.Leaf) bool {
	return isSealed(l.Value) && slices.ContainsFunc(tallied, func(other []byte) bool {
		_, err := unseal(other, l.Key, l.Value)
		return err == nil && !bytes.Equal(other, name)
	})
}

// fillFromStrays looks for entries of buckets that are not as they were on
// pages that are neither free nor to be reached. Where the bucket is with them
// what it was, they stand, also in the place of others, from a page that was
// given up long ago. Else those that are missing are taken, but no device: one
// that was revoked stays out.
func (s *salvaged) fillFromStrays() {
	free, err := s.file.Free()
	if s.sums == nil || err != nil {
		return
	}
	s.file.Seen[s.file.Meta.Freelist] = true
	for n, name := range tallied {
		want, have := tallyAt(s.sums, n), s.found[string(name)]
		if want.sequence = 0; bytes.Equal(name, bucketFeed) || have == want {
			continue
		}
		strays := s.strays(name, free)
		after := have
		for _, l := range strays {
			after.less(name, l.Key, s.get(name, l.Key))
			after.more(name, l.Key, l.Value)
		}
		for _, l := range strays {
			switch there := s.get(name, l.Key); {
			case after == want && there != nil:
				s.found[string(name)] = after
				s.step(func() error { return s.tx.Bucket(name).Put(l.Key, l.Value) })
			case there == nil && (after == want || !bytes.Equal(name, bucketDevices)):
				s.take(name, l)
			}
		}
		if after == want {
			s.found[string(name)] = after
		}
	}
}

func (s *salvaged) strays(name []byte, free map[uint64]bool) (all []pagefile.Leaf) {
	for id := uint64(2); id < s.file.Meta.Pages; id++ {
		if s.file.Seen[id] || free[id] {
			continue
		}
		page, _ := s.file.Page(id) // what of it can be read proves itself or does not
		if page == nil || !pagefile.IsLeaf(page) {
			continue
		}
		found, _ := pagefile.Leaves(page)
		all = append(all, slices.DeleteFunc(found, func(l pagefile.Leaf) bool {
			return l.IsBucket || len(l.Key) == 0 || proveEntry(name, l.Key, l.Value) != nil
		})...)
	}
	return all
}

func (s *salvaged) get(name, key []byte) (entry []byte) {
	s.step(func() error { entry = s.tx.Bucket(name).Get(key); return nil })
	return entry
}

// step works on the draft unless something failed before.
func (s *salvaged) step(work func() error) {
	if s.err == nil && s.tx == nil {
		s.tx, s.err = s.db.Begin(true)
	}
	if s.err == nil {
		s.err = work()
	}
}

func (s *salvaged) commit() {
	if s.tx != nil {
		if s.err == nil {
			s.err = s.tx.Commit()
		} else {
			_ = s.tx.Rollback() // what failed is told already
		}
		s.tx, s.bytes = nil, 0
	}
}
