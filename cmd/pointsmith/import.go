package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"pointsmith/cmd/internal/admin"
	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

func runImport(t terminal, _ io.Reader, args []string) int {
	return withFile(t, "import", "FILE", args, func(garage, file string) error {
		sum, err := importFile(garage, file)
		if err != nil {
			return err
		}
		t.say("imported %s: %d new, %d known here already, %d united with what is here", file, sum.New,
			sum.Known, sum.United)
		if sum.Kept > 0 {
			t.say("waiting for a choice in the app: %s", plural(sum.Kept, "kept cop"))
		}
		if sum.Left > 0 {
			t.say("removed in the file, left here: %s", plural(sum.Left, "document"))
		}
		if sum.Undated > 0 {
			t.say("with a time that cannot be true, from a server whose clock was not set: %d; they count as the oldest",
				sum.Undated)
		}
		if sum.Photos > 0 {
			t.say("photos that were not here: %d", sum.Photos)
		}
		if sum.Removed > 0 {
			t.say("removed in the file, and not here: %s; a phone that still has one is told",
				plural(sum.Removed, "document"))
		}
		return nil
	})
}

// importFile takes in an exported garage, all of it or nothing.
func importFile(garage, file string) (sum store.Imported, err error) {
	text, err := readBounded(file, web.MaxGarageFile)
	if err != nil {
		return sum, err
	}
	read, err := web.ReadGarageFile(text)
	if err != nil {
		return sum, fmt.Errorf("%s is refused, and nothing was taken in: %w", file, err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	client, err := admin.Dial(ctx, garage)
	if err == nil {
		return sum, client.Ask(ctx, "POST", "/api/v1/import", json.RawMessage(text), &sum)
	}
	if !errors.Is(err, admin.ErrNoServer) {
		return sum, err
	}
	s, err := store.Open(garage)
	if err != nil {
		return sum, afterMending(err)
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return s.Import(read.Documents, read.Copies, time.Now(), read.Photos...)
}

func readBounded(file string, most int64) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, fmt.Errorf("%w; do: give the name of an exported file", err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(text)) > most {
		err = fmt.Errorf("%s has more than %d bytes, the limit; do: give a file that Pointsmith exported", file, most)
	}
	return text, err
}
