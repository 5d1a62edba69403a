package calc

import "pointsmith/calc/record"

// recordMethods are those over what was read of a car through the years.
var recordMethods = []Method{
	method("record.drift", "how fast a figure drifts over miles or time, how far that is known, and when it meets its limit",
		`{"what": "dwell", "points": [{"miles": 41200, "value": 59, "reset": "new-points"}, {"miles": 41650, "value": 60}, {"miles": 42900, "value": 60.5}, {"miles": 44300, "value": 61.5}], "limit": {"min": 57, "max": 63}}`, record.Drift),
}
