package faults

import (
	"cmp"
	"math"
	"slices"
)

// leastMove: what moved the odds of a cause by less than a tenth is not said
// (chosen).
const leastMove = 1.1

// because gives for each cause what moved it and by how much: its odds with
// everything, divided by its odds with everything but that one thing.
//
//	factor = odds(c | all) / odds(c | all but e)
func (h *hunt) because(shares []float64) [][]Because {
	out := make([][]Because, len(shares))
	without := make(belief, len(h.now))
	ones := make([]float64, len(h.now))
	for i, e := range h.all {
		for n, likelihood := range h.likely[i] {
			without[n], ones[n] = h.now[n]/likelihood, 1
		}
		without.times(ones)
		before, _ := h.shares(without)
		for c, p := range shares {
			factor := odds(p) / odds(before[c])
			if math.IsNaN(factor) || factor < leastMove && factor > 1/leastMove {
				continue
			}
			out[c] = append(out[c], Because{ID: e.id, Kind: e.kind, Text: e.text, Factor: factor})
		}
	}
	for c := range out {
		slices.SortStableFunc(out[c], func(a, b Because) int {
			return cmp.Compare(math.Abs(math.Log(b.Factor)), math.Abs(math.Log(a.Factor)))
		})
	}
	return out
}

func odds(p float64) float64 { return p / (1 - p) }
