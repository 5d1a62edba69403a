// Package schema reads the shape of an input from the Go struct that holds
// it, so that each field's name, unit, limits and meaning stand in one place:
// the struct tag. From that shape come the strict reading of JSON (Decode),
// the method list of the command line, the forms of the phone and the
// OpenAPI document.
//
// Tags read:
//
//	json:"name"          the name; ",omitempty" marks the field optional
//	unit:"engine rpm"    the unit in words
//	min:"0" max:"10"     closed limits; over:"0" and under:"10" are open ones
//	enum:"crank|distributor"
//	maxLen:"80"          longest text
//	minItems:"1" maxItems:"400"
//	help:"..."           what the field means, one sentence
//	need:"yes"           required
//
// A pointer field is optional and stays nil when absent or null: unknown
// stays unknown.
package schema
