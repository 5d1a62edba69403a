package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"pointsmith/store"
)

// openGarage opens the garage file to serve it, after reading and checking all
// of it. A damaged file is set aside under a name with the time in it, never
// deleted; an empty garage takes its place only when wantsNew, because an empty
// garage that nobody asked for looks like a lost one.
func openGarage(t terminal, path string, wantsNew bool) (*store.Store, error) {
	if isAbsent(path) {
		if err := missedGarage(path); err != nil && !wantsNew {
			return nil, err
		}
		return store.Open(path)
	}
	garage, err := store.Open(path)
	if err == nil {
		if err = garage.Check(); err == nil {
			return garage, nil
		}
		err = errors.Join(err, garage.Close())
	}
	if !errors.Is(err, store.ErrDamaged) {
		return nil, err
	}
	if err = setAside(path, err); !wantsNew {
		return nil, err
	}
	t.warn("%v; started with an empty garage as asked", err)
	return store.Open(path)
}

// isAbsent is true of a file that is not there, or has nothing in it.
func isAbsent(path string) bool {
	info, err := os.Stat(path)
	return errors.Is(err, os.ErrNotExist) || err == nil && info.Mode().IsRegular() && info.Size() == 0
}

// missedGarage says what to do when the garage file is gone and something that
// belongs to it is there; nil: nothing is, and this is a new garage.
func missedGarage(path string) error {
	copies, err := store.DailyCopies(path)
	if err != nil {
		return err
	}
	aside, err := store.SetAsideFiles(path)
	if err != nil {
		return err
	}
	if len(copies)+len(aside) == 0 {
		return nil
	}
	return fmt.Errorf(
		"the garage file %s is not there, but what belongs to it is (daily copies: %d, files set aside: %d); %s",
		path, len(copies), len(aside), wayOut(path, copies))
}

// setAside moves a damaged file and says where it is now, and what to do.
func setAside(path string, damage error) error {
	reason := strings.ReplaceAll(damage.Error(), "\n", "; ")
	copies, listErr := store.DailyCopies(path)
	name, err := store.SetAside(path, time.Now())
	if err = errors.Join(err, listErr); err != nil {
		return fmt.Errorf("%s; it stays where it is (%v); do: copy it to a safe place, then %s", reason, err,
			wayOut(path, copies))
	}
	return fmt.Errorf("%s; it is set aside as %s; %s", reason, name, wayOut(path, copies))
}

// wayOut names the newest daily copy that is sound, and the command for it.
func wayOut(path string, copies []store.DailyCopy) string {
	for _, c := range copies {
		report, err := store.Inspect(c.Path)
		if err != nil {
			continue
		}
		return fmt.Sprintf("the newest sound daily copy is of %s with %s; do: pointsmith restore -data %s %s, or start with an empty garage with pointsmith serve -new",
			c.Day.Format(time.DateOnly), counts(report), quoted(path), quoted(c.Path))
	}
	return "there is no sound daily copy; do: pointsmith restore -data " + quoted(path) +
		" FILE with a backup of yours, or start with an empty garage with pointsmith serve -new: phones send what they hold"
}

// counts says in words what is in a garage file.
func counts(r store.Report) string {
	var parts []string
	for _, kind := range []string{"car", "distributor", "visit"} {
		parts = append(parts, plural(r.Documents[kind], kind))
	}
	if r.Kept > 0 {
		parts = append(parts, plural(r.Kept, "kept cop"))
	}
	if r.Photos > 0 {
		parts = append(parts, fmt.Sprintf("%s of %.1f MB", plural(r.Photos, "photo"), float64(r.PhotoBytes)/1e6))
	}
	return strings.Join(parts, ", ")
}

func plural(n int, what string) string {
	switch {
	case what == "kept cop" && n == 1:
		what += "y"
	case what == "kept cop":
		what += "ies"
	case n != 1:
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// quoted makes a name safe to paste into a shell.
func quoted(name string) string {
	if name == filepath.Clean(name) && !strings.ContainsFunc(name, func(r rune) bool {
		return !strings.ContainsRune("/._-+:", r) && !isPlain(r)
	}) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

func isPlain(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
}
