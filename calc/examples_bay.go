package calc

// Examples of the engine bay: the invented cars of the demo again.
const (
	demoCard = `{"car": {"name": "Hartsmere Linnet 1250", "facts": {"year": {"value": "1961", "source": "book"}, "firingOrder": {"value": "1-3-4-2", "source": "book"}}},
  "distributor": {"rotation": "anticlockwise", "firingOrder": [1, 3, 4, 2]}, "spec": ` + demoSpec + `,
  "asSet": {"gap": {"value": "0.015", "unit": "in", "source": "measured"}, "dwellDistDeg": 59, "staticCrankDeg": 8, "strobe": {"engineRPM": 800, "crankDeg": 10.3, "vacuum": "off"}},
  "setBy": "A friend", "date": "2024-05-18", "fuel": "95 RON E5", "nextCheck": "points after 300 miles"}`

	demoFragment = "AQB4K1dGpFpCcoxHYlFJcW5qUaqCT2ZeXmqJAigqYC4kpupA5FkzQ6y5llA-rdWhaUjAE6MpJAFCEh04WYFTmSk4CZEeqRS1IlEbjqaWVG04ggIU2gdxVEgrygRVKMidDxNdA1NdQwvMzoUpWt8B2hGCdG-MYZ0fpVpAAAAA__8"

	demoCapsule = `{"kind": "advance", "code": {"text": "4-12-7", "meaning": ["start", "full", "max"], "vacuumUnit": "inHg", "angleUnit": "distributor"}}`
	demoPumped  = `[{"kPa": 10, "distDeg": 0}, {"kPa": 20, "distDeg": 1.4}, {"kPa": 30, "distDeg": 4.2}, {"kPa": 41, "distDeg": 6.5}, {"kPa": 50, "distDeg": 6.5}, {"kPa": 30, "distDeg": 4.6, "direction": "falling"}]`

	// four cylinders at 800 engine rpm, tapped out
	demoPulses = `[0.7, 38.5, 75.9, 113.6, 151.1, 188.1, 225.5, 263.8, 300.8, 338.2, 376.5, 413.5, 451.3, 488.5, 526.1, 563.2, 601.1, 638.9, 676.0, 713.7, 751.2, 788.1, 826.3, 863.6, 900.8, 938.0, 976.4, 1013.5]`

	demoEvents = `[{"at": "2024-05-18T08:00:00Z", "step": "fit", "verdict": "pass", "what": "compressions 158-162-155-160"}, {"at": "2024-05-18T08:20:00Z", "step": "wear", "verdict": "pass"},
  {"at": "2024-05-18T08:40:00Z", "step": "points", "verdict": "pass", "changed": "points-fitted", "odometerMiles": 61000}, {"at": "2024-05-18T09:00:00Z", "step": "static", "verdict": "pass"},
  {"at": "2024-05-18T09:30:00Z", "step": "base", "verdict": "pass", "undone": ["vacuum-pipe"]}, {"at": "2024-05-18T10:00:00Z", "step": "points", "verdict": "pass", "changed": "dwell-set", "what": "59 to 61"}]`
)
