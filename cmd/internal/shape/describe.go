package shape

import (
	"reflect"
	"strconv"
	"strings"
)

// A node is one value of a document as the app knows it.
type node struct {
	Kind     string           `json:"kind"`               // text, boolean, list, map or object
	Optional bool             `json:"optional,omitempty"` // may be left out for good
	Choices  []string         `json:"choices,omitempty"`  // of a text
	Most     int              `json:"most,omitempty"`     // characters of a text, entries of a list or map
	Each     *node            `json:"each,omitempty"`     // of a list or map
	Fields   map[string]*node `json:"fields,omitempty"`   // of an object
}

// describe gives the node of a value of type t under a field's tag.
func describe(t reflect.Type, tag reflect.StructTag) *node {
	n := &node{Optional: strings.Contains(tag.Get("json"), ",omitempty")}
	switch t.Kind() {
	case reflect.String:
		n.Kind, n.Most = "text", most(tag, "maxLen")
		if choices := tag.Get("enum"); choices != "" {
			n.Choices = strings.Split(choices, "|")
		}
	case reflect.Bool:
		n.Kind = "boolean"
	case reflect.Slice:
		n.Kind, n.Most = "list", most(tag, "maxItems")
		n.Each = describe(t.Elem(), membersOf(tag))
	case reflect.Map:
		n.Kind, n.Most = "map", most(tag, "maxItems")
		n.Each = describe(t.Elem(), membersOf(tag))
	case reflect.Struct:
		n.Kind, n.Fields = "object", map[string]*node{}
		for i := range t.NumField() {
			f := t.Field(i)
			n.Fields[jsonName(f.Tag)] = describe(f.Type, f.Tag)
		}
	default:
		panic("shape: a document holds texts, booleans, lists and objects, not " + t.String())
	}
	return n
}

// membersOf is what of a list's tag belongs to its members.
func membersOf(tag reflect.StructTag) reflect.StructTag {
	return reflect.StructTag(`maxLen:"` + tag.Get("maxLen") + `" enum:"` + tag.Get("enum") + `"`)
}

func jsonName(tag reflect.StructTag) string {
	name, _, _ := strings.Cut(tag.Get("json"), ",")
	return name
}

func most(tag reflect.StructTag, key string) int {
	n, _ := strconv.Atoi(tag.Get(key)) // schema.Of has refused what is not a number
	return n
}

// structs lists the named structs in the documents, each after those it holds.
func structs() []reflect.Type {
	var found []reflect.Type
	var visit func(t reflect.Type)
	visit = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Slice, reflect.Map:
			visit(t.Elem())
		case reflect.Struct:
			for _, known := range found {
				if known == t {
					return
				}
			}
			for i := range t.NumField() {
				visit(t.Field(i).Type)
			}
			found = append(found, t)
		}
	}
	for _, kind := range Kinds {
		visit(bodies[kind].of)
	}
	return found
}
