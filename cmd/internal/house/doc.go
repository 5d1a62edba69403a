// Package house keeps the order of the house, by tests alone: which package
// may import which, how long files and functions may be, what stands at the
// top level, and that what is exported says what it means.
package house
