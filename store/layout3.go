package store

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

// provable is a step of the layout. Since then every version carries a check
// sum and the time it came, past versions and choices are remembered, and the
// file has a name of its own, by which a phone knows it from another.
func provable(tx *bolt.Tx) error {
	for _, name := range [][]byte{bucketPast, bucketChosen} {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	now := time.Now().UTC()
	for _, name := range [][]byte{bucketDocuments, bucketKept} {
		err := rewrite(tx.Bucket(name), func(v []byte) ([]byte, error) {
			r, err := decode(v)
			if err != nil {
				return nil, err
			}
			r.Received = now
			if bytes.Equal(name, bucketKept) {
				r.Why = WhyBoth
			}
			return encode(*r)
		})
		if err != nil {
			return err
		}
	}
	err := rewrite(tx.Bucket(bucketAnswers), func(v []byte) ([]byte, error) {
		n := noted{At: now}
		if err := json.Unmarshal(v, &n); err != nil {
			return nil, err
		}
		return json.Marshal(n)
	})
	if err != nil {
		return err
	}
	return nameGarage(tx)
}

// nameGarage gives the file a new name, so that phones which knew another
// state of it compare everything.
func nameGarage(tx *bolt.Tx) error {
	return tx.Bucket(bucketMeta).Put(keyGarage, []byte(strings.ToLower(rand.Text())[:16]))
}

func rewrite(bucket *bolt.Bucket, change func(value []byte) ([]byte, error)) error {
	type entry struct{ key, value []byte }
	var all []entry
	err := bucket.ForEach(func(k, v []byte) error {
		value, err := change(v)
		all = append(all, entry{bytes.Clone(k), value})
		return err
	})
	for _, e := range all {
		if err == nil {
			err = bucket.Put(e.key, e.value)
		}
	}
	return err
}
