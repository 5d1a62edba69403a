package calc

import (
	"pointsmith/calc/cap"
	"pointsmith/calc/card"
	"pointsmith/calc/card/paper"
	"pointsmith/calc/marks"
	"pointsmith/calc/scatter"
	"pointsmith/calc/sound"
	"pointsmith/calc/vacuum"
	"pointsmith/calc/work"
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
	method("marks.static",
		"a static timing proved with the test lamp, against the book's figure, its tolerance and the error of reading",
		`{"foundCrankDeg": 9.4, "bookCrankDeg": 8, "bookToleranceCrankDeg": 1}`, marks.Static),
	method("marks.tape",
		"a timing tape for a pulley at true scale: every line in mm, on the right side of zero, cut into pages",
		`{"diameterMm": 150, "crankRotation": "clockwise", "beforeCrankDeg": 50, "afterCrankDeg": 10, "stepCrankDeg": 2, "pageLengthMm": 277, "overlapMm": 10, "endMm": 5}`, marks.Tape),
	method("cap.plan",
		"which post serves which cylinder, the pairs, the leads to keep apart, and one tooth of the drive gear",
		`{"cylinders": 8, "firingOrder": [1, 8, 4, 3, 6, 5, 7, 2], "rotation": "clockwise", "firstPostClock": 7.5, "banks": [[1, 3, 5, 7], [2, 4, 6, 8]], "gearTeeth": 13}`, cap.Plan),
	method("scatter.analyse",
		"the spread between cylinders taken apart: shaft or bush, cam lobes, drive, and the earliest cylinder",
		`{"cylinders": 6, "errorsDistDeg": [0, 1.6, 2.1, 0.4, -1.7, -1.9], "firingOrder": [1, 5, 3, 6, 2, 4]}`,
		scatter.Analyse),
	method("vacuum.judge",
		"a vacuum capsule against its figures: start, slope, most, leak, the pipe it hangs on, and the total at cruise",
		`{"capsule": {"kind": "advance", "code": {"text": "4-12-7", "meaning": ["start", "full", "max"], "vacuumUnit": "inHg", "angleUnit": "distributor"}}, "readings": [{"kPa": 15.2, "distDeg": 0.6}, {"kPa": 27.1, "distDeg": 3.4}, {"kPa": 40.6, "distDeg": 6.5}], "hold": {"startKPa": 54, "endKPa": 53, "seconds": 20}, "source": "ported"}`, vacuum.Judge),
	method("work.order", "the order of work on a car as it stands: what is done, due, to be done again and because of what, what is undone and must be put back",
		`{"car": {"trigger": "points", "capsule": "fitted"}, "now": "2024-05-18T10:00:00Z", "visits": [{"at": "2024-05-18T09:00:00Z", "step": "points", "verdict": "pass", "what": "dwell 59"}, {"at": "2024-05-18T09:20:00Z", "undone": ["vacuum-pipe"]}]}`, work.Order),
	method("sound.rpm",
		"engine speed from the sound of the exhaust, with sureness, and the half or double it could be mistaken for",
		`{"cylinders": 4, "pulseMs": [0, 20, 40, 60, 80, 100, 120, 140, 160, 180, 200, 220, 240, 260, 280, 300, 320, 340, 360, 380, 400, 420, 440, 460, 480, 500, 520, 540, 560, 580, 600]}`, sound.RPM),
	method("card.link", "a setup card as a link fragment, to be sent to a friend",
		`{"card": `+demoCard+`}`, card.Link),
	method("card.open", "the setup card in a link fragment, or why it cannot be read",
		`{"fragment": "`+demoFragment+`"}`, card.Open),
	method("card.page", "a setup card as one page that needs nothing else, for any phone and for paper, and as plain text",
		`{"card": `+demoCard+`, "address": "https://garage.example/app/"}`, paper.Page),
	method("card.qr", "a text as the rows of a QR code, to be drawn",
		`{"text": "http://192.168.1.20:7373/#/join/4mzq"}`, card.QR),
}
