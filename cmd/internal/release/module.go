package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path"
	"runtime/debug"
	"slices"
	"strings"
)

// A module is somebody else's code in an archive.
type module struct {
	path, version string
	sum           string   // as in go.sum; of Go itself there is none
	folder        string   // where it lies on this machine
	packages      []string // folders of the packages that are used
	part          string   // where in the archive it is
	licences      []licence
}

// Parts of an archive that others' code is in.
const (
	inProgram = "the program"
	inEngine  = "the calculation engine for phones"
	inBundle  = "helper functions in the app's scripts"
)

// bundler puts the app's scripts together and leaves small functions of its own in them.
const bundler = "github.com/evanw/esbuild"

// listed is what go list says of a package.
type listed struct {
	Dir    string
	Module *struct {
		Path, Version, Sum, Dir string
		Main                    bool
		Replace                 *struct{ Path string }
	}
}

// linked lists the modules whose packages are linked into a command, by their paths.
func (r release) linked(ctx context.Context, env []string, packages ...string) ([]module, error) {
	args := append([]string{"list", "-deps", "-json=Dir,Module"}, packages...)
	text, err := command(ctx, r.source, env, "go", args...)
	if err != nil {
		return nil, fmt.Errorf("list what is linked: %w", err)
	}
	var found []module
	for from := json.NewDecoder(strings.NewReader(text)); ; {
		var p listed
		if err := from.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("read what go list says: %w", err)
		}
		if p.Module == nil || p.Module.Main {
			continue
		}
		if p.Module.Replace != nil {
			return nil, fmt.Errorf("%s is replaced; limit: modules as published; do: take the replace line out of go.mod",
				p.Module.Path)
		}
		at := slices.IndexFunc(found, func(m module) bool { return m.path == p.Module.Path })
		if at < 0 {
			at = len(found)
			found = append(found, module{path: p.Module.Path, version: p.Module.Version, sum: p.Module.Sum,
				folder: p.Module.Dir, part: inProgram})
		}
		found[at].packages = append(found[at].packages, p.Dir)
	}
	slices.SortFunc(found, func(a, b module) int { return strings.Compare(a.path, b.path) })
	for i := range found {
		if found[i].licences, err = found[i].findLicences(); err != nil {
			return nil, err
		}
	}
	return found, nil
}

// inTheApp lists what every program carries inside the app, and Go itself.
func (r release) inTheApp(ctx context.Context) ([]module, error) {
	root, err := command(ctx, r.source, sameEverywhere, "go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	folder := strings.TrimSpace(root)
	language := module{path: "std", version: r.goVersion, folder: folder, packages: []string{folder},
		part: "the program, the calculation engine, wasm_exec.js"}
	if language.licences, err = language.findLicences(); err != nil {
		return nil, err
	}
	engine, err := r.linked(ctx, append([]string{"GOOS=js", "GOARCH=wasm"}, sameEverywhere...), "./cmd/wasm")
	if err != nil {
		return nil, err
	}
	for i := range engine {
		engine[i].part = inEngine
	}
	made, err := r.linked(ctx, sameEverywhere, path.Join(bundler, "pkg/api"))
	if err != nil {
		return nil, err
	}
	for _, m := range made {
		if m.path == bundler {
			m.part = inBundle
			return append(append([]module{language}, engine...), m), nil
		}
	}
	return nil, fmt.Errorf("%s is not among the modules; limit: what puts the scripts together is named; do: set bundler in cmd/internal/release/module.go",
		bundler)
}

// agree holds what go list says against what the program itself says is in it.
func agree(inside []*debug.Module, linked []module) error {
	var a, b []string
	for _, m := range inside {
		a = append(a, m.Path+" "+m.Version+" "+m.Sum)
	}
	for _, m := range linked {
		b = append(b, m.path+" "+m.version+" "+m.sum)
	}
	slices.Sort(a)
	slices.Sort(b)
	if !slices.Equal(a, b) {
		return fmt.Errorf("the program says it holds %v, go list says %v; limit: the same; do: run go mod tidy and build again",
			a, b)
	}
	return nil
}

// together lists the modules of an archive, each once.
func together(lists ...[]module) []module {
	var all []module
	for _, m := range slices.Concat(lists...) {
		at := slices.IndexFunc(all, func(o module) bool { return o.path == m.path })
		if at < 0 {
			all = append(all, m)
			continue
		}
		all[at].part += ", " + m.part
		all[at].licences = union(all[at].licences, m.licences)
	}
	return all
}
