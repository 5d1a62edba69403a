package store

import (
	"bytes"

	bolt "go.etcd.io/bbolt"
)

// Versions that are no longer current are remembered for a while: a phone that
// has been away pushes what it edited from one of them, and with it the merge
// sees who changed what. Without it nothing is lost, but more is kept aside.
//
// Chosen: a document keeps its last 64 versions or 256 kB of them, whichever is
// less, and Tidy forgets those older than 100 days. Typing one visit makes some
// dozens of versions; a phone is rarely away for a season.
const (
	pastVersions = 64
	pastBytes    = 256 << 10
	pastDays     = 100
)

// remember lays a version among the past ones of its document.
func remember(tx *bolt.Tx, r record) error {
	if r.Deleted {
		return nil
	}
	order, err := nextIn(tx, bucketPast)
	if err != nil {
		return err
	}
	r.Cursor = 0
	key := append(append(r.key(), '/'), feedKey(order)...)
	value, err := encode(bucketPast, key, r)
	if err != nil {
		return err
	}
	if err := put(tx, bucketPast, key, value); err != nil {
		return err
	}
	return prunePast(tx, r.key())
}

// prunePast forgets the oldest versions beyond the bounds; the newest stays.
func prunePast(tx *bolt.Tx, key []byte) error {
	var keys [][]byte
	var sizes []int
	prefix := append(bytes.Clone(key), '/')
	c := tx.Bucket(bucketPast).Cursor()
	for k, v := c.Seek(prefix); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		keys, sizes = append(keys, k), append(sizes, len(v))
	}
	total := 0
	for n := len(keys) - 1; n >= 0; n-- {
		total += sizes[n]
		if kept := len(keys) - n; kept > 1 && (kept > pastVersions || total > pastBytes) {
			if err := drop(tx, bucketPast, bytes.Clone(keys[n])); err != nil {
				return err
			}
		}
	}
	return nil
}

// findVersion returns the version of a document that has a revision, current
// or past, or nil when it is not known.
func findVersion(tx *bolt.Tx, current *record, revision string) (*Document, error) {
	if revision == "" {
		return nil, nil
	}
	if current.Revision == revision {
		return &current.Document, nil
	}
	var found *Document
	err := eachPast(tx, current.key(), func(r *record) bool {
		if r.Revision == revision {
			found = &r.Document
		}
		return found == nil
	})
	return found, err
}

// eachPast visits the past versions of a document, the oldest first, until
// visit returns false.
func eachPast(tx *bolt.Tx, key []byte, visit func(r *record) bool) error {
	prefix := append(bytes.Clone(key), '/')
	c := tx.Bucket(bucketPast).Cursor()
	for k, v := c.Seek(prefix); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		r, err := decode(bucketPast, k, v)
		if err != nil {
			return err
		}
		if !visit(r) {
			return nil
		}
	}
	return nil
}
