package vacuum

import (
	"cmp"
	"slices"
)

// Movement is what a capsule should do at one vacuum, distributor degrees in its own direction.
type Movement struct{ DistDeg, MinDistDeg, MaxDistDeg float64 }

// Expect gives what a capsule should do at a vacuum, kPa below ambient, by the figures and the band that Judge holds
// it against:
//
//	movement = max × (vacuum − start) / (full − start)
//
// or the middle of the book's table, straight between its lines and from none without vacuum, with the least and most
// allowed. Known is false where the figures do not say, and asks tells what is wanted. The drive ratio is engine turns
// per distributor turn, for a code in crank degrees. Refused: as Judge.
func Expect(capsule Capsule, driveRatio, kPa float64) (m Movement, known bool, asks []string, err error) {
	c := &court{in: JudgeIn{Capsule: capsule}, ratio: driveRatio}
	if bad := c.readSpec(); bad != nil {
		return Movement{}, false, nil, bad
	}
	if len(c.band) == 0 {
		return Movement{}, false, c.out.Ask, nil
	}
	m.MinDistDeg, m.MaxDistDeg = c.band.at(kPa)
	if f := c.out.Spec; len(capsule.Table) == 0 {
		m.DistDeg = straight(*f.StartKPa, *f.FullKPa, *f.MaxDistDeg, kPa)
	} else {
		m.DistDeg, _ = middleOf(capsule.Table).at(kPa)
	}
	return m, true, c.out.Ask, nil
}

// middleOf is the table without its width, and none without vacuum before it.
func middleOf(table []TablePoint) band {
	var b band
	for _, p := range table {
		mid := (p.MinDistDeg + p.MaxDistDeg) / 2
		b = append(b, knot{p.KPa, mid, mid})
	}
	slices.SortFunc(b, func(a, b knot) int { return cmp.Compare(a.kPa, b.kPa) })
	if b[0].kPa > 0 {
		b = slices.Insert(b, 0, knot{})
	}
	return b
}
