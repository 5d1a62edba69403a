package store

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"syscall"
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
// ErrNewerSchema when a later Pointsmith wrote it, ErrNotGarage when it is
// something else, and ErrDamaged when it is cut short or cannot be read; it
// never changes or removes such a file. What only reading everything can find
// is found by [Store.Check].
func Open(path string) (*Store, error) {
	s, err := open(path, false)
	if err != nil {
		return nil, fmt.Errorf("open garage file %q: %w", path, err)
	}
	if err := guarded(func() error { return s.migrate(migrations) }); err != nil {
		return nil, errors.Join(fmt.Errorf("open garage file %q: %w", path, writingError(err)), s.db.Close())
	}
	return s, nil
}

// open opens without migrating. Read-only, it lets others read beside it.
func open(path string, readOnly bool) (*Store, error) {
	headErr := checkHead(path)
	if errors.Is(headErr, ErrNotGarage) {
		return nil, headErr
	}
	var db *bolt.DB
	err := guarded(func() (err error) {
		db, err = bolt.Open(path, 0o600, &bolt.Options{Timeout: lockWait, ReadOnly: readOnly || headErr != nil})
		return err
	})
	switch {
	case err == nil && headErr != nil:
		return nil, errors.Join(headErr, db.Close())
	case headErr != nil && !errors.Is(err, bolterrors.ErrTimeout):
		return nil, headErr
	case err != nil:
		return nil, openingError(err)
	}
	return &Store{db: db}, nil
}

// Close lets go of the file. Calls still running are waited for.
func (s *Store) Close() error { return s.db.Close() }

// Path returns the name of the file.
func (s *Store) Path() string { return s.db.Path() }

func openingError(err error) error {
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return ErrLocked
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrVersionMismatch),
		errors.Is(err, bolterrors.ErrChecksum):
		return fmt.Errorf("%w (%v)", ErrDamaged, err)
	case errors.Is(err, os.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%w; give -data a file you may write, in a folder you may write", err)
	default:
		return writingError(err)
	}
}

// writingError says in our words that there is no room. bbolt tells some of
// these in words alone.
func writingError(err error) error {
	if err == nil || errors.Is(err, ErrNoSpace) {
		return err
	}
	for _, full := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, full) || strings.Contains(err.Error(), full.Error()) {
			return fmt.Errorf("%w (%v)", ErrNoSpace, err)
		}
	}
	return err
}
