// Package refuse holds the one way this house says no to an input: it names
// the field, what is wrong with it, the limit that applies, and what the
// person can do next. Nothing else in calc reports a bad input.
package refuse
