//go:build e2e

package e2e

import "testing"

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
	p.sees("Switch the ignition off", "cook a coil") // within seconds, not within two minutes
	p.reload()
	p.sees("Switch the ignition off")
	p.tap("button", "Ignition is off")
	p.sees("Ignition off. It was on for 0:")
}
