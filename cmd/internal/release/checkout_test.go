package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

var testDay = time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)

// Only what is in the commit is taken, whatever lies about.
func TestOnlyTheCommitIsTaken(t *testing.T) {
	top := t.TempDir()
	put := func(name, text string) {
		t.Helper()
		if err := write(filepath.Join(top, name), []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	git := func(args ...string) {
		t.Helper()
		env := []string{"GIT_CONFIG_GLOBAL=" + os.DevNull, "GIT_COMMITTER_DATE=2026-05-01T14:00:00+02:00",
			"GIT_AUTHOR_NAME=A", "GIT_AUTHOR_EMAIL=a@example.com", "GIT_COMMITTER_NAME=A",
			"GIT_COMMITTER_EMAIL=a@example.com"}
		if _, err := command(t.Context(), top, env, "git", args...); err != nil {
			t.Fatal(err)
		}
	}
	git("init", "-q")
	if _, err := lastCommit(t.Context(), top); err == nil {
		t.Fatal("a checkout without a commit was taken")
	}
	put("README.md", "one")
	put("pwa/app/ünder line.js", "two")
	put(".gitignore", "*.db\n")
	git("add", ".")
	git("commit", "-q", "-m", "one")
	c, err := lastCommit(t.Context(), top)
	if err != nil || c.isDirty || len(c.hash) < 40 || !c.when.Equal(testDay) || c.when.Location() != time.UTC {
		t.Fatalf("%+v %v", c, err)
	}
	put("README.md", "changed")
	put("pwa/app/stray.js", "in no commit")
	put("pwa/app/garage.db", "somebody's garage")
	if c, err = lastCommit(t.Context(), top); err != nil || !c.isDirty {
		t.Fatalf("%+v %v", c, err)
	}
	to := t.TempDir()
	if err := c.export(t.Context(), to); err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, pattern := range []string{"*", "*/*/*"} {
		names, err := filepath.Glob(filepath.Join(to, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if text, err := os.ReadFile(name); err == nil {
				inside, _ := filepath.Rel(to, name)
				got[filepath.ToSlash(inside)] = string(text)
			}
		}
	}
	want := map[string]string{".gitignore": "*.db\n", "README.md": "one", "pwa/app/ünder line.js": "two"}
	if !maps.Equal(got, want) {
		t.Errorf("taken were %v", slices.Sorted(maps.Keys(got)))
	}
}
