package cap

import (
	"fmt"
	"slices"

	"pointsmith/calc/refuse"
)

// CheckOrder refuses a firing order that does not name each cylinder from 1
// to cylinders once, beginning with No. 1. Field is the path to name.
func CheckOrder(field string, order []int, cylinders int) *refuse.Error {
	limit := fmt.Sprintf("each of the cylinders 1 to %d once, No. 1 first", cylinders)
	if len(order) != cylinders {
		return refuse.Input(field, fmt.Sprintf("names %d cylinders, the engine has %d", len(order), cylinders), limit,
			"check the count and the order in the book")
	}
	seen := map[int]bool{}
	for i, c := range order {
		at := fmt.Sprintf("%s[%d]", field, i)
		switch {
		case c < 1 || c > cylinders:
			return refuse.Input(at, fmt.Sprintf("there is no cylinder %d", c), limit, "check the order in the book")
		case seen[c]:
			return refuse.Input(at, fmt.Sprintf("cylinder %d stands twice", c), limit, "check the order in the book")
		}
		seen[c] = true
	}
	if order[0] != 1 {
		return refuse.Input(field, fmt.Sprintf("begins with cylinder %d", order[0]), limit,
			"begin with No. 1; the order goes round and round, so that changes nothing else")
	}
	return nil
}

// Pairs lists the cylinders that stand at the same crank position one turn
// apart: half the firing order from one another. An odd number of cylinders
// has none.
func Pairs(order []int) [][]int {
	half := len(order) / 2
	out := [][]int{}
	if len(order)%2 != 0 {
		return out
	}
	for i := range half {
		pair := []int{order[i], order[i+half]}
		slices.Sort(pair)
		out = append(out, pair)
	}
	return out
}
