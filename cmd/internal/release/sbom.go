package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// The software bill of materials is CycloneDX 1.5; the fields are that standard's.
type bill struct {
	Format     string       `json:"bomFormat"`
	Spec       string       `json:"specVersion"`
	Serial     string       `json:"serialNumber"`
	Version    int          `json:"version"`
	Metadata   metadata     `json:"metadata"`
	Components []component  `json:"components"`
	Depends    []dependency `json:"dependencies"`
}

type metadata struct {
	Timestamp string    `json:"timestamp"`
	Component component `json:"component"`
}

type component struct {
	Type       string         `json:"type"`
	Ref        string         `json:"bom-ref"`
	Name       string         `json:"name"`
	Version    string         `json:"version"`
	Hashes     []hash         `json:"hashes,omitempty"`
	Licences   []licenceEntry `json:"licenses,omitempty"`
	URL        string         `json:"purl,omitempty"`
	Pedigree   *pedigree      `json:"pedigree,omitempty"`
	Properties []property     `json:"properties,omitempty"`
}

type hash struct {
	Algorithm string `json:"alg"`
	Content   string `json:"content"`
}

type licenceEntry struct {
	Licence struct {
		ID   string `json:"id,omitempty"`
		Name string `json:"name,omitempty"`
	} `json:"license"`
}

type pedigree struct {
	Commits []commitEntry `json:"commits"`
}

type commitEntry struct {
	ID string `json:"uid"`
}

type property struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

type dependency struct {
	Ref string   `json:"ref"`
	On  []string `json:"dependsOn,omitempty"`
}

// bill says what is in the program for a target. Its serial number is made of the
// program's own sum, so that it is the same at every build of the same bytes.
func (r release) bill(t target, program []byte, all []module) ([]byte, error) {
	sum := sha256.Sum256(program)
	self := component{Type: "application", Ref: "pointsmith", Name: "pointsmith", Version: r.version,
		Hashes:   []hash{{"SHA-256", hex.EncodeToString(sum[:])}},
		Pedigree: &pedigree{[]commitEntry{{r.commit}}},
		Properties: []property{{"go:version", r.goVersion}, {"go:GOOS", t.system}, {"go:GOARCH", t.processor},
			{"file", t.program()}}}
	b := bill{Format: "CycloneDX", Spec: "1.5", Serial: serial(sum), Version: 1,
		Metadata: metadata{r.when.Format(time.RFC3339), self}, Depends: []dependency{{Ref: self.Ref}}}
	for _, m := range all {
		c := m.component()
		b.Components = append(b.Components, c)
		b.Depends[0].On = append(b.Depends[0].On, c.Ref)
	}
	text, err := json.MarshalIndent(b, "", "  ")
	return append(text, '\n'), err
}

func (m module) component() component {
	url := "pkg:golang/" + m.path + "@" + strings.TrimPrefix(m.version, "go")
	c := component{Type: "library", Ref: url, Name: m.path, Version: m.version, URL: url,
		Properties: []property{{"part", m.part}}}
	if m.sum != "" {
		c.Properties = append(c.Properties, property{"go.sum", m.sum})
	}
	for _, id := range m.ids() {
		var entry licenceEntry
		entry.Licence.ID = id
		c.Licences = append(c.Licences, entry)
	}
	if len(c.Licences) == 0 {
		var entry licenceEntry
		entry.Licence.Name = "in full in " + licencesName
		c.Licences = append(c.Licences, entry)
	}
	return c
}

// serial writes a sum as a UUID of version 8, which is for numbers of one's own making.
func serial(sum [sha256.Size]byte) string {
	u := sum[:16]
	u[6], u[8] = u[6]&0x0f|0x80, u[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", u[:4], u[4:6], u[6:8], u[8:10], u[10:])
}
