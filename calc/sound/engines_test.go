package sound

import (
	"math"
	"math/rand"
	"os"
	"testing"
)

// verdicts counts answers by whether they are right and how sure.
type verdicts struct {
	right, wrong map[string]int
	none, made   int
	errors       []float64
}

func (v *verdicts) add(in RPMIn, rpm float64) {
	v.made++
	out, err := RPM(in)
	if err != nil {
		v.none++
		return
	}
	if off := math.Abs(out.EngineRPM/rpm - 1); off < 0.05 {
		v.right[out.Sureness]++
		v.errors = append(v.errors, 100*off)
	} else {
		v.wrong[out.Sureness]++
	}
}

func (v *verdicts) answered() float64   { return float64(v.made-v.none) / float64(v.made) }
func (v *verdicts) share(n int) float64 { return float64(n) / float64(v.made) }
func all(by map[string]int) int         { return by["sure"] + by["likely"] + by["possible"] }

// listened lets the judge hear engines of one kind at speeds from 500 to 4000.
func listened(intervals, said []float64, more func(m *exhaust), speechToo bool) *verdicts {
	v := &verdicts{right: map[string]int{}, wrong: map[string]int{}}
	speeds, _ := testSpeeds()
	for i, rpm := range speeds {
		r := rand.New(rand.NewSource(int64(100 * i)))
		m := exhaust{intervals: intervals, rpm: rpm, seconds: 1.2, noiseDB: 10}
		more(&m)
		x := m.sound(r)
		if speechToo {
			mix(x, speech(len(x), r), 1)
		}
		in := RPMIn{Cylinders: len(intervals), SampleRate: madeRate, Samples: x}
		if said != nil {
			in.Firing = &Firing{IntervalsCrankDeg: said}
		}
		v.add(in, rpm)
	}
	return v
}

var conditions = []struct {
	name   string
	more   func(m *exhaust)
	speech bool
}{
	{"10 dB", func(m *exhaust) {}, false},
	{"3 dB", func(m *exhaust) { m.noiseDB = 3 }, false},
	{"fan and hum", func(m *exhaust) { m.fan, m.hum = true, true }, false},
	{"speech, 0 dB", func(m *exhaust) {}, true},
}

// TestEnginesWhoseFiringIsSaid: right where it answers, whether the firing is
// even or not, and never sure and wrong.
func TestEnginesWhoseFiringIsSaid(t *testing.T) {
	total := &verdicts{right: map[string]int{}, wrong: map[string]int{}}
	for name, intervals := range map[string][]float64{
		"even twin": evenly(2), "even 4": evenly(4), "even 6": evenly(6), "even 8": evenly(8),
		"bank of a V8": {90, 180, 270, 180},
		"uneven V6":    {90, 150, 90, 150, 90, 150}, "45° V-twin": {315, 405}, "90° V-twin": {270, 450},
		"180-540": {180, 540},
	} {
		for _, c := range conditions {
			v := listened(intervals, intervals, c.more, c.speech)
			t.Logf("%-14s %-13s right %v, wrong %v, none %d", name, c.name, v.right, v.wrong, v.none)
			answered, made := float64(v.made-v.none), float64(v.made)
			if c.name == "10 dB" && answered < 0.6*made-scatter(0.6, v.made) {
				t.Errorf("%s, %s: only %.0f %% answered", name, c.name, 100*v.answered())
			}
			if v.wrong["sure"] > 0 {
				t.Errorf("%s, %s: sure and wrong %d", name, c.name, v.wrong["sure"])
			}
			total.made, total.none, total.errors = total.made+v.made, total.none+v.none,
				append(total.errors, v.errors...)
			for s := range v.wrong {
				total.wrong[s] += v.wrong[s]
			}
			for s := range v.right {
				total.right[s] += v.right[s]
			}
		}
	}
	median := (&tally{errors: total.errors}).median()
	t.Logf("all %d: answered %.0f %%, right %v, wrong %v, median error %.2f %%", total.made, 100*total.answered(),
		total.right, total.wrong, median)
	if _, allowed := testSpeeds(); total.share(all(total.wrong)) > allowed {
		t.Errorf("wrong in %.1f %%", 100*total.share(all(total.wrong)))
	}
	if !(median <= 1) {
		t.Errorf("median error %.2f %%", median)
	}
	if float64(total.right["sure"]) < 0.25*float64(total.made)-scatter(0.25, total.made) {
		t.Errorf("sure and right in only %.0f %%", 100*total.share(total.right["sure"]))
	}
}

// TestEnginesWhoseFiringIsNotSaid: those that fire unevenly are refused or
// only possible, but where the answer is right; none is sure.
func TestEnginesWhoseFiringIsNotSaid(t *testing.T) {
	likelyWrong, made := 0, 0
	for name, intervals := range map[string][]float64{
		"bank of a V8": {90, 180, 270, 180}, "uneven V6": {90, 150, 90, 150, 90, 150},
		"another V6": {100, 140, 100, 140, 100, 140},
		"45° V-twin": {315, 405}, "90° V-twin": {270, 450}, "180-540": {180, 540}, "even 4": evenly(4),
	} {
		v := listened(intervals, nil, func(m *exhaust) {}, false)
		t.Logf("%-14s right %v, wrong %v, none %d", name, v.right, v.wrong, v.none)
		if v.right["sure"]+v.wrong["sure"] > 0 {
			t.Errorf("%s: sure", name)
		}
		likelyWrong, made = likelyWrong+v.wrong["likely"], made+v.made
	}
	if likelyWrong*100 > 2*made {
		t.Errorf("likely and wrong: %d of %d", likelyWrong, made)
	}
}

// scatter is by how many of n a share may be missed: none on the full count;
// fewer scatter, 2.6 standard deviations (binomial) are allowed there.
func scatter(share float64, n int) float64 {
	if os.Getenv("TRUTH_FULL") == "1" {
		return 0
	}
	return 2.6 * math.Sqrt(share*(1-share)*float64(n))
}

// TestWhatIsNoEngine: voices, music, mains hum and fans are refused, at most
// one in twenty is answered, and none is sure.
func TestWhatIsNoEngine(t *testing.T) {
	speeds, _ := testSpeeds()
	for name, sound := range map[string]func(int, *rand.Rand) []float64{"speech": speech, "music": music,
		"hum": humSound, "fan": fanSound} {
		answered, made := 0, 0
		for _, intervals := range [][]float64{evenly(1), evenly(2), evenly(4), evenly(6), evenly(8),
			{90, 180, 270, 180}, {90, 150, 90, 150, 90, 150}, {315, 405}} {
			for i := range len(speeds) {
				x := sound(int(1.2*madeRate), rand.New(rand.NewSource(int64(1000*len(intervals)+i))))
				out, err := RPM(RPMIn{Cylinders: len(intervals), SampleRate: madeRate, Samples: x,
					Firing: &Firing{IntervalsCrankDeg: intervals}})
				made++
				if err != nil {
					continue
				}
				answered++
				if out.Sureness == "sure" {
					t.Errorf("%s %d, %v: %.0f rpm, sure", name, i, intervals, out.EngineRPM)
				}
			}
		}
		t.Logf("%-7s answered %d of %d", name, answered, made)
		if float64(answered) > 0.05*float64(made)+scatter(0.05, made) {
			t.Errorf("%s: answered %d of %d", name, answered, made)
		}
	}
}
