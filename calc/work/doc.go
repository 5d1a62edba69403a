// Package work is the room of the order of work: which step comes next on a
// car, which has to be done again and because of what, what is in the way,
// what has to be put back, and when to look again.
//
// The chain (engine fit to tune, wear, points, static, strobe base, curve,
// vacuum, idle, mixture), what each step needs, what each change undoes, and
// the list of things to put back are data: chain.go and restore.go. The rules
// that read them are few: a step is done when it was judged good after the
// last change that touches it; it is to be done again when a change came
// later, or when it failed; it is blocked while something it needs is not
// done; unknown stays unknown.
package work
