package advance

import (
	"math"

	"gonum.org/v1/gonum/optimize"
)

// desk is where mends are worked out: the governor as found, the band it
// should lie in, and what may be touched.
type desk struct {
	in    PrescribeIn
	band  *band
	model Model
	grid  []target
	err   float64 // reading error, distributor degrees
	loose bool    // take mends that come within half the reading error of the book
}

// target is the book's advance at one speed, distributor degrees.
type target struct {
	rpm, low, high float64
	book           bool // one of the book's own speeds
}

// move is one thing that can be done, with its amount x: 0 is nothing done,
// ±1 is a middling change.
type move struct {
	name      string
	allowed   func(Allow) *bool
	off       bool // not allowed unless said
	effort    float64
	set       func(c *Change, m Model, x float64)
	low, high func(d *desk) float64
}

// Work of each kind of change, a post bent a little being 1 (chosen: a post
// is bent in place, a spring has to be found, a stop made or welded).
const (
	postEffort   = 1
	springEffort = 2
	stopEffort   = 3
	weightEffort = 4
)

// Bounds of what can be had: springs from a quarter to six times as stiff
// (one box of springs spans about that: common practice), a start between 100
// and 700 distributor rpm by bending a post, weights from two thirds to one
// and a half.
var moves = []move{
	{name: "primary post", allowed: func(a Allow) *bool { return a.PrimaryPost }, effort: postEffort,
		set: func(c *Change, m Model, x float64) { c.PrimaryPreload = positive(math.Exp(x)) },
		low: func(d *desk) float64 { return 2 * math.Log(100/d.model.StartDistRPM) }, high: func(d *desk) float64 { return 2 * math.Log(700/d.model.StartDistRPM) }},
	{name: "secondary post", allowed: func(a Allow) *bool { return a.SecondaryPost }, effort: postEffort,
		set: func(c *Change, m Model, x float64) { s := 4 * x; c.SlackDistDeg = &s },
		low: func(d *desk) float64 { return -d.model.KneeDistDeg / 4 }, high: func(d *desk) float64 { return 1.5 }},
	{name: "primary spring", allowed: func(a Allow) *bool { return a.PrimarySpring }, effort: springEffort,
		set: func(c *Change, m Model, x float64) { c.PrimarySpring = positive(math.Exp(x)) },
		low: func(d *desk) float64 { return logOf(d.in.Allow.PrimarySpringRatio, 0, 0.25) }, high: func(d *desk) float64 { return logOf(d.in.Allow.PrimarySpringRatio, 1, 6) }},
	{name: "secondary spring", allowed: func(a Allow) *bool { return a.SecondarySpring }, effort: springEffort,
		set: func(c *Change, m Model, x float64) { c.SecondarySpring = positive(math.Exp(x)) },
		low: func(d *desk) float64 { return logOf(d.in.Allow.SecondarySpringRatio, 0, 0.25) }, high: func(d *desk) float64 { return logOf(d.in.Allow.SecondarySpringRatio, 1, 6) }},
	{name: "stop", allowed: func(a Allow) *bool { return a.Stop }, effort: stopEffort,
		set: func(c *Change, m Model, x float64) { l := m.LimitDistDeg + 2*x; c.LimitDistDeg = &l },
		low: func(d *desk) float64 { return (2 - d.model.LimitDistDeg) / 2 }, high: func(d *desk) float64 { return (20 - d.model.LimitDistDeg) / 2 }},
	{name: "weights", allowed: func(a Allow) *bool { return a.Weights }, off: true, effort: weightEffort,
		set: func(c *Change, m Model, x float64) { c.Weights = positive(math.Exp(x)) },
		low: func(*desk) float64 { return math.Log(2.0 / 3) }, high: func(*desk) float64 { return math.Log(1.5) }},
}

func positive(x float64) *float64 { return &x }

func logOf(given []float64, i int, unless float64) float64 {
	if len(given) == 2 {
		return math.Log(given[i])
	}
	return math.Log(unless)
}

func newDesk(in PrescribeIn, b *band, m Model, run []reading) *desk {
	d := &desk{in: in, band: b, model: m}
	for _, r := range run {
		d.err = max(d.err, r.err)
	}
	k := b.advance
	for i, at := range k {
		d.grid = append(d.grid, target{at.rpm / b.ratio, at.low / b.ratio, at.high / b.ratio, true})
		if i+1 < len(k) {
			rpm := (at.rpm + k[i+1].rpm) / 2
			low, high, _ := interpolate(k, rpm)
			d.grid = append(d.grid, target{rpm / b.ratio, low / b.ratio, high / b.ratio, false})
		}
	}
	return d
}

// attempt is a set of moves at their best amounts.
type attempt struct {
	moves  []move
	x      []float64
	change Change
	model  Model
	effort float64
	off    float64 // mean square distance from the middle of the band, half widths
}

// search tries single moves, then pairs, then threes. One more move than the
// fewest that help is tried as well, since two bent posts are less work than
// one stop.
func (d *desk) search() []attempt {
	if d.fits(d.model) { // the springs are right and only friction is not
		return []attempt{{model: d.model}}
	}
	found := d.searchSets()
	if len(found) == 0 {
		d.loose = true
		found = d.searchSets()
	}
	return found
}

func (d *desk) searchSets() []attempt {
	var found []attempt
	fewest := 0
	for count := 1; count <= 3; count++ {
		if fewest > 0 && count > fewest+1 {
			break
		}
		for _, set := range d.sets(count) {
			if a, ok := d.best(set); ok && !beaten(found, a) {
				found = append(found, a)
				if fewest == 0 {
					fewest = count
				}
			}
		}
	}
	return found
}

// beaten: a way found before does as well with fewer moves and less work. A
// further move earns its place by halving the distance from the middle of the
// band (chosen).
func beaten(found []attempt, a attempt) bool {
	for _, f := range found {
		if len(f.moves) < len(a.moves) && f.effort <= a.effort && a.off > 0.5*f.off {
			return true
		}
	}
	return false
}

// sets gives every choice of count allowed moves.
func (d *desk) sets(count int) [][]move {
	var allowed []move
	for _, m := range moves {
		say := m.allowed(d.in.Allow)
		if say == nil && !m.off || say != nil && *say {
			allowed = append(allowed, m)
		}
	}
	var out [][]move
	var pick func(from int, chosen []move)
	pick = func(from int, chosen []move) {
		if len(chosen) == count {
			out = append(out, append([]move(nil), chosen...))
			return
		}
		for i := from; i < len(allowed); i++ {
			pick(i+1, append(chosen, allowed[i]))
		}
	}
	pick(0, nil)
	return out
}

// best finds the amounts of a set of moves that bring the curve nearest the
// middle of the band with least change.
func (d *desk) best(set []move) (attempt, bool) {
	cost := func(x []float64) float64 {
		a := d.try(set, x)
		out, _ := d.misfit(a.model)
		size := 0.0
		for i, m := range set {
			size += abs(x[i]) + 10*beyondBounds(x[i], m.low(d), m.high(d))
		}
		return 100*out + a.off + 0.02*size // being inside outweighs being central, being central outweighs being small (chosen)
	}
	var best attempt
	lowest := math.Inf(1)
	for _, from := range []float64{0.3, -0.3, 1} {
		x := make([]float64, len(set))
		for i, m := range set {
			x[i] = math.Min(m.high(d), math.Max(m.low(d), from))
		}
		result, err := optimize.Minimize(optimize.Problem{Func: cost}, x, &optimize.Settings{FuncEvaluations: 160 * len(set),
			Converger: &optimize.FunctionConverge{Absolute: 1e-4, Iterations: 25}}, &optimize.NelderMead{SimplexSize: 0.4})
		if result == nil || err != nil && result.X == nil {
			continue
		}
		if result.F < lowest {
			lowest, best = result.F, d.try(set, result.X)
		}
	}
	return best, best.change != (Change{}) && d.fits(best.model) && d.within(best)
}

func beyondBounds(x, low, high float64) float64 {
	return math.Max(0, math.Max(low-x, x-high))
}

func (d *desk) within(a attempt) bool {
	for i, m := range a.moves {
		if beyondBounds(a.x[i], m.low(d), m.high(d)) > 0.02 {
			return false
		}
	}
	return true
}

func (d *desk) try(set []move, x []float64) attempt {
	a := attempt{moves: set, x: append([]float64(nil), x...)}
	for i, m := range set {
		m.set(&a.change, d.model, x[i])
		a.effort += m.effort + 0.5*abs(x[i])
	}
	a.model = a.change.applied(d.model)
	_, a.off = d.misfit(a.model)
	return a
}

// misfit is how far a governor lies outside the band, and how far from its
// middle, each as a mean over the speeds, in half band widths squared.
func (d *desk) misfit(m Model) (outsideBand, offMiddle float64) {
	for _, t := range d.grid {
		half := math.Max(0.5, (t.high-t.low)/2) // half a distributor degree: what can be read (common practice)
		a := m.at(t.rpm)
		inside := math.Min(0.05, (t.high-t.low)/4) // aim a little inside the edge, distributor degrees; finer than any ring is read
		out, off := outside(a, t.low+inside, t.high-inside)/half, (a-(t.low+t.high)/2)/half
		outsideBand += out * out
		offMiddle += off * off
	}
	n := float64(len(d.grid))
	return outsideBand / n, offMiddle / n
}

// finest is how near an edge counts as inside when a mend is reckoned,
// distributor degrees: a fifth of what a bench ring is read to (±0.5, common
// practice).
const finest = 0.1

// fits tells whether a governor lies in the band at the book's speeds, and
// between them within half the reading error (the book's straight lines are
// not the governor's).
func (d *desk) fits(m Model) bool {
	for _, t := range d.grid {
		allowed := finest
		if !t.book || d.loose {
			allowed = d.err / 2
		}
		if abs(outside(m.at(t.rpm), t.low, t.high)) > allowed {
			return false
		}
	}
	return true
}

// friction tells whether falling less rising is more than normal.
func (d *desk) friction() bool { return 2*d.model.FrictionDistDeg > hysteresisWatch }
