package store

import (
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// Get returns the current version of a document, also when it is deleted
// (Deleted is then true). It returns ErrNotFound when there never was one.
func (s *Store) Get(kind, id string) (d Document, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		r, err := load(tx, Document{Kind: kind, ID: id}.key())
		if err != nil {
			return err
		}
		if r == nil {
			return ErrNotFound
		}
		d = r.Document
		return nil
	})
	if err != nil {
		return Document{}, fmt.Errorf("get %.40q %.40q: %w", kind, id, err)
	}
	return d, nil
}

// List returns every document that is not deleted, in the order of last change.
func (s *Store) List() ([]Document, error) {
	all, _, err := s.Since(0)
	live := all[:0]
	for _, d := range all {
		if !d.Deleted {
			live = append(live, d)
		}
	}
	return live, err
}

// Since returns the documents that changed after cursor, oldest change first
// and deleted ones included, and the cursor to ask with next time. 0 asks for
// everything. So does a cursor this file has not reached yet: it comes from
// another file, and leaving something out would hide it for ever.
func (s *Store) Since(cursor uint64) (documents []Document, next uint64, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		feed := tx.Bucket(bucketFeed)
		next = feed.Sequence()
		if cursor > next {
			cursor = 0
		}
		c := feed.Cursor()
		for k, key := c.Seek(feedKey(cursor + 1)); k != nil; k, key = c.Next() {
			r, err := load(tx, key)
			if err != nil {
				return err
			}
			if r == nil {
				return fmt.Errorf("%w: feed names %q, which is missing", ErrNotGarage, key)
			}
			documents = append(documents, r.Document)
		}
		return nil
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read changes: %w", err)
	}
	return documents, next, nil
}

// Kept returns the versions of a document that were set aside because two
// changes met, in the order of their revisions.
func (s *Store) Kept(kind, id string) (kept []Document, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		kept, err = keptOf(tx, Document{Kind: kind, ID: id}.key())
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read kept versions of %.40q %.40q: %w", kind, id, err)
	}
	return kept, nil
}

// Count returns how many documents are not deleted.
func (s *Store) Count() (n int, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		return tx.Bucket(bucketDocuments).ForEach(func(_, v []byte) error {
			if len(v) > 0 && v[0] == stateLive {
				n++
			}
			return nil
		})
	})
	return n, err
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
			return fmt.Errorf("%w: feed and document %q disagree", ErrNotGarage, key)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return tx.Bucket(bucketDocuments).ForEach(func(k, _ []byte) error {
		if entries--; entries < 0 {
			return fmt.Errorf("%w: document %q is not in the feed", ErrNotGarage, k)
		}
		return nil
	})
}
