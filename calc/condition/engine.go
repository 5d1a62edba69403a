package condition

var engineChecks = []Check{
	{"B27", "Compression", "engine", "car", "Warm, throttle open, all plugs out, the same number of strokes on each. A spoon of oil tells rings from valves.",
		crankingFear + " Coil feed off: no spark near fuel vapour.",
		"No timing cures it. Stop and put the engine right.",
		[]Measure{figure("B27", "spread, lowest below highest", "%",
			most(10, 20, "10 %: a 1970s UK home tune-up guide and compression guidance; 20 to 25 % stop: compression guidance"), "")}},
	{"B28", "Valve clearances", "engine", "car",
		"By the maker's figure, hot or cold as it says, before compression and before timing.", turning,
		"Popping back, a weak idle, compression that misleads.",
		[]Measure{look("B28", "clearances", makersFigures)}},
	{"B29", "Slack of the timing chain", "engine", "car",
		"Turn the crank back until the rotor moves; read the crank degrees.", turning,
		"Jitter, late cam and late spark.",
		[]Measure{figure("B29", "slack", "crank degrees",
			most(5, 10, "3 to 5 normal, 10 to 15 worn out: a forum's slack test"), "")}},
	{"B30", "Manifold vacuum at idle", "engine", "car",
		"Gauge on the manifold, warm, idling. A slow drift is mixture, a regular flick a valve.", running,
		"Low and steady: late ignition, late valves or rings. Very low: a leak. It shows trouble of the engine before ignition work.",
		[]Measure{figure("B30", "steady reading, at sea level", "inHg",
			between(15, 17, 22, 24, "17 to 22 inHg: vacuum-gauge guides; 15 accepted on some sixes and hot cams; one inHg less for each 1000 ft: US Army TM 9-4910-677-14&P"), "")}},
}

// order that wastes least time, common practice: is the engine fit to tune, is
// the distributor fit to set, then the electrics.
var order = []string{"B22", "B28", "B27", "B30", "B29",
	"B1", "B2", "B3", "B4", "B5", "B6", "B7", "B8", "B9", "B10", "B11", "B12", "B13", "B14",
	"B15", "B16", "B17", "B18", "B19", "B20", "B21", "B23", "B24", "B25", "B26"}
