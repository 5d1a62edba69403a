// Package admin is the way from the command line to the server that holds a
// garage file: a listener on loopback whose address and token stand in a file
// beside the garage file, readable by its owner only.
//
// A server opens it with [Open]; a verb reaches it with [Dial], which returns
// [ErrNoServer] when none runs, so that the verb can use the file itself.
package admin
