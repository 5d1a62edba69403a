package store

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Devices and pairing.
var (
	// ErrCode: no open code is like that; it may be wrong, used or too old.
	ErrCode = errors.New("this code is not open: it is wrong, used, or too old")
	// ErrUnknownDevice: no device has that token or id.
	ErrUnknownDevice = errors.New("no such device")
	// ErrTooManyDevices: MaxDevices are paired.
	ErrTooManyDevices = errors.New("too many devices are paired; revoke one first")
)

// MaxDevices is how many devices a garage is paired with at most. Chosen: a
// household and its friends have some dozens of phones in ten years.
const MaxDevices = 200

// seenStep is how far apart the times a device was seen are noted. Each note
// is a write that must reach the disk.
const seenStep = 10 * time.Minute

var (
	bucketDevices = []byte("devices")
	bucketCodes   = []byte("codes")
)

// A Device is a phone or another browser that the garage is open to.
type Device struct {
	ID       string    `json:"id"`    // 20 of a-z and 2-7
	Name     string    `json:"name"`  // as its person named it
	IsOwner  bool      `json:"owner"` // may let other devices in, and shut them out
	PairedAt time.Time `json:"pairedAt"`
	SeenAt   time.Time `json:"seenAt"` // to ten minutes; zero: never
}

// Devices lists the paired devices, the earliest first.
func (s *Store) Devices() (devices []Device, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		return eachDevice(tx, func(_ []byte, d Device) error {
			devices = append(devices, d)
			return nil
		})
	})
	if err != nil {
		return nil, fmt.Errorf("list devices: %w", err)
	}
	slices.SortStableFunc(devices, func(a, b Device) int { return a.PairedAt.Compare(b.PairedAt) })
	return devices, nil
}

// DeviceOf returns the device that holds a token, and notes that it was seen
// now. isNoted says that this was written, which happens every ten minutes at
// most. It returns ErrUnknownDevice for a token nobody holds.
func (s *Store) DeviceOf(token string, now time.Time) (d Device, isNoted bool, err error) {
	key := digest(token)
	err = s.db.View(func(tx *bolt.Tx) (err error) {
		d, err = loadDevice(tx, key)
		return err
	})
	if err == nil && now.Sub(d.SeenAt).Abs() >= seenStep {
		isNoted = true
		err = s.db.Update(func(tx *bolt.Tx) (err error) {
			if d, err = loadDevice(tx, key); err != nil { // revoked in between
				return err
			}
			d.SeenAt = now.UTC()
			return saveDevice(tx, key, d)
		})
	}
	if err != nil {
		return Device{}, false, fmt.Errorf("look up device: %w", err)
	}
	return d, isNoted, nil
}

// Revoke shuts a device out: its token is worth nothing from now on. It
// returns ErrUnknownDevice when no device has that id.
func (s *Store) Revoke(id string) (revoked Device, err error) {
	err = s.db.Update(func(tx *bolt.Tx) error {
		var key []byte
		err := eachDevice(tx, func(k []byte, d Device) error {
			if d.ID == id {
				key, revoked = k, d
			}
			return nil
		})
		if err != nil {
			return err
		}
		if key == nil {
			return ErrUnknownDevice
		}
		return drop(tx, bucketDevices, key)
	})
	if err != nil {
		return Device{}, fmt.Errorf("revoke device %.40q: %w", id, err)
	}
	return revoked, nil
}

// eachDevice visits those whose record is as it was written.
func eachDevice(tx *bolt.Tx, visit func(key []byte, d Device) error) error {
	return tx.Bucket(bucketDevices).ForEach(func(k, v []byte) error {
		var d Device
		if readEntry(bucketDevices, k, v, &d) != nil {
			return nil // BrokenDevices tells of it
		}
		return visit(slices.Clone(k), d)
	})
}

func loadDevice(tx *bolt.Tx, key []byte) (d Device, err error) {
	v := tx.Bucket(bucketDevices).Get(key)
	if v == nil {
		return d, ErrUnknownDevice
	}
	if readEntry(bucketDevices, key, v, &d) != nil {
		return Device{}, ErrUnknownDevice // what is broken lets nobody in
	}
	return d, nil
}

func saveDevice(tx *bolt.Tx, key []byte, d Device) error {
	v, err := json.Marshal(d)
	if err != nil {
		return err
	}
	return put(tx, bucketDevices, key, sealed(bucketDevices, key, sealedEntry, v))
}

// digest is all that is stored of a token or a code. Tokens have 130 bits of
// chance and codes live ten minutes, so a plain hash is enough.
func digest(secret string) []byte {
	sum := sha256.Sum256([]byte(secret))
	return []byte(hex.EncodeToString(sum[:]))
}

func newToken() string { return strings.ToLower(rand.Text()) }

// pairInsteadOfKey is a step of the layout. Until then one key, printed at
// every start and stored as it was, opened the garage. Phones that hold it go
// on, as one device that can be seen and revoked; the key itself goes.
func pairInsteadOfKey(tx *bolt.Tx) error {
	for _, name := range [][]byte{bucketDevices, bucketCodes} {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	meta := tx.Bucket(bucketMeta)
	key := meta.Get(keyAccessKey)
	if key == nil {
		return nil
	}
	d := Device{ID: newToken()[:20], Name: "Phones that joined with the printed key"}
	if err := saveDevice(tx, digest(string(key)), d); err != nil {
		return err
	}
	return meta.Delete(keyAccessKey) // layout 2: there are no sums yet
}
