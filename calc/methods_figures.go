package calc

import "pointsmith/calc/figures"

// maxTable is room for 8,000,000 bytes of a table as JSON, which writes a line
// end with two letters or four for one or two.
const maxTable = 17 << 20

// figureMethods read and write tables as text.
var figureMethods = []Method{
	large(method("figures.read",
		"the text of a table (a CSV file, or pasted) as rows of speed and degrees; what the text leaves open is asked",
		`{"text": "rpm (distributor);deg (distributor)\n300;0-1\n450;0,5 to 2,5\n700;4-6\n1.000;7-9\n", "hints": {"base": "excluded"}}`,
		figures.Read), maxTable),
	method("figures.write",
		"rows of speed and degrees as CSV text with the units in its heads, which figures.read gives back unchanged",
		`{"what": "spec", "angleUnit": "distributor", "speedUnit": "distributor", "base": "excluded", "rows": [{"rpm": 300, "minDeg": 0, "maxDeg": 1}, {"rpm": 450, "minDeg": 0.5, "maxDeg": 2.5}]}`,
		figures.Write),
}
