package cycle

import "math"

// state is what is carried along the crank: pressure, work, heat lost, mass.
type state [4]float64

// slope gives the change of a state per crank degree.
type slope func(deg float64, y state) state

// The fifth-order pair of J. R. Dormand and P. J. Prince, J. Comp. Appl. Math. 6
// (1980) 19: nodes, rows, the fifth-order sum, and its difference from the
// fourth-order sum, from which the error is known.
var (
	dpNodes = [7]float64{0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1, 1}
	dpRows  = [7][6]float64{
		{},
		{1.0 / 5},
		{3.0 / 40, 9.0 / 40},
		{44.0 / 45, -56.0 / 15, 32.0 / 9},
		{19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
		{9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
		{35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84},
	}
	dpError = [7]float64{35.0/384 - 5179.0/57600, 0, 500.0/1113 - 7571.0/16695, 125.0/192 - 393.0/640,
		-2187.0/6784 + 92097.0/339200, 11.0/84 - 187.0/2100, -1.0 / 40}
)

const (
	// tolerance of each step against the size of the state, chosen: a thousand
	// times finer than the four figures in which the cycle is published.
	tolerance = 1e-9
	longest   = 5.0  // degrees a step may have, chosen so that no short burn is stepped over
	shortest  = 1e-9 // degrees; the error control never came near it
)

// try takes one step from a state and its slope, and gives the next with its own
// slope, and the error against the tolerance (1 is allowed).
func (f slope) try(deg, h float64, y, first state) (next, last state, off float64) {
	k := [7]state{first}
	for i := 1; i < len(k); i++ {
		at := y
		for j := range i {
			for n := range at {
				at[n] += h * dpRows[i][j] * k[j][n]
			}
		}
		next = at
		k[i] = f(deg+h*dpNodes[i], at)
	}
	for n := range y {
		e := 0.0
		for i := range k {
			e += h * dpError[i] * k[i][n]
		}
		off = max(off, math.Abs(e)/(tolerance*(1+max(math.Abs(y[n]), math.Abs(next[n])))))
	}
	return next, k[6], off
}

// taken is one step that was taken, with the slopes at both ends.
type taken struct {
	deg, h                float64
	y, next, first, after state
}

// run goes from one angle to another with steps as long as the tolerance
// allows, and shows seen each of them.
func (f slope) run(from, to float64, y state, seen func(taken)) state {
	h := 0.5
	first := f(from, y)
	for deg := from; deg < to; {
		last := h >= to-deg
		if last {
			h = to - deg
		}
		next, after, off := f.try(deg, h, y, first)
		if off <= 1 || h <= shortest {
			seen(taken{deg, h, y, next, first, after})
			deg, y, first = deg+h, next, after
			if last {
				break
			}
		}
		// 0.9 and the ends of the change of step are the usual ones of the method.
		h = min(longest, max(shortest, h*min(5, max(0.2, 0.9*math.Pow(off+1e-12, -0.2)))))
	}
	return y
}
