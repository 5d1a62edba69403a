package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"os"
	"runtime/debug"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store/pagefile"
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

// errCut: too much is gone to go on with the rest; a daily copy has more.
var errCut = fmt.Errorf("%w", ErrDamaged)

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
	first, second := pagefile.Metas(f)
	m := pagefile.Newest(first, second)
	switch whole := m.Pages * m.PageSize; {
	case m.IsWhole && uint64(info.Size()) < whole:
		return fmt.Errorf("%w: %d of its %d bytes are missing", errCut, whole-uint64(info.Size()), whole)
	case first.IsWhole && second.IsWhole:
		return checkFreelist(f, info.Size())
	case m.IsWhole:
		return fmt.Errorf("%w: one of its two first pages is not as it was written; the last change may be missing",
			ErrDamaged)
	case first.HasMagic || second.HasMagic || pagefile.HasPages(f):
		return fmt.Errorf("%w: %w", ErrDamaged, pagefile.ErrFirst)
	}
	return ErrNotGarage
}

// checkFreelist proves the list of free pages, at which bbolt panics while it
// holds the lock of the file.
func checkFreelist(f *os.File, bytes int64) error {
	p, err := pagefile.New(f, bytes)
	if err == nil {
		_, err = p.Free()
	}
	if err != nil {
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return nil
}

// checkHeads proves of every page in use what bbolt believes unasked: that it
// is where it says, and ends in the file. Where others have written since the
// transaction began, checkPages alone has to do.
func checkHeads(tx *bolt.Tx) error {
	f, err := os.Open(tx.DB().Path())
	if err != nil {
		return err
	}
	defer f.Close()
	p, err := pagefile.New(f, tx.Size())
	if err != nil || p.Meta.Transaction != uint64(tx.ID()) {
		return nil
	}
	trouble := func() { err = fmt.Errorf("%w: %w", ErrDamaged, pagefile.ErrPage) }
	p.Walk(p.Meta.Root, func(l pagefile.Leaf) {
		if l.IsBucket {
			p.Bucket(l.Value, func(pagefile.Leaf) {}, trouble)
		}
	}, trouble)
	if _, bad := p.Page(p.Meta.Freelist); bad != nil {
		trouble()
	}
	return err
}
