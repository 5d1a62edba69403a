package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"pointsmith"
	"pointsmith/cmd/internal/web/assets"
)

func runSite(t terminal, _ io.Reader, args []string) int {
	var isForced, compressed bool
	flags := flag.NewFlagSet("site", flag.ContinueOnError)
	flags.BoolVar(&isForced, "force", false, "write although the folder holds something else; nothing of that is removed, but files of the same name are replaced")
	flags.BoolVar(&compressed, "compressed", false, "write .br and .gz copies too, for hosts that use them")
	folder, wasHelp, err := parseFlagsAnd(t, flags, args, "DIR")
	if err != nil {
		return t.fail(exitRefused, err)
	}
	if wasHelp {
		return exitDone
	}
	if err := writeSite(t, folder, isForced, compressed); err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

func writeSite(t terminal, folder string, isForced, compressed bool) error {
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		return err
	}
	files, err := assets.Static(app, version, compressed)
	if err != nil {
		return err
	}
	earlier, err := earlierSite(folder, isForced)
	if err != nil {
		return err
	}
	total := 0
	for _, f := range files {
		total += len(f.Content)
		if err := writeInto(folder, f); err != nil {
			return err
		}
	}
	removed, err := removeStale(folder, earlier, files)
	if err != nil {
		return err
	}
	t.say("wrote %d files, %.1f MB, into %s", len(files), float64(total)/1e6, folder)
	if removed > 0 {
		t.say("removed %d files that belonged to the site before", removed)
	}
	t.say("next: put them on any host that speaks https, at its root or in a folder (https://HOST/FOLDER/, with the stroke at the end)")
	t.say("there is no server behind it: garages stay on each phone and move by file or link")
	return nil
}

// earlierSite lists the files of the site that lies in a folder, or refuses a
// folder with something else in it.
func earlierSite(folder string, isForced bool) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look into the folder: %w; do: give a folder you may write", err)
	}
	var note assets.SiteNote
	text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(assets.SitePath)))
	if err == nil {
		err = json.Unmarshal(text, &note)
	}
	if err == nil && note.Product == "pointsmith" && !note.Server {
		return note.Files, nil
	}
	if isForced {
		return nil, nil
	}
	return nil, fmt.Errorf("%s is not empty and holds no earlier site; do: give an empty folder, or -force to write beside what is there", folder)
}

// removeStale takes away what only the site before had.
func removeStale(folder string, earlier []string, files []assets.StaticFile) (removed int, err error) {
	for _, name := range earlier {
		if !filepath.IsLocal(filepath.FromSlash(name)) ||
			slices.ContainsFunc(files, func(f assets.StaticFile) bool { return f.Path == name }) {
			continue
		}
		switch err := os.Remove(filepath.Join(folder, filepath.FromSlash(name))); {
		case err == nil:
			removed++
		case !errors.Is(err, fs.ErrNotExist):
			return removed, fmt.Errorf("remove what the site before left: %w", err)
		}
	}
	return removed, nil
}

// writeInto replaces a file in one step, so that a host that serves the folder
// never hands out half of one.
func writeInto(folder string, f assets.StaticFile) error {
	name := filepath.Join(folder, filepath.FromSlash(f.Path))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("write the site: %w", err)
	}
	part := name + ".part"
	err := os.WriteFile(part, f.Content, 0o644)
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("write the site: %w", err), os.RemoveAll(part))
	}
	return nil
}
