package truth_test

import (
	"maps"
	"slices"
	"strings"

	"pointsmith/calc/advance"
)

// answer is what a judge says of a case: shares of the posterior by account
// (elements joined by "+"), and the readings it takes for slips, counted
// through all sets.
type answer struct {
	shares  map[string]float64
	slips   []int
	refused string
}

// judge is who is asked.
var judge = func(spec advance.Spec, sets []advance.Set) answer {
	out, err := advance.Judge(advance.JudgeIn{Spec: spec, Readings: sets})
	if err != nil {
		return answer{refused: err.Error()}
	}
	return answer{shares: sharesOf(out.Accounts), slips: slipsOf(out, sets)}
}

// sharesOf adds up the shares of the accounts by id.
func sharesOf(accounts []advance.Account) map[string]float64 {
	shares := map[string]float64{}
	for _, a := range accounts {
		shares[a.ID] += a.Share
	}
	return shares
}

// slipsOf lists the readings held for slips.
func slipsOf(out advance.JudgeOut, sets []advance.Set) (slips []int) {
	for _, p := range out.Points {
		if !p.Alone {
			continue
		}
		n := p.Point
		for _, s := range sets[:p.Set] {
			n += len(s.Points)
		}
		slips = append(slips, n)
	}
	slices.Sort(slips)
	return slices.Compact(slips)
}

// Steps of sureness, as the contract has them.
const (
	sure   = 0.97
	likely = 0.75
)

// elements is the share of each element: of all accounts that hold it.
func (a answer) elements() map[string]float64 {
	sum := map[string]float64{}
	for _, id := range slices.Sorted(maps.Keys(a.shares)) {
		for e := range strings.SplitSeq(id, "+") {
			sum[e] += a.shares[id]
		}
	}
	return sum
}

// atLeast lists the elements other than sound with this share or more.
func (a answer) atLeast(share float64) (named []string) {
	for e, s := range a.elements() {
		if e != "sound" && s >= share {
			named = append(named, e)
		}
	}
	slices.Sort(named)
	return named
}

// either is the share of the accounts that hold one of two elements.
func (a answer) either(x, y string) (sum float64) {
	for _, id := range slices.Sorted(maps.Keys(a.shares)) {
		if e := strings.Split(id, "+"); slices.Contains(e, x) || slices.Contains(e, y) {
			sum += a.shares[id]
		}
	}
	return sum
}
