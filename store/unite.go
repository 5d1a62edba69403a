package store

import (
	"bytes"
	"encoding/json"
	"reflect"
)

// unite brings two bodies together by rule 5 of Merge. ancestor is nil when
// the base is not known. isLost says that something of the older is neither in
// the result nor had been seen by whoever replaced it.
func unite(ancestor, older, newer []byte) (body []byte, isLost bool) {
	u := &union{}
	body = u.object(ancestor, older, newer)
	return body, u.isLost
}

type union struct{ isLost bool }

// object unites two objects: lists with ids item by item, facts key by key,
// the rest as one piece.
func (u *union) object(ancestor, older, newer json.RawMessage) json.RawMessage {
	o, isObject := members(older)
	n, alsoObject := members(newer)
	if !isObject || !alsoObject {
		return u.piece(ancestor, older, newer)
	}
	a, _ := members(ancestor)
	united := map[string]json.RawMessage{}
	for _, key := range keysOf(n, o) {
		switch {
		case key == "facts" && isMap(o, key) && isMap(n, key):
			united[key] = u.facts(a.get(key), o.get(key), n.get(key))
		case isList(o, key) && isList(n, key):
			united[key] = u.list(a.get(key), o.get(key), n.get(key))
		}
	}
	rest := n
	if !u.newerRest(a, o, n, united, ancestor != nil) {
		rest = o
	}
	return rest.with(united, keysOf(n, o))
}

// newerRest decides whose fields stand where they are not united.
func (u *union) newerRest(a, o, n fields, united map[string]json.RawMessage, isKnown bool) bool {
	restA, restO, restN := a.without(united), o.without(united), n.without(united)
	switch {
	case restO.equal(restN), isKnown && restO.equal(restA):
		return true
	case isKnown && restN.equal(restA):
		return false
	case !isKnown && restO.except("removed").equal(restN.except("removed")):
		return !isTrue(restO.get("removed")) // the mark stays; no value is lost by it
	}
	u.isLost = true
	return true
}

// list unites items by id: the newer's order, then what only the older has.
func (u *union) list(ancestor, older, newer json.RawMessage) json.RawMessage {
	a, _ := items(ancestor)
	o, _ := items(older)
	n, _ := items(newer)
	var out []json.RawMessage
	for _, item := range n {
		if other := o.get(item.key); other != nil {
			out = append(out, u.object(a.get(item.key), other, item.value))
		} else {
			out = append(out, item.value)
		}
	}
	for _, item := range o {
		if n.get(item.key) == nil {
			out = append(out, item.value)
		}
	}
	return array(out)
}

// facts unites by key. A fact that was taken out on one side and not touched
// on the other stays out.
func (u *union) facts(ancestor, older, newer json.RawMessage) json.RawMessage {
	a, isKnown := members(ancestor)
	o, _ := members(older)
	n, _ := members(newer)
	var out fields
	for _, key := range keysOf(n, o) {
		before, old, now := a.get(key), o.get(key), n.get(key)
		isUntouched := isKnown && before != nil &&
			(old == nil && sameJSON(now, before) || now == nil && sameJSON(old, before))
		switch {
		case isUntouched:
		case old == nil:
			out = append(out, field{key, now})
		case now == nil:
			out = append(out, field{key, old})
		default:
			out = append(out, field{key, u.piece(before, old, now)})
		}
	}
	return out.bytes()
}

// piece takes one of two values that are not mixed.
func (u *union) piece(ancestor, older, newer json.RawMessage) json.RawMessage {
	switch {
	case sameJSON(older, newer), ancestor != nil && sameJSON(older, ancestor):
		return newer
	case ancestor != nil && sameJSON(newer, ancestor):
		return older
	}
	u.isLost = u.isLost || !saysNothing(older)
	return newer
}

// saysNothing is true of an empty text and of an object of empty texts.
func saysNothing(raw json.RawMessage) bool {
	if string(raw) == `""` {
		return true
	}
	f, ok := members(raw)
	for _, m := range f {
		ok = ok && string(m.value) == `""`
	}
	return ok
}

func isTrue(raw json.RawMessage) bool { return string(raw) == "true" }

func isMap(f fields, key string) bool {
	_, ok := members(f.get(key))
	return ok || f.get(key) == nil
}

func isList(f fields, key string) bool {
	_, ok := items(f.get(key))
	return ok || f.get(key) == nil
}

// sameJSON reports whether two values are equal, the order of keys aside.
func sameJSON(a, b json.RawMessage) bool {
	if bytes.Equal(a, b) {
		return true
	}
	x, ok := tree(a)
	y, also := tree(b)
	return ok && also && reflect.DeepEqual(x, y)
}

// tree decodes with numbers as they are written. An object that names a key
// twice has no one meaning, and equals only its own bytes.
func tree(raw json.RawMessage) (v any, ok bool) {
	if hasTwins(raw) {
		return nil, false
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	return v, d.Decode(&v) == nil
}
