package infer

import (
	"math"
	"slices"
)

// square is a small matrix of the places of a quick fit.
type square [nearDims][nearDims]float64

// slopes is the bend of the cost at a place (Gauss and Newton's: slopes squared,
// what is believed beside them) and the way down.
func (n *nearRun) slopes(z *nearPoint, misses, moved []float64, columns [][]float64) (bend square, down nearPoint) {
	for j, at := range n.places {
		if at >= nearBase {
			n.straight(at, columns[j])
			continue
		}
		n.bending(z, at, misses, moved, columns[j])
	}
	for i, m := range misses {
		moved[i] = pull(m)
	}
	for j, at := range n.places {
		down[j] = -z[at]
		own := columns[j][:len(misses)]
		for i, m := range misses {
			down[j] -= own[i] * m * moved[i]
		}
		for k := range j + 1 {
			sum, other := 0.0, columns[k][:len(misses)]
			for i := range own {
				sum += own[i] * other[i] * moved[i]
			}
			bend[j][k], bend[k][j] = sum, sum
		}
		bend[j][j]++
	}
	return bend, down
}

// bending is the slope in a place of the unit, by a difference; none where no springs
// lie to either side.
func (n *nearRun) bending(z *nearPoint, at int, misses, moved, column []float64) {
	for i := range column {
		column[i] = 0
	}
	for _, step := range []float64{nearStep, -nearStep} {
		y := *z
		if y[at] += step; n.misses(&y, moved) {
			for i := range column {
				column[i] = (moved[i] - misses[i]) / step
			}
			return
		}
	}
}

// straight is the slope in base or bench zero, the same everywhere.
func (n *nearRun) straight(at int, column []float64) {
	for i := range column {
		column[i] = 0
	}
	for i := range n.readings {
		if r := &n.readings[i]; at == nearBase && r.withBase || at == nearZero && r.bench {
			column[i] = -nearPrior[at][1] * n.inverse[i] / n.spread
		}
	}
	if at == nearBase {
		for i, s := range n.statics {
			column[len(n.readings)+i] = -nearPrior[at][1] / s.sd()
		}
	}
}

// pull is the weight of a miss: all of it up to two deviations, then less.
func pull(miss float64) float64 {
	if miss = math.Abs(miss); miss > bendAt {
		return bendAt / miss
	}
	return 1
}

// descend goes down by damped steps.
func (n *nearRun) descend(z nearPoint, steps int) nearPoint {
	r := &n.room
	if !n.misses(&z, r.misses) {
		if z = (nearPoint{}); !n.misses(&z, r.misses) {
			return z
		}
	}
	cost, damp := n.cost(&z, r.misses), 0.1 // a tenth to begin with (Marquardt)
	for range steps {
		bend, down := n.slopes(&z, r.misses, r.moved, r.columns)
		before := cost
		for range 4 { // a step that does not go down is damped harder, four times at most (chosen)
			y, damped := z, bend
			for j := range n.places {
				damped[j][j] *= 1 + damp
			}
			step := damped.roots(len(n.places)).solve(down, len(n.places))
			for j, at := range n.places {
				y[at] += min(1.5, max(-1.5, step[j])) // no further than one and a half deviations at once (chosen)
			}
			if n.misses(&y, r.moved) {
				if c := n.cost(&y, r.moved); c < cost {
					z, cost, damp = y, c, damp/8
					break
				}
			}
			damp = 8*damp + 0.01
		}
		if before-cost < 0.02 { // a fiftieth of a unit of the logarithm: nobody could tell (chosen)
			break
		}
		n.misses(&z, r.misses)
	}
	return z
}

// nearRoom is room to reckon in.
type nearRoom struct {
	misses, moved []float64
	columns       [][]float64
}

func (n *nearRun) makeRoom() nearRoom {
	size := len(n.readings) + len(n.statics) + 1
	all := make([]float64, size*(len(n.places)+2))
	r := nearRoom{misses: all[:size], moved: all[size : 2*size]}
	for j := range n.places {
		r.columns = append(r.columns, all[(j+2)*size:(j+3)*size])
	}
	return r
}

// roots is the lower triangle whose square is this matrix (Cholesky).
func (a square) roots(n int) square {
	for j := range n {
		for k := range j + 1 {
			sum := a[j][k]
			for i := range k {
				sum -= a[j][i] * a[k][i]
			}
			if j == k {
				a[j][j] = math.Sqrt(max(sum, 1e-9)) // belief keeps it above none; rounding alone could not
			} else {
				a[j][k] = sum / a[k][k]
			}
		}
	}
	return a
}

// solve takes the triangle and its mirror off a vector.
func (a square) solve(v nearPoint, n int) nearPoint {
	for j := range n {
		for i := range j {
			v[j] -= a[j][i] * v[i]
		}
		v[j] /= a[j][j]
	}
	return a.solveMirror(v, n)
}

func (a square) solveMirror(v nearPoint, n int) nearPoint {
	for j := n - 1; j >= 0; j-- {
		for i := j + 1; i < n; i++ {
			v[j] -= a[i][j] * v[i]
		}
		v[j] /= a[j][j]
	}
	return v
}

// byMuch is how much higher than the top a draw must lie for the top to be none,
// a unit of the logarithm (chosen).
const byMuch = 1

// cloud draws about the top and weighs the draws; higher is one that lies higher
// than the top, if any does.
func (n *nearRun) cloud(top *nearPoint) (c Cloud, higher *nearPoint) {
	r := &n.room
	c = Cloud{At: make([]Governor, 0, nearDraws), Share: make([]float64, 0, nearDraws)}
	if !n.misses(top, r.misses) || !top.unit(&c.Middle) {
		return c, nil
	}
	highest := n.height(top, &c.Middle) + byMuch
	if k := len(n.readings); k > 0 {
		c.Beside = n.spread
	}
	bend, _ := n.slopes(top, r.misses, r.moved, r.columns)
	roots := bend.roots(len(n.places))
	bank := nearBank()
	heights := make([]float64, 0, nearDraws)
	most := math.Inf(-1)
	for k := range bank {
		drawn := roots.solveMirror(bank[k], len(n.places))
		z, free := *top, 0.0
		for j, at := range n.places {
			z[at] += drawn[j]
			free += bank[k][j] * bank[k][j] / 2
		}
		var g Governor
		if !z.unit(&g) {
			continue
		}
		h := n.height(&z, &g)
		if h > highest {
			highest, higher = h, &nearPoint{}
			*higher = z
		}
		h += free
		c.At, heights, most = append(c.At, g), append(heights, h), max(most, h)
	}
	c.Share = shares(heights, most)
	c.keepHeavy()
	return c, higher
}

// lightest: the draws that together hold less are left out (chosen).
const lightest = 0.02

// keepHeavy puts the draws in order, the heaviest first, and leaves the lightest
// out.
func (c *Cloud) keepHeavy() {
	order := make([]int, len(c.At))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if c.Share[a] == c.Share[b] {
			return a - b
		}
		return sign(c.Share[b] - c.Share[a])
	})
	at, share, sum := make([]Governor, 0, len(order)), make([]float64, 0, len(order)), 0.0
	for _, i := range order {
		if sum > 1-lightest {
			break
		}
		at, share, sum = append(at, c.At[i]), append(share, c.Share[i]), sum+c.Share[i]
	}
	for i := range share {
		share[i] /= sum
	}
	c.At, c.Share = at, share
}

// shares turns heights into shares, none of them over so many times the mean: a
// few draws far out would else speak for all.
func shares(heights []float64, most float64) []float64 {
	out, sum := make([]float64, len(heights)), 0.0
	for i, h := range heights {
		out[i] = exp(h - most)
		sum += out[i]
	}
	bound, total := heaviest*sum/float64(max(1, len(out))), 0.0
	for i := range out {
		out[i] = min(out[i], bound)
		total += out[i]
	}
	for i := range out {
		out[i] /= total
	}
	return out
}

// beside is how far a reading lies above what a governor shows, with this base
// and this zero of the bench.
func (r *heard) beside(g *Governor, base, zero float64) float64 {
	off := r.deg - g.reads(r.u, r.falling)
	if r.withBase {
		off -= base
	}
	if r.bench {
		off -= zero
	}
	return off
}

// height is the logarithm of the posterior, slips as in the full inference.
func (n *nearRun) height(z *nearPoint, g *Governor) float64 {
	sum, product := 0.0, 1.0
	const level = (1 - slipShare) / rootTwoPi
	base, zero, narrow := z.value(nearBase), z.value(nearZero), 1/n.spread
	for i := range n.readings {
		r := &n.readings[i]
		by := n.inverse[i] * narrow
		off := r.beside(g, base, zero) * by
		product *= level*by*bell(off*off/2) + slipShare/slipWidth
		if i%8 == 7 { // as in likelihood
			sum, product = sum+ln(product), 1
		}
	}
	for _, s := range n.statics {
		product *= normalOrSlip(s.Deg-z.value(nearBase), s.sd())
	}
	sum += ln(product)
	for _, at := range n.places {
		sum -= z[at] * z[at] / 2
	}
	return sum + rateLog(g)
}
