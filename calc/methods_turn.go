package calc

import "pointsmith/calc/turn"

// turnMethods are those that lay other methods side by side on one crank. The example is the demo's four-cylinder with
// the engine of an invented saloon.
var turnMethods = []Method{
	method("time.turn", "one whole cycle, crank degree by crank degree: piston, rotor, points, coil, spark, fire and pressure",
		`{"engineRPM": 3000, "vacuumKPa": 35, "cylinders": 4, "firingOrder": [1, 3, 4, 2], "spec": `+demoSpec+`, "engine": {"boreMm": 76.2, "strokeMm": 80, "rodMm": 146, "compressionRatio": 8.3, "chamber": "bathtub"}, "capsule": {"kind": "advance", "startKPa": 13.5, "fullKPa": 40.6, "maxDistDeg": 7}, "supplyV": 13.8, "points": {"dwellDistDeg": 60}, "coil": {"primaryOhm": 3.1, "condenserMicroF": 0.2}, "plug": {"gapMm": 0.6}}`, turn.Turn),
}
