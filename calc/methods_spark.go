package calc

import (
	"pointsmith/calc/coil"
	"pointsmith/calc/condition"
	"pointsmith/calc/points"
	"pointsmith/calc/spark"
	"pointsmith/calc/supply"
)

// sparkMethods are those about the strength of the spark, battery to plug.
var sparkMethods = []Method{
	method("points.dwell", "what a dwell means in percent and in time at a speed",
		`{"cylinders": 4, "dwellDistDeg": 60, "engineRPM": 5000}`, points.Dwell),
	method("points.shift", "what a change of dwell does to the timing",
		`{"dwellFromDistDeg": 60, "dwellToDistDeg": 63}`, points.Shift),
	method("points.learn", "how gap and dwell go together on this very distributor, from its own pairs",
		`{"cylinders": 4, "pairs": [{"gapMm": 0.35, "dwellDistDeg": 63}, {"gapMm": 0.41, "dwellDistDeg": 58.5}], "gapMm": 0.38}`, points.Learn),
	method("points.judge",
		"points against the book and against themselves: dwell over speed and vacuum, gap against dwell, which to trust",
		`{"cylinders": 4, "state": "used", "gapMm": 0.38, "gapBookMm": {"min": 0.35, "max": 0.40}, "dwellDistDeg": 52, "dwellBookDistDeg": {"min": 57, "max": 63}, "speeds": [{"engineRPM": 800, "dwellDistDeg": 52}, {"engineRPM": 1500, "dwellDistDeg": 51}]}`, points.Judge),
	method("coil.charge", "current and energy of a coil when the points open",
		`{"supplyV": 12, "totalOhm": 3, "inductanceMilliH": 8, "chargeMs": 6}`, coil.Charge),
	method("coil.break", "how high primary and secondary swing when the points open",
		`{"supplyV": 12, "totalOhm": 3, "inductanceMilliH": 8, "currentA": 3.5784, "condenserMicroF": 0.2, "turnsRatio": 65, "secondaryPicoF": 50}`, coil.Break),
	method("coil.sweep", "the spark over speed for the car as it is: available against required, the start, and the heat with the engine stopped",
		`{"supplyV": 13.8, "cylinders": 4, "engineRPM": [800, 1500, 3000, 5000], "coil": {"primaryOhm": 3.1}, "points": {"dwellDistDeg": 60}, "plug": {"gapMm": 0.6}, "engine": {"compressionRatio": 8.3}}`, coil.Sweep),
	method("coil.polarity", "which way round the spark jumps, and which terminal the distributor's wire belongs on",
		`{"earth": "positive", "marks": "plus-minus", "distributorTerminal": "-"}`, coil.Polarity),
	method("condenser.judge", "a condenser against its coil: too small, too large, leaking, and what pitting hints at",
		`{"supplyV": 13.8, "condenserMicroF": 0.12, "earth": "negative", "pit": "fixed"}`, coil.JudgeCondenser),
	method("spark.breakdown", "the sparking voltage of a gap, by one of three laws",
		`{"law": "uniform", "gapMm": 0.6, "pressureKPa": 101.3, "temperatureC": 20}`, spark.Breakdown),
	method("spark.required", "the range of voltage a plug may ask for in the cylinder",
		`{"gapMm": 0.6, "engine": {"compressionRatio": 8.3, "sparkCrankDeg": 20}}`, spark.Required),
	method("supply.judge",
		"volts from battery to points and back: drop and resistance of each stretch, and the faulty connection",
		`{"nominalV": 12, "earth": "positive", "state": "closed", "coilOhm": 3.1, "readings": [{"at": "battery", "volts": 12.6}, {"at": "switchIn", "volts": 12.5}, {"at": "switchOut", "volts": 11.1}, {"at": "coilFeed", "volts": 11.0}, {"at": "coilPoints", "volts": 0.15}, {"at": "distributor", "volts": 0.08}, {"at": "body", "volts": 0.02}]}`, supply.Judge),
	method("condition.list",
		"the checks before any setting, in the order that wastes least time, with limits and their sources",
		`{"car": {"nominalV": 12, "ballasted": false}}`, condition.List),
	method("condition.judge", "results of those checks against the limits, general or the car's own",
		`{"car": {"nominalV": 12, "ballasted": false}, "results": [{"measure": "B1", "value": 0.002}, {"measure": "B8", "seen": "doubtful"}, {"measure": "B11", "value": 0.25}, {"measure": "B3", "skipped": "distributor stays in the car"}, {"measure": "B10", "value": 22, "own": {"passMin": 18, "passMax": 24, "source": "workshop manual"}}]}`, condition.Judge),
}
