package store

import (
	"fmt"
	"slices"
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

	Removed int `json:"removed"` // removed in the file, with nothing else known of them; remembered as removed
	Photos  int `json:"photos"`  // photos that were not here

	// Undated came with a time that cannot be true, from a clock that was not set. They count as the oldest.
	Undated int `json:"undated"`
}

// Import takes in documents and kept copies of an exported file, by the rules
// of [Merge], all of them or none. A document that the file says is removed is
// not removed here; what it says there and not here waits as a copy. The time
// of Received and the name of Device in each change count as for a push. The
// photos of the file come with it; CheckPhoto has to have passed them.
func (s *Store) Import(changes []Change, copies []Copy, now time.Time, photos ...[]byte) (sum Imported, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		for _, c := range changes {
			c.ChangedAt = sum.dated(c.ChangedAt)
			if err := importOne(tx, c, &sum); err != nil {
				return fmt.Errorf("%s %s: %w", c.Kind, c.ID, err)
			}
		}
		for _, k := range copies {
			k.ChangedAt = sum.dated(k.ChangedAt)
			if err := importCopy(tx, k, now, &sum); err != nil {
				return fmt.Errorf("copy %q: %w", k.Name, err)
			}
		}
		for _, p := range photos {
			isNew, err := putPhoto(tx, p)
			if err != nil {
				return err
			}
			if isNew {
				sum.Photos++
			}
		}
		return nil
	})
	if err != nil {
		return Imported{}, fmt.Errorf("import, nothing was taken in: %w", writingError(err))
	}
	return sum, nil
}

// dated is the time of a document in a file. One that cannot be true was
// written by a server whose clock was not set; so that nothing with a true time
// yields to it, it counts as the earliest there is.
func (sum *Imported) dated(at time.Time) time.Time {
	if isDate(at) {
		return at
	}
	sum.Undated++
	return time.Date(earliestYear, 1, 1, 0, 0, 0, 0, time.UTC)
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
	switch {
	case isRemoved && isIdentical(d, Document{Body: emptyBody}):
		return importRemoval(tx, old, c, sum)
	case old == nil:
		return importNew(tx, c, isRemoved, sum)
	}
	if known, err := isKnown(tx, old, d); err != nil || known {
		sum.Known++
		return err
	}
	if isRemoved {
		return importRemoved(tx, old, d, c, sum)
	}
	before := entriesIn(tx, bucketKept)
	_, err = putIn(tx, c)
	if isKept := entriesIn(tx, bucketKept) > before; err == nil && isKept {
		sum.Kept++
	} else if err == nil {
		sum.United++
	}
	return err
}

// importNew takes in a document that is not here. One that is removed comes
// with what was in it, so that it can be brought back.
func importNew(tx *bolt.Tx, c Change, isRemoved bool, sum *Imported) error {
	sum.New++
	a, err := putIn(tx, c)
	if err == nil && isRemoved {
		c.Base, c.Deleted = a.Revision, true
		_, err = putIn(tx, c)
	}
	return err
}

// importRemoval is of a document of which nothing but its removal is known.
func importRemoval(tx *bolt.Tx, old *record, c Change, sum *Imported) error {
	switch {
	case old == nil:
		sum.Removed++
		c.Deleted = true
		_, err := putIn(tx, c)
		return err
	case old.Deleted:
		sum.Known++
	default:
		sum.Left++
	}
	return nil
}

// importRemoved is of a document that is here, was removed there, and says
// something there that was never here.
func importRemoved(tx *bolt.Tx, old *record, d Document, c Change, sum *Imported) error {
	if c.Received.IsZero() {
		c.Received = time.Now()
	}
	c.Received = arrival(c.Received, d.ChangedAt)
	d.Revision = d.revisionFrom(c.Base)
	if old.Deleted { // here too: it is what was in it
		sum.United++
		return remember(tx, record{Document: d, Device: c.Device, Received: c.Received.UTC()})
	}
	sum.Left++
	if body, isLost := unite(nil, d.Body, old.Body); !isLost && sameJSON(body, old.Body) {
		return nil // what is here says all of it
	}
	return sum.keep(tx, Version{d, c.Device}, WhyBoth, c.Received.UTC())
}

// keep lays a version aside and counts it where it is stored.
func (sum *Imported) keep(tx *bolt.Tx, v Version, why string, now time.Time) error {
	isNew, err := keep(tx, v, why, now)
	switch {
	case err != nil:
	case isNew:
		sum.Kept++
	default:
		sum.Known++
	}
	return err
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
	if err != nil || found {
		return found, err
	}
	return isKept(tx, old, d)
}

// isKept reports whether a copy that says the same waits for a choice.
func isKept(tx *bolt.Tx, _ *record, d Document) (bool, error) {
	kept, err := keptUnder(tx, append(d.key(), '/'))
	return slices.ContainsFunc(kept, func(k Copy) bool { return sameContent(k.Document, d) }), err
}

func importCopy(tx *bolt.Tx, k Copy, now time.Time, sum *Imported) error {
	if isOver, err := wasChosen(tx, k.Document); err != nil || isOver {
		sum.Known++
		return err
	}
	old, err := load(tx, k.key())
	if err != nil {
		return err
	}
	if old == nil { // its document is not in the file: it is one by itself
		_, err := putIn(tx, Change{Kind: k.Kind, ID: k.ID, ChangedAt: k.ChangedAt, Device: k.Device, Body: k.Body,
			Received: now})
		sum.New++
		return err
	}
	why, isHere := WhyBoth, isKnown
	if old.Deleted {
		why, isHere = WhyDeleted, isKept // what was in it before it was removed is past, and still to be chosen about
	}
	if known, err := isHere(tx, old, k.Document); err != nil || known {
		sum.Known++
		return err
	}
	return sum.keep(tx, Version{k.Document, k.Device}, why, arrival(now, k.ChangedAt))
}

// wasChosen reports whether a choice was made about this very copy. Another
// that goes by its revision, in a file that somebody edited, was not chosen
// about; of a choice made before choices noted that, the revision has to do.
func wasChosen(tx *bolt.Tx, d Document) (bool, error) {
	value := tx.Bucket(bucketChosen).Get(d.versionKey())
	if value == nil {
		return false, nil
	}
	var before decided
	err := readEntry(bucketChosen, d.versionKey(), value, &before)
	return before.Says == "" || before.Says == saying(d), err
}
