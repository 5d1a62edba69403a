package store

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

const (
	before = `{"name":"A","owner":"o","facts":{"idle":{"value":"850","note":""},"gap":{"value":"0.015","note":""}}}`
	visit0 = `{"title":"t","notes":"","sets":[{"id":"s","place":"car","readings":[{"id":"r1","deg":"8"},{"id":"r2","deg":"12"}]}]}`
)

// An object that names a key twice has no one meaning and is one piece. All
// other rules stand one by one in testdata/merge/cases.json.
func TestKeysTwiceAreNotRead(t *testing.T) {
	older, newer := version("r1", 1, `{"a":"1","a":"2"}`), version("r2", 2, `{"a":"3"}`)
	for _, pair := range [][2]Version{{older, newer}, {newer, older}} {
		m := Merge(&pair[0], pair[1], "r0", nil, nil)
		if string(m.Document.Body) != `{"a":"3"}` || m.Kept == nil || string(m.Kept.Body) != `{"a":"1","a":"2"}` {
			t.Errorf("%s first: %s, kept %v", pair[0].Revision, m.Document.Body, m.Kept)
		}
	}
}

func version(revision string, minute int, text string) Version {
	return Version{Document: Document{Kind: "car", ID: "aaaaaaaaaaaaaaaa", Revision: revision,
		ChangedAt: time.Date(2026, 5, 1, 12, minute, 0, 0, time.UTC), Body: json.RawMessage(text)}, Device: "phone"}
}

func TestDeletionStandsWhicheverCameFirst(t *testing.T) {
	edited, deleted := version("r1", 9, `{"name":"edited"}`), version("r2", 1, `{}`)
	deleted.Deleted = true
	for _, deletedFirst := range []bool{true, false} {
		current, incoming := edited, deleted
		if deletedFirst {
			current, incoming = deleted, edited
		}
		m := Merge(&current, incoming, "r0", nil, nil)
		if !m.Document.Deleted || m.Kept == nil || m.Kept.Revision != "r1" {
			t.Errorf("deleted first %v: %+v", deletedFirst, m)
		}
	}
}

func TestUnionThatDoesNotFitIsKeptWhole(t *testing.T) {
	half := strings.Repeat("x", MaxBody*2/3)
	older, newer := version("r1", 1, `{"facts":{"a":"`+half+`"}}`), version("r2", 2, `{"facts":{"b":"`+half+`"}}`)
	m := Merge(&older, newer, "", nil, nil)
	if m.Document.Revision != "r2" || m.Kept == nil || m.Kept.Revision != "r1" {
		t.Errorf("%s, kept %v", m.Document.Revision, m.Kept)
	}
	older, newer = version("r1", 1, `{"facts":{"a":"1"}}`), version("r2", 2, `{"facts":{"b":"2"}}`)
	m = Merge(&older, newer, "", nil, func([]byte) bool { return false })
	if m.Document.Revision != "r2" || m.Kept == nil {
		t.Errorf("%+v", m)
	}
}

// FuzzMerge: of any two bodies, nothing is lost. Every text in the older is in
// the result or in what is kept, the newer's likewise, and the result is JSON.
func FuzzMerge(f *testing.F) {
	f.Add(before, visit0, before)
	f.Add(`{}`, `{"a":1}`, `{"a":2}`)
	f.Add(visit0, strings.Replace(visit0, `"8"`, `"9"`, 1), strings.Replace(visit0, "r2", "r3", 1))
	f.Add(`{"sets":[{"id":"a","sets":[{"id":"b"}]}]}`, `{"sets":null,"facts":[]}`,
		`{"sets":[{"id":""}],"facts":{"x":null}}`)
	f.Add(`{"a":1,"a":2}`, `{"facts":{"a":{"a":1,"a":2}}}`, `{"facts":{"a":{"a":2}}}`)
	f.Fuzz(func(t *testing.T, a, o, n string) {
		var docs [3]Version
		for i, text := range []string{a, o, n} {
			d, err := Change{Kind: "car", ID: "aaaaaaaaaaaaaaaa",
				ChangedAt: time.Date(2026, 5, 1, 12, i, 0, 0, time.UTC), Body: json.RawMessage(text)}.document()
			if err != nil {
				return
			}
			d.Revision = string(rune('a' + i))
			docs[i] = Version{Document: d}
		}
		for _, ancestor := range []*Document{nil, &docs[0].Document} {
			for _, pair := range [][2]Version{{docs[1], docs[2]}, {docs[2], docs[1]}} {
				m := Merge(&pair[0], pair[1], "none", ancestor, nil)
				if !json.Valid(m.Document.Body) {
					t.Fatalf("%s and %s made %s", o, n, m.Document.Body)
				}
				there := string(m.Document.Body)
				if m.Kept != nil {
					there += string(m.Kept.Body)
				}
				for _, v := range pair {
					for _, text := range texts(v.Body) {
						if !strings.Contains(there, text) &&
							(ancestor == nil || !strings.Contains(string(ancestor.Body), text)) {
							t.Fatalf("%s is in %s and gone from %s", text, v.Body, there)
						}
					}
				}
			}
		}
	})
}

// texts lists the strings and numbers in a body that are not keys, as written.
func texts(raw json.RawMessage) (all []string) {
	if f, ok := members(raw); ok {
		for _, m := range f {
			all = append(all, texts(m.value)...)
		}
		return all
	}
	var list []json.RawMessage
	if json.Unmarshal(raw, &list) == nil && list != nil {
		for _, item := range list {
			all = append(all, texts(item)...)
		}
		return all
	}
	if len(raw) > 0 && raw[0] != '{' && string(raw) != "null" && string(raw) != `""` && string(raw) != "true" &&
		string(raw) != "false" {
		all = append(all, string(raw))
	}
	return all
}
