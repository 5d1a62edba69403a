package store

import (
	"bytes"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

// tombstoneLife is how long a deletion is remembered, so that a phone that was
// away learns of it instead of bringing the document back.
const tombstoneLife = 366 * 24 * time.Hour

// Tidy forgets what has served its time: deletions received more than a year
// ago (unless a copy of the document still waits for a choice), the answers to
// pushes of more than a year ago, and past versions older than 100 days. It
// is meant to run once a day. Kept copies are never touched.
func (s *Store) Tidy(now time.Time) (deletions int, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		if deletions, err = forgetDeletions(tx, now.Add(-tombstoneLife)); err != nil {
			return err
		}
		if err := forgetAnswers(tx, now); err != nil {
			return err
		}
		return forgetPast(tx, now.AddDate(0, 0, -pastDays))
	})
	if err != nil {
		return 0, fmt.Errorf("tidy the garage file: %w", writingError(err))
	}
	return deletions, nil
}

func forgetDeletions(tx *bolt.Tx, before time.Time) (n int, err error) {
	var gone []*record
	err = tx.Bucket(bucketDocuments).ForEach(func(k, v []byte) error {
		if len(v) == 0 || v[0] != sealedDeleted {
			return nil
		}
		r, err := decode(bucketDocuments, k, v)
		if err != nil {
			return err
		}
		kept, err := keptUnder(tx, append(r.key(), '/'))
		if err == nil && len(kept) == 0 && r.Received.Before(before) {
			gone = append(gone, r)
		}
		return err
	})
	mark := purgeMark(tx)
	for _, r := range gone {
		if err == nil {
			err = drop(tx, bucketDocuments, r.key())
		}
		if err == nil {
			err = drop(tx, bucketFeed, feedKey(r.Cursor))
		}
		mark = max(mark, r.Cursor)
	}
	if err != nil || len(gone) == 0 {
		return 0, err
	}
	return len(gone), putMeta(tx, keyPurged, feedKey(mark))
}

// forgetAnswers drops old answers and old choices.
func forgetAnswers(tx *bolt.Tx, now time.Time) error {
	for _, name := range [][]byte{bucketAnswers, bucketChosen} {
		err := forgetWhere(tx, name, func(k, v []byte) bool {
			var of struct {
				At time.Time `json:"at"`
			}
			return readEntry(name, k, v, &of) == nil && of.At.Before(now.Add(-tombstoneLife))
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func forgetPast(tx *bolt.Tx, before time.Time) error {
	return forgetWhere(tx, bucketPast, func(k, v []byte) bool {
		r, err := decode(bucketPast, k, v)
		return err == nil && r.Received.Before(before)
	})
}

func forgetWhere(tx *bolt.Tx, bucket []byte, isOver func(key, value []byte) bool) error {
	var gone [][]byte
	err := tx.Bucket(bucket).ForEach(func(k, v []byte) error {
		if isOver(k, v) {
			gone = append(gone, bytes.Clone(k))
		}
		return nil
	})
	for _, k := range gone {
		if err == nil {
			err = drop(tx, bucket, k)
		}
	}
	return err
}
