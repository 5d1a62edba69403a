package sound

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

// RPMIn is a piece of sound, or pulse times, and the engine.
type RPMIn struct {
	Cylinders     int       `json:"cylinders" need:"yes" min:"1" max:"16" help:"cylinders of the engine; with a pipe for each bank, those that sound in this one"`
	SampleRate    float64   `json:"sampleRate,omitempty" min:"0" max:"192000" unit:"samples a second" help:"of samples or pcm16; 4000 or more"`
	Samples       []float64 `json:"samples,omitempty" min:"-1000000" max:"1000000" maxItems:"200000" help:"the sound, on any scale; half a second to 2 seconds"`
	PCM16         string    `json:"pcm16,omitempty" maxLen:"600000" help:"the same as base64 of 16-bit little-endian samples, which is read faster; instead of samples"`
	PulseMs       []float64 `json:"pulseMs,omitempty" min:"0" max:"10000" maxItems:"5000" unit:"milliseconds" help:"times of single firings instead of sound, from any start"`
	LowEngineRPM  float64   `json:"lowEngineRPM,omitempty" min:"0" max:"12000" unit:"engine rpm" help:"no slower than this; 350 unless said"`
	Firing        *Firing   `json:"firing,omitempty" help:"how the cylinders fire; even when left out, and the answer says so"`
	HighEngineRPM float64   `json:"highEngineRPM,omitempty" min:"0" max:"12000" unit:"engine rpm" help:"no faster than this; 6500 unless said"`
}

// Alternative is another speed that the sound could mean.
type Alternative struct {
	EngineRPM float64 `json:"engineRPM" unit:"engine rpm" help:"the speed"`
	Clarity   float64 `json:"clarity" help:"how clearly the sound repeats at that rate, 0 to 1"`
	Why       string  `json:"why" help:"how the two could be taken for one another"`
}

// RPMOut is the speed heard.
type RPMOut struct {
	EngineRPM    float64       `json:"engineRPM" unit:"engine rpm" help:"engine speed"`
	FiringHz     float64       `json:"firingHz" unit:"firings a second" help:"firing rate"`
	Clarity      float64       `json:"clarity" help:"how clearly the lines of that speed stand out of the sound, 0 to 1"`
	Sureness     string        `json:"sureness" enum:"sure|likely|possible" help:"sure only where every other speed is excluded and it was said how the engine fires; possible where another speed or another way of firing fits nearly as well"`
	Firing       FiringTaken   `json:"firing" help:"how the engine was taken to fire"`
	Alternatives []Alternative `json:"alternatives" help:"other speeds that fit, best first; empty when none does"`
	HeardSeconds float64       `json:"heardSeconds" unit:"seconds" help:"length of the sound"`
	Working      []string      `json:"working" help:"the rule with these figures in it"`
	Sources      []string      `json:"sources" help:"where the rules come from"`
}

const (
	lowestRPM, highestRPM = 350, 6500 // what is looked for unless said
	leastSeconds          = 0.5
	mostSeconds           = 4    // longer sound is cut to its first part
	silence               = 1e-4 // of full scale of 1, root mean square: 80 dB down
)

// RPM finds engine speed in a piece of sound.
//
//	engine rpm = cycles a second × crank degrees of a cycle / 6
//
// A sound that repeats with the engine's cycle has lines at whole multiples of
// the cycle's rate; the intervals between firings tell which are strong. The
// speed is taken whose lines explain the sound best. Refused: intervals that
// do not belong to the cylinders; sound that is too short or silent; sound in
// which no engine shows (noise, voices, music, mains hum, fans); pulses too
// few. Sources: arithmetic; the thresholds were chosen on made sounds
// (the tables of sound_test.go and engines_test.go).
func RPM(in RPMIn) (RPMOut, error) {
	if in.LowEngineRPM == 0 {
		in.LowEngineRPM = lowestRPM
	}
	if in.HighEngineRPM == 0 {
		in.HighEngineRPM = highestRPM
	}
	if in.HighEngineRPM < 1.2*in.LowEngineRPM {
		return RPMOut{}, refuse.Input("highEngineRPM", fmt.Sprintf("%g is hardly above the low end %g",
			in.HighEngineRPM, in.LowEngineRPM), "at least 1.2 times lowEngineRPM", "widen the range")
	}
	b, bad := in.firing()
	if bad != nil {
		return RPMOut{}, bad
	}
	heard, bad := in.sound()
	if bad != nil {
		return RPMOut{}, bad
	}
	h := b.listen(in, heard)
	if !h.isEngine() {
		return RPMOut{}, refuse.Input(heard.field, "no engine is heard in it",
			"the exhaust clearly louder than wind, fans, hum, voices and music",
			"hold the phone nearer to the tail pipe, out of the gas and the wind, and try again; or read the speed from a meter")
	}
	return h.report(heard), nil
}

// clip is a piece of sound ready to be listened to.
type clip struct {
	field   string // where it came from
	rate    float64
	samples []float64
}

func (c clip) seconds() float64 { return float64(len(c.samples)) / c.rate }

// sound takes one of the three ways a sound may be given.
func (in RPMIn) sound() (clip, *refuse.Error) {
	given := 0
	for _, there := range []bool{len(in.Samples) > 0, in.PCM16 != "", len(in.PulseMs) > 0} {
		if there {
			given++
		}
	}
	if given != 1 {
		return clip{}, refuse.Input("samples", fmt.Sprintf("%d of samples, pcm16 and pulseMs are given", given),
			"one of them", "give the sound once")
	}
	if len(in.PulseMs) > 0 {
		return in.pulses()
	}
	c := clip{"samples", in.SampleRate, in.Samples}
	if in.PCM16 != "" {
		c.field = "pcm16"
		raw, err := base64.StdEncoding.DecodeString(in.PCM16)
		if err != nil || len(raw)%2 != 0 {
			return clip{}, refuse.Input("pcm16", "is not base64 of whole 16-bit samples",
				"base64 with padding, two bytes a sample, low byte first", "check how the sound was packed")
		}
		for i := 0; i < len(raw); i += 2 {
			c.samples = append(c.samples, float64(int16(binary.LittleEndian.Uint16(raw[i:])))/32768)
		}
	}
	return c.checked()
}

func (c clip) checked() (clip, *refuse.Error) {
	if c.rate < 4000 {
		return c, refuse.Input("sampleRate", fmt.Sprintf("%g is too low", c.rate), "4000 to 192000 samples a second",
			"give the rate of the sound; 8000 will do")
	}
	if c.seconds() < leastSeconds {
		return c, refuse.Input(c.field, fmt.Sprintf("is only %.2f seconds long", c.seconds()),
			fmt.Sprintf("at least %g seconds", leastSeconds), "listen longer")
	}
	c.samples = c.samples[:min(len(c.samples), int(mostSeconds*c.rate))]
	var mean, power float64
	for _, x := range c.samples {
		mean += x / float64(len(c.samples))
	}
	for _, x := range c.samples {
		power += (x - mean) * (x - mean) / float64(len(c.samples))
	}
	if math.Sqrt(power) < silence {
		return c, refuse.Input(c.field, "is silent", fmt.Sprintf("louder than %g of full scale", silence),
			"start the engine, see that the microphone is allowed, and hold the phone nearer")
	}
	return c, nil
}

// pulses makes a sound of pulse times: a short bump at each.
func (in RPMIn) pulses() (clip, *refuse.Error) {
	const rate = 6000
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range in.PulseMs {
		low, high = math.Min(low, t), math.Max(high, t)
	}
	c := clip{field: "pulseMs", rate: rate}
	if len(in.PulseMs) < 8 || (high-low)/1000 < leastSeconds/2 {
		return c, refuse.Input("pulseMs", fmt.Sprintf("has %d pulses in %.2f seconds", len(in.PulseMs),
			(high-low)/1000), "at least 8 pulses in a quarter of a second", "listen longer")
	}
	high = math.Min(high, low+1000*mostSeconds)
	c.samples = make([]float64, int((high-low)/1000*rate)+12)
	for _, t := range in.PulseMs {
		at := (t - low) / 1000 * rate
		for i := max(0, int(at)-3); i < min(len(c.samples), int(at)+6); i++ {
			c.samples[i] += math.Exp(-(float64(i) - at) * (float64(i) - at) / 2)
		}
	}
	return c, nil
}
