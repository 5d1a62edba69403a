package store

import (
	"encoding/json"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Put stores a change by the rules of [Merge]. The same change again gives the
// same answer and stores nothing. It refuses with ErrKey, ErrBody, ErrTooLarge,
// ErrTime or ErrTooManyKept; nothing is stored then.
func (s *Store) Put(c Change) (answer Answer, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		answer, err = putIn(tx, c)
		return err
	})
	if err != nil {
		return Answer{}, fmt.Errorf("store %.40q %.40q: %w", c.Kind, c.ID, writingError(err))
	}
	return answer, nil
}

func putIn(tx *bolt.Tx, c Change) (Answer, error) {
	d, err := c.document()
	if err != nil {
		return Answer{}, err
	}
	if c.Received.IsZero() {
		c.Received = time.Now()
	}
	c.Received = arrival(c.Received, d.ChangedAt).UTC()
	d.Revision = d.revisionFrom(c.Base) // of what was pushed, so that the same push is known again
	d.ChangedAt = believable(d.ChangedAt, c.Received)
	return push(tx, d, c)
}

// Delete is Put of a deletion.
func (s *Store) Delete(c Change) (Answer, error) {
	c.Deleted = true
	return s.Put(c)
}

// A noted answer is how a push was answered, for when it comes again.
type noted struct {
	Revision string    `json:"revision"`
	Kept     bool      `json:"kept"`
	At       time.Time `json:"at"`
}

func push(tx *bolt.Tx, d Document, c Change) (Answer, error) {
	answers := tx.Bucket(bucketAnswers)
	var n noted
	var current *Document
	var err error
	if earlier := answers.Get(d.versionKey()); earlier != nil {
		if err = readEntry(bucketAnswers, d.versionKey(), earlier, &n); err == nil {
			current, err = currentOf(tx, d)
		}
	} else if n, current, err = settle(tx, d, c); err == nil {
		n.At = c.Received
		var value []byte
		if value, err = json.Marshal(n); err == nil {
			key := d.versionKey()
			err = put(tx, bucketAnswers, key, sealed(bucketAnswers, key, sealedEntry, value))
		}
	}
	if err != nil {
		return Answer{}, err
	}
	answer := Answer{Revision: n.Revision, Kept: n.Kept, Cursor: tx.Bucket(bucketFeed).Sequence()}
	if current != nil && current.Revision != n.Revision {
		answer.Document = current
	}
	return answer, nil
}

func currentOf(tx *bolt.Tx, d Document) (*Document, error) {
	r, err := load(tx, d.key())
	if err != nil || r == nil {
		return nil, err
	}
	return &r.Document, nil
}

// settle merges a push nobody has sent before, and says what is current then.
func settle(tx *bolt.Tx, d Document, c Change) (noted, *Document, error) {
	old, err := load(tx, d.key())
	if err != nil {
		return noted{}, nil, err
	}
	n := noted{Revision: d.Revision}
	incoming := Version{d, c.Device}
	var current *Version
	var ancestor *Document
	if old != nil {
		current = &Version{old.Document, old.Device}
		if ancestor, err = findVersion(tx, old, c.Base); err != nil {
			return n, nil, err
		}
	}
	m := Merge(current, incoming, c.Base, ancestor, c.Fits)
	if current != nil && m.Document.Revision == current.Revision && sameContent(current.Document, d) {
		n.Revision = current.Revision
		return n, &current.Document, nil
	}
	if m.Kept != nil {
		n.Kept = true
		why := WhyBoth
		if m.Document.Deleted {
			why = WhyDeleted
		}
		if _, err := keep(tx, *m.Kept, why, c.Received); err != nil {
			return n, nil, err
		}
	}
	return n, &m.Document, move(tx, old, incoming, m.Document, c.Received)
}

// move makes the outcome current and remembers, as what later pushes may have
// been edited from, the versions that are not.
func move(tx *bolt.Tx, old *record, incoming Version, outcome Document, now time.Time) error {
	if old != nil && old.Revision != outcome.Revision {
		if err := remember(tx, *old); err != nil {
			return err
		}
	}
	next := record{Document: outcome, Device: incoming.Device, Received: now}
	if outcome.Revision != incoming.Revision {
		if err := remember(tx, record{Document: incoming.Document, Device: incoming.Device,
			Received: now}); err != nil {
			return err
		}
		if old != nil && old.Revision == outcome.Revision { // through the feed again, so that everyone agrees on it
			next.Device, next.Received = old.Device, old.Received
		}
	}
	return save(tx, old, next)
}
