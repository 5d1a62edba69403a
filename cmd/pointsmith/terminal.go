package main

import (
	"fmt"
	"io"
	"strings"
)

// The rules for words on the terminal:
//
// What was asked for goes to standard output, everything else to standard
// error with the program's name in front. No capitals at the start, no full
// stop at the end. A refusal is one line: what is wrong, the limit, what to do.
// Silence means that all is well. Nothing is said twice.

// Exit statuses.
const (
	exitDone    = 0
	exitFailed  = 1
	exitRefused = 2
)

// A terminal is where words go.
type terminal struct {
	out, err io.Writer
}

// say writes what was asked for.
func (t terminal) say(format string, args ...any) { fmt.Fprintf(t.out, format+"\n", args...) }

// warn tells of something that does not stop the work.
func (t terminal) warn(format string, args ...any) {
	t.tell("warning: " + fmt.Sprintf(format, args...))
}

// fail says why the work stops, in one line, and gives back the exit status.
func (t terminal) fail(status int, reason error) int {
	t.tell(reason.Error())
	return status
}

// failWithHint is fail with a guess at what was meant or what helps.
func (t terminal) failWithHint(status int, reason error, hint string) int {
	return t.fail(status, fmt.Errorf("%w; do: %s", reason, hint))
}

func (t terminal) tell(text string) {
	fmt.Fprintln(t.err, "pointsmith: "+strings.Join(strings.Fields(text), " "))
}
