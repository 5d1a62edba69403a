package calc

// shelfBench is the run of an invented distributor whose primary spring is too
// weak for the demo's book.
const shelfBench = `{"name": "bench", "place": "bench", "angleUnit": "distributor", "speedUnit": "distributor", "base": "excluded",
  "points": [{"rpm": 200, "deg": 0}, {"rpm": 300, "deg": 1}, {"rpm": 375, "deg": 2}, {"rpm": 450, "deg": 3}, {"rpm": 575, "deg": 5}, {"rpm": 700, "deg": 7},
    {"rpm": 850, "deg": 8}, {"rpm": 1000, "deg": 8.5}, {"rpm": 1250, "deg": 9.5}, {"rpm": 1500, "deg": 10.5}, {"rpm": 2000, "deg": 12.5}, {"rpm": 2500, "deg": 13}, {"rpm": 2700, "deg": 13}]}`
