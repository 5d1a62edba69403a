package advance

import (
	"math"
	"slices"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/refuse"
)

// evidence is what was read and what the book says, made ready to be weighed.
// It is the first stage of Judge, and Fit and Prescribe begin with it too.
type evidence struct {
	spec   Spec
	band   *band
	sets   Sets
	usable []reading // readings that may be compared: vacuum pipe not connected
	asked  []reading // those that are weighed: the same, or their middles where there are too many
	static []staticFigure
}

// staticFigure is a base proved with the test lamp.
type staticFigure struct {
	set      int
	deg, err float64 // crank degrees
}

// gather takes the evidence. Refused: what Expect refuses; readings and a
// table that do not both hold the base when the book's base is missing.
func gather(spec Spec, sets Sets) (*evidence, *refuse.Error) {
	if bad := sets.check(); bad != nil {
		return nil, bad
	}
	b, bad := bandOf(spec)
	if bad != nil {
		return nil, bad
	}
	e := &evidence{spec: spec, band: b, sets: sets}
	for i, set := range sets {
		if set.StaticCrankDeg != nil {
			e.static = append(e.static, staticFigure{i, *set.StaticCrankDeg, set.readingError()})
		}
		if len(set.Points) == 0 {
			continue
		}
		if bad := b.need(set.Base == "included"); bad != nil {
			return nil, bad
		}
		if set.Vacuum != "connected" {
			e.usable = append(e.usable, set.inCrank(i, b.ratio)...)
		}
	}
	e.asked = thinned(e.usable)
	return e, nil
}

// mostAsked is how many readings are weighed at most: beyond that, neighbours
// of one set and direction are taken together by their middle one. Seventy
// readings already bind a curve more closely than its model is true (chosen).
const mostAsked = 72

func thinned(all []reading) []reading {
	if len(all) <= mostAsked {
		return all
	}
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b reading) int {
		switch {
		case a.key() != b.key():
			return a.key() - b.key()
		case a.rpm < b.rpm:
			return -1
		case a.rpm > b.rpm:
			return 1
		}
		return 0
	})
	size := (len(all) + mostAsked - 9) / (mostAsked - 8) // eight kinds of run may each leave a part of a group
	var out []reading
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && to < from+size && sorted[to].key() == sorted[from].key() {
			to++
		}
		out = append(out, middleOf(sorted[from:to]))
		from = to
	}
	return out
}

// key is the same for readings that may be taken together.
func (r reading) key() int {
	k := 0
	for i, yes := range []bool{r.falling, r.withBase, r.bench} {
		if yes {
			k |= 1 << i
		}
	}
	return k
}

func middleOf(group []reading) reading {
	r := group[len(group)/2]
	var rpm, deg []float64
	for _, g := range group {
		rpm, deg = append(rpm, g.rpm), append(deg, g.deg)
	}
	r.rpm, r.deg = median(rpm), median(deg)
	return r
}

// halfSpeed is crank degrees for a degree, and engine rpm for a turn, of the
// shaft that the inference reckons with: one at half engine speed, which nearly
// every distributor is. One that turns otherwise is reckoned as if it did, so
// that what is believed of curves beforehand fits it too.
const halfSpeed = 2

// problem hands the evidence over in degrees and rpm of a shaft at half speed.
func (e *evidence) problem() infer.Problem {
	const ratio = halfSpeed
	p := infer.Problem{Book: e.band.book(e.spec), Pipe: infer.PipeOff}
	for _, r := range e.asked {
		p.Readings = append(p.Readings, infer.Reading{DistRPM: r.rpm / ratio, Deg: r.deg / ratio, Falling: r.falling,
			WithBase: r.withBase, Bench: r.bench, Error: r.err / ratio,
			CrankDeg: e.sets[r.set].AngleUnit == "crank", EngineRPM: e.sets[r.set].SpeedUnit == "engine"})
		if !r.bench && e.sets[r.set].Vacuum == "" {
			p.Pipe = infer.PipeUnsaid
		}
	}
	for _, s := range e.static {
		p.Statics = append(p.Statics, infer.Static{Deg: s.deg / ratio, Error: s.err / ratio})
	}
	return p
}

// book is the table as the inference takes it.
func (b *band) book(s Spec) infer.Book {
	k := infer.Book{NoAdvanceBelow: b.noAdvanceBelow / halfSpeed, Tolerance: b.tolerance / halfSpeed,
		Listed: map[string]int{"rising": 1, "falling": -1}[s.ListedWhile]}
	if b.base != nil {
		k.Base = *b.base / halfSpeed
	}
	k.BaseInRows, k.BaseUnknown = b.inTable, b.inTable && b.base == nil
	for _, row := range b.printedTable {
		k.Rows = append(k.Rows, infer.Row{DistRPM: row.rpm / halfSpeed, Least: row.low / halfSpeed,
			Most: row.high / halfSpeed})
	}
	if s.LimitDistDeg != nil {
		k.Limit = *s.LimitDistDeg * b.ratio / halfSpeed
	}
	if s.VacuumMaxDistDeg != nil {
		k.CapsuleMost = *s.VacuumMaxDistDeg * b.ratio / halfSpeed
	}
	return k
}

// allowed is what sound governors can show at engine speeds, crank degrees: the
// base in it where the table holds it.
func (b *band) allowed(s Spec, rpm []float64) []knot {
	dist := make([]float64, len(rpm))
	for i := range rpm {
		dist[i] = rpm[i] / halfSpeed
	}
	if b.sound == nil {
		b.sound = b.book(s).Sound()
	}
	least, most := b.sound.Allowed(dist)
	out := make([]knot, len(rpm))
	for i := range rpm {
		out[i] = knot{rpm[i], round(least[i] * halfSpeed), round(most[i] * halfSpeed)}
	}
	return out
}

// round drops what is far below any instrument, so that an edge that is
// printed comes back as it is printed.
func round(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// allowedTotal is an allowed figure with the base in it.
func (b *band) allowedTotal(k knot) knot {
	if b.inTable || b.base == nil {
		return k
	}
	return knot{k.rpm, k.low + *b.base - b.tolerance, k.high + *b.base + b.tolerance}
}

// allowedAlone is an allowed figure without the base.
func (b *band) allowedAlone(k knot) knot {
	if !b.inTable || b.base == nil {
		return k
	}
	return knot{k.rpm, max(0, k.low-*b.base-b.tolerance), k.high - *b.base + b.tolerance}
}
