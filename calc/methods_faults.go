package calc

import "pointsmith/calc/faults"

// faultMethods are those of the fault hunt.
var faultMethods = []Method{
	method("faults.rank",
		"the likeliest causes of what a car does, why, and the test that tells most for its minutes",
		demoHunt, faults.Rank),
	method("faults.list", "what can be told, tested and wrong in the fault hunt, with what to expect on this car",
		`{"car": {"nominalV": 12, "cylinders": 4, "trigger": "points", "ballasted": false}}`, faults.List),
}

// demoHunt is a 6 V car that misses on hills, its feed on file.
const demoHunt = `{"car": {"nominalV": 6, "cylinders": 4, "trigger": "points", "ballasted": false, "coilOhm": 1.3}, "symptoms": ["S01", "S10"], "lastChanged": ["IG14"], "observations": [{"id": "T20", "result": "expected"}], "facts": {"batteryV": 6.2, "feedDropV": 1.5, "spark": {"lengthMm": 3, "colour": "yellow"}}}`
