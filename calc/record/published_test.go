package record

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// norris is the data set Norris of the Statistical Reference Datasets of NIST
// (linear regression, 36 readings, y then x): typed from memory and found alike
// in published copies. The certified figures below check the typing, too.
var norris = [][2]float64{{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5},
	{668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6},
	{778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1},
	{998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3}, {0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1},
	{888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1},
	{449.2, 448.9}, {0.2, 0.5}}

// Certified by NIST: the slope, its standard deviation, that of the residuals.
const (
	norrisSlope      = 1.00211681802045
	norrisSlopeError = 0.429796848199937e-03
	norrisResidual   = 0.884796396144373
)

// within holds x against a figure to a part of it.
func within(t *testing.T, what string, x, want, part float64) {
	t.Helper()
	if math.Abs(x-want) > part*math.Abs(want) || math.IsNaN(x) {
		t.Errorf("%s: %.12g, want %.12g to a part of %.1g", what, x, want, part)
	}
}

// x is given in miles, so the rate is a thousand times the slope. The interval
// is the certified error times Student's t of 34 degrees of freedom.
func TestNorrisIsMetAsCertified(t *testing.T) {
	rows := slices.Clone(norris)
	slices.SortStableFunc(rows, func(a, b [2]float64) int { return cmp.Compare(a[1], b[1]) })
	in := DriftIn{}
	for _, r := range rows {
		in.Points = append(in.Points, Point{Miles: num(r[1]), Value: r[0]})
	}
	out, err := Drift(in)
	if err != nil || out.Low == nil {
		t.Fatal(out, err)
	}
	student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 34}.Quantile(0.95)
	within(t, "slope", *out.PerThousandMiles, 1000*norrisSlope, 1e-11)
	within(t, "half the interval", (*out.High-*out.Low)/2, 1000*norrisSlopeError*student, 1e-6)
	within(t, "below and above alike", *out.High-*out.PerThousandMiles, *out.PerThousandMiles-*out.Low, 1e-6)
	// with the certified residual given as reading error the normal spread takes
	// the place of Student's, about the same slope
	in.ReadingError = num(norrisResidual)
	h, _ := readHistory(in)
	b := beliefOf(in, h)
	b.errors = []weighted{{1, norrisResidual}}
	m, _ := weigh(h, b)
	r := m.rates()
	within(t, "slope, error known", r.middle, 1000*norrisSlope, 1e-11)
	within(t, "interval, error known", (r.high-r.low)/2, 1000*norrisSlopeError*distuv.UnitNormal.Quantile(0.95), 1e-9)
}

// Ordinary least squares by gonum, which knows nothing of this room: slope and
// Student's interval of invented readings, from one degree of freedom on.
func TestFreeFiguresAreLeastSquares(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{3, 4, 5, 8, 20, 60} {
		for range 20 {
			in, xs, ys := DriftIn{What: "other"}, make([]float64, n), make([]float64, n)
			miles := 1000 * rng.Float64()
			for i := range n {
				miles += 10 + 900*rng.Float64()
				xs[i], ys[i] = miles/1000, 12-0.4*miles/1000+0.3*rng.NormFloat64()
				in.Points = append(in.Points, Point{Miles: num(miles), Value: ys[i]})
			}
			out, err := Drift(in)
			if err != nil || out.Low == nil {
				t.Fatal(out, err)
			}
			_, slope := stat.LinearRegression(xs, ys, nil, false)
			student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile(0.95)
			half := student * slopeError(xs, ys)
			within(t, "slope", *out.PerThousandMiles, slope, 1e-9)
			part := 1e-6
			if n == 3 { // the grid of errors ends somewhere, and one degree of freedom has long tails
				part = 1e-3
			}
			within(t, "half the interval", (*out.High-*out.Low)/2, half, part)
		}
	}
}

// slopeError is the standard error of the slope of least squares: textbook.
func slopeError(xs, ys []float64) float64 {
	a, b := stat.LinearRegression(xs, ys, nil, false)
	squares, spread, middle := 0.0, 0.0, stat.Mean(xs, nil)
	for i, x := range xs {
		squares += square(ys[i] - a - b*x)
		spread += square(x - middle)
	}
	return math.Sqrt(squares / float64(len(xs)-2) / spread)
}

// Set again in between: both stretches have one slope and a height each, which
// is least squares of what each lies off its own middle, through the origin.
func TestLinesShareTheirSlope(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 20 {
		in := DriftIn{}
		var xs, ys []float64
		for line, n := range []int{3, 4, 2} {
			var x, y []float64
			for i := range n {
				miles := 5000*float64(line) + 1000*float64(i) + 500*rng.Float64()
				p := Point{Miles: &miles, Value: 10*float64(line) + miles/2000 + 0.2*rng.NormFloat64()}
				if i == 0 {
					p.Reset = "adjusted"
				}
				in.Points = append(in.Points, p)
				x, y = append(x, miles/1000), append(y, p.Value)
			}
			mx, my := stat.Mean(x, nil), stat.Mean(y, nil)
			for i := range x {
				xs, ys = append(xs, x[i]-mx), append(ys, y[i]-my)
			}
		}
		_, slope := stat.LinearRegression(xs, ys, nil, true)
		squares, spread := 0.0, 0.0
		for i := range xs {
			squares, spread = squares+square(ys[i]-slope*xs[i]), spread+square(xs[i])
		}
		nu := float64(len(xs) - 3 - 1)
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(0.95) * math.Sqrt(squares/nu/spread)
		out, err := Drift(in)
		if err != nil || out.Low == nil {
			t.Fatal(out, err)
		}
		within(t, "slope", *out.PerThousandMiles, slope, 1e-9)
		within(t, "half the interval", (*out.High-*out.Low)/2, half, 1e-6)
	}
}
