package calc

// Examples of the engine bay: the invented cars of the demo again.
const (
	demoCard = `{"car": {"name": "Hartsmere Linnet 1250", "facts": {"year": {"value": "1961", "source": "book"}, "firingOrder": {"value": "1-3-4-2", "source": "book"}}},
  "distributor": {"rotation": "anticlockwise", "firingOrder": [1, 3, 4, 2]}, "spec": ` + demoSpec + `,
  "asSet": {"gap": {"value": "0.015", "unit": "in", "source": "measured"}, "dwellDistDeg": 59, "staticCrankDeg": 8, "strobe": {"engineRPM": 800, "crankDeg": 10.3, "vacuum": "off"}},
  "setBy": "A friend", "date": "2024-05-18", "fuel": "95 RON E5", "nextCheck": "points after 300 miles"}`

	demoFragment = "AQB4K1dGpFpCcoxHYlFJcW5qUaqCT2ZeXmqJAigqYC4kpupA5FkzQ6y5llA-rdWhaUjAE6MpJAFCEh04WYFTmSk4CZEeqRS1IlEbjqaWVG04ggIU2gdxVEgrygRVKMidDxNdA1NdQwvMzoUpWt8B2hGCdG-MYZ0fpVpAAAAA__8"
)
