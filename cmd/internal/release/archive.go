package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	licencesName = "LICENCES.txt"
	billName     = "pointsmith.cdx.json"
	readmeName   = "README.md"
	sumsName     = "SHA256SUMS"
)

// A packed is one file of an archive.
type packed struct {
	name      string
	content   []byte
	isProgram bool
}

func (p packed) mode() os.FileMode {
	if p.isProgram {
		return 0o755
	}
	return 0o644
}

// A written is an archive in the folder.
type written struct {
	name    string
	content []byte
	sum     [sha256.Size]byte
}

// archives builds and packs for every target, and then writes all of them and their
// sums, so that a run that fails leaves what was there.
func (r release) archives(ctx context.Context, folder string, wanted []target) (all []written, err error) {
	built, err := os.MkdirTemp("", "built")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(built)) }()
	for _, t := range wanted {
		files, err := r.files(ctx, t, built)
		if err != nil {
			return nil, err
		}
		content, err := r.pack(t, files)
		if err != nil {
			return nil, fmt.Errorf("pack for %s: %w", t.name, err)
		}
		all = append(all, written{t.archive(r.version), content, sha256.Sum256(content)})
	}
	var sums strings.Builder
	for _, w := range all {
		if err := write(filepath.Join(folder, w.name), w.content); err != nil {
			return nil, err
		}
		fmt.Fprintf(&sums, "%x  %s\n", w.sum, w.name)
	}
	return all, write(filepath.Join(folder, sumsName), []byte(sums.String()))
}

// files makes what the archive for a target holds, by name.
func (r release) files(ctx context.Context, t target, folder string) ([]packed, error) {
	program, linked, err := r.build(ctx, t, folder)
	if err != nil {
		return nil, err
	}
	readme, err := os.ReadFile(filepath.Join(r.source, readmeName))
	if err != nil {
		return nil, err
	}
	all := together(r.shipped, linked)
	bill, err := r.bill(t, program, all)
	if err != nil {
		return nil, err
	}
	title := "Pointsmith " + r.version + " for " + t.name
	files := []packed{{t.program(), program, true}, {readmeName, readme, false}, {billName, bill, false},
		{licencesName, licenceText(title, all), false}}
	slices.SortFunc(files, func(a, b packed) int { return strings.Compare(a.name, b.name) })
	return files, nil
}

// pack makes the archive: one folder, names in order, the commit's date, nobody's name.
func (r release) pack(t target, files []packed) ([]byte, error) {
	var out bytes.Buffer
	put, end := toTar(&out, r.when)
	if t.system == "windows" {
		put, end = toZip(&out, r.when)
	}
	for _, f := range files {
		f.name = t.folder(r.version) + "/" + f.name
		if err := put(f); err != nil {
			return nil, err
		}
	}
	if err := end(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func toTar(out io.Writer, when time.Time) (put func(packed) error, end func() error) {
	z, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil { // only for a level that does not exist
		panic(err)
	}
	to := tar.NewWriter(z)
	put = func(f packed) error {
		head := &tar.Header{Typeflag: tar.TypeReg, Name: f.name, Size: int64(len(f.content)),
			Mode: int64(f.mode()), ModTime: when, Format: tar.FormatUSTAR}
		if err := to.WriteHeader(head); err != nil {
			return err
		}
		_, err := to.Write(f.content)
		return err
	}
	return put, func() error { return errors.Join(to.Close(), z.Close()) }
}

func toZip(out io.Writer, when time.Time) (put func(packed) error, end func() error) {
	to := zip.NewWriter(out)
	to.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(w, flate.BestCompression)
	})
	put = func(f packed) error {
		head := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: when}
		head.SetMode(f.mode())
		w, err := to.CreateHeader(head)
		if err != nil {
			return err
		}
		_, err = w.Write(f.content)
		return err
	}
	return put, to.Close
}

// table lists the archives for a person.
func table(files []written) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-40s %9s  %s\n", "file", "size", "SHA-256")
	for _, f := range files {
		fmt.Fprintf(&b, "%-40s %6.1f MB  %x\n", f.name, float64(len(f.content))/1e6, f.sum)
	}
	return b.String()
}
