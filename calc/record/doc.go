// Package record draws conclusions from what was read of one car over months
// and miles: how fast a figure drifts, and when it meets its limit.
//
// A heel that wears closes the gap: dwell grows and the spark comes later. So
// dwell and base have a usual rate, known before any reading, and the car's
// own readings are weighed against it. The files: history.go takes the input
// apart, belief.go holds every figure known beforehand, node.go and weigh.go
// do the inference, due.go meets the limit, say.go has the words.
package record
