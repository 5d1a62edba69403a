package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"pointsmith/cmd/internal/admin"
	"pointsmith/store"
)

func runCheck(t terminal, _ io.Reader, args []string) int {
	var data string
	flags := flag.NewFlagSet("check", flag.ContinueOnError)
	flags.StringVar(&data, "data", "", "garage `file` (default as for serve)")
	if wasHelp, err := parseFlags(t, flags, args); err != nil {
		return t.fail(exitRefused, err)
	} else if wasHelp {
		return exitDone
	}
	garage, err := garageFile(data)
	if err == nil {
		err = check(t, garage)
	}
	if err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// check reads the whole garage and the daily copies. Of a running server it
// takes a copy to read, which goes again.
func check(t terminal, garage string) error {
	report, err := inspect(garage)
	if errors.Is(err, store.ErrDamaged) {
		if m, tryErr := store.TryMend(garage, time.Now()); tryErr == nil {
			copies, _ := store.DailyCopies(garage, time.Now())
			return fmt.Errorf("%w; %s; do: start pointsmith serve, which sets apart what is broken and goes on with the rest; or: %s",
				err, m, wayOut(garage, copies))
		}
	}
	if err != nil {
		return overwritten(garage, err)
	}
	warnIfOpen(t, garage)
	t.say("%s is sound: layout %d, %d bytes, %s, %s remembered, last changed %s", garage, report.Layout, report.Bytes,
		counts(report),
		plural(report.Deleted, "deletion"), day(report.Changed))
	if k := report.OldestKept; k != nil {
		t.say("waiting longest for a choice, since %s: %s", day(k.KeptAt), named(k.Name))
	}
	for _, one := range report.Broken {
		t.say("set apart on %s, not as it was written, kept whole: %s", day(one.Found), one)
	}
	if now := time.Now(); !store.ClockIsSet(now) {
		t.say("the clock of this machine says %s, which cannot be; do: set it", day(now))
	}
	return checkCopies(t, garage)
}

func checkCopies(t terminal, garage string) error {
	copies, err := store.DailyCopies(garage, time.Now())
	if err != nil {
		return err
	}
	if len(copies) == 0 {
		t.say("there is no daily copy yet; serve makes one a day")
	}
	var bad error
	for _, c := range copies {
		report, err := store.Inspect(c.Path)
		if err != nil {
			bad = errors.Join(bad, err)
			continue
		}
		ahead := ""
		if c.IsAhead {
			ahead = "; its day has not come, so that it is neither the newest nor takes a place; do: look at the clock, and delete " +
				quoted(c.Path) + " if that was wrong when it was made"
		}
		t.say("daily copy of %s is sound: %s%s", c.Day.Format(time.DateOnly), counts(report), ahead)
	}
	return bad
}

func inspect(garage string) (store.Report, error) {
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	client, err := admin.Dial(ctx, garage)
	if errors.Is(err, admin.ErrNoServer) {
		return store.Inspect(garage)
	}
	if err != nil {
		return store.Report{}, err
	}
	folder, err := os.MkdirTemp("", "pointsmith-check")
	if err != nil {
		return store.Report{}, err
	}
	defer os.RemoveAll(folder)
	return store.SaveCopy(filepath.Join(folder, "garage.db"), func(w io.Writer) error {
		return fetch(ctx, client, "/api/v1/backup", w)
	})
}
