package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// access is who a garage file is open to: what is said of the paired devices
// and of the open codes. A record that is broken is not on the list.
type access struct {
	devices, codes map[string][]byte
}

// accessOf reads the list of a garage file. It gives nil for a file of the
// first layout, which had one key for all and nobody to revoke. Of a damaged
// file it gives one only where all who were on it can be counted, so that
// nobody who was revoked comes back.
func accessOf(garage string, isDamaged bool) (*access, error) {
	s, err := open(garage, true)
	if err != nil {
		return nil, fmt.Errorf("read the paired devices of %q: %w", garage, err)
	}
	defer s.Close()
	var list *access
	err = guarded(func() error {
		return s.db.View(func(tx *bolt.Tx) error {
			if tx.Bucket(bucketDevices) == nil || tx.Bucket(bucketCodes) == nil {
				return nil
			}
			if isDamaged && !countsAll(tx, bucketDevices) {
				return nil
			}
			list = &access{allOf(tx, bucketDevices), allOf(tx, bucketCodes)}
			return nil
		})
	})
	return list, err
}

// countsAll reports whether a bucket has as many entries as were put in, and
// either those very ones or a broken one among them.
func countsAll(tx *bolt.Tx, name []byte) bool {
	sums, err := checkMeta(tx.Bucket(bucketMeta))
	if err != nil || sums == nil {
		return false
	}
	want := tallyAt(sums, slices.IndexFunc(tallied, func(n []byte) bool { return bytes.Equal(n, name) }))
	have, isBroken := tally{sequence: want.sequence}, false
	err = tx.Bucket(name).ForEach(func(k, v []byte) error {
		have.more(name, k, v)
		isBroken = isBroken || proveEntry(name, k, v) != nil
		return nil
	})
	return err == nil && (have == want || isBroken && have.entries == want.entries)
}

func allOf(tx *bolt.Tx, name []byte) map[string][]byte {
	all := map[string][]byte{}
	_ = tx.Bucket(name).ForEach(func(k, v []byte) error { // visit fails for nothing, so this does not
		if said, err := unseal(name, k, v); err == nil && json.Valid(said) {
			all[string(k)] = bytes.Clone(said)
		}
		return nil
	})
	return all
}

// putAccess makes a list that of a file. Without one the file's own devices
// stand, and its codes go: they were for people who stood by when it was made.
func putAccess(tx *bolt.Tx, list *access) error {
	if err := refill(tx, bucketCodes, list.openCodes()); err != nil {
		return err
	}
	if list == nil {
		return nil
	}
	return refill(tx, bucketDevices, list.devices)
}

func (a *access) openCodes() map[string][]byte {
	if a == nil {
		return nil
	}
	return a.codes
}

func refill(tx *bolt.Tx, name []byte, with map[string][]byte) error {
	err := forgetWhere(tx, name, func([]byte, []byte) bool { return true })
	for k, said := range with {
		if err == nil {
			err = put(tx, name, []byte(k), sealed(name, []byte(k), sealedEntry, said))
		}
	}
	return err
}
