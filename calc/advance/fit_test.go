package advance

import (
	"math"
	"math/rand/v2"
	"testing"
)

// trueGovernor draws a governor from the population the coverage is stated
// for: two-spring units with limits of 8 to 15 distributor degrees met at 1000
// to 3000 distributor rpm; start, growth and the rate of the secondary against
// the primary as believed beforehand.
func trueGovernor(rng *rand.Rand) Model {
	for {
		m := Model{StartDistRPM: 300 * math.Exp(0.4*rng.NormFloat64()), LimitDistDeg: 8 + 7*rng.Float64(),
			FrictionDistDeg: 0.18 * math.Exp(0.6*rng.NormFloat64()),
			WeightGrowth:    0.012 + 0.012*rng.NormFloat64()}
		m.KneeDistDeg = m.LimitDistDeg * (0.2 + 0.6*rng.Float64())
		kneeRPM := m.StartDistRPM + 200 + 800*rng.Float64()
		_, m.PrimaryRate = springThrough(m.StartDistRPM, 0, kneeRPM, m.KneeDistDeg, m.WeightGrowth)
		m.SecondaryRate = m.PrimaryRate * 4 * math.Exp(0.8*rng.NormFloat64())
		steady := m.PrimaryRate > m.WeightGrowth*speedSquared(kneeRPM)
		if top := m.limitRPM(); steady && m.StartDistRPM > 60 && m.WeightGrowth > 0 &&
			top > max(1000, kneeRPM) && top < 3000 {
			return m
		}
	}
}

// benchRun reads a governor at speeds, up and down, with noise whose two
// standard deviations are the stated reading error.
func benchRun(m Model, speeds []float64, rng *rand.Rand) Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, dir := range []string{"rising", "falling"} {
		for _, rpm := range speeds {
			s.Points = append(s.Points, ReadingPoint{rpm, m.reads(rpm, dir == "falling") + 0.25*rng.NormFloat64(), dir})
		}
	}
	return s
}

func evenSpeeds(from, to float64, n int) []float64 {
	var out []float64
	for i := range n {
		out = append(out, from+(to-from)*float64(i)/float64(n-1))
	}
	return out
}

// TestIntervalsHoldTheTruth draws 1,000 governors, reads each with noise, and
// counts how often each interval holds the true value. The stated rate is
// 90 %: that is asked on other physics (package truth). On this room's own
// governors intervals are wider than need be, because a misfit of the model is
// allowed for that is not there: 87 or more is asked.
func TestIntervalsHoldTheTruth(t *testing.T) {
	draws, allowed := coverageDraws()
	held := map[string]int{}
	rng := rand.New(rand.NewPCG(7, 7))
	for range draws {
		m := trueGovernor(rng)
		out, err := Fit(FitIn{Readings: Sets{benchRun(m, evenSpeeds(0.7*m.StartDistRPM, 1.2*m.limitRPM(), 12), rng)}})
		if err != nil {
			t.Fatal(err)
		}
		truth := map[string]float64{"startDistRPM": m.StartDistRPM, "primaryRate": m.PrimaryRate,
			"secondaryRate": m.SecondaryRate, "kneeDistDeg": m.KneeDistDeg,
			"limitDistDeg": m.LimitDistDeg, "frictionDistDeg": m.FrictionDistDeg, "weightGrowth": m.WeightGrowth}
		for name, x := range truth {
			if iv := out.Intervals[name]; x >= iv[0] && x <= iv[1] {
				held[name]++
			}
		}
	}
	total := 0
	for name, n := range held {
		rate := 100 * float64(n) / float64(draws)
		total += n
		t.Logf("%-16s %.1f %%", name, rate)
		if rate < 100*statedRate-allowed || rate > 100*statedRate+8+allowed {
			t.Errorf("%s: the interval held the truth in %.1f %% of %d draws, want %v to %v", name, rate, draws,
				100*statedRate-allowed, 100*statedRate+8+allowed)
		}
	}
	t.Logf("together %.1f %% of %d", 100*float64(total)/float64(draws*len(held)), draws)
}

// TestKnownModelIsRecovered: over 40 noisy runs of one governor the middle
// estimate of each decided figure lies close to the truth.
func TestKnownModelIsRecovered(t *testing.T) {
	truth := engines[0].sound
	rng := rand.New(rand.NewPCG(23, 29))
	got := map[string][]float64{}
	for range 40 {
		out, err := Fit(FitIn{Readings: Sets{benchRun(truth, evenSpeeds(180, 2700, 14), rng)}})
		if err != nil {
			t.Fatal(err)
		}
		m := out.Model
		for name, x := range map[string]float64{"start": m.StartDistRPM, "knee": m.KneeDistDeg, "limit": m.LimitDistDeg,
			"friction": m.FrictionDistDeg, "knee rpm": out.KneeDistRPM, "limit rpm": out.LimitDistRPM} {
			got[name] = append(got[name], x)
		}
		if out.RMSDistDeg > 0.4 || len(out.Curve) < 20 {
			t.Errorf("rms %v, %d curve points", out.RMSDistDeg, len(out.Curve))
		}
	}
	for name, want := range map[string][2]float64{"start": {truth.StartDistRPM, 40}, "knee": {truth.KneeDistDeg, 0.5},
		"limit": {truth.LimitDistDeg, 0.2}, "friction": {truth.FrictionDistDeg, 0.1},
		"knee rpm": {truth.kneeRPM(), 60}, "limit rpm": {truth.limitRPM(), 100}} {
		if m := median(got[name]); math.Abs(m-want[0]) > want[1] {
			t.Errorf("%s comes out at %v, true %v", name, m, want[0])
		}
	}
}

func TestOneWildReadingIsSetAside(t *testing.T) {
	truth := engines[0].sound
	rng := rand.New(rand.NewPCG(31, 37))
	for at := 2; at < 10; at++ {
		set := benchRun(truth, evenSpeeds(180, 2700, 12), rng)
		set.Points[at].Deg += 5
		out, err := Fit(FitIn{Readings: Sets{set}})
		if err != nil {
			t.Fatal(err)
		}
		if len(out.Wild) != 1 || out.Wild[0].Point != at {
			t.Errorf("reading %d was wild, set aside: %+v", at, out.Wild)
		}
		if math.Abs(out.Model.LimitDistDeg-truth.LimitDistDeg) > 0.6 ||
			math.Abs(out.Model.at(1000)-truth.at(1000)) > 0.6 {
			t.Errorf("wild reading %d pulled the governor to %+v", at, out.Model)
		}
	}
}

func TestWhatCannotBeDecidedIsSaid(t *testing.T) {
	truth := engines[0].sound
	rng := rand.New(rand.NewPCG(41, 43))
	for _, c := range []struct {
		speeds []float64
		want   string
	}{{evenSpeeds(180, 1300, 8), "limitDistDeg"}, {evenSpeeds(600, 2700, 8), "startDistRPM"}} {
		out, err := Fit(FitIn{Readings: Sets{benchRun(truth, c.speeds, rng)}})
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, u := range out.Undecided {
			said = said || u.Name == c.want && u.Take != ""
		}
		if !said {
			t.Errorf("read over %v rpm, %s is not said to be undecided: %+v", c.speeds, c.want, out.Undecided)
		}
	}
	rising := benchRun(truth, evenSpeeds(180, 2700, 12), rng)
	rising.Points = rising.Points[:12]
	out, err := Fit(FitIn{Readings: Sets{rising}})
	if err != nil {
		t.Fatal(err)
	}
	if last := out.Undecided; len(last) == 0 || !hasName(last, "frictionDistDeg") {
		t.Errorf("rising only, yet friction is not undecided: %+v", last)
	}
}

// Read while rising only, the curve goes through the readings and not beside
// them: nothing shows friction there.
func TestOneDirectionIsFittedAsRead(t *testing.T) {
	base, none := 6.0, 900.0
	set := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, p := range [][2]float64{{900, 12}, {1500, 20}, {2200, 26}, {3200, 34}, {4200, 40}} { // the invented V8
		set.Points = append(set.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	spec := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "excluded", BaseCrankDeg: &base,
		NoAdvanceBelowRPM: &none,
		Points:            rows([][3]float64{{1500, 6, 10}, {2200, 12, 16}, {3200, 20, 24}, {4200, 26, 30}})}
	out, err := Fit(FitIn{Spec: &spec, Readings: Sets{set}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range set.Points {
		// half the reading error: the book's base is taken here, and no governor runs through all five on it
		if off := *out.BaseCrankDeg + 2*out.Model.at(p.RPM/2) - p.Deg; math.Abs(off) > 0.5 {
			t.Errorf("at %v engine rpm the curve lies %+.2f crank degrees off what was read", p.RPM, off)
		}
	}
	if f := out.Intervals["frictionDistDeg"]; out.Model.FrictionDistDeg != 0 || f[0] != 0 || f[1] < 0.3 {
		t.Errorf("friction %v, between %v", out.Model.FrictionDistDeg, f)
	}
}

func hasName(list []Undecided, name string) bool {
	for _, u := range list {
		if u.Name == name {
			return true
		}
	}
	return false
}

func TestFitRefusals(t *testing.T) {
	few := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded",
		Points: []ReadingPoint{{500, 2, ""}, {900, 6, ""}, {1500, 11, ""}}}
	same := few
	same.Points = []ReadingPoint{{1000, 7, ""}, {1010, 7, ""}, {1005, 7, ""}, {1000, 7.5, ""}}
	noBase := linnetStrobe()
	for name, in := range map[string]FitIn{"three readings": {Readings: Sets{few}}, "one speed": {Readings: Sets{same}},
		"no base known": {Readings: Sets{noBase}}} {
		if out, err := Fit(in); err == nil {
			t.Errorf("%s: fitted %+v", name, out.Model)
		}
	}
	spec := linnet()
	if out, err := Fit(FitIn{Readings: Sets{noBase}, Spec: &spec}); err != nil || out.Basis == "" {
		t.Errorf("with the book's base: %v", err)
	}
}
