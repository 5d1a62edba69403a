//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// What the microphone hears: engines of a known speed one after the other, in
// noise as loud as the engine itself (0 dB), or with a fan beside it and one
// cylinder missing; and noise alone.
var (
	earSpeeds     = []float64{500, 750, 1100, 1700, 2600, 4000}
	earConditions = []struct {
		name string
		add  earAdditions
	}{{"noise 0 dB", earAdditions{noiseDB: 0}},
		{"fan, one missing, 10 dB", earAdditions{noiseDB: 10, hasFan: true, isMissing: true}}}
)

type heardAt struct {
	T     float64   `json:"t"`
	RPM   *float64  `json:"rpm"`   // what the page would show, knowing the speed that is held to a fifth
	Alone *float64  `json:"alone"` // what the sound alone says
	Sure  string    `json:"sure"`  // of the sound alone
	Other []float64 `json:"other"` // what else it could mean
	Shown *float64  `json:"shown"` // what the page shows after this answer and those before it in the same sound
}

// Chromium's own fake capture plays the sounds into the page, which listens
// through its worklet and asks its engine. One browser for each file.
func TestTheMicrophoneReadsTheSpeed(t *testing.T) {
	t.Parallel() // with the other long ones
	if testing.Short() {
		t.Fatal("this test plays a minute of sound; run it without -short")
	}
	s := newSite(t)
	var errors []float64
	wrong, count, silent, falsely := 0, 0, 0, 0
	t.Logf("%-4s %6s  %-24s %s", "cyl", "rpm", "with", "heard")
	files := earFiles(t, s)
	for _, file := range files {
		cylinders := file.cylinders
		for _, segment := range file.segments {
			heard := whollyIn(file.answers, segment)
			if segment.rpm == 0 {
				for _, each := range heard {
					if each.Shown != nil {
						falsely++
					}
				}
				t.Logf("%-4d %6s  %-24s %s", cylinders, "–", segment.name, said(heard))
				if len(heard) == 0 {
					t.Errorf("%d cylinders, %s: nothing was asked", cylinders, segment.name)
				}
				continue
			}
			count++
			t.Logf("%-4d %6.0f  %-24s %s", cylinders, segment.rpm, segment.name, said(heard))
			speed, isHeard := median(heard)
			leavesItOpen(t, segment, heard)
			switch ratio := speed / segment.rpm; {
			case !isHeard:
				silent++
			case math.Abs(ratio-1) > 0.2:
				wrong++
			default:
				errors = append(errors, math.Abs(ratio-1))
			}
		}
	}
	slices.Sort(errors)
	middle := errors[len(errors)/2]
	t.Logf("%d cases: median error %.2f %%, wrong octave %d, no reading %d, readings shown in noise alone %d", count,
		100*middle, wrong, silent, falsely)
	if middle > 0.01 {
		t.Errorf("median error %.2f %%, at most 1 %% is asked", 100*middle)
	}
	if float64(wrong) > 0.02*float64(count) {
		t.Errorf("%d of %d at a wrong octave, at most 2 %% is asked", wrong, count)
	}
	// An even engine without a missing cylinder is a note, and may be refused; with one it is heard.
	if float64(silent) > 0.75*float64(count) {
		t.Errorf("%d of %d gave no reading", silent, count)
	}
	if falsely > 0 {
		t.Errorf("%d readings were given of noise alone", falsely)
	}
}

// An earHearing is one file of sounds, and what was heard in it.
type earHearing struct {
	cylinders int
	segments  []earClip
	answers   []heardAt
}

// earFiles plays the files for engines of 4, 6 and 8 cylinders, each in a
// browser of its own, side by side: it takes as long as the sounds last.
func earFiles(t *testing.T, s *site) []earHearing {
	files := []earHearing{{cylinders: 4}, {cylinders: 6}, {cylinders: 8}}
	t.Run("listening", func(t *testing.T) {
		for i := range files {
			t.Run(fmt.Sprintf("%d cylinders", files[i].cylinders), func(t *testing.T) {
				t.Parallel()
				clips, segments := earFile(files[i].cylinders)
				files[i].segments, files[i].answers = segments, listens(t, s, files[i].cylinders, clips, segments)
			})
		}
	})
	return files
}

// withEar starts a browser whose microphone hears a file.
func withEar(t *testing.T, samples []float64) *browser {
	t.Helper()
	return launch(t, filepath.Join(t.TempDir(), "phone"), chromedp.Flag("use-fake-device-for-media-stream", true),
		chromedp.Flag("use-fake-ui-for-media-stream", true),
		chromedp.Flag("use-file-for-fake-audio-capture", earWAV(t, samples)))
}

// listens plays the file once and gives every answer, with the time in the
// file at which its window ended, counted in samples, not by a clock.
func listens(t *testing.T, s *site, cylinders int, samples []float64, segments []earClip) []heardAt {
	t.Helper()
	b := withEar(t, samples)
	p := b.phone(t, s.origin())
	p.open("#/")
	until(t, "the engine is ready", func() bool {
		return eval[string](p, `import("/js/engine/client.js").then((client) => client.engineState())`) == "ready"
	})
	long := float64(len(samples))/earRate - earLead
	var sounds []map[string]float64
	for _, segment := range segments {
		// what the person aims at, a fifth off
		sounds = append(sounds, map[string]float64{"from": segment.from, "to": segment.to, "held": 1.2 * segment.rpm})
	}
	aims, _ := json.Marshal(sounds)
	eval[bool](p, fmt.Sprintf(`import("/js/ear/hearing.js").then(async ({Sound, weighed}) => {
		const sounds = %s, heldAt = (t) => sounds.find(({to}) => t <= to)?.held || null;
		const weighing = (answer, t) => { const heard = weighed(answer, heldAt(t)); return {rpm: heard.engineRPM, heard}; };
		const stream = await navigator.mediaDevices.getUserMedia({audio: {echoCancellation: false, noiseSuppression: false, autoGainControl: false}});
		const settings = stream.getAudioTracks()[0].getSettings();
		if (settings.echoCancellation || settings.noiseSuppression || settings.autoGainControl) throw new Error("the processing is still on");
		const audio = new AudioContext();
		await audio.audioWorklet.addModule("/js/ear/ear-worklet.js");
		const node = new AudioWorkletNode(audio, "ear"), sound = new Sound(), answers = window.heard = [];
		let from = -1, taken = 0, last = 0;
		node.port.onmessage = ({data: {rate, sound: piece}}) => {
			sound.add(rate, piece);
			const first = from < 0 ? piece.findIndex((x) => Math.abs(x) > 0.03) : -1;
			if (first >= 0) from = taken + first;
			taken += piece.length;
			const t = (taken - from) / rate;
			window.heardUntil = from < 0 ? 0 : t;
			if (from < 0 || t - last < 0.46 || t > %g) return; // a little slower than the page asks
			last = t;
			const packed = sound.pcm16();
			window.questions = (window.questions ?? 0) + 1;
			import("/js/engine/client.js").then(({call}) => call("sound.rpm", {cylinders: %d, sampleRate: rate, pcm16: packed})).then((answer) => answers.push({t, ...weighing(answer, t), alone: answer.engineRPM, sure: answer.sureness, other: answer.alternatives.map(({engineRPM}) => engineRPM)}), () => answers.push({t, rpm: null, alone: null, sure: "", other: []}));
		};
		audio.createMediaStreamSource(stream).connect(node);
		await audio.resume();
		return true;
	})`, aims, long, cylinders))
	time.Sleep(time.Duration((long + earLead) * float64(time.Second)))
	// a busy machine plays slower
	for limit := time.Now().Add(3 * time.Minute); eval[float64](p,
		`window.heardUntil`) < long; time.Sleep(300 * time.Millisecond) {
		if time.Now().After(limit) {
			t.Fatalf("only %g of %g seconds were played", eval[float64](p, `window.heardUntil`), long)
		}
	}
	if !within(4*time.Minute, func() bool {
		return eval[int](p, `window.heard.length`) >= eval[int](p, `window.questions`)
	}) {
		t.Fatal("not every sound was answered")
	}
	answers := eval[[]heardAt](p, fmt.Sprintf(`import("/js/ear/hearing.js").then(({followed}) => {
		for (const {from, to} of %s) {
			let answers = [], last = -1;
			for (const each of window.heard.filter(({t}) => t >= from + 1.25 && t <= to)) {
				if (each.t - last < 0.45) continue; // the page asks no oftener
				last = each.t;
				const now = followed(answers, each.heard ?? null);
				answers = now.answers;
				each.shown = now.heard?.engineRPM ?? null;
			}
		}
		return window.heard.map(({heard, ...rest}) => rest);
	})`, aims))
	b.close()
	return answers
}

// whollyIn takes the answers whose whole window lies in a sound.
func whollyIn(answers []heardAt, segment earClip) (inside []heardAt) {
	for _, each := range answers {
		if each.T >= segment.from+1.25 && each.T <= segment.to {
			inside = append(inside, each)
		}
	}
	return inside
}

// leavesItOpen: where the sound alone means another speed, it says that it is
// not sure, and the true speed stands among the others.
func leavesItOpen(t *testing.T, segment earClip, heard []heardAt) {
	t.Helper()
	for _, each := range heard {
		if each.Alone == nil || math.Abs(*each.Alone/segment.rpm-1) < 0.2 {
			continue
		}
		isThere := slices.ContainsFunc(each.Other, func(rpm float64) bool { return math.Abs(rpm/segment.rpm-1) < 0.2 })
		if each.Sure != "possible" || !isThere {
			t.Errorf("%.0f, %s: heard as %.0f, %s, with %v as what else it could be", segment.rpm, segment.name,
				*each.Alone, each.Sure, each.Other)
		}
	}
}

func median(heard []heardAt) (float64, bool) {
	var speeds []float64
	for _, each := range heard {
		if each.RPM != nil {
			speeds = append(speeds, *each.RPM)
		}
	}
	if len(speeds) == 0 {
		return 0, false
	}
	slices.Sort(speeds)
	return speeds[len(speeds)/2], true
}

func said(heard []heardAt) (text string) {
	for _, each := range heard {
		if each.RPM == nil {
			text += "– "
		} else {
			text += fmt.Sprintf("%.0f (%s) ", *each.RPM, each.Sure)
			if *each.RPM != *each.Alone {
				text += fmt.Sprintf("[alone %.0f] ", *each.Alone)
			}
		}
	}
	return text
}

// On the screen: asked for only after a tap, the speed taken with one tap.
func TestTheSpeedIsHeardWithOneTap(t *testing.T) {
	s := newSite(t)
	samples := []float64{}
	for range 6 {
		samples = append(samples, earEngine(4, 1500, earAdditions{noiseDB: 15}, earNoise(9))...)
	}
	p := withEar(t, samples).phone(t, s.origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	eval[bool](p, `(window.asked = 0, window.wanted = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices), navigator.mediaDevices.getUserMedia = (how) => { window.asked++; window.how = how; return window.wanted(how); }, true)`)
	p.open(car + "/call")
	p.tap("button", "We have read the caution: begin")
	p.find("button", "Hear the speed")
	if eval[int](p, `window.asked`) != 0 {
		t.Error("the microphone was asked for before anybody tapped")
	}
	p.tap("button", "Hear the speed")
	p.find("button", "Use 1500")
	if how := eval[string](p,
		`JSON.stringify(window.how)`); how != `{"audio":{"echoCancellation":false,"noiseSuppression":false,"autoGainControl":false}}` {
		t.Errorf("the microphone was asked for with %s", how)
	}
	p.tap("button", "Use 1500")
	p.holds("Engine rpm", "1500")
	p.find("button", "Hear the speed") // it stopped by itself
}

func TestWithoutAMicrophoneItSaysSo(t *testing.T) {
	p, car := demo(t)
	p.open(car + "/do/strobe-idle/idle")
	p.readsFirst()
	p.tap("button", "Hear the speed")
	p.sees("This device has no microphone. Read the speed from a meter.")
}
