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

// encode makes the entry of a version, to be put under key.
func encode(bucket, key []byte, r record) ([]byte, error) {
	var out bytes.Buffer
	out.Write(make([]byte, headLength))
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false) // what was typed stays byte for byte, or equal bodies would look different
	if err := e.Encode(r); err != nil {
		return nil, err
	}
	state := byte(sealedLive)
	if r.Deleted {
		state = sealedDeleted
	}
	return sealHead(bucket, key, state, out.Bytes()), nil
}

// decode copies everything out of value, which is only valid in a transaction,
// and proves it against its check sum.
func decode(bucket, key, value []byte) (*record, error) {
	if len(value) <= headLength {
		return nil, fmt.Errorf("%w: a record is cut short", ErrDamaged)
	}
	text := value[headLength:]
	switch value[0] {
	case sealedLive, sealedDeleted:
		if _, err := unseal(bucket, key, value); err != nil {
			return nil, err
		}
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
	r, err := decode(bucketDocuments, key, value)
	if err == nil && !bytes.Equal(r.key(), key) {
		err = fmt.Errorf("%w: %q holds another document", ErrDamaged, key)
	}
	return r, err
}

// save makes next the current version and moves it to the end of the feed.
func save(tx *bolt.Tx, old *record, next record) error {
	if old != nil {
		if err := drop(tx, bucketFeed, feedKey(old.Cursor)); err != nil {
			return err
		}
	}
	cursor, err := nextIn(tx, bucketFeed)
	if err != nil {
		return err
	}
	if err := put(tx, bucketFeed, feedKey(cursor), next.key()); err != nil {
		return err
	}
	next.Cursor = cursor
	value, err := encode(bucketDocuments, next.key(), next)
	if err != nil {
		return err
	}
	return put(tx, bucketDocuments, next.key(), value)
}

func feedKey(cursor uint64) []byte { return binary.BigEndian.AppendUint64(nil, cursor) }

// readEntry proves an entry that is no version, and reads what it says.
func readEntry(bucket, key, entry []byte, into any) error {
	said, err := unseal(bucket, key, entry)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(said, into); err != nil {
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return nil
}
