package calc

import (
	"pointsmith/calc/advance"
	"pointsmith/calc/clock"
	"pointsmith/calc/quantity"
)

// table is the whole offer, in the order the list is shown.
var table = []Method{
	method("convert", "turn a figure from one unit into another of the same kind",
		`{"value": 20, "from": "inHg", "to": "kPa"}`, quantity.Convert),
	method("time.crank", "how long the crank takes to turn, and how far it turns in a time",
		`{"engineRPM": 3000, "ms": 2.5}`, clock.Crank),
	method("advance.expect", "what the strobe should say: the book's band in crank degrees before TDC at engine speeds",
		`{"spec": `+demoSpec+`, "engineRPM": [800, 1000, 1500, 2000, 3000]}`, advance.Expect),
	method("advance.judge", "readings against the book: base and curve set apart, the part to touch, how sure, and what would disprove it",
		`{"spec": `+demoSpec+`, "readings": [`+demoBench+`, `+demoStrobe+`]}`, advance.Judge),
}
