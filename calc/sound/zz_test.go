package sound

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"slices"
	"strconv"
	"testing"
)

func env(n string, d float64) float64 {
	if v, e := strconv.ParseFloat(os.Getenv(n), 64); e == nil {
		return v
	}
	return d
}
func TestZZ(t *testing.T) {

	partOf = env("PO", .8)
	listn := func(x []float64, cyl int) (guess, *ear) {
		in := RPMIn{Cylinders: cyl, SampleRate: 8000, Samples: x, LowEngineRPM: 350, HighEngineRPM: 6500}
		c, _ := in.sound()
		e, e2 := listen(c)
		g, _ := e.choose(in)
		g2 := g
		if os.Getenv("G") != "" {
			g2.clarity = e2.clarity(g.period)
		}
		return g2, e
	}
	var ns []float64
	for s := int64(0); s < int64(env("NN", 20)); s++ {
		r := rand.New(rand.NewSource(s))
		for _, x := range [][]float64{made{cylinders: 4, engineQuiet: true, seconds: 2, rate: 8000}.sound(r), gusts(r)} {
			for _, c := range []int{4, 6, 8} {
				g, _ := listn(x, c)
				ns = append(ns, g.clarity)
			}
		}
	}
	slices.Sort(ns)
	thr := ns[len(ns)-1]
	a, _ := listn(tone(100), 4)
	b, _ := listn(hum(), 4)
	var tot [5]int
	var all, er []float64
	seed := int64(env("SEED", 7000))
	for _, k := range []string{"even", "phone", "fan", "missing", "all"} {
		for _, snr := range []float64{20, 6, 0} {
			for _, c := range []int{4, 6, 8} {
				for _, rpm := range []float64{500, 700, 950, 1300, 1900, 2700, 3300, 4000} {
					seed++
					m := made{cylinders: c, rpm: rpm, snrDB: snr, uneven: .15, wander: env("W", .01), seconds: 2, rate: 8000}
					m.phone = k == "phone" || k == "all"
					m.fan = k == "fan" || k == "all"
					m.missing = k == "missing" || k == "all"
					g, e := listn(m.sound(rand.New(rand.NewSource(seed))), c)
					got := 120 / (g.period * float64(c)) / rpm
					tot[0]++
					all = append(all, g.clarity)
					if g.clarity < thr {
						tot[1]++
					}
					if math.Abs(got-1) < .1 {
						er = append(er, math.Abs(got-1)*100)
					} else {
						if nearOctave(got) {
							tot[2]++
						} else {
							tot[3]++
						}
						if os.Getenv("V") != "" {
							fmt.Printf("   bad %s %v c%d rpm %v ratio %.3f cl %.3f truth %.3f\n", k, snr, c, rpm, got, g.clarity, e.refine(guess{period(rpm, c), 0}).clarity)
						}
					}
				}
			}
		}
	}
	slices.Sort(all)
	slices.Sort(er)
	fmt.Printf("noise max %.4f tone %.4f hum %.4f sig min %.4f 2%% %.4f 10%% %.4f; n %d none %d oct %d wrong %d  err med %.2f 95%% %.2f\n", thr, a.clarity, b.clarity, all[0], all[len(all)/50], all[len(all)/10], tot[0], tot[1], tot[2], tot[3], er[len(er)/2], er[len(er)*95/100])
}
