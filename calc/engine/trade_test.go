package engine

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Common practice: totals at full load by chamber, at the all-in speed, on fuel good
// enough for the engine. The three demo engines and one of each other kind. The
// chambers were set to these (burn.go), so this holds the setting only.
func TestFullLoadTotals(t *testing.T) {
	for _, c := range []struct {
		name        string
		engine      Engine
		octane, rpm float64
		least, most float64
		wide        float64 // how far outside the trade's band is still let pass
	}{
		{"side valve 6.3", made("side-valve", 64, 93, 6.3), 95, 3000, 20, 28, 0},
		{"Linnet, bathtub 8.3", linnet, 97, 3100, 28, 34, 0},
		{"Stour, wedge 8.8", stour, 97, 2850, 34, 36, 2},
		{"Ridgeway, wedge 9.6", ridgeway, 98, 2850, 34, 36, 2},
		{"hemisphere 9", made("hemispherical", 90, 85, 9), 98, 3400, 36, 40, 0},
		{"pent roof 9.5", made("pent-roof", 80, 75, 9.5), 98, 3000, 28, 32, 0},
	} {
		p := middleAt(t, c.engine, ron(c.octane), Air{}, c.rpm, 1)
		total := math.Min(p.best, p.limit-backOff)
		t.Logf("%-20s at %4.0f rpm: best %.1f, knock from %.1f, total %.1f; the trade says %.0f to %.0f", c.name, c.rpm,
			p.best, p.limit, total, c.least, c.most)
		if total < c.least-c.wide || total > c.most+c.wide {
			t.Errorf("%s: total %.1f, the trade says %.0f to %.0f", c.name, total, c.least, c.most)
		}
	}
}

// Common practice, each as a check: the trade's band, what the model says, and how far
// outside the band it may stand before this fails. Where it stands outside at all is
// printed as missed and said in DEVELOPERS.md.
func TestRulesOfTheTrade(t *testing.T) {
	rule := func(what string, got, least, most, slack float64) {
		verdict := "met"
		if got < least || got > most {
			verdict = "MISSED"
		}
		t.Logf("%-62s %6.2f, the trade says %g to %g: %s", what, got, least, most, verdict)
		if got < least-slack || got > most+slack {
			t.Errorf("%s: %.2f, the trade says %g to %g", what, got, least, most)
		}
	}
	at := func(e Engine, octane, rpm, load, feet float64) profile {
		metres := feet * 0.3048
		return middleAt(t, e, ron(octane), Air{AltitudeM: &metres}, rpm, load)
	}
	ratio, n := 0.0, 0.0
	for _, e := range []Engine{linnet, stour, ridgeway} {
		for _, rpm := range []float64{1500, 2500, 3500} {
			higher := e
			higher.CompressionRatio++
			ratio += at(e, 98, rpm, 1, 0).best - at(higher, 98, rpm, 1, 0).best
			n++
		}
	}
	rule("+1 compression: best timing later by", ratio/n, 1, 2, 0.5)
	higher := stour
	higher.CompressionRatio++
	base := at(stour, 98, 2500, 1, 0)
	rule("+1 compression: knock limit later by", base.limit-at(higher, 98, 2500, 1, 0).limit, 1, 2, 7)
	pump := at(stour, 95, 2500, 1, 0)
	rule("95 instead of 98 RON: knock limit later by", base.limit-pump.limit, 2, 4, 0)
	high := at(stour, 95, 2500, 1, 1000)
	rule("+1000 ft: best timing earlier by", high.best-pump.best, 0.5, 1.5, 0.5)
	rule("+1000 ft: knock limit earlier by", high.limit-pump.limit, 0.5, 1.5, 0.5)
	hot := stour
	hot.Cam = "hot"
	rule("hot cam at idle, 16 inHg: best timing earlier by", at(hot, 98, 800, 0.45, 0).best-at(stour, 98, 800, 0.45,
		0).best, 4, 8, 0)
	// 13 inHg; the band is of larger engines, a small bathtub with a quick flame stands below it.
	for _, e := range []Engine{linnet, stour, ridgeway} {
		rule(fmt.Sprintf("cruise, 2700 rpm, 13 inHg, %s %.1f: best timing", e.Chamber, e.CompressionRatio),
			at(e, 98, 2700, 0.565, 0).best, 42, 52, 6)
	}
}

// crossley is the torque polynomial of P. R. Crossley and J. A. Cook, IEE Control'91,
// as in the Modelica Standard Library, put to its peak over the spark: N in rpm, ma
// in grams of charge a cylinder.
func crossley(rpm, ma float64) float64 {
	return (0.26 + 0.00048*rpm*math.Pi/30 + 2.55*ma) / (2 * (0.0028 + 0.05*ma))
}

func TestCrossleyAndCook(t *testing.T) {
	near(t, "0.25 g at 3000", crossley(3000, 0.25), 34.26, 0.01)
	near(t, "0.50 g at 3000", crossley(3000, 0.50), 30.32, 0.01)
	// The engine behind the polynomial is not described; one cylinder of half a
	// litre, in which 0.5 g is about all there is room for, stands in.
	b := bodyOf(t, made("wedge", 86, 86, 9))
	var table strings.Builder
	fmt.Fprintf(&table, "best timing, model and polynomial, over charge and speed\n   g      rpm 1000      2000      3000      4500\n")
	for _, ma := range []float64{0.15, 0.25, 0.35, 0.5} {
		fmt.Fprintf(&table, "%.2f", ma)
		for _, rpm := range []float64{1000, 2000, 3000, 4500} {
			c := conditionOf(rpm, min(1, 0.2+0.8*(ma-0.08)/0.42), ron(95), Air{})
			fmt.Fprintf(&table, "   %5.1f %5.1f", b.profile(c, middle).best, crossley(rpm, ma))
		}
		table.WriteString("\n")
	}
	t.Log(table.String())
}

// Best timing rises with speed and falls with load, over all of the map, for any
// draw and engine: the signs of Crossley and Cook's polynomial. A hot cam is left
// out: at idle it draws back so much burned gas that a little more speed burns faster,
// which is why such engines like more lead at idle (common practice).
func TestSigns(t *testing.T) {
	list := draws(64)
	rapid.Check(t, func(t *rapid.T) {
		chamber := rapid.SampledFrom([]string{"side-valve", "bathtub", "wedge", "hemispherical",
			"pent-roof"}).Draw(t, "chamber")
		bore, stroke := rapid.Float64Range(60, 105).Draw(t, "bore"), rapid.Float64Range(60, 110).Draw(t, "stroke")
		e := made(chamber, bore, stroke, rapid.Float64Range(6, 11).Draw(t, "ratio"))
		e.Cam = rapid.SampledFrom([]string{"standard", "mild"}).Draw(t, "cam")
		b, bad := e.body()
		if bad != nil {
			t.Fatal(bad)
		}
		o := rapid.SampledFrom(list).Draw(t, "draw")
		rpm, load := rapid.Float64Range(800, 4500).Draw(t, "rpm"), rapid.Float64Range(0.4, 0.9).Draw(t, "load")
		at := func(rpm, load float64) float64 { return b.profile(conditionOf(rpm, load, ron(95), Air{}), o).best }
		here := at(rpm, load)
		if here > hardly || b.charge(conditionOf(rpm, load, ron(95), Air{}), o).left > mostBurned {
			return // such a charge hardly burns (say.go)
		}
		if faster := at(rpm*1.1, load); faster <= here {
			t.Fatalf("best %v at %v rpm, %v a tenth faster", here, rpm, faster)
		}
		if heavier := at(rpm, load+0.1); heavier >= here {
			t.Fatalf("best %v at load %v, %v a tenth heavier", here, load, heavier)
		}
	})
}

// Octane asked for against compression: Gasoline FAQ v1.12, B. Hamilton, 1996, part
// 3, read in a repost: 7:1 87, 8:1 92, 9:1 96, 10:1 100. What timing it holds for is not
// said there; ours is 3 degrees late of best at 2000 rpm (printed, and held loosely).
func TestOctaneOverCompression(t *testing.T) {
	for ratio, said := range map[float64]float64{7: 87, 8: 92, 9: 96, 10: 100} {
		e := stour
		e.CompressionRatio = ratio
		low, high := 60.0, 115.0
		for high-low > 0.1 {
			mid := (low + high) / 2
			if p := middleAt(t, e, ron(mid), Air{}, 2000, 1); p.limit < p.best-3 {
				low = mid
			} else {
				high = mid
			}
		}
		t.Logf("compression %.0f: asks for %.0f RON, published %.0f", ratio, low, said)
		near(t, "octane asked for", low, said, 4)
	}
}
