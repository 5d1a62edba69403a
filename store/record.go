package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A record is a version as it lies in the file.
type record struct {
	Document
	Cursor   uint64    `json:"cursor"`            // place in the feed; 0: not current
	Device   string    `json:"device,omitempty"`  // where it was typed
	Received time.Time `json:"received,omitzero"` // when it came, by the server's clock
	Why      string    `json:"why,omitempty"`     // of a kept copy
}

// The first byte of a stored record, so that documents can be counted without
// reading them. Four bytes of check sum and JSON follow.
const (
	stateLive    = 'L'
	stateDeleted = 'D'
	oldLive      = 'l' // up to layout 2: JSON follows at once
	oldDeleted   = 'd'
)

const headLength = 5

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func encode(r record) ([]byte, error) {
	var out bytes.Buffer
	out.Write(make([]byte, headLength))
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false) // what was typed stays byte for byte, or equal bodies would look different
	if err := e.Encode(r); err != nil {
		return nil, err
	}
	value := out.Bytes()
	value[0] = stateLive
	if r.Deleted {
		value[0] = stateDeleted
	}
	binary.BigEndian.PutUint32(value[1:], crc32.Checksum(value[headLength:], castagnoli))
	return value, nil
}

// decode copies everything out of value, which is only valid in a transaction,
// and proves it against its check sum.
func decode(value []byte) (*record, error) {
	if len(value) <= headLength {
		return nil, fmt.Errorf("%w: a record is cut short", ErrDamaged)
	}
	text := value[headLength:]
	switch value[0] {
	case stateLive, stateDeleted:
		if crc32.Checksum(text, castagnoli) != binary.BigEndian.Uint32(value[1:]) {
			return nil, fmt.Errorf("%w: a record is not as it was written", ErrDamaged)
		}
	case oldLive, oldDeleted:
		text = value[1:]
	default:
		return nil, fmt.Errorf("%w: a record has no head", ErrDamaged)
	}
	r := new(record)
	if err := json.Unmarshal(text, r); err != nil {
		return nil, fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return r, nil
}

// load returns the record under key, or nil when there is none.
func load(tx *bolt.Tx, key []byte) (*record, error) {
	value := tx.Bucket(bucketDocuments).Get(key)
	if value == nil {
		return nil, nil
	}
	r, err := decode(value)
	if err == nil && !bytes.Equal(r.key(), key) {
		err = fmt.Errorf("%w: %q holds another document", ErrDamaged, key)
	}
	return r, err
}

// save makes next the current version and moves it to the end of the feed.
func save(tx *bolt.Tx, old *record, next record) error {
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
	if err := feed.Put(feedKey(cursor), next.key()); err != nil {
		return err
	}
	next.Cursor = cursor
	value, err := encode(next)
	if err != nil {
		return err
	}
	return tx.Bucket(bucketDocuments).Put(next.key(), value)
}

func feedKey(cursor uint64) []byte { return binary.BigEndian.AppendUint64(nil, cursor) }
