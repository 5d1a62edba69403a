package calc

import (
	"encoding/json"
	"errors"
	"fmt"

	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

// ErrNoMethod marks a call of a method that is not in the table.
var ErrNoMethod = errors.New("no such method")

// Method is one row of the table.
type Method struct {
	Name    string          `json:"name"`
	Summary string          `json:"summary"`
	In      schema.Object   `json:"in"`
	Out     schema.Object   `json:"out"`
	Example json.RawMessage `json:"example"`
	// MaxInput is the most bytes the JSON of its input may have.
	MaxInput int `json:"maxInput"`
	call     func([]byte) ([]byte, error)
}

// maxInput is the most bytes an input may have. Chosen: a hundred times what a
// car with every table filled comes to.
const maxInput = 1 << 20

// MaxInput is the most bytes the input of a method may have; of an unknown one
// as of most.
func MaxInput(name string) int {
	for _, m := range table {
		if m.Name == name {
			return m.MaxInput
		}
	}
	return maxInput
}

// large gives a method room for a larger input.
func large(m Method, most int) Method {
	m.MaxInput = most
	return m
}

// method makes a row from a room's function.
func method[In, Out any](name, summary, example string, fn func(In) (Out, error)) Method {
	return Method{Name: name, Summary: summary, In: schema.Of[In](), Out: schema.Of[Out](),
		Example: json.RawMessage(example), MaxInput: maxInput,
		call: func(raw []byte) ([]byte, error) {
			in, err := schema.Decode[In](raw)
			if err != nil {
				return nil, err
			}
			out, err := fn(in)
			if err != nil {
				return nil, err
			}
			// No list leaves as null; encoding/json refuses NaN and infinities, so none
			// of these leaves either.
			text, err := json.Marshal(schema.Whole(out))
			if err != nil {
				return nil, fmt.Errorf("%s gave no finite answer for this input: %v", name, err)
			}
			return text, nil
		}}
}

// Call runs one method on a JSON object and gives a JSON object.
//
// Errors: ErrNoMethod for an unknown name, schema.ErrBroken for input that is
// not JSON, *refuse.Error for input outside its limits (errors.As finds it in
// all three); any other error is ours, never the caller's.
func Call(name string, in []byte) ([]byte, error) {
	for _, m := range table {
		if m.Name == name {
			return m.call(in)
		}
	}
	return nil, &noMethod{refuse.Input("method", fmt.Sprintf("%.40q is not a method", name),
		"one of the listed methods", "list them with pointsmith calc, or GET /api/v1/calc")}
}

type noMethod struct{ reason *refuse.Error }

func (e *noMethod) Error() string   { return e.reason.Error() }
func (e *noMethod) Unwrap() []error { return []error{ErrNoMethod, e.reason} }

// Describe lists the methods in the order of the table.
func Describe() []Method { return append([]Method(nil), table...) }
