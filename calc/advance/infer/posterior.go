package infer

import (
	"slices"
	"strings"
)

// Drawn is one unit as it may stand, drawn from the posterior.
type Drawn struct {
	ID       string
	Share    float64 // of all that is believed
	Governor Governor
	Fixed    bool    // the advance does not move...
	FixedAt  float64 // ...and stands here
	Base     float64 // distributor degrees
	Zero     float64 // of the bench, distributor degrees
	Mark     float64 // by which the strobe stands off the lamp, distributor degrees
	Capsule  float64 // added to the car's figures by the vacuum capsule, distributor degrees
}

// perAccount is how many units are drawn of one account at most (chosen).
const perAccount = 48

// Units draws governors from the posterior, each with its share.
func (r *Result) Units() []Drawn {
	var all []Drawn
	for _, d := range r.drawn {
		step := max(1, len(d.s.at)/perAccount)
		n := (len(d.s.at) + step - 1) / step
		for i := 0; i < len(d.s.at); i += step {
			x := &d.s.at[i]
			v := r.q.viewOf(d.acc, x)
			all = append(all, Drawn{d.acc.name(x), d.share / float64(n), v.unit, v.fixed, v.fixedAt, v.base, v.zero,
				markOf(d.acc, &v), v.capsule})
		}
	}
	return all
}

func markOf(a *account, v *view) float64 {
	if a.mark {
		return v.added
	}
	return 0
}

// Range is the middle of a quantity over the posterior and the ends between
// which it lies nine times in ten.
type Range struct{ Middle, Low, High float64 }

// RangeOf works out a quantity's range over drawn units.
func RangeOf(units []Drawn, of func(*Drawn) float64) Range {
	type weighed struct{ value, share float64 }
	all, total := make([]weighed, len(units)), 0.0
	for i := range units {
		all[i] = weighed{of(&units[i]), units[i].Share}
		total += units[i].Share
	}
	slices.SortFunc(all, func(a, b weighed) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	at := func(share float64) float64 {
		sum := 0.0
		for _, w := range all {
			if sum += w.share; sum >= share*total {
				return w.value
			}
		}
		return 0
	}
	return Range{at(0.5), at(0.05), at(0.95)}
}

// Elements takes an account's id apart: what is wrong, one by one.
func Elements(id string) []string { return strings.Split(id, "+") }

// Element adds up the shares of all accounts that hold an element.
func (r *Result) Element(name string) float64 {
	sum := 0.0
	for id, share := range r.Shares {
		if slices.Contains(Elements(id), name) {
			sum += share
		}
	}
	return sum
}

// Leading is the account with the largest share.
func (r *Result) Leading() (id string, share float64) {
	for name, s := range r.Shares {
		if s > share || s == share && name < id {
			id, share = name, s
		}
	}
	return id, share
}

// Has tells what the readings hold.
func (r *Result) Has() (bench, car, withBase bool) { return r.q.bench, r.q.car, r.q.withBase }

// Expected is what reading i should show, averaged over the posterior,
// distributor degrees as typed.
func (r *Result) Expected(i int) float64 {
	sum, total := 0.0, 0.0
	for _, d := range r.drawn {
		each := d.share / float64(len(d.s.at))
		for k := range d.s.at {
			v := r.q.viewOf(d.acc, &d.s.at[k])
			deg, _ := v.expected(&r.q.readings[i])
			sum, total = sum+each*deg, total+each
		}
	}
	return sum / max(total, leastShare)
}
