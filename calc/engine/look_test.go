package engine

import (
	"fmt"
	"testing"
)

func mk(ch string, bore, stroke, r float64) body {
	e := Engine{BoreMm: &bore, StrokeMm: &stroke, CompressionRatio: r, Chamber: ch}
	b := body{engine: e, bore: bore / 1000, stroke: stroke / 1000, shape: chambers[ch], rod: 3.5}
	b.grid = newGrid(3.5)
	return b
}
func TestLook(t *testing.T) {
	for _, x := range []struct {
		ch           string
		b, s, r, ron float64
	}{{"side-valve", 64, 93, 6.3, 95}, {"bathtub", 73, 75, 8.3, 95}, {"wedge", 88, 71, 8.8, 95}, {"wedge", 99, 84, 9.6, 98}, {"hemispherical", 90, 85, 9, 98}, {"pent-roof", 80, 75, 10, 98}} {
		b := mk(x.ch, x.b, x.s, x.r)
		fmt.Println(x)
		for _, load := range []float64{1, .6, .4} {
			for _, rpm := range []float64{800, 1600, 2000, 3000, 4000, 5000} {
				c := conditionOf(rpm, load, Fuel{Octane: x.ron, Scale: "RON"}, Air{})
				p := b.profile(c, middle)
				y := b.cylinder(c, middle)
				r := y.run(p.best)
				fmt.Printf("  load %.1f rpm %4.0f mbt %5.1f limit %5.1f %-5v ca50 %4.1f lnK@mbt %.2f slope %.3f del %.1f dur %.1f left %.3f T1 %.0f heat %.1f eff %.3f imep %.1f pk %.0f@%.0f\n", load, rpm, p.best, p.limit, p.limitPresent, p.at50-p.best, r.lnKnock, (p.value(&p.knock, p.best)-p.value(&p.knock, p.best-4))/4, y.delay, y.duration, y.in.left, y.in.kelvin, y.in.heat, r.work/y.in.heat, r.work*p.ratio/(p.ratio-1)*p.kPa/100, r.peak*p.kPa/100, r.peakAt)
			}
		}
	}
}
func BenchmarkProfile(b *testing.B) {
	bd := mk("wedge", 99, 84, 9.6)
	c := conditionOf(3000, 1, Fuel{Octane: 95, Scale: "RON"}, Air{})
	for b.Loop() {
		bd.profile(c, middle)
	}
}
