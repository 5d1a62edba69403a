package main

import (
	"fmt"
	"io"
	"strings"

	"pointsmith/cmd/internal/plain"
)

// The rules for words on the terminal:
//
// What was asked for goes to standard output, everything else to standard
// error with the program's name in front. No capitals at the start, no full
// stop at the end. A refusal is one line: what is wrong, the limit, what to do.
// Silence means that all is well. Nothing is said twice. What came from elsewhere
// is said as plain text: no escape sequence reaches the terminal, no name fills it.

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

// How much is said of a text. A path has 4,096 bytes at most on most systems, a
// reason names a few of them; a name has 80 characters where it is typed, and
// nobody can say how many in a file from elsewhere.
const (
	wordBytes   = 4096
	reasonBytes = 4 * wordBytes
	nameBytes   = 200
)

// say writes what was asked for. Texts among args are made plain.
func (t terminal) say(format string, args ...any) {
	fmt.Fprintf(t.out, format+"\n", plainly(args)...)
}

// show writes a text of ours of many lines.
func (t terminal) show(text string) { fmt.Fprintln(t.out, text) }

func plainly(args []any) []any {
	said := make([]any, len(args))
	for n, arg := range args {
		switch arg := arg.(type) {
		case string:
			said[n] = plain.Text(arg, wordBytes)
		case error:
			said[n] = plain.Text(arg.Error(), wordBytes)
		case fmt.Stringer:
			said[n] = plain.Text(arg.String(), wordBytes)
		default:
			said[n] = arg
		}
	}
	return said
}

// named is a name that somebody typed, or that stands in a file.
func named(name string) string { return plain.Text(name, nameBytes) }

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
	fmt.Fprintln(t.err, "pointsmith: "+plain.Text(strings.Join(strings.Fields(text), " "), reasonBytes))
}
