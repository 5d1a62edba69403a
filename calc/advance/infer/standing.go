package infer

import "math"

// Standing is a drawn unit beside the sound one that it was.
type Standing struct {
	ID    string
	Share float64  // of all that is believed
	Sound Governor // before anything was off
	Is    Governor // as it stands; a Knee below none is a loop that pulls at rest already: see Taut
	Base  float64  // distributor degrees
	Zero  float64  // of the bench, distributor degrees
}

// Taut is the governor with a loop that is gone turned into tension at rest.
func (s Governor) Taut() Governor {
	s.takeUp(0)
	return s
}

// Standings draws units of those accounts that want picks by their id, each
// with its share.
func (r *Result) Standings(want func(id string) bool) []Standing {
	const far = 1000.0 // distributor degrees: so far out that no change of the loop pulls at rest
	var all []Standing
	for _, d := range r.drawn {
		step := max(1, len(d.s.at)/perAccount)
		n := (len(d.s.at) + step - 1) / step
		for i := 0; i < len(d.s.at); i += step {
			x := &d.s.at[i]
			id := d.acc.name(x)
			if !want(id) {
				continue
			}
			sound := Governor{}
			governorOf(x, 0, &sound)
			loose := sound
			loose.Knee += far
			v := r.q.viewFrom(x, &loose)
			d.acc.make(r.q, x, &v)
			v.unit.Knee -= far
			all = append(all, Standing{ID: id, Share: d.share / float64(n), Sound: sound, Is: v.unit, Base: v.base,
				Zero: v.zero})
		}
	}
	return all
}

// Ways are the directions in which a unit is read.
type Ways struct{ Rising, Falling bool }

// shows is the least and the most that is read at a squared speed in these
// ways; without friction where none is said.
func (s *Governor) shows(u float64, ways Ways) (low, high float64) {
	switch {
	case ways.Rising && ways.Falling:
		return s.reads(u, false), s.reads(u, true)
	case ways.Rising:
		low = s.reads(u, false)
	case ways.Falling:
		low = s.reads(u, true)
	default:
		low = s.at(u)
	}
	return low, low
}

// Beyond is how far a governor's curve lies outside the book at its worst row,
// distributor degrees, as it is read in these ways or as the book is, the base
// being base; and how far from the middle of the rows, a mean square in half
// widths (no less than half a degree each, what can be read: common practice).
func (b *Book) Beyond(s Governor, base float64, ways Ways) (worst, offMiddle float64) {
	if !b.BaseInRows {
		base = 0
	}
	if b.Listed != 0 {
		ways = Ways{b.Listed > 0, b.Listed < 0}
	}
	n := 0.0
	for _, r := range b.Rows {
		u := squared(r.DistRPM)
		low, high := s.shows(u, ways)
		low, high = low+base, high+base
		worst = max(worst, max(r.Least-low, high-r.Most))
		if math.IsInf(r.Least, -1) || math.IsInf(r.Most, 1) {
			continue
		}
		off := ((low + high) - (r.Least + r.Most)) / 2 / max(0.5, (r.Most-r.Least)/2)
		offMiddle, n = offMiddle+off*off, n+1
	}
	if b.NoAdvanceBelow > 0 {
		worst = max(worst, s.At(b.NoAdvanceBelow)-0.3) // less is read as none, as in bookLog
	}
	return worst, offMiddle / max(n, 1)
}

// RangeOfStandings works out a quantity's range over standing units.
func RangeOfStandings(units []Standing, of func(*Standing) float64) Range {
	drawn := make([]Drawn, len(units))
	for i := range units {
		drawn[i] = Drawn{Share: units[i].Share, Base: of(&units[i])}
	}
	return RangeOf(drawn, func(d *Drawn) float64 { return d.Base })
}
