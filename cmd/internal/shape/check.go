package shape

import (
	"reflect"
	"strings"

	"pointsmith/calc/schema"
)

// Kinds are the kinds of document in the order people meet them.
var Kinds = []string{"car", "distributor", "visit"}

// A body is what the server asks of one kind of document.
type body struct {
	schema schema.Object
	check  func(text []byte) error
	of     reflect.Type
}

var bodies = map[string]body{"car": bodyOf[car](), "distributor": bodyOf[distributor](), "visit": bodyOf[visit]()}

// bodyOf makes the body of T, whose headings get the stricter check of names.
func bodyOf[T any]() body {
	t := reflect.TypeFor[T]()
	return body{schema.Of[T](), func(text []byte) error {
		document, err := schema.Decode[T](text)
		if err != nil {
			return err
		}
		v := reflect.ValueOf(document)
		for i := range t.NumField() {
			if tag := t.Field(i).Tag; tag.Get("heading") == "yes" {
				if bad := CheckName(jsonName(tag), v.Field(i).String(), tag.Get("need") == "yes"); bad != nil {
					return bad
				}
			}
		}
		return nil
	}, t}
}

// AnyKind lists the kinds in words, for a refusal: car, distributor or visit.
func AnyKind() string {
	last := len(Kinds) - 1
	return strings.Join(Kinds[:last], ", ") + " or " + Kinds[last]
}

// Known reports whether there are documents of this kind.
func Known(kind string) bool { return bodies[kind].check != nil }

// Check refuses a body that no page could use: a field that is not known, a
// value of another kind, a text or a list beyond its limit. The error is a
// *refuse.Error that names the field, the limit and what to do. The kind has
// to be known.
func Check(kind string, text []byte) error { return bodies[kind].check(text) }

// Schema is the shape of a kind's body, for the OpenAPI document.
func Schema(kind string) schema.Object { return bodies[kind].schema }
