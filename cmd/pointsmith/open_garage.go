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
// of it. A damaged one is mended, and goes on with the rest. One that cannot be
// is set aside under a name with the time in it, never deleted; an empty garage
// takes its place only when wantsNew, because an empty garage that nobody asked
// for looks like a lost one.
func openGarage(t terminal, path string, wantsNew bool) (*store.Store, error) {
	if isAbsent(path) {
		if err := missedGarage(path); err != nil && !wantsNew {
			return nil, err
		}
		return store.Open(path)
	}
	garage, err := openMended(t, path, (*store.Store).Check)
	if errors.Is(err, store.ErrNotGarage) {
		return nil, overwritten(path, err)
	}
	if !errors.Is(err, store.ErrDamaged) {
		return garage, err
	}
	if err = setAside(path, err); !wantsNew {
		return nil, err
	}
	t.warn("%v; started with an empty garage as asked", err)
	return store.Open(path)
}

// openMended opens a garage file to work on it, if prove has nothing against
// it. A damaged one is mended first, where enough of it can be read.
func openMended(t terminal, path string, prove func(*store.Store) error) (*store.Store, error) {
	garage, err := store.Open(path)
	if err == nil {
		if err = prove(garage); err == nil {
			return garage, nil
		}
		err = errors.Join(err, garage.Close())
	}
	if !errors.Is(err, store.ErrDamaged) {
		return nil, err
	}
	m, mendErr := store.Mend(path, time.Now())
	if errors.Is(mendErr, store.ErrDamaged) {
		return nil, err
	}
	if mendErr != nil {
		// not ErrDamaged: what can be mended later stays where it is
		return nil, fmt.Errorf("%v; it stays where it is, and could not be mended: %w; do: make room on its disk, and start again",
			err, mendErr)
	}
	t.warn("%s", mended(path, m))
	return store.Open(path)
}

// unproved is for who reads only what it has to.
func unproved(*store.Store) error { return nil }

// mended says what was broken and where it is now.
func mended(path string, m store.Mended) string {
	said := fmt.Sprintf("the garage file %s was damaged, and goes on with the rest: %s; what is broken is kept in it, apart; the damaged file is kept as %s; phones send what they hold",
		path, m, m.Before)
	copies, err := store.DailyCopies(path, time.Now())
	if c, report, isOne := soundCopy(copies); err == nil && isOne {
		said += fmt.Sprintf("; if too much is gone: the newest sound daily copy is of %s with %s; do: pointsmith restore -data %s %s",
			c.Day.Format(time.DateOnly), counts(report), quoted(path), quoted(c.Path))
	}
	return said
}

// overwritten says of a file that nothing can be read of how to go on: from a
// daily copy, where there is one.
func overwritten(path string, err error) error {
	copies, _ := store.DailyCopies(path, time.Now())
	switch {
	case errors.Is(err, store.ErrDamaged):
		return fmt.Errorf("%w; do: keep a copy of it; %s", err, wayOut(path, copies))
	case errors.Is(err, store.ErrNotGarage) && len(copies) > 0:
		return fmt.Errorf("%w; it stays where it is, and daily copies of a garage lie beside it: %s", err,
			wayOut(path, copies))
	}
	return err
}

// afterMending says in an error about a damaged file how to go on.
func afterMending(err error) error {
	if errors.Is(err, store.ErrDamaged) {
		return fmt.Errorf("%w; do: start pointsmith serve once, which sets apart what is broken and goes on with the rest; pointsmith check names it", err)
	}
	return err
}

// isAbsent is true of a file that is not there, or has nothing in it.
func isAbsent(path string) bool {
	info, err := os.Stat(path)
	return errors.Is(err, os.ErrNotExist) || err == nil && info.Mode().IsRegular() && info.Size() == 0
}

// missedGarage says what to do when the garage file is gone and something that
// belongs to it is there; nil: nothing is, and this is a new garage.
func missedGarage(path string) error {
	copies, err := store.DailyCopies(path, time.Now())
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
	copies, listErr := store.DailyCopies(path, time.Now())
	name, err := store.SetAside(path, time.Now())
	if err = errors.Join(err, listErr); err != nil {
		return fmt.Errorf("%s; it stays where it is (%v); do: copy it to a safe place, then %s", reason, err,
			wayOut(path, copies))
	}
	return fmt.Errorf("%s; it is set aside as %s; %s", reason, name, wayOut(path, copies))
}

// wayOut names the newest daily copy that is sound, and the command for it.
func wayOut(path string, copies []store.DailyCopy) string {
	if c, report, isOne := soundCopy(copies); isOne {
		return fmt.Sprintf("the newest sound daily copy is of %s with %s; do: pointsmith restore -data %s %s, or start with an empty garage with pointsmith serve -new",
			c.Day.Format(time.DateOnly), counts(report), quoted(path), quoted(c.Path))
	}
	return "there is no sound daily copy; do: pointsmith restore -data " + quoted(path) +
		" FILE with a backup of yours, or start with an empty garage with pointsmith serve -new: phones send what they hold"
}

// soundCopy is the newest that is sound.
func soundCopy(copies []store.DailyCopy) (c store.DailyCopy, report store.Report, isOne bool) {
	for _, c := range copies {
		if report, err := store.Inspect(c.Path); err == nil {
			return c, report, true
		}
	}
	return c, report, false
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
