//go:build e2e

package e2e

import (
	"math"
	"os"
	"path/filepath"
	"testing"
)

const (
	earRate    = 48000
	earLead    = 0.6 // seconds of silence before the first sound
	earSegment = 1.5 // seconds of each engine
	earNoisy   = 4.0 // seconds of noise alone: as long as the page takes to make up its mind, and as long again
)

type earClip struct {
	rpm      float64 // 0: no engine
	name     string
	from, to float64 // seconds in the file, after the lead
}

type earAdditions struct {
	noiseDB           float64 // the engine above the noise
	hasFan, isMissing bool
}

// earFile makes one sound file for engines of so many cylinders.
func earFile(cylinders int) (samples []float64, segments []earClip) {
	random := earNoise(uint64(cylinders))
	samples = make([]float64, int(earLead*earRate))
	for _, condition := range earConditions {
		for _, rpm := range earSpeeds {
			samples = append(samples, earEngine(cylinders, rpm, condition.add, random)...)
			from := float64(len(segments)) * earSegment
			segments = append(segments, earClip{rpm, condition.name, from, from + earSegment})
		}
	}
	n := int(earNoisy * earRate)
	white, wind := make([]float64, n), make([]float64, n)
	low := 0.0
	for i := range white {
		white[i] = 0.2 * random()
		low += 0.01 * (random() - low)
		wind[i] = 2 * low
	}
	samples = append(append(samples, white...), wind...)
	from := float64(len(segments)) * earSegment
	return samples, append(segments, earClip{0, "noise alone", from, from + earNoisy},
		earClip{0, "wind alone", from + earNoisy, from + 2*earNoisy})
}

// earEngine: each firing rings the pipe, each cylinder a little differently.
func earEngine(cylinders int, rpm float64, add earAdditions, random func() float64) []float64 {
	n := int(earSegment * earRate)
	out := make([]float64, n)
	gap := 120 / rpm / float64(cylinders) * earRate
	loud := make([]float64, cylinders)
	for i := range loud {
		loud[i] = 1 + 0.15*random()
	}
	if add.isMissing {
		loud[1] = 0.15
	}
	for firing := 0; float64(firing)*gap < float64(n); firing++ {
		at := float64(firing) * gap
		for i := int(at) + 1; i < min(n, int(at+0.06*earRate)); i++ {
			s := (float64(i) - at) / earRate
			out[i] += loud[firing%cylinders] * math.Exp(-s/0.008) * (math.Sin(2*math.Pi*120*s) +
				0.5*math.Sin(2*math.Pi*310*s))
		}
	}
	power := 0.0
	for _, x := range out {
		power += x * x / float64(n)
	}
	noise := math.Sqrt(power) * math.Pow(10, -add.noiseDB/20)
	most := 0.0
	for i := range out {
		s := float64(i) / earRate
		if add.hasFan {
			out[i] += math.Sqrt(power) * 0.6 * (math.Sin(2*math.Pi*143*s) + 0.5*math.Sin(2*math.Pi*286*s))
		}
		out[i] += noise * random()
		most = max(most, math.Abs(out[i]))
	}
	for i := range out {
		out[i] *= 0.8 / most
	}
	return out
}

// earNoise gives numbers of mean 0 and variance 1, the same in every run.
func earNoise(seed uint64) func() float64 {
	state := seed*0x9e3779b97f4a7c15 + 1
	uniform := func() float64 {
		state ^= state << 13
		state ^= state >> 7
		state ^= state << 17
		return float64(state>>11) / (1 << 53)
	}
	return func() float64 { return (uniform() + uniform() + uniform() + uniform() - 2) * math.Sqrt(3) }
}

// earWAV writes 16-bit mono sound.
func earWAV(t *testing.T, samples []float64) string {
	t.Helper()
	le := func(x uint32, bytes int) (out []byte) {
		for i := range bytes {
			out = append(out, byte(x>>(8*i)))
		}
		return out
	}
	data := make([]byte, 0, 2*len(samples))
	for _, x := range samples {
		data = append(data, le(uint32(int32(math.Round(32767*max(-1, min(1, x))))), 2)...)
	}
	var file []byte
	for _, part := range [][]byte{[]byte("RIFF"), le(uint32(36+len(data)), 4), []byte("WAVEfmt "), le(16, 4), le(1, 2),
		le(1, 2), le(earRate, 4), le(2*earRate, 4), le(2, 2), le(16, 2), []byte("data"),
		le(uint32(len(data)), 4), data} {
		file = append(file, part...)
	}
	path := filepath.Join(t.TempDir(), "engine.wav")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
