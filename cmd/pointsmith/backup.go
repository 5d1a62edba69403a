package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"pointsmith/cmd/internal/admin"
	"pointsmith/store"
)

// askTime is how long a running server may take to hand the garage over.
const askTime = 30 * time.Minute

func runBackup(t terminal, _ io.Reader, args []string) int {
	return withFile(t, "backup", "FILE", args, func(garage, file string) error {
		if err := folderMissing(file); err != nil {
			return err
		}
		report, err := backup(garage, file)
		if errors.Is(err, os.ErrExist) {
			return fmt.Errorf("%s is there already and is not written over; do: give another name", file)
		}
		if err != nil {
			return afterMending(err)
		}
		t.say("backed up to %s: %s; opened and checked", file, counts(report))
		return nil
	})
}

// garageMissing says that there is nothing to copy. A server that runs has its
// file open, and can copy it, though somebody removed it.
func garageMissing(garage string) error {
	if _, err := os.Stat(garage); errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("there is no garage file %s; do: give -data the file that serve was started with; serve makes one where there is none", garage)
	}
	return nil
}

// folderMissing says that the folder of a file to be made is not there.
func folderMissing(file string) error {
	if _, err := os.Stat(filepath.Dir(file)); errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf(
			"there is no folder %s to put %s in; do: make it first, or give a file in a folder that is there",
			filepath.Dir(file), filepath.Base(file))
	}
	return nil
}

// withFile reads -data and the one word after it, and runs work on both.
func withFile(t terminal, verb, what string, args []string, work func(garage, file string) error) int {
	var data string
	flags := flag.NewFlagSet(verb, flag.ContinueOnError)
	flags.StringVar(&data, "data", "", "garage `file` (default as for serve)")
	file, wasHelp, err := parseFlagsAnd(t, flags, args, what)
	if err != nil {
		return t.fail(exitRefused, err)
	}
	if wasHelp {
		return exitDone
	}
	garage, err := garageFile(data)
	if err == nil {
		err = work(garage, file)
	}
	if err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// backup copies the garage: through the running server, or from the file.
func backup(garage, file string) (store.Report, error) {
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	client, err := admin.Dial(ctx, garage)
	if errors.Is(err, admin.ErrNoServer) {
		if err := garageMissing(garage); err != nil {
			return store.Report{}, err
		}
		return store.CopyFile(garage, file)
	}
	if err != nil {
		return store.Report{}, err
	}
	return store.SaveCopy(file, func(w io.Writer) error { return fetch(ctx, client, "/api/v1/backup", w) })
}

// fetch copies an answer of the running server to w.
func fetch(ctx context.Context, client *admin.Client, path string, w io.Writer) error {
	answer, err := client.Send(ctx, http.MethodGet, path, nil)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("the running server answers %s; do: look at what it logged, or stop it and try again",
			answer.Status)
	}
	if _, err := io.Copy(w, answer.Body); err != nil {
		return fmt.Errorf("the running server's answer broke off: %w; do: try again", err)
	}
	return nil
}
