package web

import (
	"net/netip"
	"sync"
	"time"
)

// Limits on guessing codes. With 39 bits of chance in a code and 100 tries an
// hour, the odds of one that is open for ten minutes are 1 in 40,000 million.
const (
	triesPerMinute = 10 // from one address
	triesPerHour   = 100
)

// tries remembers who tried a code when. It never holds more than
// triesPerHour of them.
type tries struct {
	mu   sync.Mutex
	made []try
}

type try struct {
	from netip.Prefix
	at   time.Time
}

// take counts a try from an address, or tells how long to wait for the next.
func (t *tries) take(from netip.Addr, now time.Time) (wait time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for len(t.made) > 0 && now.Sub(t.made[0].at) >= time.Hour {
		t.made = t.made[1:]
	}
	if len(t.made) >= triesPerHour {
		wait = t.made[len(t.made)-triesPerHour].at.Add(time.Hour).Sub(now)
	}
	house := householdOf(from)
	recent := 0
	for i := len(t.made) - 1; i >= 0 && now.Sub(t.made[i].at) < time.Minute; i-- {
		if t.made[i].from != house {
			continue
		}
		if recent++; recent == triesPerMinute {
			wait = max(wait, t.made[i].at.Add(time.Minute).Sub(now))
		}
	}
	if wait == 0 {
		t.made = append(t.made, try{house, now})
	}
	return wait
}

// forget takes back a try that was no guess.
func (t *tries) forget(from netip.Addr, at time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for i := len(t.made) - 1; i >= 0; i-- {
		if t.made[i] == (try{householdOf(from), at}) {
			t.made = append(t.made[:i], t.made[i+1:]...)
			return
		}
	}
}

// householdOf: one IPv6 machine has a whole /64 to itself.
func householdOf(from netip.Addr) netip.Prefix {
	bits := from.BitLen()
	if from.Is6() {
		bits = 64
	}
	p, _ := from.Prefix(bits) // an unreadable address is a household of its own
	return p
}
