package infer

import (
	"math"
	"sync"
)

// Cloud is what readings say of one governor, reckoned quickly: the likeliest
// governor and some drawn about it, each with its share (they add up to 1).
type Cloud struct {
	Middle Governor
	At     []Governor
	Share  []float64
	Beside float64 // how far the readings lie beside the likeliest, root mean square in stated deviations
}

// Places of the quick fit: seven of the unit, in unitPrior's order, then the
// base as it stands and the zero of the bench.
const (
	nearBase = 7 + iota
	nearZero
	nearDims
)

// How the quick fit looks (chosen: more draws or steps did not move a share by
// a hundredth on the simulators; see calc/shelf).
const (
	nearDraws   = 48
	nearSteps   = 12   // steps down, at most
	nearStep    = 0.02 // of a difference, in deviations of what is believed
	heaviest    = 6    // no draw counts more than so many times the mean
	curveFigure = 5    // figures that a run commonly binds: two corners, two slopes, the stop
	// asStated readings weigh as much as what is believed of the stated error (spreadSpread's
	// factor of 1.4 either way: 1/(2 × 0.35²) = 4); leastScatter: no more than a third of
	// the variance is believed to be overstated (chosen)
	asStated, leastScatter = 4, 0.67
	heldBase               = 4.0 // a unit off the shelf stood anywhere: deviation of its base, distributor degrees
)

// nearPrior is what is believed of the nine places: mean and deviation. Start
// and friction as wide as FitGovernor has them.
var nearPrior = func() (p [nearDims][2]float64) {
	copy(p[:], unitPrior[:])
	for _, w := range fitWider {
		p[w.at][1] *= w.times
	}
	p[nearBase], p[nearZero] = [2]float64{unknownBaseMean, heldBase}, [2]float64{0, zeroError}
	return p
}()

// nearPoint is a place in deviations of what is believed beforehand.
type nearPoint [nearDims]float64

// unit is the governor at a place; false where no springs do that.
func (z *nearPoint) unit(g *Governor) bool {
	var x point
	for i := range 7 {
		x[i] = nearPrior[i][0] + nearPrior[i][1]*z[i]
	}
	return governorOf(&x, 0, g)
}

func (z *nearPoint) value(at int) float64 { return nearPrior[at][0] + nearPrior[at][1]*z[at] }

// nearRun is one run that is fitted.
type nearRun struct {
	readings []heard
	statics  []Static
	inverse  []float64 // one over the deviation of each reading, the misfit of the model in it
	spread   float64   // true over stated deviation, at least 1
	room     nearRoom
	places   []int // that the readings can say something of: see newNear
}

// Near finds what readings say of the governor behind them, the book unopened:
// belief, misfit and slips are those of FitGovernor, but the posterior is taken
// as normal about its top, found by damped least squares (K. Levenberg, Quart.
// Appl. Math. 2 (1944) 164; D. Marquardt, SIAM J. 11 (1963) 431; named from
// memory), and draws from it are weighed by what they really should hold. Base
// and bench zero are unknowns beside the springs. The draws are the same for every unit,
// so one answer hangs on nothing but its own readings.
func Near(readings []Reading, statics []Static) Cloud {
	n := newNear(readings, statics)
	z := n.top()
	for range 2 { // where a draw lies higher than the top, that was none: once again from there (chosen: once)
		if len(n.readings) > 0 {
			n.spread = n.scatter(&z)
			z = n.descend(z, 2) // two more steps: the place hardly moves (chosen)
		}
		c, higher := n.cloud(&z)
		if higher == nil {
			return c
		}
		n.spread = 1
		z = n.descend(*higher, nearSteps)
	}
	c, _ := n.cloud(&z)
	return c
}

// newNear makes a run ready. What one direction cannot tell from another tension,
// friction, and what hardly bends a curve, growth, stay at the middle of what
// is believed.
func newNear(readings []Reading, statics []Static) *nearRun {
	n := &nearRun{statics: statics, spread: 1}
	q := prepare(Problem{Readings: readings, Statics: statics})
	n.readings = q.readings
	n.inverse = make([]float64, 0, len(n.readings))
	for _, r := range n.readings {
		n.inverse = append(n.inverse, 1/math.Sqrt(r.sd*r.sd+misfit*misfit))
	}
	n.places = []int{startAt, kneeAt, shareAt, limitAt, travelAt}
	if q.rising && q.falling {
		n.places = append(n.places, frictionAt)
	}
	if q.withBase {
		n.places = append(n.places, nearBase)
	}
	if q.bench {
		n.places = append(n.places, nearZero)
	}
	n.room = n.makeRoom()
	return n
}

// wellFitted: where readings scatter more than so many times what is stated, the
// top may be none, and the other starts are tried (chosen: one run in six or so).
const wellFitted = 1.15

// top is the likeliest place: from the nearest start, and from the others too
// where the readings still lie far beside it.
func (n *nearRun) top() nearPoint {
	starts := n.starts()
	best := n.descend(starts[0], nearSteps)
	if len(starts) == 1 || n.scatter(&best) <= wellFitted {
		return best
	}
	least := n.costAt(&best)
	for _, z := range starts[1:min(len(starts), startsTriedAll)] {
		z = n.descend(z, nearSteps)
		if c := n.costAt(&z); c < least {
			best, least = z, c
		}
	}
	return best
}

// startsTriedAll is how many starts are tried at most (chosen).
const startsTriedAll = 5

func (n *nearRun) costAt(z *nearPoint) float64 {
	if !n.misses(z, n.room.misses) {
		return math.Inf(1)
	}
	return n.cost(z, n.room.misses)
}

// scatter is how far the readings lie beside a place, in stated deviations: root
// mean square, each bent as a slip is, believed beforehand to be 1 as firmly as
// by so many readings.
func (n *nearRun) scatter(z *nearPoint) float64 {
	n.spread = 1
	if !n.misses(z, n.room.misses) {
		return 1
	}
	sum, of := float64(asStated), float64(asStated+max(1, len(n.readings)-curveFigure))
	for _, m := range n.room.misses[:len(n.readings)] {
		sum += 2 * bent(m)
	}
	return math.Sqrt(max(leastScatter, sum/of))
}

// misses fills in reading less expected in deviations, statics and the belief
// in the heavy spring's rate behind them; false where no springs do that.
func (n *nearRun) misses(z *nearPoint, out []float64) bool {
	var g Governor
	if !z.unit(&g) {
		return false
	}
	base, zero, by := z.value(nearBase), z.value(nearZero), 1/n.spread
	for i := range n.readings {
		r := &n.readings[i]
		out[i] = r.beside(&g, base, zero) * by * n.inverse[i]
	}
	k := len(n.readings)
	for _, s := range n.statics {
		out[k] = (s.Deg - base) / s.sd()
		k++
	}
	out[k] = (ln(g.K2/g.K1) - lnRateMean) / rateSpread
	return true
}

// cost is what is to be made least: minus the logarithm of the posterior, slips
// pulling no harder from two deviations on.
func (n *nearRun) cost(z *nearPoint, misses []float64) float64 {
	sum := 0.0
	for _, m := range misses {
		sum += bent(m)
	}
	for _, at := range n.places {
		sum += z[at] * z[at] / 2
	}
	return sum
}

// put sets a place, within three deviations of what is believed.
func (z *nearPoint) put(at int, x float64) {
	z[at] = min(3, max(-3, (x-nearPrior[at][0])/nearPrior[at][1]))
}

// nearBank is standard normal draws, each with its opposite.
var nearBank = sync.OnceValue(func() *[nearDraws]nearPoint {
	bank, rng := &[nearDraws]nearPoint{}, streamOf(41, 0)
	for k := 0; k < nearDraws; k += 2 {
		for at := range nearDims {
			x := rng.NormFloat64()
			bank[k][at], bank[k+1][at] = x, -x
		}
	}
	return bank
})
