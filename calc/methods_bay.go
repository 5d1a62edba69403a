package calc

import (
	"pointsmith/calc/cap"
	"pointsmith/calc/card"
	"pointsmith/calc/marks"
	"pointsmith/calc/scatter"
)

// bayMethods are those of the engine bay: marks, cap, scatter, and the card
// that is left behind.
var bayMethods = []Method{
	method("marks.arc", "crank degrees as a distance along a rim, and back; the straight rule's figure beside it",
		`{"diameterMm": 150, "crankDeg": 30}`, marks.Arc),
	method("marks.teeth", "crank degrees counted in teeth of the ring gear, and back",
		`{"ringTeeth": 120, "crankDeg": 12}`, marks.Teeth),
	method("marks.piston", "crank degrees as travel of the piston, and back",
		`{"strokeMm": 80, "rodMm": 150, "crankDeg": 10}`, marks.Piston),
	method("marks.tdc", "where true TDC stands on the old marks, from two touches of a positive stop",
		`{"stopBeforeCrankDeg": -14, "stopAfterCrankDeg": 10}`, marks.TDC),
	method("marks.tape", "a timing tape for a pulley at true scale: every line in mm, on the right side of zero, cut into pages",
		`{"diameterMm": 150, "crankRotation": "clockwise", "beforeCrankDeg": 50, "afterCrankDeg": 10, "stepCrankDeg": 2, "pageLengthMm": 277, "overlapMm": 10, "endMm": 5}`, marks.Tape),
	method("cap.plan", "which post serves which cylinder, the pairs, the leads to keep apart, and one tooth of the drive gear",
		`{"cylinders": 8, "firingOrder": [1, 8, 4, 3, 6, 5, 7, 2], "rotation": "clockwise", "firstPostClock": 7.5, "banks": [[1, 3, 5, 7], [2, 4, 6, 8]], "gearTeeth": 13}`, cap.Plan),
	method("scatter.analyse", "the spread between cylinders taken apart: shaft or bush, cam lobes, drive, and the earliest cylinder",
		`{"cylinders": 6, "errorsDistDeg": [0, 1.6, 2.1, 0.4, -1.7, -1.9], "firingOrder": [1, 5, 3, 6, 2, 4]}`, scatter.Analyse),
	method("card.link", "a setup card as a link fragment, to be sent to a friend",
		`{"card": `+demoCard+`}`, card.Link),
	method("card.open", "the setup card in a link fragment, or why it cannot be read",
		`{"fragment": "`+demoFragment+`"}`, card.Open),
	method("card.qr", "a text as the rows of a QR code, to be drawn",
		`{"text": "http://192.168.1.20:7373/#/join/4mzq"}`, card.QR),
}
