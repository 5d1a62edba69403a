package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"runtime/debug"

	bolt "go.etcd.io/bbolt"
)

// Check reads the whole file and reports the first inconsistency it finds:
// every version and photo against its check sum, feed and documents against each other,
// and bbolt's own pages. The error is ErrDamaged when the file is to blame.
func (s *Store) Check() error {
	err := guarded(func() error { return s.db.View(checkContent) })
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
	err := tx.ForEach(func(name []byte, b *bolt.Bucket) error {
		isVersions := string(name) == string(bucketDocuments) || string(name) == string(bucketKept) ||
			string(name) == string(bucketPast)
		return b.ForEach(func(k, v []byte) error {
			if !bytes.Equal(b.Get(k), v) { // the search reads every key on the way to each
				return fmt.Errorf("%w: the keys of %q are out of order", ErrDamaged, name)
			}
			if isVersions {
				_, err := decode(v)
				return err
			}
			if string(name) == string(bucketPhotos) {
				return provePhoto(k, v)
			}
			sum := byte(0)
			for _, x := range v {
				sum ^= x
			}
			_ = sum // read to the last byte: a page that is not there shows here
			return nil
		})
	})
	if err != nil {
		return err
	}
	for _, name := range [][]byte{bucketMeta, bucketDocuments, bucketFeed, bucketKept, bucketAnswers} {
		if tx.Bucket(name) == nil {
			return fmt.Errorf("%w: %q is missing", ErrDamaged, name)
		}
	}
	return checkFeed(tx)
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
	isOurs, pages, size := false, uint64(0), uint64(0)
	var newest uint64
	for _, at := range []int64{0, 1024, 2048, 4096, 8192, 16384, 32768, 65536} {
		m := readMeta(f, at)
		isOurs = isOurs || m.hasMagic
		if m.isWhole && (at == 0 || uint64(at) == m.pageSize) && (pages == 0 || m.transaction > newest) {
			newest, pages, size = m.transaction, m.pages, m.pageSize
		}
	}
	switch {
	case pages > 0 && uint64(info.Size()) < pages*size:
		return fmt.Errorf("%w: %d of its %d bytes are missing", ErrDamaged, pages*size-uint64(info.Size()), pages*size)
	case pages > 0:
		return nil
	case isOurs:
		return fmt.Errorf("%w: neither of its two first pages can be read", ErrDamaged)
	}
	return ErrNotGarage
}

type boltMeta struct {
	hasMagic, isWhole            bool
	pageSize, pages, transaction uint64
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
	m.pages = binary.NativeEndian.Uint64(meta[40:])
	m.transaction = binary.NativeEndian.Uint64(meta[48:])
	return m
}
