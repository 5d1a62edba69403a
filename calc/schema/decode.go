package schema

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"pointsmith/calc/refuse"
)

// ErrBroken marks input that is not JSON at all, as against JSON that asks
// for something refused.
var ErrBroken = errors.New("not JSON")

// Broken is the refusal of an input that cannot be read as JSON; errors.Is
// finds ErrBroken in it.
type Broken struct{ Reason *refuse.Error }

// Error gives the refusal in one line.
func (b *Broken) Error() string { return b.Reason.Error() }

// Unwrap lets errors.Is and errors.As find both ErrBroken and the refusal.
func (b *Broken) Unwrap() []error { return []error{ErrBroken, b.Reason} }

// Decode reads in as T, strictly: unknown fields, wrong types, values outside
// their limits, missing required fields and trailing data are refused with
// the path of the field, the limit, and what to do.
func Decode[T any](in []byte) (T, error) {
	var out T
	tree, err := readTree(in)
	if err != nil {
		return out, err
	}
	root := Field{Kind: "object", Object: ptr(Of[T]())}
	if bad := root.check("", tree); bad != nil {
		return out, bad
	}
	if err := json.Unmarshal(in, &out); err != nil {
		return out, broken(err.Error())
	}
	return out, nil
}

func ptr[T any](x T) *T { return &x }

func broken(problem string) error {
	return &Broken{refuse.Input("", "the input is not valid JSON: "+problem, "one JSON object",
		"check for a missing quote, comma or bracket; NaN and Infinity are not JSON numbers")}
}

func readTree(in []byte) (any, error) {
	if len(bytes.TrimSpace(in)) == 0 {
		return nil, broken("it is empty")
	}
	if !utf8.Valid(in) {
		return nil, broken("it is not UTF-8 text")
	}
	d := json.NewDecoder(bytes.NewReader(in))
	d.UseNumber()
	var tree any
	if err := d.Decode(&tree); err != nil {
		return nil, broken(err.Error())
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, broken("something follows the closing bracket")
	}
	return tree, nil
}

// check holds value against f and returns the first refusal, or nil. Null is
// the same as absent for anything that is not required.
func (f Field) check(path string, value any) *refuse.Error {
	if value == nil {
		if f.Required || path == "" {
			return refuse.Input(path, "is missing", "required"+unitIn(f.Unit), "give a value")
		}
		return nil
	}
	switch f.Kind {
	case "number", "integer":
		return f.checkNumber(path, value)
	case "text":
		return f.checkText(path, value)
	case "truth":
		if _, ok := value.(bool); !ok {
			return wrongKind(path, value, "true or false")
		}
	case "list":
		return f.checkList(path, value)
	case "map":
		return f.checkMap(path, value)
	case "object":
		return f.checkObject(path, value)
	}
	return nil
}

func (f Field) checkNumber(path string, value any) *refuse.Error {
	n, ok := value.(json.Number)
	if !ok {
		return wrongKind(path, value, "a number"+unitIn(f.Unit))
	}
	x, err := n.Float64()
	if err != nil || math.IsInf(x, 0) {
		return refuse.Input(path, "the number "+short(n.String())+" is too large to work with", f.limits(),
			"check the figure and its unit")
	}
	if f.Kind == "integer" && x != math.Trunc(x) {
		return refuse.Input(path, short(n.String())+" is not a whole number", f.limits(), "give a whole number")
	}
	low := f.Min != nil && x < *f.Min || f.Over != nil && x <= *f.Over
	high := f.Max != nil && x > *f.Max || f.Under != nil && x >= *f.Under
	if low {
		return refuse.Input(path, short(n.String())+" is too small", f.limits(), "check the figure and its unit")
	}
	if high {
		return refuse.Input(path, short(n.String())+" is too large", f.limits(), "check the figure and its unit")
	}
	return nil
}

func (f Field) checkText(path string, value any) *refuse.Error {
	s, ok := value.(string)
	if !ok {
		return wrongKind(path, value, "text in quotes")
	}
	if len(f.Enum) > 0 && !slices.Contains(f.Enum, s) {
		return refuse.Input(path, strconv.Quote(short(s))+" is not known", f.choices(), "choose one of them")
	}
	if n := utf8.RuneCountInString(s); f.MaxLen > 0 && n > f.MaxLen {
		return refuse.Input(path, fmt.Sprintf("has %d characters", n), fmt.Sprintf("at most %d characters", f.MaxLen),
			"shorten it")
	}
	return nil
}

func (f Field) checkList(path string, value any) *refuse.Error {
	items, ok := value.([]any)
	if _, one := value.(map[string]any); one && f.OneAllowed {
		return f.Items.check(path, value)
	}
	if !ok {
		return wrongKind(path, value, "a list in [ ]")
	}
	if len(items) < f.MinItems {
		return refuse.Input(path, fmt.Sprintf("has %d entries", len(items)), fmt.Sprintf("at least %d", f.MinItems),
			"add more")
	}
	if f.MaxItems > 0 && len(items) > f.MaxItems {
		return refuse.Input(path, fmt.Sprintf("has %d entries", len(items)), fmt.Sprintf("at most %d", f.MaxItems),
			"leave some out")
	}
	for i, item := range items {
		at := fmt.Sprintf("%s[%d]", path, i)
		if item == nil {
			return refuse.Input(at, "is null", "a value", "fill it in or leave the entry out")
		}
		if bad := f.Items.check(at, item); bad != nil {
			return bad
		}
	}
	return nil
}

func (f Field) checkMap(path string, value any) *refuse.Error {
	entries, ok := value.(map[string]any)
	if !ok {
		return wrongKind(path, value, "an object in { }")
	}
	if f.MaxItems > 0 && len(entries) > f.MaxItems {
		return refuse.Input(path, fmt.Sprintf("has %d entries", len(entries)), fmt.Sprintf("at most %d", f.MaxItems),
			"leave some out")
	}
	for _, key := range sortedKeys(entries) {
		if bad := f.Items.check(join(path, short(key)), entries[key]); bad != nil {
			return bad
		}
	}
	return nil
}

func (f Field) checkObject(path string, value any) *refuse.Error {
	entries, ok := value.(map[string]any)
	if !ok {
		return wrongKind(path, value, "an object in { }")
	}
	for _, key := range sortedKeys(entries) {
		if !slices.ContainsFunc(f.Object.Fields, func(g Field) bool { return g.Name == key }) {
			return refuse.Input(join(path, short(key)), "is not a known field", "known fields: "+f.Object.names(),
				"check the spelling, or leave it out")
		}
	}
	for _, g := range f.Object.Fields {
		if bad := g.check(join(path, g.Name), entries[g.Name]); bad != nil {
			return bad
		}
	}
	return nil
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (o Object) names() string {
	names := make([]string, len(o.Fields))
	for i, f := range o.Fields {
		names[i] = f.Name
	}
	return strings.Join(names, ", ")
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func wrongKind(path string, value any, want string) *refuse.Error {
	got := "an object"
	switch v := value.(type) {
	case string:
		got = "the text " + strconv.Quote(short(v))
	case json.Number:
		got = "the number " + short(v.String())
	case bool:
		got = strconv.FormatBool(v)
	case []any:
		got = "a list"
	}
	return refuse.Input(path, "is "+got, want, "give "+want)
}

// choices lists an enum in words.
func (f Field) choices() string {
	words := make([]string, len(f.Enum))
	for i, e := range f.Enum {
		words[i] = e
		if e == "" {
			words[i] = "left empty"
		}
	}
	return strings.Join(words, " or ")
}

// short keeps a hostile value from filling the message.
func short(s string) string {
	if utf8.RuneCountInString(s) <= 40 {
		return s
	}
	return string([]rune(s)[:40]) + "…"
}

func unitIn(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

// limits gives the allowed range in words.
func (f Field) limits() string {
	show := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	var parts []string
	if f.Min != nil {
		parts = append(parts, "at least "+show(*f.Min))
	}
	if f.Over != nil {
		parts = append(parts, "more than "+show(*f.Over))
	}
	if f.Max != nil {
		parts = append(parts, "at most "+show(*f.Max))
	}
	if f.Under != nil {
		parts = append(parts, "less than "+show(*f.Under))
	}
	if len(parts) == 0 {
		return "a finite number" + unitIn(f.Unit)
	}
	return strings.Join(parts, " and ") + unitSuffix(f.Unit)
}

func unitSuffix(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}
