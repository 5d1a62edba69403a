// Package turns lets a few at a time do something that takes long, and the rest
// wait their turn: a [Lane] is entered and left. Who asks often waits behind who
// asks seldom, so that nobody fills a lane for the others.
package turns
