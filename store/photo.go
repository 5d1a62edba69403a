package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"

	bolt "go.etcd.io/bbolt"
)

// MaxPhoto is the most bytes of one photo, 1 MiB. Chosen: phones send at most
// 400 kB.
const MaxPhoto = 1 << 20

var photoIDShape = regexp.MustCompile(`^[0-9a-f]{32}$`)

// ValidPhotoID reports whether an id can be that of a photo: 32 of 0-9 and a-f.
func ValidPhotoID(id string) bool { return photoIDShape.MatchString(id) }

// PhotoID is the id of a photo: the first half of its SHA-256 (FIPS 180-4), as
// 32 hexadecimal digits. So a photo cannot be changed, only another one put.
func PhotoID(photo []byte) string {
	sum := sha256.Sum256(photo)
	return hex.EncodeToString(sum[:16])
}

// PhotoType tells by its first bytes what a photo is: image/jpeg (ITU-T T.81,
// B.2.1), image/png (RFC 2083, 3.1), image/webp (RFC 9649, 2.4), or "" for
// anything else. Whether the rest is whole it does not tell.
func PhotoType(photo []byte) string {
	switch {
	case bytes.HasPrefix(photo, []byte("\xff\xd8\xff")):
		return "image/jpeg"
	case bytes.HasPrefix(photo, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case len(photo) >= 12 && string(photo[:4]) == "RIFF" && string(photo[8:12]) == "WEBP":
		return "image/webp"
	}
	return ""
}

// CheckPhoto refuses what is no photo (ErrPhoto), is too large (ErrPhotoSize)
// or is not what its id says (ErrPhotoSum).
func CheckPhoto(id string, photo []byte) error {
	switch {
	case len(photo) > MaxPhoto:
		return ErrPhotoSize
	case PhotoType(photo) == "":
		return ErrPhoto
	case PhotoID(photo) != id:
		return ErrPhotoSum
	}
	return nil
}

// PutPhoto keeps a photo under its id. One that is here already stays as it is.
// It refuses as CheckPhoto does, or with ErrNoSpace; nothing is stored then.
func (s *Store) PutPhoto(id string, photo []byte) error {
	err := CheckPhoto(id, photo)
	if err == nil {
		err = s.db.Update(func(tx *bolt.Tx) error {
			_, err := putPhoto(tx, photo)
			return err
		})
	}
	if err != nil {
		return fmt.Errorf("store photo %.40q: %w", id, writingError(err))
	}
	return nil
}

func putPhoto(tx *bolt.Tx, photo []byte) (isNew bool, err error) {
	photos, key := tx.Bucket(bucketPhotos), []byte(PhotoID(photo))
	if photos.Get(key) != nil {
		return false, nil
	}
	return true, put(tx, bucketPhotos, key, photo)
}

// Photo returns a photo, or ErrNoPhoto. ErrDamaged says that it is no longer
// what its id says.
func (s *Store) Photo(id string) (photo []byte, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		value := tx.Bucket(bucketPhotos).Get([]byte(id))
		if value == nil {
			return ErrNoPhoto
		}
		photo = bytes.Clone(value)
		return provePhoto([]byte(id), photo)
	})
	if err != nil {
		return nil, fmt.Errorf("get photo %.40q: %w", id, err)
	}
	return photo, nil
}

// PhotoIDs lists the ids of all photos, in the order of the ids; empty, not
// nil, when there are none.
func (s *Store) PhotoIDs() (ids []string, err error) {
	ids = []string{}
	err = s.db.View(func(tx *bolt.Tx) error {
		return tx.Bucket(bucketPhotos).ForEach(func(k, _ []byte) error {
			ids = append(ids, string(k))
			return nil
		})
	})
	if err != nil {
		return nil, fmt.Errorf("list photos: %w", err)
	}
	return ids, nil
}

// provePhoto holds a photo against its key, which is its sum.
func provePhoto(key, photo []byte) error {
	if PhotoID(photo) != string(key) {
		return fmt.Errorf("%w: the photo %.40q is not as it was written", ErrDamaged, key)
	}
	return nil
}

// countPhotos counts them and their bytes; a file of layout 3 has none.
func (r *Report) countPhotos(tx *bolt.Tx) error {
	photos := tx.Bucket(bucketPhotos)
	if photos == nil {
		return nil
	}
	return photos.ForEach(func(_, v []byte) error {
		r.Photos++
		r.PhotoBytes += int64(len(v))
		return nil
	})
}
