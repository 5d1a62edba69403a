package main

// suggestion guesses what was meant by a name that does not exist: the nearest
// known one if it is near, or else what to do instead.
func suggestion(given string, known []string, otherwise string) string {
	best, least := "", 3 // more than two letters off is not a slip of the finger
	for _, name := range known {
		if n := distance(given, name); n < least {
			best, least = name, n
		}
	}
	if best == "" {
		return otherwise
	}
	return "did you mean " + best + "?"
}

// distance counts the letters to add, drop or change to make b of a.
func distance(a, b string) int {
	if len(a) > 100 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
