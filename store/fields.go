package store

import (
	"bytes"
	"encoding/json"
	"io"
)

// fields are the members of a JSON object, or the items of a list by their
// ids, in the order they were written and with their values as written.
type fields []field

type field struct {
	key   string
	value json.RawMessage
}

// members reads an object. It is not ok when it is not one, or names a key
// twice.
func members(raw json.RawMessage) (f fields, ok bool) {
	d := json.NewDecoder(bytes.NewReader(raw))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, false
	}
	seen := map[string]bool{}
	for d.More() {
		t, err := d.Token()
		key, isText := t.(string)
		var value json.RawMessage
		if err != nil || !isText || d.Decode(&value) != nil || seen[key] {
			return nil, false
		}
		seen[key] = true
		f = append(f, field{key, value})
	}
	return f, true
}

// items reads a list of objects that each carry an id of their own.
func items(raw json.RawMessage) (f fields, ok bool) {
	var list []json.RawMessage
	if len(raw) == 0 || raw[0] != '[' || json.Unmarshal(raw, &list) != nil {
		return nil, false
	}
	seen := map[string]bool{}
	for _, item := range list {
		m, isObject := members(item)
		var id string
		if !isObject || json.Unmarshal(m.get("id"), &id) != nil || id == "" || seen[id] {
			return nil, false
		}
		seen[id] = true
		f = append(f, field{id, item})
	}
	return f, true
}

// get returns the value of key, or nil.
func (f fields) get(key string) json.RawMessage {
	for _, m := range f {
		if m.key == key {
			return m.value
		}
	}
	return nil
}

func (f fields) without(keys map[string]json.RawMessage) fields {
	var rest fields
	for _, m := range f {
		if keys[m.key] == nil {
			rest = append(rest, m)
		}
	}
	return rest
}

func (f fields) except(key string) fields {
	return f.without(map[string]json.RawMessage{key: json.RawMessage("-")})
}

// equal compares whatever the order.
func (f fields) equal(g fields) bool {
	if len(f) != len(g) {
		return false
	}
	for _, m := range f {
		if other := g.get(m.key); other == nil || !sameJSON(m.value, other) {
			return false
		}
	}
	return true
}

// with writes an object of f's own fields and the united ones, in the order of
// keys.
func (f fields) with(united map[string]json.RawMessage, order []string) json.RawMessage {
	var out fields
	for _, key := range order {
		if value := united[key]; value != nil {
			out = append(out, field{key, value})
		} else if value := f.get(key); value != nil {
			out = append(out, field{key, value})
		}
	}
	return out.bytes()
}

func (f fields) bytes() json.RawMessage {
	var b bytes.Buffer
	b.WriteByte('{')
	for n, m := range f {
		if n > 0 {
			b.WriteByte(',')
		}
		b.Write(text(m.key))
		b.WriteByte(':')
		b.Write(m.value)
	}
	b.WriteByte('}')
	return b.Bytes()
}

func array(list []json.RawMessage) json.RawMessage {
	var b bytes.Buffer
	b.WriteByte('[')
	for n, item := range list {
		if n > 0 {
			b.WriteByte(',')
		}
		b.Write(item)
	}
	b.WriteByte(']')
	return b.Bytes()
}

// text writes a JSON string without escaping what needs none.
func text(s string) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(s) // a string can always be written
	return bytes.TrimSuffix(b.Bytes(), []byte("\n"))
}

// keysOf lists the keys of f, then those only g has.
func keysOf(f, g fields) []string {
	var keys []string
	for _, m := range f {
		keys = append(keys, m.key)
	}
	for _, m := range g {
		if f.get(m.key) == nil {
			keys = append(keys, m.key)
		}
	}
	return keys
}

// hasTwins reports whether an object in raw, at any depth, names a key twice.
func hasTwins(raw json.RawMessage) bool {
	d := json.NewDecoder(bytes.NewReader(raw))
	var open []map[string]bool // nil: a list
	isKey := false
	for {
		t, err := d.Token()
		if err != nil {
			return err != io.EOF
		}
		inObject := len(open) > 0 && open[len(open)-1] != nil
		switch {
		case t == json.Delim('{'):
			open, isKey = append(open, map[string]bool{}), true
			continue
		case t == json.Delim('['):
			open, isKey = append(open, nil), false
			continue
		case t == json.Delim('}') || t == json.Delim(']'):
			open = open[:len(open)-1]
			isKey = len(open) > 0 && open[len(open)-1] != nil
			continue
		case inObject && isKey:
			if open[len(open)-1][t.(string)] {
				return true
			}
			open[len(open)-1][t.(string)] = true
		}
		isKey = inObject && !isKey
	}
}
