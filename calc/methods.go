package calc

import (
	"pointsmith/calc/clock"
	"pointsmith/calc/quantity"
)

// table is the whole offer, in the order the list is shown.
var table = []Method{
	method("convert", "turn a figure from one unit into another of the same kind",
		`{"value": 20, "from": "inHg", "to": "kPa"}`, quantity.Convert),
	method("time.crank", "how long the crank takes to turn, and how far it turns in a time",
		`{"engineRPM": 3000, "ms": 2.5}`, clock.Crank),
}
