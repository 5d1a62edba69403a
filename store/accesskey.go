package store

import (
	"crypto/rand"
	"fmt"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// AccessKey returns the key a phone shows to use this garage from elsewhere:
// 26 of a-z and 2-7, 130 bits of chance, made once for a file.
func (s *Store) AccessKey() (key string, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		meta := tx.Bucket(bucketMeta)
		if v := meta.Get(keyAccessKey); v != nil {
			key = string(v)
			return nil
		}
		key = strings.ToLower(rand.Text())
		return meta.Put(keyAccessKey, []byte(key))
	})
	if err != nil {
		return "", fmt.Errorf("read access key: %w", err)
	}
	return key, nil
}
