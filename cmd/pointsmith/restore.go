package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"time"

	"pointsmith/store"
)

func runRestore(t terminal, _ io.Reader, args []string) int {
	var data string
	var isTrial bool
	flags := flag.NewFlagSet("restore", flag.ContinueOnError)
	flags.StringVar(&data, "data", "", "garage `file` to restore (default as for serve)")
	flags.BoolVar(&isTrial, "try", false, "check the backup and say what would be replaced; change nothing")
	file, wasHelp, err := parseFlagsAnd(t, flags, args, "FILE")
	if err != nil {
		return t.fail(exitRefused, err)
	}
	if wasHelp {
		return exitDone
	}
	garage, err := garageFile(data)
	if err == nil {
		err = restore(t, file, garage, isTrial)
	}
	if err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// restore checks first, says what is replaced, and sets it aside.
func restore(t terminal, file, garage string, isTrial bool) error {
	r, err := store.TryRestore(file, garage)
	if err != nil {
		return restoreProblem(err, file, garage)
	}
	t.say("%s is sound: layout %d, %s, last changed %s", file, r.From.Layout, counts(r.From), day(r.From.Changed))
	if r.Before != "" && r.Trouble != nil {
		t.say("it replaces %s, which cannot be read: %v", garage, r.Trouble)
	} else if r.Before != "" {
		t.say("it replaces %s: %s, last changed %s", garage, counts(r.Previous), day(r.Previous.Changed))
	}
	t.say("%s", whoMayCome(r))
	if isTrial {
		t.say("nothing was changed; without -try it is done")
		return nil
	}
	if r, err = store.Restore(file, garage, time.Now()); err != nil {
		return restoreProblem(err, file, garage)
	}
	if r.Before != "" {
		t.say("the file that was there is kept as %s", r.Before)
	}
	t.say("restored; phones compare all they hold with it and send what it lacks")
	return nil
}

// whoMayCome says in words whose list of devices stands.
func whoMayCome(r store.Restored) string {
	switch {
	case r.KeepsDevices:
		return fmt.Sprintf("who is paired stays as it is now, whoever was revoked stays out: %s",
			plural(r.Devices, "device"))
	case r.Before != "":
		return fmt.Sprintf("the list of paired devices cannot be read either, so that of the backup stands, with anybody revoked since: %s; do: look through pointsmith pair -list and revoke who is out", plural(r.Devices, "device"))
	}
	return fmt.Sprintf("there is no file to take the list of paired devices from, so that of the backup stands, with anybody revoked since: %s; do: look through pointsmith pair -list and revoke who is out", plural(r.Devices, "device"))
}

func restoreProblem(err error, file, garage string) error {
	switch {
	case errors.Is(err, store.ErrLocked):
		return fmt.Errorf("a Pointsmith is running on %s; nothing was changed; do: stop it, then restore", garage)
	case errors.Is(err, store.ErrNoFile):
		return fmt.Errorf("there is no file %s; do: give the name of a backup or of a daily copy", file)
	case errors.Is(err, store.ErrNotGarage):
		return fmt.Errorf("%s is not a garage file; nothing was changed; do: give a backup made with pointsmith backup, or a daily copy; for a file of JSON use pointsmith import", file)
	case errors.Is(err, store.ErrDamaged):
		return fmt.Errorf("%w; nothing was changed; do: try an earlier backup or daily copy; or put a copy of it in the place of the garage file and start pointsmith serve, which goes on with what is sound in it", err)
	}
	return err
}

func day(at time.Time) string {
	if at.IsZero() {
		return "never"
	}
	return at.Local().Format("2006-01-02 15:04")
}
