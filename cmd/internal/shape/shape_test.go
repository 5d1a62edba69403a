package shape

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pointsmith/calc/refuse"
)

const top = "../../.."

// What lies beside the app is what this package says. The server does not
// read these files; the tests of the app's modules and the type checker do.
func TestMadeFilesAreNotStale(t *testing.T) {
	script, err := Script()
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string][]byte{"pwa/app/" + ScriptPath: script, TypesPath: Types()} {
		got, err := os.ReadFile(filepath.Join(top, path))
		switch {
		case os.IsNotExist(err): // go generate was not run: nothing is stale
		case err != nil:
			t.Error(err)
		case !bytes.Equal(got, want):
			t.Errorf("%s is older than cmd/internal/shape; do: go generate ./...", path)
		}
	}
}

// Every phone loads it at start.
func TestScriptIsSmall(t *testing.T) {
	script, err := Script()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, _ = z.Write(script)
	_ = z.Close()
	if out.Len() > 6<<10 { // chosen: a hundredth of the engine
		t.Errorf("%d bytes compressed; name fewer methods in figures.go", out.Len())
	}
}

// Every text of a document has a longest length or its choices, every list and
// map a most, so that no hostile document passes for a small one.
func TestEverythingHasALimit(t *testing.T) {
	var look func(path string, n *node)
	look = func(path string, n *node) {
		if n.Kind != "boolean" && n.Kind != "object" && n.Most == 0 && n.Choices == nil {
			t.Errorf("%s has no limit; give it maxLen, maxItems or enum", path)
		}
		if n.Each != nil {
			look(path+"[]", n.Each)
		}
		for name, field := range n.Fields {
			look(path+"."+name, field)
		}
	}
	for _, kind := range Kinds {
		look(kind, describe(bodies[kind].of, ""))
	}
}

// Struct tags are read by hand: a slip in one is a field without its limit.
func TestTagsAreWhole(t *testing.T) {
	known := []string{"json", "need", "maxLen", "maxItems", "enum", "help", "heading", "figure"}
	for _, s := range structs() {
		for i := range s.NumField() {
			f := s.Field(i)
			rest := string(f.Tag)
			for _, key := range known {
				if value, ok := f.Tag.Lookup(key); ok {
					rest = strings.Replace(rest, key+`:"`+value+`"`, "", 1)
				}
			}
			if strings.TrimSpace(rest) != "" {
				t.Errorf("%s.%s: %q is no tag that is read", s.Name(), f.Name, strings.TrimSpace(rest))
			}
		}
	}
}

func TestAFigureOfNoCalculationIsSaid(t *testing.T) {
	if _, err := takenBy("advance.nothing"); err == nil {
		t.Error("a calculation that is not there was found")
	}
	all, err := takenBy("advance.judge")
	if err != nil || reflect.DeepEqual(all["readings.points.deg"], limit{}) {
		t.Errorf("the limits of a reading are not found: %v, %v", all["readings.points.deg"], err)
	}
}

// What is refused is refused with field, limit and what to do; what a figure
// is, is never a reason.
func TestCheck(t *testing.T) {
	for name, c := range map[string]struct{ kind, body, field string }{
		"least of a car": {"car", `{"name":"A"}`, ""},
		"figures far beyond": {"visit",
			`{"sets":[{"id":"s","staticCrankDeg":"4000","readings":[{"id":"r","rpm":"-1","deg":"a lot"}]}]}`, ""},
		"null is unknown":      {"distributor", `{"sheet":null,"facts":null}`, ""},
		"no name":              {"car", `{}`, "name"},
		"a name of markup":     {"distributor", `{"name":"<b>"}`, "name"},
		"a field nobody knows": {"car", `{"name":"A","colour":"red"}`, "colour"},
		"a number for a text":  {"distributor", `{"sheet":{"rows":[{"rpm":800}]}}`, "sheet.rows[0].rpm"},
		"a side that is none":  {"visit", `{"sets":[{"id":"s","staticSide":"left"}]}`, "sets[0].staticSide"},
		"too long a text":      {"car", `{"name":"A","owner":"` + strings.Repeat("o", 81) + `"}`, "owner"},
		"too many": {"visit", `{"events":[{"id":"e","undone":["` + strings.Repeat(`x","`, 16) +
			`x"]}]}`, "events[0].undone"},
		"a reading without an id":   {"visit", `{"sets":[{"id":"s","readings":[{}]}]}`, "sets[0].readings[0].id"},
		"a fact of another shape":   {"car", `{"name":"A","facts":{"gap":"0.4"}}`, "facts.gap"},
		"a list for a set of facts": {"visit", `{"facts":[]}`, "facts"},
	} {
		t.Run(name, func(t *testing.T) {
			err := Check(c.kind, []byte(c.body))
			if c.field == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			var bad *refuse.Error
			if !errors.As(err, &bad) || bad.Field != c.field || bad.Limit == "" || bad.Do == "" {
				t.Errorf("got %#v, want a refusal of %s with limit and what to do", err, c.field)
			}
		})
	}
}

// The script is JSON behind its names, and holds what the tags say.
func TestScriptHoldsTheTags(t *testing.T) {
	script, err := Script()
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]json.RawMessage{}
	for _, line := range strings.Split(string(script), "\n") {
		if rest, ok := strings.CutPrefix(line, "export const "); ok {
			name, value, _ := strings.Cut(rest, " = ")
			found[name] = json.RawMessage(strings.TrimSuffix(value, ";"))
		}
	}
	var shapes map[string]node
	var limits map[string]limit
	if err := errors.Join(json.Unmarshal(found["shapes"], &shapes),
		json.Unmarshal(found["figures"], &limits)); err != nil {
		t.Fatal(err)
	}
	note := shapes["car"].Fields["facts"].Each.Fields["note"]
	if note.Kind != "text" || note.Most != 2000 || !shapes["visit"].Fields["events"].Optional {
		t.Errorf("note %+v, events %+v", note, shapes["visit"].Fields["events"])
	}
	if l := limits["reading.deg"]; l.Min == nil || l.Max == nil || *l.Min != -60 || *l.Max != 120 {
		t.Errorf("reading.deg %+v", l)
	}
}
