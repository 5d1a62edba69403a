package calc

// The examples are the invented four-cylinder of the demo: a table in
// distributor degrees at distributor rpm, base 8 before TDC not included.
const (
	demoSpec = `{"angleUnit": "distributor", "speedUnit": "distributor", "base": "excluded", "baseCrankDeg": 8,
  "points": [{"rpm": 300, "minDeg": 0, "maxDeg": 1}, {"rpm": 450, "minDeg": 0.5, "maxDeg": 2.5}, {"rpm": 700, "minDeg": 4, "maxDeg": 6},
    {"rpm": 1000, "minDeg": 7, "maxDeg": 9}, {"rpm": 1500, "minDeg": 9, "maxDeg": 11}, {"rpm": 2000, "minDeg": 11, "maxDeg": 13}, {"rpm": 2500, "minDeg": 12, "maxDeg": 14}]}`

	demoBench = `{"name": "bench", "place": "bench", "angleUnit": "distributor", "speedUnit": "distributor", "base": "excluded",
  "points": [{"rpm": 300, "deg": 3.5, "direction": "rising"}, {"rpm": 450, "deg": 7.5, "direction": "rising"}, {"rpm": 700, "deg": 10.5, "direction": "rising"},
    {"rpm": 1000, "deg": 12, "direction": "rising"}, {"rpm": 1500, "deg": 13, "direction": "rising"}, {"rpm": 2000, "deg": 13, "direction": "rising"}, {"rpm": 2500, "deg": 13, "direction": "rising"},
    {"rpm": 2000, "deg": 13, "direction": "falling"}, {"rpm": 1500, "deg": 13, "direction": "falling"}, {"rpm": 1000, "deg": 12.5, "direction": "falling"},
    {"rpm": 700, "deg": 11.5, "direction": "falling"}, {"rpm": 450, "deg": 8.5, "direction": "falling"}, {"rpm": 300, "deg": 4.5, "direction": "falling"}]}`

	demoStrobe = `{"name": "strobe", "place": "car", "angleUnit": "crank", "speedUnit": "engine", "base": "included", "vacuum": "off",
  "points": [{"rpm": 800, "deg": 8}, {"rpm": 1000, "deg": 11.9}, {"rpm": 1500, "deg": 17.2}, {"rpm": 2000, "deg": 19.7}, {"rpm": 3000, "deg": 21.7}, {"rpm": 4000, "deg": 21.7}]}`
)
