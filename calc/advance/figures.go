package advance

import (
	"slices"

	"pointsmith/calc/advance/infer"
)

// baseFigure is where the base stands and how that is known, crank degrees.
type baseFigure struct {
	how              string // "", "static", "bench and car", "constant offset", "in band"
	value, low, high float64
}

func (f baseFigure) known() bool { return f.how != "" }

// widestBase is how wide the base's range may be and still be called known,
// crank degrees (chosen: three either way is more than any setting is out).
const widestBase = 6

// findBase takes the base from the posterior, where the readings tell it.
func (j *judgement) findBase() baseFigure {
	_, _, told := j.result.Has()
	if !told || j.oneSpeed() && len(j.static) == 0 || j.sum(j.shares, isEntry)+j.sum(j.shares, isBetween) > 0.5 {
		return baseFigure{}
	}
	r := infer.RangeOf(j.units, func(d *infer.Drawn) float64 { return d.Base * halfSpeed })
	if r.High-r.Low > widestBase {
		return baseFigure{}
	}
	if j.lampContradicted() {
		return baseFigure{}
	}
	return baseFigure{how: j.howBase(), value: r.Middle, low: r.Low, high: r.High}
}

// lampContradicted: lamp and readings cannot both be right, so neither is the base.
func (j *judgement) lampContradicted() bool {
	for k := range j.static {
		if j.result.Static[k] > 0.5 {
			return true
		}
	}
	return j.element("mark-off") >= 0.5
}

func (j *judgement) howBase() string {
	bench, car, _ := j.result.Has()
	lamp := false
	for k := range j.static {
		lamp = lamp || j.result.Static[k] < 0.5
	}
	switch {
	case lamp:
		return "static"
	case bench && car:
		return "bench and car"
	case j.baseNamed() != "":
		return "constant offset"
	}
	return "in band"
}

// baseNamed is the element of the base that is named, if one is.
func (j *judgement) baseNamed() string {
	for _, e := range []string{"base-early", "base-late"} {
		if len(j.slipped) == 0 && j.element(e) >= likelyShare {
			return e
		}
	}
	return ""
}

// Limits of falling less rising at one speed, distributor degrees: up to 1
// normal, 1 to 2 watch, beyond 2 sticking (common practice).
const (
	hysteresisWatch = 1
	hysteresisFail  = 2
)

// hysteresis is what falling readings add over rising ones.
type hysteresis struct {
	distDeg float64
	pairs   []pairedSpeed
	copied  bool // the two columns are the same to the figure
}

type pairedSpeed struct{ rpm, rising, falling float64 }

// hysteresis pairs falling with rising readings of one set and takes the mean
// of the larger half of the differences, so that speeds at rest and at the
// stop, where friction cannot show, do not hide it.
func (e *evidence) hysteresis() *hysteresis {
	h := &hysteresis{copied: true}
	for i := range e.sets {
		run := func(falling bool) []reading {
			return pick(e.usable, func(r reading) bool { return r.set == i && r.falling == falling })
		}
		rising := run(false)
		for _, f := range run(true) {
			if deg, ok := measuredAt(rising, f.rpm); ok {
				h.pairs = append(h.pairs, pairedSpeed{f.rpm, deg, f.deg})
				h.copied = h.copied && f.deg == deg
			}
		}
	}
	if len(h.pairs) == 0 {
		return nil
	}
	var lag []float64
	moving := false
	for _, p := range h.pairs {
		lag = append(lag, (p.falling-p.rising)/e.band.ratio)
		moving = moving || abs(p.rising-h.pairs[0].rising) > 1
	}
	h.copied = h.copied && len(h.pairs) >= 4 && moving
	slices.Sort(lag)
	half := lag[len(lag)/2:]
	for _, x := range half {
		h.distDeg += x / float64(len(half))
	}
	return h
}

// findOutliers marks the readings and lamp figures that are slips more likely
// than not.
func (j *judgement) findOutliers() {
	if len(j.asked) == len(j.usable) {
		for k, chance := range j.result.Slips {
			if chance <= 0.5 {
				continue
			}
			for i, p := range j.points {
				if r := j.asked[k]; p.Set == r.set && p.Point == r.point {
					j.points[i].Alone = true
					j.outliers = append(j.outliers, i)
				}
			}
		}
	}
	for k, chance := range j.result.Static {
		if chance > 0.5 {
			j.slipped = append(j.slipped, k)
		}
	}
}
