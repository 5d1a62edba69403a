package store

import (
	"fmt"
	"slices"

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

// Everything returns every document, in the order of last change. One that is
// deleted comes with the last body that is still known of it and is not a kept
// copy, or with {}.
func (s *Store) Everything() ([]Document, error) {
	all, _, err := s.Since(0)
	if err != nil {
		return nil, err
	}
	err = s.db.View(func(tx *bolt.Tx) error {
		for n := range all {
			if !all[n].Deleted {
				continue
			}
			if err := lastBody(tx, &all[n]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read what was removed: %w", err)
	}
	return all, nil
}

func lastBody(tx *bolt.Tx, d *Document) error {
	kept, err := keptUnder(tx, append(d.key(), '/'))
	if err != nil {
		return err
	}
	return eachPast(tx, d.key(), func(r *record) bool {
		isKept := slices.ContainsFunc(kept, func(k Copy) bool { return sameJSON(k.Body, r.Body) })
		if !r.Deleted && !isKept {
			d.Body = r.Body
		}
		return true
	})
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
			if len(v) > 0 && v[0] == sealedLive {
				n++
			}
			return nil
		})
	})
	return n, err
}
