package store_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"pointsmith/store/storetest"
)

// FuzzPut: whatever a phone sends as a body, the store refuses it, or gives it
// back as it was, spaces outside strings aside.
func FuzzPut(f *testing.F) {
	for _, seed := range []string{
		`{}`, `{"name":"Linnet"}`, ` { "facts" : { "idle" : { "value" : "850" } } } `, `{"a":"<b>&amp;\u2028"}`,
		"{\"a\":\"\u2028\"}",
		`[]`, `null`, `{"a":NaN}`, `{"a":1e999}`, `{"a":1}{"b":2}`, "{\"a\":\"\xff\"}", `{"a":1,"a":2}`, `{`, ``,
	} {
		f.Add([]byte(seed))
	}
	s := storetest.Open(f)
	f.Fuzz(func(t *testing.T, body []byte) {
		c := change("", 0, string(body))
		base, err := s.Get("car", someID)
		if err == nil {
			c.Base = base.Revision
		}
		if _, err := s.Put(c); err != nil {
			return
		}
		var want bytes.Buffer
		if err := json.Compact(&want, body); err != nil {
			t.Fatalf("%q was taken, and is not JSON: %v", body, err)
		}
		d, err := s.Get("car", someID)
		if err != nil || !bytes.Equal(d.Body, want.Bytes()) {
			t.Fatalf("put %q, got %q, %v", want.Bytes(), d.Body, err)
		}
	})
}
