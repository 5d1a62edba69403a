// Package shape is the one description of the garage's documents: their
// fields, what each field is, and its limits. They stand in the struct tags of
// bodies.go, and from there come
//
//	Check, Schema     what the server takes, and what OpenAPI says of it
//	Script            made/shapes.js of the app: filling in, its gate for files, its limits
//	Types             shapes.d.ts: the types of the app's modules
//
// go generate writes the last two; neither is committed. The server hands out
// the script as this program has it, so it is there without go generate too.
//
// Tags read besides those of calc/schema:
//
//	json:",omitempty"    may be left out for good: a page asks whether it is there
//	heading:"yes"        shown as a heading and in lists: some characters are refused
//	figure:"advance.judge spec.driveRatio"
//	                     the field of a calculation that takes the figure typed here. Its
//	                     limits are the figure's, so none is written twice. The server
//	                     never holds a document against them: what was typed stays.
package shape
