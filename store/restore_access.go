package store

import (
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// access is who a garage file is open to: the paired devices and the open
// codes, as stored.
type access struct {
	devices, codes map[string][]byte
}

// accessOf reads the list of a sound garage file. It gives nil for a file of
// the first layout, which had one key for all and nobody to revoke.
func accessOf(garage string) (*access, error) {
	s, err := open(garage, true)
	if err != nil {
		return nil, fmt.Errorf("read the paired devices of %q: %w", garage, err)
	}
	defer s.Close()
	var list *access
	err = s.db.View(func(tx *bolt.Tx) error {
		if tx.Bucket(bucketDevices) == nil || tx.Bucket(bucketCodes) == nil {
			return nil
		}
		list = &access{allOf(tx.Bucket(bucketDevices)), allOf(tx.Bucket(bucketCodes))}
		return nil
	})
	return list, err
}

func allOf(b *bolt.Bucket) map[string][]byte {
	all := map[string][]byte{}
	_ = b.ForEach(func(k, v []byte) error { // visit fails for nothing, so this does not
		all[string(k)] = append([]byte{}, v...)
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
	if err := tx.DeleteBucket(name); err != nil {
		return err
	}
	b, err := tx.CreateBucket(name)
	if err != nil {
		return err
	}
	for k, v := range with {
		if err := b.Put([]byte(k), v); err != nil {
			return err
		}
	}
	return nil
}
