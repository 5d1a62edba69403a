package calc

import (
	"slices"

	"pointsmith/calc/advance"
	"pointsmith/calc/clock"
	"pointsmith/calc/quantity"
)

// table is the whole offer, in the order the list is shown.
var table = slices.Concat([]Method{
	method("convert", "turn a figure from one unit into another of the same kind",
		`{"value": 20, "from": "inHg", "to": "kPa"}`, quantity.Convert),
	method("time.crank", "how long the crank takes to turn, and how far it turns in a time",
		`{"engineRPM": 3000, "ms": 2.5}`, clock.Crank),
	method("advance.expect", "what the strobe should say: the book's band in crank degrees before TDC at engine speeds",
		`{"spec": `+demoSpec+`, "engineRPM": [800, 1000, 1500, 2000, 3000]}`, advance.Expect),
	method("advance.judge",
		"readings against the book: base and curve set apart, the part to touch, how sure, and what would disprove it",
		`{"spec": `+demoSpec+`, "readings": [`+demoBench+`, `+demoStrobe+`]}`, advance.Judge),
	method("advance.fit", "the two-spring governor behind the readings, with the interval of each figure and what the readings cannot decide",
		`{"readings": `+demoBench+`}`, advance.Fit),
	method("advance.whatif", "what the curve becomes when springs, posts, weights or the stop are changed",
		`{"model": {"startDistRPM": 250, "primaryRate": 0.09, "secondaryRate": 0.5, "kneeDistDeg": 7, "limitDistDeg": 13, "frictionDistDeg": 0.3, "weightGrowth": 0.015}, "change": {"primarySpring": 1.2, "slackDistDeg": -1}}`, advance.WhatIf),
	method("advance.prescribe",
		"the smallest change of springs, posts or stop that brings the curve into the book's band",
		`{"spec": `+demoSpec+`, "readings": `+demoBench+`, "allow": {"stop": false}}`, advance.Prescribe),
}, bayMethods, sparkMethods, faultMethods, engineMethods, recordMethods, figureMethods, shelfMethods, turnMethods)
