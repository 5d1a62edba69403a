package store

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

var bucketPhotos = []byte("photos")

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
		err := rewrite(tx.Bucket(name), func(k, v []byte) ([]byte, error) {
			r, err := decode(name, k, v)
			if err != nil {
				return nil, err
			}
			r.Received = now
			if bytes.Equal(name, bucketKept) {
				r.Why = WhyBoth
			}
			return encode(name, k, *r)
		})
		if err != nil {
			return err
		}
	}
	err := rewrite(tx.Bucket(bucketAnswers), func(k, v []byte) ([]byte, error) {
		n := noted{At: now}
		if err := readEntry(bucketAnswers, k, v, &n); err != nil {
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
	return putMeta(tx, keyGarage, []byte(strings.ToLower(rand.Text())[:16]))
}

func rewrite(bucket *bolt.Bucket, change func(key, value []byte) ([]byte, error)) error {
	type entry struct{ key, value []byte }
	var all []entry
	err := bucket.ForEach(func(k, v []byte) error {
		value, err := change(k, v)
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

// withPhotos is a step of the layout: since then the file holds pictures too.
func withPhotos(tx *bolt.Tx) error {
	_, err := tx.CreateBucketIfNotExists(bucketPhotos)
	return err
}

// sealedSince is the layout since which every entry is sealed.
const sealedSince = 5

// sealAll is a step of the layout: since then everything carries a check sum
// that holds for its place alone, buckets have their tallies, and what is
// broken has a bucket of its own. A version that is broken already stops the
// step; a broken device, code, answer or choice is set aside.
func sealAll(tx *bolt.Tx) error {
	if _, err := tx.CreateBucketIfNotExists(bucketBroken); err != nil {
		return err
	}
	for _, name := range [][]byte{bucketDocuments, bucketKept, bucketPast} {
		err := rewrite(tx.Bucket(name), func(k, v []byte) ([]byte, error) {
			r, err := decode(name, k, v)
			if err != nil {
				return nil, err
			}
			return encode(name, k, *r)
		})
		if err != nil {
			return err
		}
	}
	for _, name := range [][]byte{bucketDevices, bucketCodes, bucketAnswers, bucketChosen} {
		if err := sealEntries(tx, name, time.Now()); err != nil {
			return err
		}
	}
	return recount(tx)
}

// sealEntries seals what is no version and no photo, and sets aside what is
// broken.
func sealEntries(tx *bolt.Tx, name []byte, now time.Time) error {
	var broken []Broken
	b := tx.Bucket(name)
	err := rewrite(b, func(k, v []byte) ([]byte, error) {
		said, err := unseal(name, k, v)
		if err != nil || !json.Valid(said) {
			broken = append(broken, newBroken(name, k, v, now))
			return v, nil
		}
		return sealed(name, k, sealedEntry, said), nil
	})
	for _, one := range broken {
		if err == nil {
			err = b.Delete(one.Key)
		}
		if err == nil {
			err = setApart(tx, one)
		}
	}
	return err
}
