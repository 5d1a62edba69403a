package vacuum

import "math"

// Draws of one account (chosen): with so many another part of the sequence moves
// the shares by little, which a test holds; fewer where many readings make each
// of them dear, so that a sheet of a hundred is answered in time.
const (
	mostDraws  = 2000
	leastDraws = 700
	mostWork   = 30000
)

func drawsFor(readings int) int { return min(mostDraws, max(leastDraws, mostWork/max(1, readings))) }

// Slips: one reading in forty has its decimal point in the wrong place, one in a
// hundred is any figure at all (chosen).
const (
	tenfold  = 1.0 / 40
	anything = 1.0 / 100
	wide     = 60.0 // distributor degrees over which a slip may fall
	hopeless = 16.0 // logarithm below the best draw at which one no longer counts
)

// posterior is the share of every account and of every reading's slips.
type posterior struct {
	shares []float64          // of accounts, in their order
	family map[string]float64 // the same by family
	ten    []float64          // of each reading: typed tenfold or a tenth
	slip   []float64          // of each reading: any other slip
}

// infer weighs the accounts by the readings: the mean over draws from each
// account of the product over readings of
//
//	(1 − slips) N(x; expected, noise) + tenfold N(x/10; …)/10 + anything / 40
//
// times its prior. The draws are a Halton sequence: the same readings always give
// the same answer.
func (c *court) infer(b *bench) posterior {
	n := len(c.out.Points)
	p := posterior{shares: make([]float64, len(accounts)), family: map[string]float64{}, ten: make([]float64, n),
		slip: make([]float64, n)}
	logs := make([]float64, drawsFor(n))
	even := spread(c.skip, len(logs))
	tens, slips := make([][]float64, len(accounts)), make([][]float64, len(accounts))
	evidence := make([]float64, len(accounts))
	for i, a := range accounts {
		evidence[i], tens[i], slips[i] = c.weigh(b, a, logs, even)
	}
	top := math.Inf(-1)
	for _, e := range evidence {
		top = math.Max(top, e)
	}
	sum := 0.0
	for i, a := range accounts {
		p.shares[i] = b.prior(a) * math.Exp(evidence[i]-top)
		sum += p.shares[i]
	}
	for i, a := range accounts {
		p.shares[i] /= sum
		p.family[a.family] += p.shares[i]
		for k := range n {
			p.ten[k] += p.shares[i] * tens[i][k]
			p.slip[k] += p.shares[i] * slips[i][k]
		}
	}
	return p
}

// prior of an account; where the distributor turns with the crank, degrees of
// one are degrees of the other and nothing is mistaken.
func (b *bench) prior(a account) float64 {
	if b.ratio == 1 && (a.family == "suspect-crank" || a.family == "suspect-distributor" ||
		a.id == "totals-at-the-crank") {
		return 0
	}
	return a.prior
}

// weigh gives the logarithm of an account's evidence, and of each reading the
// share of its slips under it.
func (c *court) weigh(b *bench, a account, logs []float64, even [][7]float64) (evidence float64, ten, slip []float64) {
	n := len(c.out.Points)
	ten, slip = make([]float64, n), make([]float64, n)
	top := math.Inf(-1)
	one := func(k int) draw {
		u := &even[k]
		d := b.sound([5]float64(u[:5]))
		a.shape(&d, b, u[5], u[6])
		return d
	}
	for k := range logs {
		d := one(k)
		logs[k] = c.logChance(&d, b, top-hopeless)
		top = math.Max(top, logs[k])
	}
	total := 0.0
	for k, l := range logs {
		w := math.Exp(l - top)
		total += w
		if w < 1e-4 {
			continue
		}
		d := one(k)
		for i := range c.out.Points {
			good, tenth, any := chances(&d, b, &c.out.Points[i])
			ten[i] += w * tenth / (good + tenth + any)
			slip[i] += w * any / (good + tenth + any)
		}
	}
	for i := range ten {
		ten[i], slip[i] = ten[i]/total, slip[i]/total
	}
	return top + math.Log(total/float64(len(logs))), ten, slip
}

// logChance is the logarithm of the product over readings; a draw that cannot
// reach the floor any more is given up.
func (c *court) logChance(d *draw, b *bench, floor float64) float64 {
	sum, product := 0.0, 1.0
	for i := range c.out.Points {
		good, tenth, any := chances(d, b, &c.out.Points[i])
		product *= good + tenth + any
		if i%4 != 3 && i != len(c.out.Points)-1 {
			continue
		}
		sum, product = sum+math.Log(product), 1
		// a reading adds at most log(1/(0.25 √(2π)))
		if left := len(c.out.Points) - 1 - i; sum+0.5*float64(left) < floor {
			return math.Inf(-1)
		}
	}
	return sum
}

// spread is the sequence of draws: seven numbers between 0 and 1 for each.
func spread(skip, n int) [][7]float64 {
	out := make([][7]float64, n)
	for k := range out {
		for i, prime := range [7]int{2, 3, 5, 7, 11, 13, 17} {
			out[k][i] = halton(k+1+skip, prime)
		}
	}
	return out
}

// chances are the three ways a figure can have come: read right, typed tenfold
// or a tenth, any other slip.
func chances(d *draw, b *bench, r *JudgedPoint) (good, tenth, any float64) {
	expected, noise := d.expects(b, r.KPa, r.Direction == "falling"), d.noise+d.loose
	x := r.MeasuredDistDeg
	good = (1 - tenfold - anything) * normal(x, expected, noise)
	if off := x - expected; off*off < 4*noise*noise { // near enough: a slip weighs nothing beside it
		return good, 0, anything / wide
	}
	if math.Abs(expected) > 0.4 { // of nothing, ten times is nothing
		tenth = tenfold / 2 * normal(x/10, expected, noise) / 10
	}
	if math.Abs(expected) > 1 {
		tenth += tenfold / 2 * normal(10*x, expected, noise) * 10
	}
	return good, tenth, anything / wide
}

func normal(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	if z > 6 || z < -6 { // under a millionth of its height: any other slip outweighs it
		return 0
	}
	return math.Exp(-z*z/2) / (sd * 2.5066282746310002) // √(2π)
}

// halton is the k-th number between 0 and 1 of the sequence of a prime.
func halton(k, prime int) float64 {
	x, step := 0.0, 1.0
	for ; k > 0; k /= prime {
		step /= float64(prime)
		x += step * float64(k%prime)
	}
	return x
}
