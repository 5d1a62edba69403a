package web

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// Whoever tightens a shape shuts people out of their own garage: every body of
// every garage kept since the first release passes, unchanged, and so does the
// file it is exported to.
func TestOldGaragesPassTheGate(t *testing.T) {
	files, err := filepath.Glob("../../../testdata/db/*.db")
	if err != nil || len(files) == 0 {
		t.Fatalf("no old garage was found: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			content, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(t.TempDir(), "garage.db")
			if err := os.WriteFile(path, content, 0o600); err != nil {
				t.Fatal(err)
			}
			garage, err := store.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer garage.Close()
			documents, err := garage.List()
			if err != nil || len(documents) == 0 {
				t.Fatalf("%d documents: %v", len(documents), err)
			}
			for _, d := range documents {
				if err := shape.Check(d.Kind, d.Body); err != nil {
					t.Errorf("%s %s: %v", d.Kind, d.ID, err)
				}
			}
			checkExported(t, garage, documents)
		})
	}
}

// checkExported sends a garage through its own file.
func checkExported(t *testing.T, garage *store.Store, documents []store.Document) {
	var out bytes.Buffer
	if _, err := WriteGarageFile(&out, garage, time.Now()); err != nil {
		t.Fatal(err)
	}
	read, err := ReadGarageFile(out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	bodies := map[string]json.RawMessage{}
	for _, c := range read.Documents {
		bodies[c.Kind+c.ID] = c.Body
	}
	for _, d := range documents {
		if !bytes.Equal(bodies[d.Kind+d.ID], d.Body) {
			t.Errorf("%s %s came back as %s, not %s", d.Kind, d.ID, bodies[d.Kind+d.ID], d.Body)
		}
	}
}
