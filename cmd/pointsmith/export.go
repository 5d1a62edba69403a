package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"pointsmith/cmd/internal/admin"
	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

func runExport(t terminal, _ io.Reader, args []string) int {
	return withFile(t, "export", "FILE", args, func(garage, file string) error {
		if err := export(garage, file); err != nil {
			return err
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		read, err := web.ReadGarageFile(text)
		if err != nil {
			return fmt.Errorf("%s was written and cannot be read back: %w; do: use pointsmith backup, which needs no reading", file, err)
		}
		removed := 0
		for _, d := range read.Documents {
			if d.Deleted {
				removed++
			}
		}
		t.say("exported to %s: %s, %d removed, %s; read back", file, plural(len(read.Documents)-removed, "document"),
			removed, plural(len(read.Copies), "kept cop"))
		if read.LeftOut > 0 {
			t.say("not in it: %s; pointsmith backup holds them", plural(read.LeftOut, "photo"))
		}
		return nil
	})
}

// export writes the whole garage as JSON, for phones and for import.
func export(garage, file string) (err error) {
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	client, err := admin.Dial(ctx, garage)
	if err == nil {
		return writeNew(file, func(w io.Writer) error { return fetch(ctx, client, "/api/v1/export", w) })
	}
	if !errors.Is(err, admin.ErrNoServer) {
		return err
	}
	if isAbsent(garage) {
		return fmt.Errorf("there is no garage file %s; do: say where it is with -data", garage)
	}
	s, err := store.Open(garage)
	if err != nil {
		return afterMending(err)
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return writeNew(file, func(w io.Writer) error {
		_, err := web.WriteGarageFile(w, s, time.Now())
		return err
	})
}

// writeNew writes a file that is not there yet, whole or not at all.
func writeNew(file string, write func(w io.Writer) error) error {
	if _, err := os.Lstat(file); err == nil {
		return fmt.Errorf("%s is there already and is not written over; do: give another name", file)
	}
	f, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+".*.part") // mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	if err = write(f); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}
