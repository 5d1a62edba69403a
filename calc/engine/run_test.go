package engine

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/interp"

	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/engine/knock"
)

// slow is the same cycle by another road: joules, kelvin and cubic metres, the
// first law for temperature, by the second-order midpoint rule in steps of 0.05
// degrees, the knock integral summed along.
func slow(b body, y *cylinder, c condition, heat, spark float64) (work, lnKnock float64) {
	return slowBy(same, 0.05, b, y, c, heat, spark)
}

// physics is what another engine may have otherwise than the model: the shape of its
// burning, how its gas takes heat, how its end gas is squeezed and goes off.
type physics struct {
	a, m, fall, squeeze, ofPress, ofHeat, burnt float64
}

var same = physics{a: 5, m: 2, fall: gammaFall, squeeze: polytrope, ofPress: 1.7, ofHeat: 3800, burnt: endGas}

// rate is Douaud and Eyzat's, with other exponents the same at 40 atm and 850 K.
func (f physics) rate(atm, kelvin float64) float64 {
	return knock.Rate(40, 850) * math.Pow(atm/40, f.ofPress) * math.Exp(f.ofHeat*(1/850.0-1/kelvin))
}

func slowBy(f physics, step float64, b body, y *cylinder, c condition, heat, spark float64) (work, lnKnock float64) {
	r, in := y.in.ratio, y.in
	swept := math.Pi / 4 * b.bore * b.bore * b.stroke
	v1 := swept * r / (r - 1)
	p1 := in.kPa * 1000
	mass := p1 * v1 / (gasR * in.kelvin)
	crank := cycle.Crank{Compression: r, RodRatio: b.rod}
	w := wiebe(spark, y.delay, y.duration)
	w.A, w.M = f.a, f.m
	omega := c.rpm * 6 // degrees a second
	area := func(v float64) float64 {
		return math.Pi/4*b.bore*b.bore*(1+b.shape.area) + 4/b.bore*(v-v1/r)
	}
	rate := func(deg, kelvin float64) float64 {
		ratio, dv := crank.Volume(deg)
		v := ratio * v1
		p := mass * gasR * kelvin / v
		_, dx := w.Burned(deg)
		gas := 2.28*2*b.stroke*c.rpm/60 + 0.00324*swept*in.kelvin/(p1*v1)*(p-p1*math.Pow(ratio, -polytrope))
		h := 3.26 * math.Pow(b.bore, -0.2) * math.Pow(p/1000, 0.8) * math.Pow(kelvin, -0.55) * math.Pow(gas, 0.8)
		lost := heat * h * area(v) * (kelvin - wallK) / omega
		gamma := gammaCold - f.fall*kelvin
		cv := gasR / (gamma - 1)
		return (in.heat*p1*v1*dx - lost - p*dv*v1) / (mass * cv)
	}
	v, _ := crank.Volume(min(cold, -spark))
	kelvin := in.kelvin * math.Pow(v, 1-polytrope)
	work = p1 * v1 * (1 - math.Pow(v, 1-polytrope)) / (polytrope - 1)
	used := 0.0
	for deg := min(cold, -spark); deg < gridTo; deg += step {
		half := kelvin + step/2*rate(deg, kelvin)
		ratio, dv := crank.Volume(deg + step/2)
		p := mass * gasR * half / (ratio * v1)
		work += step * p * dv * v1
		if x, _ := w.Burned(deg + step/2); x < f.burnt {
			squeezed := in.kelvin * math.Pow(p/p1, (f.squeeze-1)/f.squeeze)
			used += step * f.rate(p/101325, squeezed)
		}
		kelvin += step * rate(deg+step/2, half)
	}
	octane := math.Pow(y.octane/100, -3.402)
	return work / (p1 * v1), math.Log(used / (c.rpm * 6 / 1000) * octane)
}

func TestRunAgainstAnotherRoad(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 2))
	worstWork, worstKnock := 0.0, 0.0
	list := draws(40)
	for n := range 40 {
		e := []Engine{linnet, stour, ridgeway, made("side-valve", 64, 93, 6.3), made("pent-roof", 80, 75, 10)}[n%5]
		b := bodyOf(t, e)
		c := conditionOf(700+4000*rng.Float64(), 0.35+0.65*rng.Float64(), ron(95), Air{})
		o := list[n]
		y := b.cylinder(c, o)
		spark := b.profile(c, o).best + 20*(rng.Float64()-0.5)
		fast := y.run(spark)
		work, ln := slow(b, &y, c, o.factor(zHeat), spark)
		worstWork = max(worstWork, 100*math.Abs(fast.work/work-1))
		worstKnock = max(worstKnock, math.Abs(fast.lnKnock-ln))
	}
	t.Logf("40 cycles: work within %.3f %%, knock integral within %.2f %%", worstWork, 100*worstKnock)
	if worstWork > 0.1 || worstKnock > 0.02 {
		t.Errorf("work off by %v %%, logarithm of knock by %v", worstWork, worstKnock)
	}
}

// Best timing and limit from six sparks, against searches along the other road.
func TestProfileAgainstSearch(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 3))
	worstBest, worstLimit := 0.0, 0.0
	for n := range 4 {
		b := bodyOf(t, []Engine{linnet, stour, ridgeway}[n%3])
		c := conditionOf(700+4000*rng.Float64(), 0.4+0.6*rng.Float64(), ron(92+6*rng.Float64()), Air{})
		o := draws(4)[n]
		y, p := b.cylinder(c, o), b.profile(c, o)
		searched := cycle.Golden(func(s float64) float64 {
			work, _ := slow(b, &y, c, o.factor(zHeat), s)
			return work
		}, p.best-2, p.best+2, 0.1)
		worstBest = max(worstBest, math.Abs(searched-p.best))
		if !p.limitPresent || p.limit < p.first {
			continue
		}
		low, high := p.limit-2, p.limit+2
		for high-low > 0.02 {
			mid := (low + high) / 2
			if _, ln := slow(b, &y, c, o.factor(zHeat), mid); ln < o.stands(c) {
				low = mid
			} else {
				high = mid
			}
		}
		worstLimit = max(worstLimit, math.Abs(low-p.limit))
	}
	t.Logf("4 points: best timing within %.2f, limit within %.2f degrees of a search", worstBest, worstLimit)
	if worstBest > 0.15 || worstLimit > 0.15 {
		t.Errorf("off by %v and %v", worstBest, worstLimit)
	}
}

// The curve without overshoot, against a kept library's.
func TestSmoothAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 4))
	for range 200 {
		n := 3 + rng.IntN(5)
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i] = float64(i)+0.8*rng.Float64(), 10*rng.Float64()
		}
		var its interp.FritschButland
		if err := its.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		ours := newSmooth(x, y)
		for range 20 {
			at := x[0] + (x[n-1]-x[0])*rng.Float64()
			near(t, "between the points", ours.at(at), its.Predict(at), 1e-9)
		}
	}
}

// The draws are even: each input has the moments of its law, and no two go together.
func TestDrawsAreEven(t *testing.T) {
	list := draws(tries)
	for i := range inputs {
		mean, square := 0.0, 0.0
		for _, o := range list {
			mean += o.z[i] / tries
			square += o.z[i] * o.z[i] / tries
		}
		near(t, "mean", mean, 0, 1e-9)
		near(t, "spread", math.Sqrt(square), 1, 0.01)
		for j := range i {
			both := 0.0
			for _, o := range list {
				both += o.z[i] * o.z[j] / tries
			}
			near(t, "two inputs together", both, 0, 0.05)
		}
	}
}
