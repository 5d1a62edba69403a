package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// The cases that the server and the app are both held to; what each list is
// stands at the top of the file. pwa/test/merge-cases.test.js reads it too.
const casesPath = "../testdata/merge/cases.json"

var writeCases = flag.Bool("write", false, "make the random cases of "+casesPath+" again")

type bodyCase struct {
	Name   string          `json:"name"`
	Base   json.RawMessage `json:"base,omitempty"`
	Older  json.RawMessage `json:"older"`
	Newer  json.RawMessage `json:"newer"`
	Result json.RawMessage `json:"result"`
	IsLost bool            `json:"isLost"`
	Tabs   json.RawMessage `json:"tabs,omitempty"` // for the app alone
}

type docOfCase struct {
	At      time.Time       `json:"at"`
	Deleted bool            `json:"deleted"`
	Body    json.RawMessage `json:"body"`
}

type mergeCases struct {
	Bodies    []bodyCase `json:"bodies"`
	Random    []bodyCase `json:"random"`
	Documents []struct {
		Name                            string
		Base, Current, Incoming, Result docOfCase
		Kept                            string
	} `json:"documents"`
	Files []struct {
		Name        string
		Here, Files []docOfCase
		Result      docOfCase
		Copies      []json.RawMessage
	} `json:"files"`
}

func readCases(t *testing.T) mergeCases {
	t.Helper()
	text, err := os.ReadFile(casesPath)
	if err != nil {
		t.Fatal(err)
	}
	var all mergeCases
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestVectorsOfBodies(t *testing.T) {
	all := readCases(t)
	if len(all.Bodies) < 40 || len(all.Random) < 40 || len(all.Documents) == 0 || len(all.Files) == 0 {
		t.Fatalf("%d and %d cases of bodies, %d of documents, %d of files: some are gone", len(all.Bodies),
			len(all.Random), len(all.Documents), len(all.Files))
	}
	for _, c := range slices.Concat(all.Bodies, all.Random) {
		t.Run(c.Name, func(t *testing.T) {
			checkUnion(t, c)
			checkBothOrders(t, c)
			checkNothingIsGone(t, c)
		})
	}
}

func checkUnion(t *testing.T, c bodyCase) {
	if body, isLost := unite(c.Base, c.Older, c.Newer); !sameJSON(body, c.Result) || isLost != c.IsLost {
		t.Errorf("unite gives\n%s, lost %v, want\n%s, lost %v", body, isLost, c.Result, c.IsLost)
	}
}

// checkBothOrders lets either version be the one that is there already.
func checkBothOrders(t *testing.T, c bodyCase) {
	var ancestor *Document
	if c.Base != nil {
		ancestor = &Document{Kind: "car", Revision: "r0", Body: c.Base}
	}
	older, newer := version("r1", 1, string(c.Older)), version("r2", 2, string(c.Newer))
	for _, pair := range [][2]Version{{older, newer}, {newer, older}} {
		m := Merge(&pair[0], pair[1], "r0", ancestor, nil)
		if !sameJSON(m.Document.Body, c.Result) || (m.Kept != nil) != c.IsLost || m.Kept != nil &&
			m.Kept.Revision != "r1" {
			t.Errorf("%s first: Merge gives\n%s, kept %v, want\n%s", pair[0].Revision, m.Document.Body,
				m.Kept, c.Result)
		}
	}
}

// checkNothingIsGone: what either side typed is in the result, or its version
// is kept, or it stood in the base and was replaced by somebody who saw it.
func checkNothingIsGone(t *testing.T, c bodyCase) {
	there := string(c.Result) + string(c.Base)
	if c.IsLost {
		there += string(c.Older)
	}
	for _, text := range slices.Concat(texts(c.Older), texts(c.Newer)) {
		if !strings.Contains(there, text) {
			t.Errorf("%s is gone", text)
		}
	}
}

// The cases of chance are what the generator makes and what unite answers.
func TestVectorsOfChance(t *testing.T) {
	made := chanceCases()
	if *writeCases {
		if err := writeRandom(made); err != nil {
			t.Fatal(err)
		}
	}
	stored := readCases(t).Random
	if !slices.EqualFunc(made, stored, func(a, b bodyCase) bool {
		return a.Name == b.Name && (a.Base == nil) == (b.Base == nil) && (a.Base == nil || sameJSON(a.Base, b.Base)) &&
			sameJSON(a.Older, b.Older) && sameJSON(a.Newer, b.Newer)
	}) {
		t.Errorf("%s holds other cases than the generator makes; do: go test ./store -run Vectors -write", casesPath)
	}
}

func TestVectorsOfDocuments(t *testing.T) {
	for _, c := range readCases(t).Documents {
		t.Run(c.Name, func(t *testing.T) {
			of := func(revision string, minute int, d docOfCase) Version {
				v := version(revision, minute, string(d.Body))
				v.Deleted = d.Deleted
				return v
			}
			base, current, incoming := of("r0", 0, c.Base), of("r1", 1, c.Current), of("r2", 2, c.Incoming)
			m := Merge(&current, incoming, "r0", &base.Document, nil)
			kept := ""
			if m.Kept != nil {
				kept = map[string]string{"r1": "current", "r2": "incoming"}[m.Kept.Revision]
			}
			if m.Document.Deleted != c.Result.Deleted || !sameJSON(m.Document.Body, c.Result.Body) || kept != c.Kept {
				t.Errorf("deleted %v, %s, kept %q; want %v, %s, %q", m.Document.Deleted, m.Document.Body, kept,
					c.Result.Deleted, c.Result.Body, c.Kept)
			}
		})
	}
}

// fitsCar is the server's limit that a case is about: facts of a car.
func fitsCar(text []byte) bool {
	var body struct{ Facts map[string]any }
	return json.Unmarshal(text, &body) == nil && len(body.Facts) <= 200
}

func TestVectorsOfFiles(t *testing.T) {
	for _, c := range readCases(t).Files {
		t.Run(c.Name, func(t *testing.T) {
			s, err := Open(filepath.Join(t.TempDir(), "garage.db"))
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			const kind, id = "car", "aaaaaaaaaaaaaaaa"
			change := func(d docOfCase) Change {
				return Change{Kind: kind, ID: id, ChangedAt: d.At, Deleted: d.Deleted, Body: d.Body, Device: "phone",
					Fits: fitsCar}
			}
			base := ""
			for _, d := range c.Here {
				put := change(d)
				put.Base = base
				a, err := s.Put(put)
				if err != nil {
					t.Fatal(err)
				}
				base = a.Revision
			}
			for _, d := range c.Files {
				if _, err := s.Import([]Change{change(d)}, nil, time.Now()); err != nil {
					t.Fatal(err)
				}
			}
			d, err := s.Get(kind, id)
			isDeleted := d.Deleted || errors.Is(err, ErrNotFound)
			if isDeleted != c.Result.Deleted || !isDeleted && !sameJSON(d.Body, c.Result.Body) {
				t.Errorf("deleted %v, %s, %v; want %v, %s", isDeleted, d.Body, err, c.Result.Deleted, c.Result.Body)
			}
			copies, err := s.Kept(kind, id)
			if err != nil || len(copies) != len(c.Copies) {
				t.Fatalf("%d copies wait, want %d: %v", len(copies), len(c.Copies), err)
			}
			for _, want := range c.Copies {
				if !slices.ContainsFunc(copies, func(k Copy) bool { return sameJSON(k.Body, want) }) {
					t.Errorf("no copy is %s", want)
				}
			}
		})
	}
}

// chanceCases are visits edited on two sides. Where the base is known, a side
// changes one field of a piece that two tabs would mix (notes, staticCrankDeg),
// so that both rules ask for the same.
func chanceCases() []bodyCase {
	var all []bodyCase
	for n := range 60 {
		c := chance{rand.New(rand.NewPCG(1961, uint64(n))), n < 40, "", 0}
		base := c.visit()
		made := bodyCase{Name: fmt.Sprintf("chance %d", n+1)}
		if c.isKnown {
			made.Base = c.text(base)
		}
		made.Older, made.Newer = c.edited(base, "o"), c.edited(base, "n")
		made.Result, made.IsLost = unite(made.Base, made.Older, made.Newer)
		all = append(all, made)
	}
	return all
}

type chance struct {
	*rand.Rand
	isKnown bool
	side    string
	typed   int
}

type object = map[string]any

func (c *chance) text(v any) json.RawMessage {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return text
}

// value is one that nobody else types.
func (c *chance) value() string {
	c.typed++
	return fmt.Sprintf("%s%d", c.side, c.typed)
}

func (c *chance) visit() object {
	c.side = "b"
	v := object{"title": c.value(), "notes": c.value(), "facts": object{}, "sets": []any{}, "later": c.value(),
		"lamps": []any{object{"id": "l", "watt": c.value()}}}
	for _, key := range []string{"gap", "dwell", "idle"}[:c.IntN(4)] {
		v["facts"].(object)[key] = c.fact()
	}
	for n := range c.IntN(3) {
		v["sets"] = append(v["sets"].([]any), c.set(fmt.Sprintf("s%d", n)))
	}
	return v
}

func (c *chance) fact() object { return object{"value": c.value(), "unit": "V", "note": ""} }

func (c *chance) set(id string) object {
	readings := []any{}
	for n := range c.IntN(4) {
		readings = append(readings, c.reading(fmt.Sprintf("%s%s%d", id, c.side, n)))
	}
	return object{"id": id, "place": "car", "staticCrankDeg": c.value(), "readings": readings}
}

func (c *chance) reading(id string) object {
	return object{"id": id, "rpm": c.value(), "deg": c.value(), "side": "before"}
}

// edited gives the base after one to four edits of one side.
func (c *chance) edited(base object, side string) json.RawMessage {
	var v object
	if err := json.Unmarshal(c.text(base), &v); err != nil {
		panic(err)
	}
	c.side = side
	for range 1 + c.IntN(4) {
		c.edit(v)
	}
	return c.text(v)
}

func (c *chance) edit(v object) {
	facts, sets := v["facts"].(object), v["sets"].([]any)
	key := []string{"gap", "dwell", "idle", "feed"}[c.IntN(4)]
	switch c.IntN(8) {
	case 0:
		v["notes"] = c.value()
	case 1:
		facts[key] = c.fact()
	case 2:
		delete(facts, key)
	case 3:
		v["sets"] = append(sets, c.set(c.value()))
	case 4:
		v["lamps"] = append(v["lamps"].([]any), object{"id": c.value(), "watt": "5"})
	case 5:
		if !c.isKnown {
			v["later"] = c.value()
		}
	default:
		if len(sets) > 0 {
			c.editSet(sets[c.IntN(len(sets))].(object))
		}
	}
}

func (c *chance) editSet(set object) {
	readings := set["readings"].([]any)
	n := c.IntN(len(readings) + 1)
	switch c.IntN(7) {
	case 0:
		set["staticCrankDeg"] = c.value()
	case 1:
		set["readings"] = slices.Insert(readings, n, any(c.reading(c.value())))
	case 2:
		c.Shuffle(len(readings), func(i, j int) { readings[i], readings[j] = readings[j], readings[i] })
	case 3:
		if !c.isKnown {
			set["removed"] = true
		}
	default:
		if n == len(readings) {
			return
		}
		switch one := readings[n].(object); c.IntN(4) {
		case 0:
			set["readings"] = slices.Delete(readings, n, n+1)
		case 1:
			one["removed"] = true
		case 2:
			one["rpm"] = c.value()
		default:
			one["deg"] = c.value()
		}
	}
}

// writeRandom puts cases in the file, one a line, and leaves the rest of it.
func writeRandom(made []bodyCase) error {
	text, err := os.ReadFile(casesPath)
	if err != nil {
		return err
	}
	head, rest, isThere := bytes.Cut(text, []byte("\"random\": [\n"))
	_, tail, isClosed := bytes.Cut(rest, []byte("],\n\"documents\""))
	if !isThere || !isClosed {
		return fmt.Errorf("%s has another layout", casesPath)
	}
	out := bytes.NewBuffer(slices.Concat(head, []byte("\"random\": [\n")))
	for n, c := range made {
		line, err := json.Marshal(c)
		if err != nil {
			return err
		}
		out.Write(line)
		if n < len(made)-1 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
	}
	out.WriteString("],\n\"documents\"")
	out.Write(tail)
	return os.WriteFile(casesPath, out.Bytes(), 0o644)
}
