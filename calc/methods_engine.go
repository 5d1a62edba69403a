package calc

import (
	"pointsmith/calc/engine"
	"pointsmith/calc/engine/budget"
	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/engine/flame"
	"pointsmith/calc/engine/knock"
)

// The engine of the examples, an invented V8 of raised compression, and the knock
// heard on it.
const (
	demoEngine = `{"boreMm": 99, "strokeMm": 84, "compressionRatio": 9.6, "chamber": "wedge", "cam": "mild"}`
	demoKnock  = `{"knock": [{"engineRPM": 3000, "load": 1, "crankDeg": 38, "heard": "trace", "fuel": {"octane": 98, "scale": "RON"}, "distributor": "sound"}, {"engineRPM": 1600, "load": 1, "crankDeg": 24, "heard": "trace", "fuel": {"octane": 98, "scale": "RON"}, "distributor": "sound"}]}`
)

// demoPlace is one place as combustion.places gives it.
const demoPlace = `{"name": "full throttle", "engineRPM": 3000, "mbtCrankDeg": 34, "mbtLowCrankDeg": 31, "mbtHighCrankDeg": 37, "knockLimitLowCrankDeg": 36, "mostCrankDeg": 34, "hasKnockLimit": true, "costs": [{"errorCrankDeg": -4, "lowPercent": 0, "highPercent": 3.9}, {"errorCrankDeg": 0, "lowPercent": 0, "highPercent": 1.9}]}`

// engineMethods are those of the engine's own physics: burning, best timing,
// knock, and what base, stop and total have to be.
var engineMethods = []Method{
	method("advance.budget", "base, stop and total: the one that follows from the other two, and the margin to knock of the earliest cylinder",
		`{"totalCrankDeg": 34, "limitDistDeg": 11, "curve": [{"engineRPM": 900, "crankDeg": 0}, {"engineRPM": 1300, "crankDeg": 6}, {"engineRPM": 2000, "crankDeg": 15}, {"engineRPM": 2800, "crankDeg": 21}, {"engineRPM": 3000, "crankDeg": 22}], "knock": [{"engineRPM": 3000, "crankDeg": 38, "distributor": "sound"}, {"engineRPM": 1600, "crankDeg": 24, "distributor": "sound"}], "scatter": {"errorsDistDeg": [0, 0.4, -0.3, 1.2, -0.5, 0.2, -0.9, 0.1], "firingOrder": [1, 8, 4, 3, 6, 5, 7, 2]}}`, budget.Budget),
	method("combustion.best", "the timing of best torque and where knock begins at a speed and load, each a range, and what a degree costs",
		`{"engine": `+demoEngine+`, "fuel": {"octane": 98, "scale": "RON"}, "air": {"altitudeM": 300}, "engineRPM": 3000, "load": 1, "records": `+demoKnock+`}`, engine.Best),
	method("combustion.map", "best timing, knock limit and the cost of lateness over speed and manifold vacuum",
		`{"engine": `+demoEngine+`, "fuel": {"octane": 98, "scale": "RON"}, "engineRPM": [800, 1600, 2400, 3200, 4000], "vacuumKPa": [0, 20, 40, 60], "coarse": true}`, engine.Map),
	method("combustion.target", "a curve that keeps to best timing and to the knock limit: base, stop, total, capsule, and the table for the other methods",
		`{"engine": `+demoEngine+`, "fuel": {"octane": 98, "scale": "RON"}, "air": {"altitudeM": 300}, "allInEngineRPM": 3000, "records": `+demoKnock+`}`, engine.Target),
	method("combustion.places", "best timing and knock limit where the engine works: idle, full throttle over speed, cruise, tip-in",
		`{"engine": `+demoEngine+`, "fuel": {"octane": 98, "scale": "RON"}, "records": `+demoKnock+`}`, engine.Places),
	method("combustion.weigh", "curves beside what the engine stands: margin to knock, distance from best, and what it costs",
		`{"places": [`+demoPlace+`], "curves": [{"baseCrankDeg": 12, "limitDistDeg": 11, "allInEngineRPM": 3000}], "earliestCrankDeg": 2.4, "earliestCylinder": 3}`, engine.Weigh),
	method("combustion.cycle", "one cylinder through compression, burning and expansion: pressure, work, efficiency",
		`{"compressionRatio": 10, "gamma": 1.4, "heatRatio": 20, "burnStartCrankDeg": -20, "burnDurationCrankDeg": 40, "wiebeA": 5, "wiebeM": 2, "cutOff": false}`, cycle.Cycle),
	method("combustion.burnscale", "the classroom's rule of spark and speed: delay constant in time, burning constant in crank degrees",
		`{"delayCrankDeg": 22, "burnCrankDeg": 17, "endCrankDeg": 13, "speedRatio": 0.5}`, flame.BurnScale),
	method("combustion.travel", "when a flame has crossed the chamber, or how fast it ran",
		`{"boreMm": 102, "plugOffsetMm": 6, "flameMS": 15.8, "sparkCrankDeg": 20, "developCrankDeg": 6.5, "engineRPM": 1200}`, flame.Travel),
	method("knock.delay", "how long petrol and air stand pressure and heat before they go off by themselves",
		`{"octane": 95, "pressureAtm": 40, "temperatureK": 900}`, knock.Delay),
}
