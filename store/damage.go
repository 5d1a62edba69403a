package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"runtime/debug"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Check reads the whole file and reports the first inconsistency it finds:
// every version and photo against its check sum, feed and documents against each other,
// and bbolt's own pages. The error is ErrDamaged when the file is to blame.
func (s *Store) Check() error {
	err := guarded(func() error { return s.db.View(checkHeads) })
	if err == nil {
		err = guarded(func() error { return s.db.View(checkContent) })
	}
	if err == nil {
		err = guarded(func() error { return s.db.View(checkPages) })
	}
	if err != nil {
		return fmt.Errorf("check garage file %q: %w", s.Path(), err)
	}
	return nil
}

// checkContent reads everything through cursors, in this goroutine, where a
// fault can be caught, before checkPages walks the same pages in one of bbolt's.
func checkContent(tx *bolt.Tx) error {
	meta := tx.Bucket(bucketMeta)
	if meta == nil {
		return fmt.Errorf("%w: %q is missing", ErrDamaged, bucketMeta)
	}
	sums, err := checkMeta(meta)
	if err != nil {
		return err
	}
	for n, name := range tallied {
		b := tx.Bucket(name)
		if b == nil && layoutIn(meta) >= madeIn[n] {
			return fmt.Errorf("%w: %q is missing", ErrDamaged, name)
		}
		if b == nil {
			continue
		}
		counted, err := checkBucket(name, b)
		if err != nil {
			return err
		}
		if sums != nil && counted != tallyAt(sums, n) {
			return fmt.Errorf("%w: %q does not hold what was put in it", ErrDamaged, name)
		}
	}
	err = tx.ForEach(func(name []byte, _ *bolt.Bucket) error {
		if !isKnownBucket(name) {
			return fmt.Errorf("%w: %q is no name of a bucket", ErrDamaged, name)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return checkFeed(tx)
}

// madeIn is the layout since which there is each of the tallied buckets.
var madeIn = []uint64{1, 1, 1, 3, 1, 3, 4, 2, 2, sealedSince}

func layoutIn(meta *bolt.Bucket) uint64 {
	if v := meta.Get(keyVersion); len(v) == 8 {
		return binary.BigEndian.Uint64(v)
	}
	return 0
}

func isKnownBucket(name []byte) bool {
	return bytes.Equal(name, bucketMeta) ||
		slices.ContainsFunc(tallied, func(known []byte) bool { return bytes.Equal(known, name) })
}

// checkBucket proves every entry of a bucket, and counts them.
func checkBucket(name []byte, b *bolt.Bucket) (counted tally, err error) {
	counted.sequence = b.Sequence()
	err = b.ForEach(func(k, v []byte) error {
		if !bytes.Equal(b.Get(k), v) { // the search reads every key on the way to each
			return fmt.Errorf("%w: the keys of %q are out of order", ErrDamaged, name)
		}
		counted.more(name, k, v)
		return proveEntry(name, k, v)
	})
	return counted, err
}

// proveEntry holds an entry against its check sum. That of the feed is proved
// by the documents.
func proveEntry(name, k, v []byte) error {
	switch string(name) {
	case string(bucketFeed):
		return nil
	case string(bucketPhotos):
		return provePhoto(k, v)
	case string(bucketDocuments), string(bucketKept), string(bucketPast):
		_, err := decode(name, k, v)
		return err
	}
	var said json.RawMessage
	if err := readEntry(name, k, v, &said); err != nil {
		return fmt.Errorf("%w: %v", err, newBroken(name, k, v, time.Time{}))
	}
	return nil
}

// checkFeed proves that the feed and the documents name each other one to one.
func checkFeed(tx *bolt.Tx) error {
	entries := 0
	err := tx.Bucket(bucketFeed).ForEach(func(k, key []byte) error {
		entries++
		r, err := load(tx, key)
		if err != nil {
			return err
		}
		if r == nil || string(feedKey(r.Cursor)) != string(k) {
			return fmt.Errorf("%w: feed and document %q disagree", ErrDamaged, key)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return tx.Bucket(bucketDocuments).ForEach(func(k, _ []byte) error {
		if entries--; entries < 0 {
			return fmt.Errorf("%w: document %q is not in the feed", ErrDamaged, k)
		}
		return nil
	})
}

func checkPages(tx *bolt.Tx) error {
	var first error
	for err := range tx.Check() { // drained to the end: the check runs in its own goroutine
		if first == nil {
			first = fmt.Errorf("%w: %v", ErrDamaged, err)
		}
	}
	return first
}

// guarded runs work on a file that may be damaged: bbolt panics at pages that
// make no sense, and memory that has no file behind it faults. Both become
// ErrDamaged.
func guarded(work func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%w: %.200v", ErrDamaged, fault)
		}
	}()
	return work()
}

// What bbolt's two first pages hold, from its documented format of version 2:
// a head of 16 bytes, then magic, version, page size, flags (4 bytes each),
// root (16), free list, number of pages, transaction, sum (8 each).
const (
	boltMagic    = 0xED0CDAED
	boltPageHead = 16
	boltMetaSize = 64
)

// checkHead looks at the file before bbolt maps it: whether it is a bbolt file
// at all, and whether it is as long as it says. A file that is not there, or
// empty, is a new one.
func checkHead(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return nil // opening it says better what is wrong
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 || !info.Mode().IsRegular() {
		return err
	}
	first, second, size := bothMetas(f)
	m := first
	if second.isWhole && (!first.isWhole || second.transaction > first.transaction) {
		m = second
	}
	switch whole := m.pages * m.pageSize; {
	case m.isWhole && uint64(info.Size()) < whole:
		return fmt.Errorf("%w: %d of its %d bytes are missing", ErrDamaged, whole-uint64(info.Size()), whole)
	case first.isWhole && second.isWhole:
		return nil
	case m.isWhole:
		return fmt.Errorf("%w: one of its two first pages is not as it was written; the last change may be missing",
			ErrDamaged)
	case first.hasMagic || readMeta(f, int64(max(size, minPage))).hasMagic || hasPages(f):
		return fmt.Errorf("%w: neither of its two first pages can be read", ErrDamaged)
	}
	return ErrNotGarage
}

// Page sizes bbolt may use: those of the machine that made the file.
const (
	minPage = 1 << 10
	maxPage = 1 << 16
)

// hasPages reports whether a file whose first pages say nothing has bbolt's
// pages further on: each begins with its own number.
func hasPages(f io.ReaderAt) bool {
	for size := int64(minPage); size <= maxPage; size *= 2 {
		found := 0
		head := make([]byte, 8)
		for id := int64(2); id < 12; id++ { // chosen: a new garage has four pages
			if _, err := f.ReadAt(head, id*size); err == nil && binary.NativeEndian.Uint64(head) == uint64(id) {
				found++
			}
		}
		if found >= 2 {
			return true
		}
	}
	return false
}

type boltMeta struct {
	hasMagic, isWhole            bool
	pageSize, pages, transaction uint64
	root, freelist               uint64
}

func readMeta(f io.ReaderAt, at int64) (m boltMeta) {
	page := make([]byte, boltPageHead+boltMetaSize)
	if _, err := f.ReadAt(page, at); err != nil && !errors.Is(err, io.EOF) {
		return m
	}
	meta := page[boltPageHead:]
	sum := fnv.New64a()
	_, _ = sum.Write(meta[:boltMetaSize-8])
	m.hasMagic = binary.NativeEndian.Uint32(meta) == boltMagic
	m.isWhole = m.hasMagic && binary.NativeEndian.Uint64(meta[56:]) == sum.Sum64()
	m.pageSize = uint64(binary.NativeEndian.Uint32(meta[8:]))
	m.root, m.freelist = binary.NativeEndian.Uint64(meta[16:]), binary.NativeEndian.Uint64(meta[32:])
	m.pages = binary.NativeEndian.Uint64(meta[40:])
	m.transaction = binary.NativeEndian.Uint64(meta[48:])
	return m
}
