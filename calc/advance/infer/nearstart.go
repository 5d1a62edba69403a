package infer

import (
	"math"
	"slices"
)

// Where the corners are tried before any step is made: parts of the way, in
// squared speed, from the first figure that has moved to the last that has not
// arrived (chosen: more did not find better tops on this room's own governors).
var (
	startsTried = []float64{-0.12, -0.04, 0.04, 0.12}
	kneesTried  = []float64{0.06, 0.12, 0.2, 0.3, 0.42, 0.56, 0.72}
	topsTried   = []float64{0.6, 0.8, 1, 1.25}
)

const (
	hasMoved   = 0.4  // distributor degrees: less is not seen to have begun (chosen)
	hasArrived = 0.93 // of the level at the top (chosen)
	nearMost   = 0.85 // of the most that was read: part of that level (chosen)
)

// corner is a curve of two straight lines in squared speed: starts, bends, stops.
type corner struct {
	start, knee, top float64 // squared speeds
	bend, limit      float64 // distributor degrees
	miss             float64
}

// starts are the corners that come nearest the figures, the best of each knee, the
// nearest first; the middle of what is believed where too few were read, or no
// corners come near.
func (n *nearRun) starts() []nearPoint {
	if len(n.readings) < 4 { // fewer show no corner
		return []nearPoint{{}}
	}
	seen, base := n.bySpeed()
	low, high := crossings(seen)
	var kept []corner
	for _, k := range kneesTried {
		if c := bestAt(k, low, high, seen); !math.IsInf(c.miss, 1) {
			kept = append(kept, c)
		}
	}
	slices.SortStableFunc(kept, func(a, b corner) int { return sign(a.miss - b.miss) })
	var all []nearPoint
	for _, c := range kept {
		z := nearPoint{}
		z.put(nearBase, base)
		start, knee, top := math.Sqrt(c.start), math.Sqrt(c.knee), math.Sqrt(c.top)
		z.put(startAt, ln(1000*start/startMean))
		z.put(kneeAt, ln(knee/start-1))
		z.put(limitAt, ln(top/knee-1))
		z.put(shareAt, ln(c.bend/(c.limit-c.bend)))
		z.put(travelAt, ln(c.limit/travelMean))
		all = append(all, z)
	}
	if len(all) == 0 {
		z := nearPoint{}
		z.put(nearBase, base)
		all = append(all, z)
	}
	return all
}

// bestAt is the corners nearest the figures with the knee at a part of the way.
func bestAt(k, low, high float64, seen []heard) corner {
	best := corner{miss: math.Inf(1)}
	for _, s := range startsTried {
		for _, t := range topsTried {
			c := corner{start: low + s*(high-low), knee: low + k*(high-low), top: low + t*(high-low)}
			if c.start = max(c.start, 0.01); c.knee > 1.05*c.start && c.top > 1.05*c.knee { // 0.01: 100 rpm
				c.heights(seen)
				if c.miss < best.miss {
					best = c
				}
			}
		}
	}
	return best
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

// bySpeed is the readings by rising speed, less the lamp's base or else the
// least figure that holds one.
func (n *nearRun) bySpeed() (seen []heard, base float64) {
	seen = slices.Clone(n.readings)
	slices.SortFunc(seen, func(a, b heard) int { return sign(a.u - b.u) })
	base = math.Inf(1)
	for _, r := range seen {
		if r.withBase {
			base = min(base, r.deg)
		}
	}
	if len(n.statics) > 0 {
		base = n.statics[0].Deg
	}
	if math.IsInf(base, 1) {
		base = unknownBaseMean
	}
	for i := range seen {
		if seen[i].withBase {
			seen[i].deg -= base
		}
	}
	return seen, base
}

// crossings are the squared speeds between which the figures rise.
func crossings(seen []heard) (low, high float64) {
	level := levelOf(seen)
	low, high = 0.5*seen[0].u, seen[len(seen)-1].u // half of the first: it had begun before (chosen)
	for i := len(seen) - 1; i >= 0; i-- {
		if seen[i].deg >= hasArrived*level {
			high = seen[i].u
		}
		if seen[i].deg <= hasMoved {
			low = seen[i].u
			break
		}
	}
	return low, max(high, 1.3*low, low+0.05)
}

// levelOf is where the figures level out, or end: the mean of those near the
// most, so that the error of one does not count as advance.
func levelOf(seen []heard) float64 {
	most, sum, n := hasMoved, 0.0, 0.0
	for _, r := range seen {
		most = max(most, r.deg)
	}
	for _, r := range seen {
		if r.deg >= nearMost*most {
			sum, n = sum+r.deg, n+1
		}
	}
	return sum / max(1, n)
}

// heights finds bend and limit under which the corners miss the figures least,
// and by how much (least squares, two unknowns); infinite where the curve would
// not rise, or rise faster past its bend.
func (c *corner) heights(seen []heard) {
	var aa, ab, bb, ay, by, yy float64
	toKnee, toTop := 1/(c.knee-c.start), 1/(c.top-c.knee)
	for i := range seen {
		r := &seen[i]
		yy += r.deg * r.deg
		if r.u <= c.start {
			continue
		}
		first, second := 1.0, 0.0 // not the built-in min: in WebAssembly that is a call
		if r.u < c.knee {
			first = (r.u - c.start) * toKnee
		} else if second = 1; r.u < c.top {
			second = (r.u - c.knee) * toTop
		}
		aa, ab, bb = aa+first*first, ab+first*second, bb+second*second
		ay, by = ay+first*r.deg, by+second*r.deg
	}
	c.miss = math.Inf(1)
	det := (aa+0.01)*(bb+0.01) - ab*ab // a hundredth: where no figure lies past the knee (chosen)
	first, second := ((bb+0.01)*ay-ab*by)/det, ((aa+0.01)*by-ab*ay)/det
	if first < 0.3 || second < 0.3 || second*toTop > first*toKnee { // three tenths: no governor bends nearer (chosen)
		return
	}
	c.bend, c.limit = first, first+second
	c.miss = yy - 2*first*ay - 2*second*by + first*first*aa + 2*first*second*ab + second*second*bb
}
