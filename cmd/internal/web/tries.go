package web

import (
	"crypto/sha256"
	"net/netip"
	"sync"
	"time"

	"pointsmith/store"
)

// Limits on guessing codes. An address has ten tries a minute; a code that was
// right is none of them. All together are looked at one after the other, twenty
// a second, which delays and does not shut out: however many guess, a phone
// with a good code is looked at within seconds. A code has 39 bits of chance and
// is open for ten minutes, in which 12,000 are looked at: 1 in 55 million.
const (
	triesPerMinute = 10 // from one address
	lookEvery      = 50 * time.Millisecond
	lookWait       = 5 * time.Second // how long a try waits to be looked at before it is told to come again
	// raceTime: phones that send one code at the same time do not guess; the
	// second is told that the first was faster.
	raceTime = 10 * time.Second
)

// tries remembers who tried a code in the last minute, and which codes were
// spent just now. It never holds more than are looked at in that time.
type tries struct {
	mu    sync.Mutex
	made  []try
	next  time.Time // when the next may be looked at
	spent []spending
}

type try struct {
	from netip.Prefix
	at   time.Time
}

type spending struct {
	sum [sha256.Size]byte
	at  time.Time
}

// take counts a try from an address and says how long it waits to be looked
// at; or how long until another may be made, where this one is not taken.
func (t *tries) take(from netip.Addr, now time.Time) (delay, again time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for len(t.made) > 0 && now.Sub(t.made[0].at) >= time.Minute {
		t.made = t.made[1:]
	}
	house, own, first := householdOf(from), 0, now
	for i := len(t.made) - 1; i >= 0 && own < triesPerMinute; i-- {
		if t.made[i].from == house {
			own, first = own+1, t.made[i].at
		}
	}
	if own == triesPerMinute {
		return 0, first.Add(time.Minute).Sub(now)
	}
	if t.next.Sub(now) > lookWait+time.Minute || t.next.Before(now) { // the clock was set back, or nobody waits
		t.next = now
	}
	if delay = t.next.Sub(now); delay > lookWait {
		return 0, time.Second
	}
	t.next = t.next.Add(lookEvery)
	t.made = append(t.made, try{house, now})
	return delay, 0
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

// spend notes that a code was good and is used now.
func (t *tries) spend(code string, now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for len(t.spent) > 0 && now.Sub(t.spent[0].at).Abs() >= raceTime {
		t.spent = t.spent[1:]
	}
	t.spent = append(t.spent, spending{sumOf(code), now})
}

// isSpent reports whether a code was used just now by another.
func (t *tries) isSpent(code string, now time.Time) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	sum := sumOf(code)
	for _, s := range t.spent {
		if s.sum == sum && now.Sub(s.at).Abs() < raceTime {
			return true
		}
	}
	return false
}

func sumOf(code string) [sha256.Size]byte { return sha256.Sum256([]byte(store.ReadCode(code))) }

// householdOf: one IPv6 machine has a whole /64 to itself.
func householdOf(from netip.Addr) netip.Prefix {
	bits := from.BitLen()
	if from.Is6() {
		bits = 64
	}
	p, _ := from.Prefix(bits) // an unreadable address is a household of its own
	return p
}
