package infer

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

var everySpeed = []float64{150, 250, 300, 400, 500, 650, 800, 950, 1100, 1300, 1500, 1750, 2000, 2250, 2500, 3000}

// The printed rows are allowed as printed, and the range never crosses itself.
func TestAllowedHoldsTheRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	for n := range 6 {
		b := bookFor(drawnGovernor(rng), 1, usualSpeeds[n%3:]...)
		least, most := b.Sound().Allowed(everySpeed)
		for i, rpm := range everySpeed {
			if least[i] > most[i]+1e-9 || math.IsNaN(least[i]+most[i]) {
				t.Errorf("at %g from %g to %g", rpm, least[i], most[i])
			}
			k := slices.IndexFunc(b.Rows, func(r Row) bool { return r.DistRPM == rpm })
			if k >= 0 && (least[i] != b.Rows[k].Least || most[i] != b.Rows[k].Most) {
				t.Errorf("at %g from %g to %g, printed %+v", rpm, least[i], most[i], b.Rows[k])
			}
		}
	}
}

// A row less, or a wider one, leaves no less open. The range is looked for by
// drawing, so a little is let pass.
func TestAllowedGrowsWithWhatIsLeftOpen(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for range 4 {
		g := drawnGovernor(rng)
		full := bookFor(g, 1, usualSpeeds...)
		less, wide := full, bookFor(g, 1.75, usualSpeeds...)
		less.Rows = slices.Delete(slices.Clone(full.Rows), 3, 5)
		at := []float64{400, 650, 950, 1100, 1300, 1500, 1750, 2250}
		low, high := full.Sound().Allowed(at)
		for name, other := range map[string]Book{"fewer rows": less, "wider rows": wide} {
			l, h := other.Sound().Allowed(at)
			for i := range at {
				if l[i] > low[i]+allowedSlack || h[i] < high[i]-allowedSlack {
					t.Errorf("%s: at %g %.2f to %.2f, with less left open %.2f to %.2f", name, at[i], l[i], h[i],
						low[i], high[i])
				}
			}
		}
	}
}

// allowedSlack: distributor degrees (chosen: less than any dial shows).
const allowedSlack = 0.3

// Every governor that lies in the rows lies in the range between them too.
func TestAllowedHoldsGovernorsOfTheRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	found, beyond, worst := 0, 0, 0.0
	for range 6 {
		g := drawnGovernor(rng)
		b := bookFor(g, 1, 300, 700, 1300, 2500)
		low, high := b.Sound().Allowed(everySpeed)
		q := prepare(Problem{Book: b})
		var x point
		for tries, kept := 0, 0; tries < 400000 && kept < 50; tries++ {
			drawUnit(&x, 0, rng)
			u := soundUnit{}
			if !governorOf(&x, 0, &u.Governor) || !inRows(&u, b, q) {
				continue
			}
			kept++
			found++
			for i, rpm := range everySpeed {
				if off := math.Max(low[i]-u.At(rpm), u.At(rpm)-high[i]); off > allowedSlack {
					beyond++
					worst = math.Max(worst, off)
				}
			}
		}
	}
	t.Logf("%d governors, beyond at %d of %d speeds, worst by %.2f", found, beyond, found*len(everySpeed), worst)
	if found < 200 || float64(beyond) > 0.002*float64(found*len(everySpeed)) || worst > 1 {
		t.Errorf("%d governors, beyond at %d speeds, worst by %.2f", found, beyond, worst)
	}
}

func inRows(u *soundUnit, b Book, q *prepared) bool {
	for _, r := range b.Rows {
		if a := u.shown(q, r.DistRPM); a < r.Least || a > r.Most {
			return false
		}
	}
	return true
}
