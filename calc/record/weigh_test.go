package record

import (
	"math"
	"slices"
	"testing"
)

// A slip is a reading with a larger error. Every part, made by adding slips to
// a node one by one, is the one that comes out when the covariance is built anew
// with those errors in it: likelihood, means, covariances.
func TestSlipsAreLargerErrors(t *testing.T) {
	in := eight()
	h, _ := readHistory(in)
	b := beliefOf(in, h)
	d, seen := square(b.slipSpread), 0
	odds := math.Log(b.slipShare / (1 - b.slipShare))
	in.Points[2].Value, in.Points[7].Value = 66, 52 // two to be found, one of them the last
	h, _ = readHistory(in)
	for k, n := range b.nodes(h) {
		if k%17 != 0 {
			continue
		}
		rest, cov := n.readings(h)
		s := state{h: h, b: b, node: n, fit: project(h, rest, cov, false), lastVar: n.errorVar}
		s.logWeight = n.logShare + s.fit.logLike
		for _, p := range s.parts() {
			rest, cov := n.readings(h)
			last := n.errorVar
			for _, i := range p.slipped {
				cov[i*len(h.x)+i] += d
			}
			if slices.Contains(p.slipped, len(h.x)-1) {
				last += d
			}
			anew := state{h: h, b: b, node: n, fit: project(h, rest, cov, false), slipped: p.slipped, lastVar: last}
			anew.logWeight = n.logShare + anew.fit.logLike + odds*float64(len(p.slipped))
			mean, prior, with := n.prior(h)
			want := anew.part(mean, prior, with)
			seen = max(seen, len(p.slipped))
			differ := math.Abs(p.weight - want.weight)
			for a := range asked {
				differ = max(differ, math.Abs(p.mean[a]-want.mean[a]))
				for c := range asked {
					differ = max(differ, math.Abs(p.cov[a][c]-want.cov[a][c]))
				}
			}
			if differ > 1e-8 {
				t.Fatalf("slips %v of node %d: %+v, anew %+v", p.slipped, k, p, want)
			}
		}
	}
	if seen < 2 {
		t.Errorf("at most %d slips were looked at", seen)
	}
}

// The inverse is one, and the determinant that of the factors it was made of.
func TestInvert(t *testing.T) {
	// L Lᵀ with L below: determinant (2·3·0.5)²
	l := [3][3]float64{{2, 0, 0}, {1, 3, 0}, {-4, 0.25, 0.5}}
	a := make([]float64, 9)
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				a[3*i+j] += l[i][k] * l[j][k]
			}
		}
	}
	b := slices.Clone(a)
	if logDet := invert(b, 3); math.Abs(logDet-math.Log(9)) > 1e-12 {
		t.Errorf("determinant %v", math.Exp(logDet))
	}
	for i := range 3 {
		for j := range 3 {
			sum, want := 0.0, 0.0
			for k := range 3 {
				sum += a[3*i+k] * b[3*k+j]
			}
			if i == j {
				want = 1
			}
			if math.Abs(sum-want) > 1e-10 {
				t.Errorf("%d, %d: %v", i, j, sum)
			}
		}
	}
}
