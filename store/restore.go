package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// Marks in the names of files that were set aside. They are never deleted.
const (
	damagedMark  = ".damaged-"
	replacedMark = ".replaced-"
	timeInName   = "20060102T150405Z"
)

// SetAside gives a damaged garage file another name, with the time in it, and
// returns that name. Nothing is deleted and nothing written over.
func SetAside(garage string, now time.Time) (string, error) { return aside(garage, damagedMark, now) }

func aside(path, mark string, now time.Time) (string, error) {
	stem := path + mark + now.UTC().Format(timeInName)
	for n := 1; n < 100; n++ {
		name := stem
		if n > 1 {
			name = fmt.Sprintf("%s-%d", stem, n)
		}
		if _, err := os.Lstat(name); err == nil {
			continue
		}
		if err := os.Rename(path, name); err != nil {
			return "", fmt.Errorf("set aside: %w", err)
		}
		return name, syncFolder(path)
	}
	return "", fmt.Errorf("set aside %q: too many files of that name", stem)
}

// SetAsideFiles lists what was set aside of a garage file.
func SetAsideFiles(garage string) ([]string, error) {
	entries, err := os.ReadDir(filepath.Dir(garage))
	if err != nil {
		return nil, err
	}
	var found []string
	for _, e := range entries {
		name := filepath.Join(filepath.Dir(garage), e.Name())
		if strings.HasPrefix(name, garage+damagedMark) || strings.HasPrefix(name, garage+replacedMark) {
			found = append(found, name)
		}
	}
	return found, nil
}

// A Restored tells what Restore did.
type Restored struct {
	From     Report // what was restored
	Before   string // where the file that was there is now; "" when there was none
	Previous Report // what was in it; empty when it could not be read
	Trouble  error  // why it could not be read, or nil

	KeepsDevices bool // the devices paired in the file that was there stay paired, and no others
	Devices      int  // how many may come in afterwards

	list *access // of the file that was there
}

// TryRestore says what Restore would do, and changes nothing. It returns
// ErrLocked when a server holds the garage file.
func TryRestore(from, garage string) (r Restored, err error) {
	if a, err := os.Stat(from); err == nil {
		if b, err := os.Stat(garage); err == nil && os.SameFile(a, b) {
			return r, fmt.Errorf("restore: %q is the garage file itself", from)
		}
	}
	if info, err := os.Stat(garage); err == nil && !info.Mode().IsRegular() {
		return r, fmt.Errorf("restore over %q: it is no file; nothing was changed; do: name the garage file", garage)
	}
	if err := isHeld(garage); err != nil {
		return r, fmt.Errorf("restore over %q: %w", garage, err)
	}
	if r.From, err = Inspect(from); err != nil {
		return r, err
	}
	if _, err := os.Lstat(garage); err == nil {
		r.Before = garage
		r.Previous, r.Trouble = Inspect(garage)
		if list, err := accessOf(garage, r.Trouble != nil); r.Trouble == nil {
			r.list, r.Trouble = list, err
		} else if err == nil {
			r.list = list
		}
	}
	if r.KeepsDevices = r.list != nil; r.KeepsDevices {
		r.Devices = len(r.list.devices)
		return r, nil
	}
	own, err := accessOf(from, false)
	if own != nil {
		r.Devices = len(own.devices)
	}
	return r, err
}

// Restore puts a copy of the garage file from in the place of garage, after
// reading and checking all of it. The file that was there is set aside. The
// restored file gets a name of its own, so that phones which know the other
// compare all they hold with it and send what it lacks. Who is paired does not
// go back in time: the list of the file that was there stays, when that can be
// read, so that who was shut out stays out.
func Restore(from, garage string, now time.Time) (Restored, error) {
	r, err := TryRestore(from, garage)
	if err != nil {
		return r, err
	}
	draft, err := writeDraft(garage, func(w io.Writer) error {
		f, err := os.Open(from)
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = io.Copy(w, f)
		return err
	})
	if err != nil {
		return r, fmt.Errorf("restore: %w", writingError(err))
	}
	defer os.Remove(draft)
	if err := renew(draft, r.list); err != nil {
		return r, fmt.Errorf("restore: %w", err)
	}
	if r.Before != "" {
		if r.Before, err = aside(garage, replacedMark, now); err != nil {
			return r, err
		}
	}
	if err := os.Rename(draft, garage); err != nil {
		return r, fmt.Errorf("restore: %w; the file that was there is %q now", err, r.Before)
	}
	return r, syncFolder(garage)
}

// renew brings a copy up to date, gives it a name of its own, and opens it to
// those on the list.
func renew(path string, list *access) error {
	s, err := Open(path)
	if err != nil {
		return err
	}
	err = s.db.Update(func(tx *bolt.Tx) error { return errors.Join(nameGarage(tx), putAccess(tx, list)) })
	if err == nil {
		err = s.Check()
	}
	return errors.Join(err, s.Close())
}

// isHeld finds out whether a process holds a file, whatever is in it.
func isHeld(path string) error {
	if _, err := os.Stat(path); err != nil {
		return nil
	}
	var db *bolt.DB
	err := guarded(func() (err error) {
		db, err = bolt.Open(path, 0o600, &bolt.Options{Timeout: lockWait, ReadOnly: true})
		return err
	})
	if err == nil {
		return db.Close()
	}
	if errors.Is(err, bolterrors.ErrTimeout) {
		return ErrLocked
	}
	return nil
}
