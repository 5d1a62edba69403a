package store

import (
	"errors"
	"fmt"
	"os"
	"time"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// lockWait is how long Open waits for another process to let go of the file.
// Without it bbolt waits for ever.
const lockWait = time.Second

// A Store is an open garage file. Its methods may be called from any goroutine.
type Store struct {
	db *bolt.DB
}

// Open opens the garage file at path, making it (readable by its owner only)
// when it is not there, and brings an older layout up to date. It returns
// ErrLocked within about a second when another process holds the file,
// ErrNewerSchema when a later Pointsmith wrote it, and ErrNotGarage when it is
// something else; it never changes or removes such a file.
func Open(path string) (*Store, error) {
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: lockWait})
	if err != nil {
		return nil, fmt.Errorf("open garage file %q: %w", path, openingError(err))
	}
	s := &Store{db: db}
	if err := s.migrate(migrations); err != nil {
		return nil, errors.Join(fmt.Errorf("open garage file %q: %w", path, err), db.Close())
	}
	return s, nil
}

// Close lets go of the file. Calls still running are waited for.
func (s *Store) Close() error { return s.db.Close() }

// Path returns the name of the file.
func (s *Store) Path() string { return s.db.Path() }

// Check reads the whole file and reports the first inconsistency it finds.
func (s *Store) Check() error {
	return s.db.View(func(tx *bolt.Tx) error {
		var first error
		for err := range tx.Check() { // drained to the end: the check runs in its own goroutine
			if first == nil {
				first = fmt.Errorf("check garage file %q: %w", s.Path(), err)
			}
		}
		if first == nil {
			first = checkFeed(tx)
		}
		return first
	})
}

func openingError(err error) error {
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return ErrLocked
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrVersionMismatch), errors.Is(err, bolterrors.ErrChecksum):
		return fmt.Errorf("%w (%v)", ErrNotGarage, err)
	case errors.Is(err, os.ErrPermission):
		return fmt.Errorf("%w; give -data a file you may write", err)
	default:
		return err
	}
}
