package infer

import (
	"math"
	"testing"
)

// TestQuickFunctionsAgree holds the quick functions against the library's.
func TestQuickFunctionsAgree(t *testing.T) {
	for x := -690.0; x < 690; x += 0.0137 {
		if got, want := exp(x), math.Exp(x); math.Abs(got/want-1) > 1e-10 {
			t.Fatalf("exp(%g) = %g, the library says %g", x, got, want)
		}
	}
	for x := -600.0; x < 600; x += 0.0137 {
		y := math.Exp(x)
		if got, want := ln(y), math.Log(y); math.Abs(got-want) > 1e-10*max(1, math.Abs(want)) {
			t.Fatalf("ln(%g) = %g, the library says %g", y, got, want)
		}
	}
	for _, c := range []struct{ got, want float64 }{
		{exp(0), 1}, {exp(math.Inf(-1)), 0}, {exp(-1000), 0}, {exp(1000), math.Inf(1)},
		{ln(1), 0}, {ln(0), math.Inf(-1)}, {ln(math.Inf(1)), math.Inf(1)},
		{ln(math.SmallestNonzeroFloat64), math.Log(math.SmallestNonzeroFloat64)},
	} {
		if c.got != c.want {
			t.Errorf("%g, want %g", c.got, c.want)
		}
	}
	if !math.IsNaN(ln(-1)) || !math.IsNaN(ln(math.NaN())) {
		t.Error("the logarithm of less than nothing is a number")
	}
}

// TestStreamsAreRandom holds mean, spread and independence of the streams.
func TestStreamsAreRandom(t *testing.T) {
	const n = 20000
	for number := range uint64(20) {
		a, b := streamOf(number, 7), streamOf(number+1, 7)
		sum, squares, both := 0.0, 0.0, 0.0
		for range n {
			x, y := a.NormFloat64(), b.NormFloat64()
			sum, squares, both = sum+x, squares+x*x, both+x*y
		}
		// five deviations of each: once in two million
		if r := math.Sqrt(n); math.Abs(sum) > 5*r || math.Abs(both) > 5*r || math.Abs(squares-n) > 5*r*math.Sqrt2 {
			t.Errorf("stream %d: mean %g, square %g, with the next one %g", number, sum/n, squares/n, both/n)
		}
	}
}

var sink float64

func BenchmarkQuick(b *testing.B) {
	for _, c := range []struct {
		name string
		of   func(float64) float64
	}{{"exp", exp}, {"library-exp", math.Exp}, {"ln", ln}, {"library-ln", math.Log}} {
		b.Run(c.name, func(b *testing.B) {
			x := 1.0
			for b.Loop() {
				sink += c.of(x)
				x += 1e-7
			}
		})
	}
}
