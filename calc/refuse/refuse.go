package refuse

import "strings"

// Error is a refused input. Field is the path in the input as the caller
// wrote it ("spec.points[2].minDeg"; empty when the whole input is meant).
type Error struct {
	Field   string
	Problem string
	Limit   string
	Do      string
}

// Input refuses one field.
func Input(field, problem, limit, do string) *Error {
	return &Error{Field: field, Problem: problem, Limit: limit, Do: do}
}

// Error gives the refusal as one line: field, problem, limit, next step.
func (e *Error) Error() string {
	var b strings.Builder
	if e.Field != "" {
		b.WriteString(e.Field)
		b.WriteString(": ")
	}
	b.WriteString(e.Problem)
	if e.Limit != "" {
		b.WriteString("; limit: ")
		b.WriteString(e.Limit)
	}
	if e.Do != "" {
		b.WriteString("; do: ")
		b.WriteString(e.Do)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// Under puts a path in front of the field, for a room that checked a part of
// a larger input without knowing where that part stands.
func (e *Error) Under(path string) *Error {
	moved := *e
	switch {
	case path == "":
	case moved.Field == "":
		moved.Field = path
	case strings.HasPrefix(moved.Field, "["):
		moved.Field = path + moved.Field
	default:
		moved.Field = path + "." + moved.Field
	}
	return &moved
}
