package store

import (
	"encoding/json"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Put stores a change. The same change again gives the same answer and stores
// nothing. It refuses with ErrKey, ErrBody, ErrTooLarge or ErrTime.
func (s *Store) Put(c Change) (Answer, error) {
	d, err := c.document()
	if err != nil {
		return Answer{}, fmt.Errorf("put document: %w", err)
	}
	return s.push(d, c.Base)
}

// Delete marks a document as deleted, under the same rules as Put: when base
// is not the current revision and the deletion is the later change, the
// version it removes is kept. It refuses with ErrKey or ErrTime.
func (s *Store) Delete(kind, id, base string, changedAt time.Time) (Answer, error) {
	d := Document{Kind: kind, ID: id, ChangedAt: changedAt.UTC(), Deleted: true, Body: emptyBody}
	if err := d.check(); err != nil {
		return Answer{}, fmt.Errorf("delete document: %w", err)
	}
	return s.push(d, base)
}

func (s *Store) push(d Document, base string) (answer Answer, err error) {
	d.Revision = d.revisionFrom(base)
	err = s.db.Update(func(tx *bolt.Tx) error {
		answers := tx.Bucket(bucketAnswers)
		if earlier := answers.Get(d.versionKey()); earlier != nil {
			err = json.Unmarshal(earlier, &answer)
		} else if answer, err = settle(tx, d, base); err == nil {
			err = noteAnswer(tx, d, answer)
		}
		answer.Cursor = tx.Bucket(bucketFeed).Sequence()
		return err
	})
	if err != nil {
		return Answer{}, fmt.Errorf("store %s %s: %w", d.Kind, d.ID, err)
	}
	return answer, nil
}

// settle merges a push nobody has sent before.
func settle(tx *bolt.Tx, d Document, base string) (Answer, error) {
	old, err := load(tx, d.key())
	if err != nil {
		return Answer{}, err
	}
	answer := Answer{Revision: d.Revision}
	var current *Document
	if old != nil {
		current = &old.Document
	}
	switch merge(current, d, base) {
	case alreadyThere:
		answer.Revision = current.Revision
	case accept:
		err = save(tx, old, d)
	case replace:
		answer.Kept = !current.Deleted // a deletion has nothing typed in it to keep
		if err = keep(tx, *current); err == nil {
			err = save(tx, old, d)
		}
	case setAside:
		answer.Kept = !d.Deleted
		if err = keep(tx, d); err == nil {
			err = save(tx, old, *current) // through the feed again: its author must learn what is current
		}
	}
	return answer, err
}

func noteAnswer(tx *bolt.Tx, d Document, answer Answer) error {
	answer.Cursor = 0 // as it stands when asked again
	value, err := json.Marshal(answer)
	if err != nil {
		return err
	}
	return tx.Bucket(bucketAnswers).Put(d.versionKey(), value)
}
