package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A Broken is an entry of a garage file that is not as it was written. It is
// kept whole, apart from what is sound.
type Broken struct {
	Bucket string    `json:"bucket"` // where it stood, as in the layout: "devices", "documents"
	Key    []byte    `json:"key"`
	Entry  []byte    `json:"entry"` // as it was found
	Found  time.Time `json:"found"`
}

func newBroken(bucket, key, entry []byte, now time.Time) Broken {
	return Broken{string(bucket), bytes.Clone(key), bytes.Clone(entry), now.UTC()}
}

// What an entry of each bucket is, in words.
var entryWords = map[string]string{"documents": "a document", "kept": "a kept copy", "past": "a past version",
	"answers": "the answer to a push", "chosen": "a choice", "photos": "a photo", "devices": "a device",
	"codes": "a pairing code", "broken": "what was set aside", "feed": "the order of changes",
	"meta": "the garage itself"}

var readableName = regexp.MustCompile(`"(?:name|title)":"([^"\\\pC]{1,80})"`)

// String says which one it is, with the name that can still be read in it:
// `the record of a device ("Anna's phone")`.
func (b Broken) String() string {
	what := entryWords[b.Bucket]
	if what == "" {
		what = "something"
	}
	what = "the record of " + what
	if name := b.Name(); name != "" {
		return fmt.Sprintf("%s (%q)", what, name)
	}
	if keyShape.Match(b.Key) {
		return fmt.Sprintf("%s (%s)", what, b.Key)
	}
	return what
}

var keyShape = regexp.MustCompile(`^[a-z]{1,16}/[a-z0-9]{16,32}`)

// Name is what can still be read of the name in it; it may be misspelt.
func (b Broken) Name() string {
	if m := readableName.FindSubmatch(b.Entry); m != nil && b.Bucket != "photos" {
		return string(bytes.ToValidUTF8(m[1], []byte("?")))
	}
	return ""
}

// setApart keeps a broken entry whole in a bucket of its own.
func setApart(tx *bolt.Tx, b Broken) error {
	said, err := json.Marshal(b)
	if err != nil {
		return err
	}
	stem := fmt.Sprintf("%s/%s", b.Bucket, digest(string(b.Key)))
	key := []byte(stem)
	for n := 2; tx.Bucket(bucketBroken).Get(key) != nil; n++ {
		key = fmt.Appendf(nil, "%s/%d", stem, n)
	}
	return put(tx, bucketBroken, key, sealed(bucketBroken, key, sealedEntry, said))
}

// apart lists what was set apart.
func apart(tx *bolt.Tx) (all []Broken, err error) {
	b := tx.Bucket(bucketBroken)
	if b == nil {
		return nil, nil // of an older layout
	}
	err = b.ForEach(func(k, v []byte) error {
		var one Broken
		err := readEntry(bucketBroken, k, v, &one)
		all = append(all, one)
		return err
	})
	return all, err
}

// BrokenDevices lists the records of devices that are not as they were
// written, also those set apart earlier. None of them lets anybody in.
func (s *Store) BrokenDevices() (broken []Broken, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		all, err := apart(tx)
		if err != nil {
			return err
		}
		for _, one := range all {
			if one.Bucket == string(bucketDevices) {
				broken = append(broken, one)
			}
		}
		return tx.Bucket(bucketDevices).ForEach(func(k, v []byte) error {
			if readEntry(bucketDevices, k, v, new(Device)) != nil {
				broken = append(broken, newBroken(bucketDevices, k, v, time.Now()))
			}
			return nil
		})
	})
	if err != nil {
		return nil, fmt.Errorf("list broken devices: %w", err)
	}
	return broken, nil
}
