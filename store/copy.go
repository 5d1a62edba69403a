package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// WriteTo writes the whole file as it stands at this moment, while others go
// on writing. It is copied beside the garage file first, so that who reads
// slowly holds up nobody: as long as a copy reads, bbolt lets the file grow no
// further. size is told before the first byte, for who must announce it; an
// error before that has written nothing.
func (s *Store) WriteTo(w io.Writer, size func(bytes int64)) error {
	draft, err := writeDraft(s.db.Path(), s.snapshot)
	if err != nil {
		return fmt.Errorf("copy garage file: %w", writingError(err))
	}
	defer os.Remove(draft)
	f, err := os.Open(draft)
	if err != nil {
		return fmt.Errorf("copy garage file: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return fmt.Errorf("copy garage file: %w", err)
	}
	size(info.Size())
	_, err = io.Copy(w, f)
	return err
}

// snapshot writes the file to what takes it at once.
func (s *Store) snapshot(w io.Writer) error {
	return s.db.View(func(tx *bolt.Tx) error {
		_, err := tx.WriteTo(w)
		return err
	})
}

// CopyTo makes a copy of the garage at path, for its owner's eyes only. The
// copy is written beside path, brought to the disk, opened and checked, and
// only then given its name. It never writes over a file: fs.ErrExist.
func (s *Store) CopyTo(path string) (Report, error) {
	return SaveCopy(path, s.snapshot)
}

// CopyFile is CopyTo for a garage file no server holds.
func CopyFile(from, to string) (Report, error) {
	s, err := open(from, true)
	if err != nil {
		return Report{}, fmt.Errorf("read %q: %w", from, err)
	}
	defer s.Close()
	return s.CopyTo(to)
}

// SaveCopy is CopyTo for bytes that come from elsewhere.
func SaveCopy(path string, write func(w io.Writer) error) (report Report, err error) {
	if _, err := os.Lstat(path); err == nil {
		return Report{}, fmt.Errorf("save copy %q: %w", path, os.ErrExist)
	}
	draft, err := writeDraft(path, write)
	if err == nil {
		defer os.Remove(draft)
		report, err = Inspect(draft)
	}
	if err == nil {
		err = linkNew(draft, path)
	}
	if err == nil {
		err = syncFolder(path)
	}
	if err != nil {
		return Report{}, fmt.Errorf("save copy %q: %w", path, writingError(err))
	}
	report.Path = path
	return report, nil
}

// emptyDraft makes a file beside path, to be filled and brought to the disk by
// whoever asks.
func emptyDraft(path string) (name string, err error) {
	f, err := newDraft(path)
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

func newDraft(path string) (*os.File, error) {
	return os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part") // mode 0600
}

// writeDraft writes a file beside path and brings it to the disk.
func writeDraft(path string, write func(w io.Writer) error) (name string, err error) {
	f, err := newDraft(path)
	if err != nil {
		return "", err
	}
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

// linkNew gives a file a further name that is not taken. On file systems
// without links it is renamed after a look.
func linkNew(from, to string) error {
	err := os.Link(from, to)
	if err == nil || errors.Is(err, os.ErrExist) {
		return err
	}
	if _, err := os.Lstat(to); err == nil {
		return os.ErrExist
	}
	return os.Rename(from, to)
}

// syncFolder brings a new name to the disk.
func syncFolder(path string) error {
	d, err := os.Open(filepath.Dir(path))
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
