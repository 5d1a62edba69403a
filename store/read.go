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

// Since returns all documents that changed after cursor, and the cursor to ask
// with next time, as [Store.Feed] does page by page.
func (s *Store) Since(cursor uint64) (documents []Document, next uint64, err error) {
	for {
		f, err := s.Feed(Place{Cursor: cursor}, 0)
		if err != nil {
			return nil, 0, err
		}
		documents = append(documents, f.Documents...)
		if cursor = f.Cursor; !f.More {
			return documents, cursor, nil
		}
	}
}

// Count returns how many documents are not deleted.
func (s *Store) Count() (n int, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		return tx.Bucket(bucketDocuments).ForEach(func(_, v []byte) error {
			if len(v) > 0 && (v[0] == stateLive || v[0] == oldLive) {
				n++
			}
			return nil
		})
	})
	return n, err
}
