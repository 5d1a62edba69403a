package localca

import (
	"crypto/ecdsa"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

var (
	// ErrNone: there is no authority beside this garage file.
	ErrNone = errors.New("this garage has no authority of its own; do: run pointsmith trust")
	// ErrExists: there is one, and it is not made again.
	ErrExists = errors.New("this garage has an authority already")
	// ErrDamaged: the files are there but do not belong together or cannot be read.
	ErrDamaged = errors.New("the garage's authority is damaged; do: bring its two files back from a copy, or set them aside and make another with pointsmith trust -new (every phone must then install that one)")
)

// Files are where an authority is kept.
type Files struct {
	Certificate string // PEM, for everyone
	Key         string // PEM, PKCS #8, for the owner only
}

// FilesFor names the files beside a garage file: garage-authority.crt and
// garage-authority.key beside garage.db.
func FilesFor(garage string) Files {
	base := strings.TrimSuffix(garage, filepath.Ext(garage)) + "-authority"
	return Files{base + ".crt", base + ".key"}
}

// Make makes an authority and writes its files. machine is this machine's
// name; names are further ones (or addresses) it may vouch for. It returns
// ErrExists when either file is there.
func Make(files Files, machine string, names []string, now time.Time) (*Authority, error) {
	for _, name := range []string{files.Certificate, files.Key} {
		if _, err := os.Lstat(name); !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%w: %s", ErrExists, name)
		}
	}
	a, err := newAuthority(machine, names, now)
	if err != nil {
		return nil, fmt.Errorf("make an authority: %w", err)
	}
	key, err := x509.MarshalPKCS8PrivateKey(a.key)
	if err != nil {
		return nil, fmt.Errorf("make an authority: %w", err)
	}
	if err := writeNew(files.Key, 0o600, "PRIVATE KEY", key); err != nil {
		return nil, err
	}
	if err := writeNew(files.Certificate, 0o644, "CERTIFICATE", a.Certificate.Raw); err != nil {
		return nil, errors.Join(err, os.Remove(files.Key)) // half of one would be taken for a damaged one
	}
	return a, nil
}

// Replace sets an authority's files aside, under names with the time in them,
// and makes a new one.
func Replace(files Files, machine string, names []string, now time.Time) (a *Authority, setAside []string, err error) {
	for _, name := range []string{files.Certificate, files.Key} {
		aside := name + now.UTC().Format(".before-20060102-150405")
		switch err := os.Rename(name, aside); {
		case err == nil:
			setAside = append(setAside, aside)
		case !errors.Is(err, fs.ErrNotExist):
			return nil, setAside, fmt.Errorf("set the old authority aside: %w", err)
		}
	}
	a, err = Make(files, machine, names, now)
	return a, setAside, err
}

// Load reads an authority. It returns ErrNone when there is none and
// ErrDamaged when what is there is no authority of ours.
func Load(files Files) (*Authority, error) {
	certificate, err := readPEM(files.Certificate, "CERTIFICATE")
	key, keyErr := readPEM(files.Key, "PRIVATE KEY")
	if errors.Is(err, fs.ErrNotExist) && errors.Is(keyErr, fs.ErrNotExist) {
		return nil, ErrNone
	}
	if err := errors.Join(err, keyErr); err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrDamaged, err)
	}
	a := new(Authority)
	if a.Certificate, err = x509.ParseCertificate(certificate); err != nil {
		return nil, fmt.Errorf("%w (%s: %v)", ErrDamaged, files.Certificate, err)
	}
	parsed, err := x509.ParsePKCS8PrivateKey(key)
	if err != nil {
		return nil, fmt.Errorf("%w (%s: %v)", ErrDamaged, files.Key, err)
	}
	var isOurs bool
	if a.key, isOurs = parsed.(*ecdsa.PrivateKey); !isOurs || !a.key.PublicKey.Equal(a.Certificate.PublicKey) ||
		!a.Certificate.IsCA {
		return nil, fmt.Errorf("%w (certificate and key do not belong together)", ErrDamaged)
	}
	return a, nil
}

// IsKeyOpen reports whether others than its owner may read the key file.
func IsKeyOpen(files Files) bool {
	info, err := os.Stat(files.Key)
	return err == nil && info.Mode().Perm()&0o077 != 0
}

// PEM is the certificate as text.
func (a *Authority) PEM() []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.Certificate.Raw})
}

func readPEM(name, kind string) ([]byte, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	block, _ := pem.Decode(text)
	if block == nil || block.Type != kind {
		return nil, fmt.Errorf("%s holds no %s", name, strings.ToLower(kind))
	}
	return block.Bytes, nil
}

// writeNew writes a file that must not be there yet, and leaves none behind
// when it fails.
func writeNew(name string, mode fs.FileMode, kind string, content []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	err = errors.Join(f.Chmod(mode), pem.Encode(f, &pem.Block{Type: kind, Bytes: content}), f.Sync(), f.Close())
	if err != nil {
		return errors.Join(fmt.Errorf("write %s: %w", name, err), os.Remove(name))
	}
	return nil
}
