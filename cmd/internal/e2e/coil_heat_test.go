//go:build e2e

package e2e

import (
	"strings"
	"testing"
)

// On for nearly two minutes, off, on again at once: the coil is as hot as it
// was, and the alarm comes at two minutes of heat and not two minutes later.
// The memory is the car's, and goes through a reload.
func TestTheCoilWatchRemembersTheHeat(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	p.open(car + "/volts")
	p.enters("2. Ignition switch, in", "11")            // a fault: the watch is the next thing to do
	p.watch.expect("Blocked call to navigator.vibrate") // a page nobody has touched yet may not shake
	start := "Ignition on now: start the coil watch"
	p.tap("button", start)
	eval[bool](p, `(Date.now = ((now) => () => now() + 115_000)(Date.now), true)`)
	p.sees("1:5")
	p.tap("button", "Ignition is off")
	p.sees("It was on for 1:5", "The coil is warm")
	p.reload() // and the clock is the right one again
	p.tap("button", start)
	p.sees("still warm: counts from 1:5")
	p.sees("Switch the ignition off", "overheat a coil") // within seconds, not within two minutes
	p.reload()
	p.sees("Switch the ignition off")
	p.tap("button", "Ignition is off")
	p.sees("Ignition off. It was on for 0:")
}

// A step of guided work that leaves the ignition on starts the watch by itself.
func TestGuidedWorkStartsTheCoilWatch(t *testing.T) {
	p, car := invented(t, "Kestlewood Ridgeway V8")
	p.open(car + "/do/static")
	p.tap("button", "Begin")
	onto := func(title string) {
		t.Helper()
		for range 14 {
			until(t, "a step is shown", func() bool {
				return eval[bool](p, `!!document.querySelector(".step-actions .next")`)
			})
			here, hash := stepTitle(p), p.hash()
			for _, answer := range answersAt[hash[strings.Index(hash, "static"):]] {
				p.tap("radio", answer)
			}
			p.tap("button", eval[string](p, `document.querySelector(".step-actions .next").innerText.trim()`))
			until(t, "the step after "+here, func() bool { return p.hash() != hash && stepTitle(p) != here })
			if here == title {
				return
			}
			if eval[bool](p, `!!document.querySelector(".coil-watch")`) {
				t.Fatalf("the watch runs after %q", here)
			}
		}
		t.Fatalf("no step is %q", title)
	}
	onto("Ignition on")
	p.find("button", "Ignition is off")
	if words := eval[string](p, `document.querySelector(".coil-said").innerText`); !strings.Contains(words,
		"Static timing with the test lamp") {
		t.Errorf("the watch says %q", words)
	}
	p.sees("Ignition on. Work briskly", "ignition on, engine still")

	// Switched off to spare the coil, it is off on the restore list too, and
	// the step that needs it says so; noted on again, the watch counts again.
	p.tap("button", "Ignition is off")
	p.sees("The ignition is off. Switch it on again for this step.")
	until(t, "it is off the restore list", func() bool {
		return !strings.Contains(eval[string](p, `document.querySelector(".undone").innerText`), "ignition on")
	})
	p.tap("button", "I have switched it on")
	p.sees("Ignition on. Work briskly")
	until(t, "it is on the restore list again", func() bool {
		return strings.Contains(eval[string](p, `document.querySelector(".undone").innerText`), "ignition on")
	})
	p.find("button", "Ignition is off")
}
