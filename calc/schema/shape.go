package schema

import (
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// Object is the shape of one JSON object.
type Object struct {
	Fields []Field `json:"fields"`
}

// Field is one named value of an object. Kind is number, integer, text,
// truth, list, map, object or any. Limits are nil or empty when there are none.
type Field struct {
	Name     string   `json:"name"`
	Kind     string   `json:"kind"`
	Unit     string   `json:"unit,omitempty"`
	Help     string   `json:"help,omitempty"`
	Required bool     `json:"required,omitempty"`
	Min      *float64 `json:"min,omitempty"`
	Max      *float64 `json:"max,omitempty"`
	Over     *float64 `json:"over,omitempty"`
	Under    *float64 `json:"under,omitempty"`
	Enum     []string `json:"enum,omitempty"`
	MaxLen   int      `json:"maxLen,omitempty"`
	MinItems int      `json:"minItems,omitempty"`
	MaxItems int      `json:"maxItems,omitempty"`
	// OneAllowed: a list that may also be given as its one member.
	OneAllowed bool `json:"oneAllowed,omitempty"`
	// Items is the shape of a list's or map's members.
	Items *Field `json:"items,omitempty"`
	// Object is the shape of an object field.
	Object *Object `json:"object,omitempty"`
}

// OneOrMany marks a list type whose JSON may also be its one member alone.
// The type's own UnmarshalJSON has to take both.
type OneOrMany interface{ MayBeOne() }

// Of gives the shape of struct T. It is read from the tags once; who gets it
// must not change it.
func Of[T any]() Object {
	t := reflect.TypeFor[T]()
	if shape, is := shapes.Load(t); is {
		return shape.(Object)
	}
	shape := objectOf(t)
	shapes.Store(t, shape)
	return shape
}

var shapes sync.Map // reflect.Type to Object

func objectOf(t reflect.Type) Object {
	var o Object
	for i := range t.NumField() {
		sf := t.Field(i)
		if sf.Anonymous && sf.Tag.Get("json") == "" {
			o.Fields = append(o.Fields, objectOf(sf.Type).Fields...)
			continue
		}
		name, _, _ := strings.Cut(sf.Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		f := fieldOf(sf.Type, sf.Tag)
		f.Name = name
		o.Fields = append(o.Fields, f)
	}
	return o
}

func fieldOf(t reflect.Type, tag reflect.StructTag) Field {
	f := Field{Unit: tag.Get("unit"), Help: tag.Get("help"), Required: tag.Get("need") == "yes",
		MaxLen: whole(tag, "maxLen"), MinItems: whole(tag, "minItems"), MaxItems: whole(tag, "maxItems"),
		Min: number(tag, "min"), Max: number(tag, "max"), Over: number(tag, "over"), Under: number(tag, "under")}
	if e := tag.Get("enum"); e != "" {
		f.Enum = strings.Split(e, "|")
	}
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	f.OneAllowed = t.Implements(reflect.TypeFor[OneOrMany]())
	switch t.Kind() {
	case reflect.Float64:
		f.Kind = "number"
	case reflect.Int, reflect.Int64:
		f.Kind = "integer"
	case reflect.String:
		f.Kind = "text"
	case reflect.Bool:
		f.Kind = "truth"
	case reflect.Slice, reflect.Array, reflect.Map:
		f.collect(t)
	case reflect.Struct:
		f.Kind = "object"
		o := objectOf(t)
		f.Object = &o
	default:
		f.Kind = "any"
	}
	return f
}

// collect fills in a list or map. The number and text limits of its tag
// belong to the members, the item counts to the list itself.
func (f *Field) collect(t reflect.Type) {
	f.Kind = "list"
	if t.Kind() == reflect.Map {
		f.Kind = "map"
	}
	if t.Elem().Kind() == reflect.Uint8 { // json.RawMessage
		f.Kind = "any"
		return
	}
	item := fieldOf(t.Elem(), "")
	item.Min, item.Max, item.Over, item.Under = f.Min, f.Max, f.Over, f.Under
	item.Enum, item.MaxLen, item.Unit = f.Enum, f.MaxLen, f.Unit
	f.Min, f.Max, f.Over, f.Under, f.Enum, f.MaxLen = nil, nil, nil, nil, nil, 0
	f.Items = &item
}

func number(tag reflect.StructTag, key string) *float64 {
	s := tag.Get(key)
	if s == "" {
		return nil
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("schema: tag " + key + " is not a number: " + s)
	}
	return &x
}

func whole(tag reflect.StructTag, key string) int {
	if x := number(tag, key); x != nil {
		return int(*x)
	}
	return 0
}

// JSONSchema gives the shape as a JSON Schema (2020-12) object, for OpenAPI.
func (o Object) JSONSchema() map[string]any {
	props := map[string]any{}
	required := []string{}
	for _, f := range o.Fields {
		props[f.Name] = f.jsonSchema()
		if f.Required {
			required = append(required, f.Name)
		}
	}
	s := map[string]any{"type": "object", "properties": props, "additionalProperties": false}
	if len(required) > 0 {
		s["required"] = required
	}
	return s
}

func (f Field) jsonSchema() map[string]any {
	if f.Kind == "object" {
		s := f.Object.JSONSchema()
		if f.Help != "" {
			s["description"] = f.Help
		}
		return s
	}
	types := map[string]string{"number": "number", "integer": "integer", "text": "string", "truth": "boolean",
		"list": "array", "map": "object"}
	s := map[string]any{}
	if t, ok := types[f.Kind]; ok {
		s["type"] = t
	}
	put := func(key string, x any, given bool) {
		if given {
			s[key] = x
		}
	}
	put("description", strings.TrimSpace(f.Help+unitNote(f.Unit)), f.Help != "" || f.Unit != "")
	put("minimum", f.Min, f.Min != nil)
	put("maximum", f.Max, f.Max != nil)
	put("exclusiveMinimum", f.Over, f.Over != nil)
	put("exclusiveMaximum", f.Under, f.Under != nil)
	put("enum", f.Enum, len(f.Enum) > 0)
	put("maxLength", f.MaxLen, f.MaxLen > 0)
	put("minItems", f.MinItems, f.MinItems > 0)
	put("maxItems", f.MaxItems, f.MaxItems > 0)
	if f.Items != nil {
		key := "items"
		if f.Kind == "map" {
			key = "additionalProperties"
		}
		s[key] = f.Items.jsonSchema()
	}
	if f.OneAllowed {
		return map[string]any{"oneOf": []any{s, f.Items.jsonSchema()}}
	}
	return s
}

func unitNote(unit string) string {
	if unit == "" {
		return ""
	}
	return " Unit: " + unit + "."
}
