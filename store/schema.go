package store

import (
	"encoding/binary"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// Names of buckets and keys. They are part of the stored format: changing one
// breaks every garage file there is.
var (
	bucketMeta      = []byte("meta")
	bucketDocuments = []byte("documents")
	bucketFeed      = []byte("feed")
	bucketKept      = []byte("kept")
	bucketAnswers   = []byte("answers")

	bucketPast   = []byte("past")
	bucketChosen = []byte("chosen")

	keyVersion   = []byte("version")
	keyAccessKey = []byte("access-key")
	keyGarage    = []byte("garage")
	keyPurged    = []byte("purged")
)

// A migration brings the layout one version further.
type migration func(tx *bolt.Tx) error

// migrations is append-only: the version of a file is the number of steps it
// has been through. A step that has been released is never changed.
var migrations = []migration{
	makeBuckets,
	pairInsteadOfKey,
	provable,
	withPhotos,
	sealAll,
}

func makeBuckets(tx *bolt.Tx) error {
	for _, name := range [][]byte{bucketDocuments, bucketFeed, bucketKept, bucketAnswers} {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	return nil
}

// migrate runs the steps the file has not been through, each in its own
// transaction together with the new version.
func (s *Store) migrate(steps []migration) error {
	version, err := s.version()
	if err != nil {
		return err
	}
	if version > uint64(len(steps)) {
		return fmt.Errorf("layout %d, this program knows %d: %w", version, len(steps), ErrNewerSchema)
	}
	for n := version; n < uint64(len(steps)); n++ {
		if err := s.db.Update(func(tx *bolt.Tx) error { return step(tx, steps[n], n+1) }); err != nil {
			return fmt.Errorf("bring layout to %d: %w", n+1, err)
		}
	}
	return nil
}

func step(tx *bolt.Tx, run migration, version uint64) error {
	if _, err := tx.CreateBucketIfNotExists(bucketMeta); err != nil {
		return err
	}
	if err := run(tx); err != nil {
		return err
	}
	return putMeta(tx, keyVersion, binary.BigEndian.AppendUint64(nil, version))
}
