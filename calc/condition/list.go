package condition

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// Car is what of the car decides the general limits.
type Car struct {
	NominalV  *float64 `json:"nominalV,omitempty" min:"6" max:"12" unit:"volts" help:"6 or 12; 12 is shown when it is not said, and said to be assumed"`
	Ballasted *bool    `json:"ballasted,omitempty" help:"a ballast or resistance wire is in the feed; unknown unless said"`
	AltitudeM *float64 `json:"altitudeM,omitempty" min:"-500" max:"6000" unit:"metres" help:"where the car stands, for manifold vacuum; sea level unless said"`
}

// ListIn asks for the checks as they apply to a car.
type ListIn struct {
	Car Car `json:"car,omitempty" help:"what is known of the car"`
}

// ListOut is the checks in the order that wastes least time.
type ListOut struct {
	Checks  []Check  `json:"checks" help:"in the order that wastes least time: is the engine fit to tune, is the distributor fit to set, then the electrics"`
	Assumed []string `json:"assumed" help:"what was not said of the car, and what was taken instead"`
	Sources []string `json:"sources" help:"where the limits come from"`
}

// List gives the checks B1 to B30 with how, limits, sources, what a fail means
// and cautions. Limits in volts follow 6 or 12 V (halved for 6, common
// practice), those of coil and feed follow the ballast, the vacuum of the
// manifold follows altitude (1 inHg less for each 1000 ft, US Army TM
// 9-4910-677-14&P). A limit that depends on what is not said is left out and
// said so. Refused: volts other than 6 and 12.
func List(in ListIn) (ListOut, error) {
	if bad := in.Car.check(); bad != nil {
		return ListOut{}, bad
	}
	out := ListOut{Checks: in.Car.checks(), Assumed: []string{},
		Sources: []string{"a source stands with each limit; those without one are common practice or from memory and say so", "order: common practice"}}
	if in.Car.NominalV == nil {
		out.Assumed = append(out.Assumed, "car.nominalV not given: limits of a 12 V car shown")
	}
	if in.Car.Ballasted == nil {
		out.Assumed = append(out.Assumed,
			"car.ballasted not given: feed and primary of the coil carry no limit until it is")
	}
	if in.Car.AltitudeM == nil {
		out.Assumed = append(out.Assumed, "car.altitudeM not given: manifold vacuum as at sea level")
	}
	return out, nil
}

func (c Car) check() *refuse.Error {
	if c.NominalV != nil && *c.NominalV != 6 && *c.NominalV != 12 {
		return refuse.Input("car.nominalV", fmt.Sprintf("%g V is no system this knows", *c.NominalV), "6 or 12",
			"give the car's nominal volts, not what was measured")
	}
	return nil
}

func (c Car) sixVolt() bool { return c.NominalV != nil && *c.NominalV == 6 }

// checks gives every check in order, with the limits of this car.
func (c Car) checks() []Check {
	byID := map[string]Check{}
	for _, group := range [][]Check{distributorChecks, electricChecks, engineChecks} {
		for _, k := range group {
			k.Measures = append([]Measure(nil), k.Measures...)
			for i := range k.Measures {
				c.suit(&k.Measures[i])
				k.Measures[i].Possible = c.possible(k.Measures[i])
			}
			byID[k.ID] = k
		}
	}
	var out []Check
	for _, id := range order {
		out = append(out, byID[id])
	}
	return out
}

// suit replaces the limits that depend on the car.
func (c Car) suit(m *Measure) {
	switch m.ID {
	case "B22.standing", "B22.cranking", "B23":
		if c.sixVolt() {
			m.Limit = m.Limit.scaled(0.5)
			m.Limit.Source = "half of the 12 V limit: " + m.Limit.Source
			if m.ID == "B22.standing" {
				m.Limit.Source = "half of the 12 V limit (6.2 V common practice)"
			}
		}
	case "B24":
		m.Limit = c.feedLimit()
	case "B26.primary":
		m.Limit = c.primaryLimit()
	case "B30":
		if c.AltitudeM != nil {
			less := *c.AltitudeM / 0.3048 / 1000
			l := *m.Limit
			l.PassMin, l.PassMax, l.WatchMin, l.WatchMax = at(*l.PassMin-less), at(*l.PassMax-less),
				at(*l.WatchMin-less), at(*l.WatchMax-less)
			m.Limit = &l
			m.Title = "steady reading, where the car stands"
		}
	}
	switch {
	case m.Limit != nil:
		m.Accept = m.Limit.words(m.Unit)
	case m.Accept == "":
		m.Accept = "no general limit until it is said whether the car has a ballast"
	}
}

func (c Car) feedLimit() *Limit {
	switch {
	case c.Ballasted == nil:
		return nil
	case !*c.Ballasted:
		return most(0.3, 0.6, "0.3 V without ballast: common practice; watch to twice it: a guess")
	case c.sixVolt():
		return nil
	}
	return between(4, 4.5, 6.9, 7.2,
		"4.5 to 6.9 V with ballast: US Navy NAVEDTRA 14329, fig 6-48 view A; watch: a guess")
}

func (c Car) primaryLimit() *Limit {
	switch {
	case c.sixVolt():
		return between(0.8, 0.9, 1.6, 1.8, "0.9 to 1.6 Ω from memory; watch: a guess")
	case c.Ballasted == nil:
		return nil
	case *c.Ballasted:
		return between(1, 1.2, 1.8, 2, "1.2 to 1.8 Ω from memory; watch: a guess")
	}
	return between(2.6, 2.8, 4, 4.2, "2.8 to 4.0 Ω common practice; watch: a guess")
}
