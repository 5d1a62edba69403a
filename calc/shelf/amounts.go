package shelf

import (
	"math"

	"pointsmith/calc/advance/infer"
)

const (
	// turns of the search for amounts (chosen: five end within a fiftieth of a degree).
	turns = 6
	// ofSquare is how much the square counts beside the fourth power: mostly the worst
	// row decides, yet rows in the middle of their band are not left alone (chosen).
	ofSquare = 0.2
	// keep holds amounts where the rows leave them free (chosen).
	keep = 0.02
	// difference of an amount for a slope, in its scale (chosen).
	difference = 0.02
)

// room is room to reckon in: how far each row is off its middle, half widths.
type room struct {
	at, moved []float64
	slope     [moves][]float64
}

func newRoom(rows int) *room {
	r := &room{at: make([]float64, rows), moved: make([]float64, rows)}
	for i := range r.slope {
		r.slope[i] = make([]float64, rows)
	}
	return r
}

// trial is amounts while they are looked for, each in its scale from where
// nothing is changed.
type trial struct {
	a    *attempt
	g    infer.Governor
	book *infer.Reach
	from [moves]float64 // amount at which nothing is changed
	s    *search
}

// amounts finds the amounts of a way that bring a governor nearest the middle
// of the book's rows, by damped least squares of
//
//	Σ 0.2 r² + r⁴ / 2,  r = off the middle of a row in half widths
//
// and gives how far its worst row then is missed, distributor degrees.
func (s *search) amounts(a *attempt, g infer.Governor, book *infer.Reach) float64 {
	t := trial{a: a, g: g, book: book, s: s}
	z, n, r := t.begin(), len(a.moves), s.room
	t.off(&z, r.at)
	height := t.height(&z, r.at)
	for range turns {
		step := t.step(&z, r)
		lower := false
		for by := 1.0; by > 0.1; by /= 2 {
			y := z
			for i := range n {
				y[i] += by * step[i]
				t.set(i, &y)
			}
			t.off(&y, r.moved)
			if h := t.height(&y, r.moved); h < height {
				lower = height-h > 0.01*height // a hundredth of it (chosen)
				z, height = y, h
				r.at, r.moved = r.moved, r.at
				break
			}
		}
		if !lower {
			break
		}
	}
	for i, m := range a.moves {
		a.x[i] = t.from[i] + z[i]*kinds[m].scale
	}
	after := a.after(g, n)
	worst, _ := book.Worst(&after)
	return worst
}

// justHeld: a stop that is not met at the last row is first moved to where it
// is, by so much: else no row would tell which way to go (distributor degrees).
const justHeld = 0.05

// begin is where nothing is changed, or as near to it as may be had.
func (t *trial) begin() (z [moves]float64) {
	for i, m := range t.a.moves {
		if m == stop {
			last := t.s.book.Rows[len(t.s.book.Rows)-1].DistRPM
			t.from[i] = min(t.g.Limit, t.g.Reads(last, false)-justHeld)
		}
		t.set(i, &z)
	}
	return z
}

// set keeps an amount within what can be had.
func (t *trial) set(i int, z *[moves]float64) {
	m := t.a.moves[i]
	x := t.from[i] + z[i]*kinds[m].scale
	x = min(t.s.bounds[m][1], max(t.s.bounds[m][0], x))
	z[i] = (x - t.from[i]) / kinds[m].scale
}

func (t *trial) off(z *[moves]float64, out []float64) {
	g := t.g
	for i, m := range t.a.moves {
		m.apply(&g, m.figure(t.from[i]+z[i]*kinds[m].scale))
	}
	t.book.Off(&g, out)
}

func (t *trial) height(z *[moves]float64, off []float64) float64 {
	sum := 0.0
	for _, r := range off {
		q := r * r
		sum += q * (ofSquare + q/2)
	}
	for i := range t.a.moves {
		sum += keep * z[i] * z[i]
	}
	return sum
}

// step is the way down from a place.
func (t *trial) step(z *[moves]float64, r *room) (step [moves]float64) {
	n := len(t.a.moves)
	for i := range n {
		y := *z
		y[i] += difference
		t.off(&y, r.moved)
		for k, m := range r.moved {
			r.slope[i][k] = (m - r.at[k]) / difference
		}
	}
	for k, a := range r.at {
		r.moved[k] = ofSquare + a*a
	}
	var bend [moves][moves]float64
	for i := range n {
		step[i] = -keep * z[i]
		own := r.slope[i][:len(r.at)]
		for k, a := range r.at {
			step[i] -= r.moved[k] * own[k] * a
		}
		for j := range i + 1 {
			sum, other := 0.0, r.slope[j][:len(r.at)]
			for k, w := range r.moved[:len(own)] {
				sum += w * own[k] * other[k]
			}
			bend[i][j] = 1.5 * sum // between the square's bend and the fourth power's (chosen)
		}
		bend[i][i] += keep
	}
	solve(&bend, &step, n)
	for i := range n {
		step[i] = min(3, max(-3, step[i])) // three steps of its scale at once, at most (chosen)
	}
	return step
}

// solve puts the solution of a symmetric system, its lower half given, into v
// (Cholesky).
func solve(a *[moves][moves]float64, v *[moves]float64, n int) {
	for j := range n {
		for k := range j + 1 {
			sum := a[j][k]
			for i := range k {
				sum -= a[j][i] * a[k][i]
			}
			if j == k {
				a[j][j] = math.Sqrt(max(sum, 1e-9)) // keep holds it above none
				continue
			}
			a[j][k] = sum / a[k][k]
		}
		for i := range j {
			v[j] -= a[j][i] * v[i]
		}
		v[j] /= a[j][j]
	}
	for j := n - 1; j >= 0; j-- {
		for i := j + 1; i < n; i++ {
			v[j] -= a[i][j] * v[i]
		}
		v[j] /= a[j][j]
	}
}
