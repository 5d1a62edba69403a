package store

import (
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

// An Imported counts what became of the documents of a file.
type Imported struct {
	New    int `json:"new"`    // were not here
	Known  int `json:"known"`  // are here as they are in the file, or were once
	United int `json:"united"` // brought something new to a document that is here
	Kept   int `json:"kept"`   // copies that wait for a choice now, and did not before
	Left   int `json:"left"`   // removed in the file and not here, and left as they are here
}

// Import takes in documents and kept copies of an exported file, by the rules
// of [Merge], all of them or none. A document that the file says is removed is
// not removed here. The time of Received and the name of Device in each change
// count as for a push.
func (s *Store) Import(changes []Change, copies []Copy, now time.Time) (sum Imported, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		for _, c := range changes {
			if err := importOne(tx, c, &sum); err != nil {
				return fmt.Errorf("%s %s: %w", c.Kind, c.ID, err)
			}
		}
		for _, k := range copies {
			if err := importCopy(tx, k, now, &sum); err != nil {
				return fmt.Errorf("copy %q: %w", k.Name, err)
			}
		}
		return nil
	})
	if err != nil {
		return Imported{}, fmt.Errorf("import, nothing was taken in: %w", writingError(err))
	}
	return sum, nil
}

func importOne(tx *bolt.Tx, c Change, sum *Imported) error {
	isRemoved := c.Deleted
	c.Deleted = false
	d, err := c.document()
	if err != nil {
		return err
	}
	old, err := load(tx, d.key())
	if err != nil {
		return err
	}
	if old != nil {
		if known, err := isKnown(tx, old, d); err != nil || known {
			sum.Known++
			return err
		}
		if isRemoved {
			sum.Left++
			return nil
		}
	}
	a, err := putIn(tx, c)
	if err != nil {
		return err
	}
	sum.count(old == nil, a.Kept)
	if isRemoved {
		c.Base, c.Deleted = a.Revision, true
		_, err = putIn(tx, c)
	}
	return err
}

func (sum *Imported) count(isNew, isKept bool) {
	switch {
	case isNew:
		sum.New++
	case isKept:
		sum.Kept++
	default:
		sum.United++
	}
}

// isKnown reports whether a version is, or was, here as it is.
func isKnown(tx *bolt.Tx, old *record, d Document) (bool, error) {
	if sameContent(old.Document, d) {
		return true, nil
	}
	found := false
	err := eachPast(tx, d.key(), func(r *record) bool {
		found = sameContent(r.Document, d)
		return !found
	})
	kept, keptErr := keptUnder(tx, append(d.key(), '/'))
	for _, k := range kept {
		found = found || sameContent(k.Document, d)
	}
	if err == nil {
		err = keptErr
	}
	return found, err
}

func importCopy(tx *bolt.Tx, k Copy, now time.Time, sum *Imported) error {
	if tx.Bucket(bucketChosen).Get(k.versionKey()) != nil {
		sum.Known++
		return nil
	}
	old, err := load(tx, k.key())
	if err != nil {
		return err
	}
	if old == nil { // its document is not in the file: it is one by itself
		_, err := putIn(tx, Change{Kind: k.Kind, ID: k.ID, ChangedAt: k.ChangedAt, Device: k.Device, Body: k.Body, Received: now})
		sum.New++
		return err
	}
	if known, err := isKnown(tx, old, k.Document); err != nil || known {
		sum.Known++
		return err
	}
	sum.Kept++
	return keep(tx, Version{k.Document, k.Device}, WhyBoth, now)
}
