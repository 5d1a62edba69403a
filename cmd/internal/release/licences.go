package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/google/licensecheck"
)

// A licence is one text that a module comes with.
type licence struct {
	name string // its file, from the top of the module
	text []byte
	id   string // of SPDX, "" where it is not certain
}

var (
	licenceFile = regexp.MustCompile(`(?i)^(un)?licen[cs]e|^copying`)
	besideFile  = regexp.MustCompile(`(?i)^notice|^patents|^third.party`) // printed too, but none by itself
)

// findLicences reads the licences at the top of a module and beside every package of
// it that is used. A module without one at its top is refused: nobody may pass it on.
func (m module) findLicences() ([]licence, error) {
	var found []licence
	for _, folder := range m.foldersUpwards() {
		here, err := licencesIn(folder, m.folder)
		if err != nil {
			return nil, fmt.Errorf("look for the licence of %s: %w; do: run go mod download", m.path, err)
		}
		if folder == m.folder && !slices.ContainsFunc(here, isLicence) {
			return nil, fmt.Errorf("%s %s has no licence at its top; limit: a file LICENSE, LICENCE or COPYING; do: use another module, or ask its author for one",
				m.path, m.version)
		}
		found = append(found, here...)
	}
	return found, nil
}

func isLicence(l licence) bool { return licenceFile.MatchString(filepath.Base(l.name)) }

// foldersUpwards lists the module's own folder, and all between it and the packages used.
func (m module) foldersUpwards() []string {
	all := []string{m.folder}
	for _, p := range m.packages {
		for ; len(p) > len(m.folder) && !slices.Contains(all, p); p = filepath.Dir(p) {
			all = append(all, p)
		}
	}
	slices.Sort(all)
	return all
}

func licencesIn(folder, top string) ([]licence, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var found []licence
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		switch name := e.Name(); {
		case strings.HasSuffix(name, ".go"), !licenceFile.MatchString(name) && !besideFile.MatchString(name):
		case e.IsDir():
			inside, err := os.ReadDir(path)
			if err != nil {
				return nil, err
			}
			for _, f := range inside {
				if !f.Type().IsRegular() {
					continue
				}
				if found, err = appendLicence(found, filepath.Join(path, f.Name()), top); err != nil {
					return nil, err
				}
			}
		default:
			if found, err = appendLicence(found, path, top); err != nil {
				return nil, err
			}
		}
	}
	return found, nil
}

func appendLicence(found []licence, path, top string) ([]licence, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	name, err := filepath.Rel(top, path)
	if err != nil {
		return nil, err
	}
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	return append(found, licence{filepath.ToSlash(name), text, certain(text)}), nil
}

// titleWords is how many words a text may have beside those of the licence: its title (chosen).
const titleWords = 6

// certain names a text that is one licence and nothing more.
func certain(text []byte) string {
	is := licensecheck.Scan(text)
	if len(is.Match) != 1 || is.Match[0].IsURL {
		return ""
	}
	m := is.Match[0]
	if beside := len(bytes.Fields(text[:m.Start])) + len(bytes.Fields(text[m.End:])); beside > titleWords {
		return ""
	}
	return m.ID
}

// ids are the licences of a module where each of its texts is certain, else none. What
// Go's makers grant of patents beside their licence takes nothing from it.
func (m module) ids() (ids []string) {
	for _, l := range m.licences {
		if l.name == "PATENTS" {
			continue
		}
		if l.id == "" {
			return nil
		}
		if !slices.Contains(ids, l.id) {
			ids = append(ids, l.id)
		}
	}
	return ids
}

func union(a, b []licence) []licence {
	all := slices.Clone(a)
	for _, l := range b {
		if !slices.ContainsFunc(all, func(o licence) bool { return o.name == l.name }) {
			all = append(all, l)
		}
	}
	return all
}

// licenceText is the file with every licence in full.
func licenceText(title string, all []module) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s holds code of others. Here is what it is, where it is used, and every licence in full.\n\n",
		title)
	for _, m := range all {
		fmt.Fprintf(&b, "  %s %s: in %s\n", m.shown(), m.version, m.part)
	}
	for _, m := range all {
		for _, l := range m.licences {
			fmt.Fprintf(&b, "\n\n%s\n%s %s: %s\n%[1]s\n\n%[5]s\n", strings.Repeat("=", 80), m.shown(), m.version,
				l.name, bytes.TrimRight(l.text, "\n"))
		}
	}
	return b.Bytes()
}

// shown is the name of a module for a person.
func (m module) shown() string {
	if m.path == "std" {
		return "Go, its standard library"
	}
	return m.path
}
