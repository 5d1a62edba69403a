package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
)

// defaultFolder is a dot-folder at the top, which git ignores.
const defaultFolder = ".release"

func main() {
	out := flag.String("o", "", "`folder` for the archives (default "+defaultFolder+" at the top of the checkout)")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	err := errTooMany(flag.Args())
	if err == nil {
		err = run(ctx, *out, os.Stdout, os.Stderr)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func errTooMany(words []string) error {
	if len(words) == 0 {
		return nil
	}
	return fmt.Errorf("%.40q is one word too many; limit: only -o DIR; do: run go run ./cmd/internal/release -o DIR",
		words[0])
}

// run builds every archive of the last commit of the checkout it is in.
func run(ctx context.Context, out string, said, warned io.Writer) (err error) {
	top, err := command(ctx, ".", nil, "git", "rev-parse", "--show-toplevel")
	if err != nil {
		return fmt.Errorf("find the checkout: %w; do: run it in a clone made by git", err)
	}
	c, err := lastCommit(ctx, strings.TrimSpace(top))
	if err != nil {
		return err
	}
	if c.isDirty {
		fmt.Fprintln(warned, "release: warning: the checkout has changes that are in no commit; they are not in the archives; do: commit them and run this again")
	}
	if out == "" {
		out = filepath.Join(c.top, defaultFolder)
	}
	work, err := os.MkdirTemp("", "release")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(work)) }()
	source := filepath.Join(work, "source")
	if err := c.export(ctx, source); err != nil {
		return err
	}
	r, err := prepare(ctx, source, c.hash, c.when)
	if err != nil {
		return err
	}
	files, err := r.archives(ctx, out, targets)
	if err != nil {
		return err
	}
	fmt.Fprintf(said, "pointsmith %s, commit %s, %s, in %s\n\n%s", r.version, c.hash, r.goVersion, out, table(files))
	return nil
}
