package main

import (
	"os"
	"path/filepath"

	"pointsmith/cmd/internal/shape"
)

// describe writes what the app and the type checker know of documents.
func describe() error {
	script, err := shape.Script()
	if err != nil {
		return err
	}
	path := filepath.Join("pwa/app", shape.ScriptPath)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	if err := replace(path, script); err != nil {
		return err
	}
	return replace(shape.TypesPath, shape.Types())
}
