package calc

import "pointsmith/calc/shelf"

// shelfMethods are those of the distributors that lie about.
var shelfMethods = []Method{
	method("shelf.nearest",
		"which of the distributors on the shelf comes nearest to the book, with which smallest change, and what to find out first",
		`{"spec": `+demoSpec+`, "wanted": {"rotation": "anticlockwise", "cylinders": 4, "capsule": "advance"}, "allow": {"stop": false},
  "units": [{"id": "from the green saloon", "rotation": "anticlockwise", "cylinders": 4, "capsule": "advance", "readings": `+shelfBench+`},
    {"id": "spare, rebuilt", "cylinders": 4, "capsule": "advance", "model": {"startDistRPM": 330, "primaryRate": 0.1, "secondaryRate": 0.8, "kneeDistDeg": 7.5, "limitDistDeg": 13, "frictionDistDeg": 0.2, "weightGrowth": 0.012}},
    {"id": "other way round", "rotation": "clockwise", "cylinders": 4},
    {"id": "box, no label"}]}`, shelf.Nearest),
}
