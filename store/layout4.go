package store

import bolt "go.etcd.io/bbolt"

var bucketPhotos = []byte("photos")

// withPhotos is a step of the layout: since then the file holds pictures too.
func withPhotos(tx *bolt.Tx) error {
	_, err := tx.CreateBucketIfNotExists(bucketPhotos)
	return err
}
