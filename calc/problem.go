package calc

import (
	"errors"

	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

// Problem is the body of a refusal as sent over HTTP and by the phone's
// worker (RFC 9457, with field, limit and do as extension members).
type Problem struct {
	Type   string `json:"type"`
	Title  string `json:"title"`
	Status int    `json:"status"`
	Detail string `json:"detail"`
	Field  string `json:"field,omitempty"`
	Limit  string `json:"limit,omitempty"`
	Do     string `json:"do,omitempty"`
}

// AsProblem turns any error of Call into a problem: 404 for an unknown
// method, 400 for text that is not JSON, 422 for a refused input, 500 else.
func AsProblem(err error) Problem {
	p := Problem{Status: 500, Title: "The calculation failed", Detail: err.Error(),
		Do: "keep the input and report this; it is a fault of ours"}
	var bad *refuse.Error
	if errors.As(err, &bad) {
		p.Status, p.Title = 422, "This input is refused"
		p.Detail, p.Field, p.Limit, p.Do = bad.Problem, bad.Field, bad.Limit, bad.Do
	}
	switch {
	case errors.Is(err, ErrNoMethod):
		p.Status, p.Title = 404, "There is no such calculation"
	case errors.Is(err, schema.ErrBroken):
		p.Status, p.Title = 400, "This is not JSON"
	}
	p.Type = "urn:pointsmith:problem:" + problemNames[p.Status]
	return p
}

// problemNames stand in an address as they are.
var problemNames = map[int]string{400: "not-json", 404: "no-method", 422: "refused-input", 500: "our-fault"}
