package sound

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"
)

// tally of one kind of sound.
type tally struct {
	errors                      []float64
	octave, wrong, silent, made int
	sureWrong                   int
}

func (c *tally) add(m made, seed int64) {
	c.made++
	out, err := RPM(RPMIn{Cylinders: m.cylinders, SampleRate: m.rate, Samples: m.sound(rand.New(rand.NewSource(seed)))})
	if err != nil {
		c.silent++
		return
	}
	ratio := out.EngineRPM / m.rpm
	switch {
	case math.Abs(ratio-1) < 0.1:
	case nearOctave(ratio):
		c.octave++
	default:
		c.wrong++
	}
	if math.Abs(ratio-1) > 0.1 && out.Sureness == "sure" {
		c.sureWrong++
	}
	c.errors = append(c.errors, 100*math.Abs(ratio-1))
}

// nearOctave: half, double, quarter, ... within a tenth.
func nearOctave(ratio float64) bool {
	return math.Abs(math.Remainder(math.Log2(ratio), 1)) < math.Log2(1.1)
}

func (c *tally) median() float64 {
	if len(c.errors) == 0 {
		return math.NaN()
	}
	slices.Sort(c.errors)
	return c.errors[len(c.errors)/2]
}

func (c *tally) join(other *tally) {
	c.errors = append(c.errors, other.errors...)
	c.octave, c.wrong, c.silent, c.made, c.sureWrong = c.octave+other.octave, c.wrong+other.wrong, c.silent+other.silent, c.made+other.made, c.sureWrong+other.sureWrong
}

const tableHead = "cylinders  sound                    noise  readings  none  wrong octave  wrong else  median error"

func (c *tally) line(cylinders, kind, noise string) string {
	return fmt.Sprintf("%9s  %-24s %5s  %8d  %4d  %12d  %10d  %10.2f %%", cylinders, kind, noise, c.made, c.silent, c.octave, c.wrong, c.median())
}

// TestTableOfMadeSounds prints how well speed is heard in made sounds, and
// holds each line and the whole to the limits: median error at most 1 %,
// wrong octave at most 2 %.
func TestTableOfMadeSounds(t *testing.T) {
	kinds := []struct {
		name string
		set  func(*made)
	}{
		{"even", func(m *made) {}},
		{"through a phone", func(m *made) { m.phone = true }},
		{"with a fan", func(m *made) { m.fan = true }},
		{"one cylinder missing", func(m *made) { m.missing = true }},
		{"fan and one missing", func(m *made) { m.fan, m.missing, m.phone = true, true, true }},
	}
	speeds := testSpeeds()
	lines, all, seed := []string{tableHead}, &tally{}, int64(1)
	for _, cylinders := range []int{4, 6, 8} {
		for _, kind := range kinds {
			for _, snr := range []float64{20, 6, 0} {
				c := &tally{}
				for _, rpm := range speeds {
					m := made{cylinders: cylinders, rpm: rpm, snrDB: snr, uneven: 0.15, wander: 0.01, seconds: 2, rate: 8000}
					kind.set(&m)
					c.add(m, seed)
					seed++
				}
				lines = append(lines, c.line(fmt.Sprint(cylinders), kind.name, fmt.Sprintf("%.0f dB", snr)))
				if !(c.median() <= 1) {
					t.Errorf("%d cylinders, %s, %v dB: median error %.2f %%", cylinders, kind.name, snr, c.median())
				}
				all.join(c)
			}
		}
	}
	lines = append(lines, all.line("all", "all", "all"))
	t.Log("\n" + strings.Join(lines, "\n"))
	if share := float64(all.octave) / float64(all.made); share > 0.02 {
		t.Errorf("wrong octave in %.1f %%", 100*share)
	}
	if share := float64(all.wrong+all.silent) / float64(all.made); share > 0.02 {
		t.Errorf("no reading or another wrong one in %.1f %%", 100*share)
	}
	t.Logf("wrong and called sure: %d of %d", all.sureWrong, all.made)
	if all.sureWrong*200 > all.made {
		t.Errorf("wrong and called sure in %d of %d", all.sureWrong, all.made)
	}
}

// TestNothingIsHeardInNoise: no reading on noise, rumble, gusts, hum or a
// voice-like sound.
func TestNothingIsHeardInNoise(t *testing.T) {
	for seed := range int64(len(testSpeeds())) {
		r := rand.New(rand.NewSource(seed))
		for name, x := range map[string][]float64{"noise and rumble": made{cylinders: 4, engineQuiet: true, seconds: 2, rate: 8000}.sound(r), "gusts": gusts(r)} {
			for _, cylinders := range []int{4, 6, 8} {
				out, err := RPM(RPMIn{Cylinders: cylinders, SampleRate: 8000, Samples: x})
				if err == nil {
					t.Errorf("%s, seed %d: %.0f rpm with clarity %.3f", name, seed, out.EngineRPM, out.Clarity)
				}
			}
		}
	}
	for name, x := range map[string][]float64{"silence": make([]float64, 16000), "a whisper": scaled(noises(16000, rand.New(rand.NewSource(1))), 1e-6), "a steady level": filled(16000, 0.3), "a pure tone": tone(100), "mains hum": hum()} {
		if out, err := RPM(RPMIn{Cylinders: 4, SampleRate: 8000, Samples: x}); err == nil {
			t.Errorf("%s: %.0f rpm, %s, clarity %.3f", name, out.EngineRPM, out.Sureness, out.Clarity)
		}
	}
}

func gusts(r *rand.Rand) []float64 {
	x, slow := noises(16000, r), 0.0
	for i := range x {
		slow = 0.9995*slow + 0.02*r.NormFloat64()
		x[i] *= math.Exp(slow)
	}
	return x
}

func scaled(x []float64, by float64) []float64 {
	for i := range x {
		x[i] *= by
	}
	return x
}

func filled(n int, v float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = v
	}
	return x
}

func tone(hz float64) []float64 {
	r, x := rand.New(rand.NewSource(1)), make([]float64, 16000)
	for i := range x {
		x[i] = math.Sin(2*math.Pi*hz*float64(i)/8000) + 0.1*r.NormFloat64()
	}
	return x
}

func hum() []float64 {
	x := tone(50)
	for i, v := range tone(150) {
		x[i] += 0.3 * v
	}
	return x
}
