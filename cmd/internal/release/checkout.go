package main

import (
	"archive/tar"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// A commit is what a release is made of.
type commit struct {
	top     string // folder of the checkout
	hash    string
	when    time.Time // the committer's date, which every file in an archive carries
	isDirty bool      // the checkout has changes that are in no commit
}

// lastCommit says what the checkout at top has out.
func lastCommit(ctx context.Context, top string) (commit, error) {
	text, err := command(ctx, top, nil, "git", "log", "-1", "--format=%H %ct")
	if err != nil {
		return commit{}, fmt.Errorf("read the last commit: %w; do: commit something first", err)
	}
	hash, seconds, _ := strings.Cut(strings.TrimSpace(text), " ")
	at, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		return commit{}, fmt.Errorf("git gives %q for the last commit; limit: a hash and a time; do: look at git log -1",
			text)
	}
	changes, err := command(ctx, top, nil, "git", "status", "--porcelain")
	if err != nil {
		return commit{}, err
	}
	return commit{top: top, hash: hash, when: time.Unix(at, 0).UTC(), isDirty: changes != ""}, nil
}

// export writes the files of the commit into a folder, as a clean checkout has them.
func (c commit) export(ctx context.Context, folder string) error {
	text, err := command(ctx, c.top, nil, "git", "archive", "--format=tar", c.hash)
	if err != nil {
		return fmt.Errorf("take out the commit: %w", err)
	}
	for from := tar.NewReader(strings.NewReader(text)); ; {
		entry, err := from.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("take out the commit: %w", err)
		}
		if entry.Typeflag != tar.TypeReg {
			continue // folders come with their files; there is nothing else
		}
		if !filepath.IsLocal(entry.Name) {
			return fmt.Errorf("the commit has a file %q; limit: files inside the checkout; do: take it out", entry.Name)
		}
		content, err := io.ReadAll(from)
		if err != nil {
			return fmt.Errorf("take out %s: %w", entry.Name, err)
		}
		if err := write(filepath.Join(folder, filepath.FromSlash(entry.Name)), content); err != nil {
			return err
		}
	}
}

func write(path string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("make a folder: %w; do: give a folder you may write", err)
	}
	if err := os.WriteFile(path, content, 0o644); err != nil {
		return fmt.Errorf("write: %w; do: look at the room on the disk, or give a folder you may write", err)
	}
	return nil
}

// command runs a program in a folder and gives what it says; what it complains of
// is part of the error.
func command(ctx context.Context, folder string, env []string, name string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir, cmd.Env = folder, append(os.Environ(), env...)
	var said, complained bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &complained
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, complained.String())
	}
	return said.String(), nil
}
