package store

import (
	"bytes"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"fmt"
	"math/big"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

const (
	// CodeLife is how long a pairing code is open.
	CodeLife = 10 * time.Minute
	// codeLetters leaves out what is misread or misheard: 0 O, 1 I L, and U beside V.
	// Eight of 30 are 39 bits of chance.
	codeLetters = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
	codeLength  = 8
	openCodes   = 8 // at a time; a further one ends the oldest
)

// An openCode is a code that has not been used, as it is stored.
type openCode struct {
	Until   time.Time `json:"until"`
	IsOwner bool      `json:"owner"`
}

// NewCode opens a pairing code, good for one device until CodeLife is over.
// forOwner: the device may then let other devices in itself.
func (s *Store) NewCode(forOwner bool, now time.Time) (code string, until time.Time, err error) {
	code, until = randomCode(), now.Add(CodeLife).UTC()
	err = s.db.Update(func(tx *bolt.Tx) error {
		if err := dropCodes(tx, now); err != nil {
			return err
		}
		v, err := json.Marshal(openCode{until, forOwner})
		if err != nil {
			return err
		}
		key := digest(code)
		return put(tx, bucketCodes, key, sealed(bucketCodes, key, sealedEntry, v))
	})
	if err != nil {
		return "", time.Time{}, fmt.Errorf("open a pairing code: %w", err)
	}
	return code, until, nil
}

// Pair spends a code on a new device and returns its token, of which only a
// hash is stored. It returns ErrCode when no such code is open.
func (s *Store) Pair(code, name string, now time.Time) (token string, d Device, err error) {
	token = newToken()
	d = Device{ID: newToken()[:20], Name: name, PairedAt: now.UTC(), SeenAt: now.UTC()}
	err = s.db.Update(func(tx *bolt.Tx) error {
		key, open, err := findCode(tx, digest(ReadCode(code)), now)
		if err != nil {
			return err
		}
		if tx.Bucket(bucketDevices).Stats().KeyN >= MaxDevices {
			return ErrTooManyDevices
		}
		if err := drop(tx, bucketCodes, key); err != nil {
			return err
		}
		d.IsOwner = open.IsOwner
		return saveDevice(tx, digest(token), d)
	})
	if err != nil {
		return "", Device{}, fmt.Errorf("pair a device: %w", err)
	}
	return token, d, nil
}

// ReadCode takes what a person typed for a code: spaces, dashes and small
// letters make no difference.
func ReadCode(typed string) string {
	return strings.ToUpper(strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' {
			return -1
		}
		return r
	}, typed))
}

// ShowCode writes a code in two halves, as it is read out.
func ShowCode(code string) string { return code[:codeLength/2] + "-" + code[codeLength/2:] }

func randomCode() string {
	var b strings.Builder
	for range codeLength {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(codeLetters))))
		if err != nil {
			panic(err) // crypto/rand does not fail
		}
		b.WriteByte(codeLetters[n.Int64()])
	}
	return b.String()
}

// findCode compares with every open code in constant time.
func findCode(tx *bolt.Tx, wanted []byte, now time.Time) (key []byte, found openCode, err error) {
	err = tx.Bucket(bucketCodes).ForEach(func(k, v []byte) error {
		var open openCode
		if readEntry(bucketCodes, k, v, &open) != nil {
			return nil // what is broken opens nothing, and ends in ten minutes anyway
		}
		if subtle.ConstantTimeCompare(k, wanted) == 1 && now.Before(open.Until) &&
			now.After(open.Until.Add(-CodeLife-time.Minute)) {
			key, found = bytes.Clone(k), open
		}
		return nil
	})
	if err == nil && key == nil {
		err = ErrCode
	}
	return key, found, err
}

// dropCodes forgets codes that are too old, and the oldest when there are too
// many.
func dropCodes(tx *bolt.Tx, now time.Time) error {
	var gone [][]byte
	var oldest []byte
	var oldestUntil time.Time
	left := 0
	err := tx.Bucket(bucketCodes).ForEach(func(k, v []byte) error {
		var open openCode
		if err := readEntry(bucketCodes, k, v, &open); err != nil || !now.Before(open.Until) {
			gone = append(gone, bytes.Clone(k))
			return nil
		}
		if left++; oldest == nil || open.Until.Before(oldestUntil) {
			oldest, oldestUntil = bytes.Clone(k), open.Until
		}
		return nil
	})
	if err != nil {
		return err
	}
	if left >= openCodes {
		gone = append(gone, oldest)
	}
	for _, k := range gone {
		if err := drop(tx, bucketCodes, k); err != nil {
			return err
		}
	}
	return nil
}
