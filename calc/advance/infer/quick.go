package infer

import (
	"math"
	"math/rand/v2"
)

// The sampler asks for millions of exponentials, logarithms and random numbers.
// Those of the library are reckoned in WebAssembly at two to three times the
// time of these (BenchmarkQuick), and come out otherwise in the last digit than
// on the server. These come out alike on both (amd64; others may round once less).

// exp is e to the power of x to one part in 10¹⁰; nothing below −700.
// x = k ln 2 + r, |r| ≤ ln 2 / 2, and Taylor's series of r to the ninth power
// (W. J. Cody, W. Waite, Software manual for the elementary functions, 1980;
// named from memory).
func exp(x float64) float64 {
	if !(x > -700) {
		if x != x {
			return x // not a number
		}
		return 0
	}
	if x > 700 {
		return math.Inf(1)
	}
	k := x*math.Log2E + rounder
	n := math.Float64bits(k) - math.Float64bits(rounder)
	k -= rounder
	r := x - k*ln2High - k*ln2Low
	p := 1 + r*(1+r*(1.0/2+r*(1.0/6+r*(1.0/24+r*(1.0/120+r*(1.0/720+r*(1.0/5040+r*(1.0/40320+r/362880))))))))
	return p * math.Float64frombits((n+1023)<<52) // 1023: what a float64 adds to its exponent (IEEE 754)
}

// Exp is exp for rooms that stand on this one and ask for as many.
func Exp(x float64) float64 { return exp(x) }

// ln is the natural logarithm of x to one part in 10¹⁰, minus infinity at none:
// x = m 2^e, and the series of s = (m−1)/(m+1), |s| ≤ 0.172.
func ln(x float64) float64 {
	if !(x > 1e-300) || x > 1e300 {
		return math.Log(x)
	}
	bits := math.Float64bits(x)
	e := float64(int64(bits>>52) - 1023)
	m := math.Float64frombits(bits&(1<<52-1) | 1023<<52)
	if m > math.Sqrt2 {
		m, e = m/2, e+1
	}
	s := (m - 1) / (m + 1)
	z := s * s
	return e*math.Ln2 + 2*s*(1+z*(1.0/3+z*(1.0/5+z*(1.0/7+z*(1.0/9+z*(1.0/11+z*(1.0/13+z/15)))))))
}

const (
	// rounder: a float64 to which it has been added holds no fraction any more.
	rounder = 3 << 51
	// ln 2 in two parts, so that k times the first is exact (Cody and Waite).
	ln2High = 6.93147180369123816490e-01
	ln2Low  = 1.90821492927058770002e-10
)

// splitMix is a source of random numbers: G. L. Steele, D. Lea, C. H. Flood, Fast
// splittable pseudorandom number generators, OOPSLA 2014.
type splitMix uint64

// Uint64 gives the next 64 bits.
func (s *splitMix) Uint64() uint64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// streamOf gives one of many streams of random numbers of one seed.
func streamOf(number, seed uint64) *rand.Rand {
	s := splitMix(seed)
	s = splitMix(s.Uint64() ^ number*0x9e3779b97f4a7c15)
	return rand.New(&s)
}
