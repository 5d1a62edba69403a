package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// A record is a document as it lies in the file, with its place in the feed.
type record struct {
	Document
	Cursor uint64 `json:"cursor"`
}

// The first byte of a stored record, so that documents can be counted without
// reading them.
const (
	stateLive    = 'l'
	stateDeleted = 'd'
)

func encode(r record) ([]byte, error) {
	var out bytes.Buffer
	out.WriteByte(stateLive)
	if r.Deleted {
		out.Bytes()[0] = stateDeleted
	}
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false) // what was typed stays byte for byte, or equal bodies would look different
	err := e.Encode(r)
	return out.Bytes(), err
}

// decode copies everything out of value, which is only valid in a transaction.
func decode(value []byte) (*record, error) {
	if len(value) == 0 {
		return nil, fmt.Errorf("%w: empty record", ErrNotGarage)
	}
	r := new(record)
	if err := json.Unmarshal(value[1:], r); err != nil {
		return nil, fmt.Errorf("%w: %v", ErrNotGarage, err)
	}
	return r, nil
}

// load returns the record under key, or nil when there is none.
func load(tx *bolt.Tx, key []byte) (*record, error) {
	value := tx.Bucket(bucketDocuments).Get(key)
	if value == nil {
		return nil, nil
	}
	return decode(value)
}

// save makes d the current version and moves it to the end of the feed.
func save(tx *bolt.Tx, old *record, d Document) error {
	feed := tx.Bucket(bucketFeed)
	if old != nil {
		if err := feed.Delete(feedKey(old.Cursor)); err != nil {
			return err
		}
	}
	cursor, err := feed.NextSequence()
	if err != nil {
		return err
	}
	if err := feed.Put(feedKey(cursor), d.key()); err != nil {
		return err
	}
	value, err := encode(record{d, cursor})
	if err != nil {
		return err
	}
	return tx.Bucket(bucketDocuments).Put(d.key(), value)
}

// keep lays a version aside, unless it is a deletion or one that says the same
// is there already.
func keep(tx *bolt.Tx, d Document) error {
	if d.Deleted {
		return nil
	}
	kept, err := keptOf(tx, d.key())
	if err != nil {
		return err
	}
	for _, k := range kept {
		if sameContent(k, d) {
			return nil
		}
	}
	value, err := encode(record{Document: d})
	if err != nil {
		return err
	}
	return tx.Bucket(bucketKept).Put(d.versionKey(), value)
}

func keptOf(tx *bolt.Tx, key []byte) ([]Document, error) {
	var kept []Document
	prefix := append(bytes.Clone(key), '/')
	c := tx.Bucket(bucketKept).Cursor()
	for k, v := c.Seek(prefix); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		r, err := decode(v)
		if err != nil {
			return nil, err
		}
		kept = append(kept, r.Document)
	}
	return kept, nil
}

func feedKey(cursor uint64) []byte { return binary.BigEndian.AppendUint64(nil, cursor) }
