package main

import (
	"context"
	"debug/buildinfo"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// A release is what the archives of one commit have in common.
type release struct {
	source    string // folder with the sources, and what go generate made of them
	commit    string
	when      time.Time
	version   string
	goVersion string
	shipped   []module // what is in the app that every program carries
}

// prepare makes a folder of sources ready: the engine, the bundle, what is in them.
func prepare(ctx context.Context, source, commit string, when time.Time) (release, error) {
	r := release{source: source, commit: commit, when: when.UTC()}
	var err error
	if r.version, err = versionOf(filepath.Join(source, "cmd/pointsmith/version.go")); err != nil {
		return r, err
	}
	said, err := command(ctx, source, sameEverywhere, "go", "env", "GOVERSION")
	if err != nil {
		return r, err
	}
	r.goVersion = strings.TrimSpace(said)
	if _, err := command(ctx, source, sameEverywhere, "go", "generate", "./..."); err != nil {
		return r, fmt.Errorf("make the engine and the bundle: %w", err)
	}
	r.shipped, err = r.inTheApp(ctx)
	return r, err
}

// versionOf reads the constant that the program itself says.
func versionOf(path string) (string, error) {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		return "", fmt.Errorf("read the version: %w", err)
	}
	for _, d := range file.Decls {
		group, ok := d.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range group.Specs {
			constant, ok := spec.(*ast.ValueSpec)
			if !ok || constant.Names[0].Name != "version" || len(constant.Values) != 1 {
				continue
			}
			if text, ok := constant.Values[0].(*ast.BasicLit); ok && text.Kind == token.STRING {
				return strconv.Unquote(text.Value)
			}
		}
	}
	return "", fmt.Errorf("%s says no version; limit: const version = \"N.N.N\"; do: write it there", path)
}

// build makes the program for a target and gives its bytes and what is linked into it.
func (r release) build(ctx context.Context, t target, folder string) ([]byte, []module, error) {
	path := filepath.Join(folder, t.name, t.program())
	_, err := command(ctx, r.source, t.env(), "go", "build", "-trimpath", "-buildvcs=false",
		"-ldflags=-s -w -buildid=", "-o", path, "./cmd/pointsmith")
	if err != nil {
		return nil, nil, fmt.Errorf("build for %s: %w", t.name, err)
	}
	info, err := buildinfo.ReadFile(path)
	if err != nil {
		return nil, nil, fmt.Errorf("read what is linked for %s: %w", t.name, err)
	}
	linked, err := r.linked(ctx, t.env(), "./cmd/pointsmith")
	if err != nil {
		return nil, nil, err
	}
	if err := agree(info.Deps, linked); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", t.name, err)
	}
	program, err := os.ReadFile(path)
	return program, linked, err
}
