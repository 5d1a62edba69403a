package sound

import "math"

// Thresholds, in natural logarithms of odds unless said; chosen on made sounds
// of engines, voices, music, hum and fans (the tables of the tests show what
// they do).
const (
	leastWorth   = 18.0 // against noise with stray tones
	leastPresent = 4.0  // the same in each part of the sound alone
	leastCycle   = 9.0  // lines of the whole cycle, that a note, a voice or mains does not have
	leastSpread  = 2.5  // standard deviations: how many of those lines stand out
	slowBeat     = 40.0 // Hz: hardly a voice or an instrument repeats slower (lowest string of a bass: 41 Hz)
	sureWorth    = 30.0
	sureMargin   = 16.0 // over every other speed
	likelyMargin = 5.0
	unevenMargin = 12.0 // over engines that fire unevenly, where nobody said how this one does
	sureLines    = 8.0  // lines that stand on no multiple of the speed
	strayLines   = 6.0  // lines between those of the cycle
	nameMargin   = 20.0 // another speed that comes as near is named
	pairsRare    = 3.0  // how much rarer engines are that sound in pairs
	humWorth     = 5.0  // lines of the mains
	parts        = 3
	searchStep   = 1.003
	searchTries  = 10
	temper       = 0.5 // of the worth beside the ear: the comb is a model, its odds too bold
	earWorth     = 20.0
)

// isEngine tells whether it is an engine that is heard: the lines stand in
// each part of the sound, they are not those of the mains, and there are some
// of the whole cycle between those of the firing.
func (h hearing) isEngine() bool {
	if h.isTold {
		return h.best.worth >= leastWorth
	}
	return !h.isOnMains() && h.present() >= leastPresent && h.isShown(0) && (h.hum == 0 || h.isShown(h.hum))
}

// isOnMains tells whether every line of the cycle stands on the mains, 50 or
// 60 Hz to 1.2 % (chosen): such a speed cannot be told from hum.
func (h hearing) isOnMains() bool {
	for _, mains := range []float64{50, 60} {
		if n := h.best.cycleHz / mains; n > 0.9 && math.Abs(n-math.Round(n)) < 0.012*n {
			return true
		}
	}
	return false
}

// isShown tells whether the lines of the best account are an engine's and no
// note's; lines of the mains may be left out.
func (h hearing) isShown(mains float64) bool {
	a := h.best
	if mains > 0 {
		a = h.weigh(h.spectrum, a.cycleHz, mains)
	}
	if a.worth < leastWorth {
		return false
	}
	note, _ := a.free(h.ofFiring)
	if float64(h.gap)*a.cycleHz < slowBeat {
		return a.spread(h.isStrong) >= leastSpread
	}
	return a.worth-note >= leastCycle && a.spread(func(k int) bool { return !h.ofFiring(k) }) >= leastSpread
}

// spread is how far some lines stand out by their number, not by the height
// of a few as chords do: in standard deviations of heads and tails.
func (a account) spread(isAmong func(k int) bool) float64 {
	high, n := 0.0, 0.0
	for k, y := range a.lines {
		if y == 0 || !isAmong(k) || float64(k)*a.cycleHz > 1000 {
			continue
		}
		n++
		if y > -0.37 { // half of the heights of noise are less than ln 2
			high++
		}
	}
	return (2*high - n) / math.Sqrt(n+1e-9)
}

func (b beat) isStrong(k int) bool { return b.weight[k] > 0.1 }
func (b beat) ofFiring(k int) bool { return k%b.gap == 0 }

// present is how well the firing is heard in the part of the sound where it
// is heard worst.
func (h hearing) present() float64 {
	hz, long := float64(h.gap)*h.best.cycleHz, h.part()
	worst := math.Inf(1)
	for i := range parts {
		from := (len(h.steady) - long) * i / (parts - 1)
		s := newSpectrum(h.steady[from:from+long], h.rate)
		best := math.Inf(-1)
		for off := 0.99; off < 1.0101; off += 0.0025 {
			best = math.Max(best, single.weigh(s, hz*off, 0).worth)
		}
		worst = math.Min(worst, best)
	}
	return worst
}

// part is how many samples one part of the sound has: a third of it, but 14
// firings at least (chosen), else nothing is seen in it.
func (h hearing) part() int {
	return min(len(h.steady), max(len(h.steady)/parts, int(14*h.rate/(float64(h.gap)*h.best.cycleHz))))
}

var single = beat{cylinders: 1, cycleDeg: 720, intervals: []float64{720}}.weighed()

// margin is by how much the best account beats every other speed.
func (h hearing) margin() float64 {
	most := 0.0
	for _, r := range h.rivals {
		most = math.Max(most, h.score(r))
	}
	return h.score(h.best) - most
}

// isWhole tells whether the lines show the whole cycle and no longer one: a
// speed twice or three times as high would leave lines unexplained, and at half
// or a third none stand that the speed found leaves out.
func (h hearing) isWhole() bool {
	for _, p := range []int{2, 3, 5, 7} {
		if p > h.cylinders || h.gap%p != 0 {
			continue
		}
		if between, _ := h.best.free(func(k int) bool { return k%p != 0 }); between < sureLines {
			return false
		}
	}
	return h.isClosed()
}

// isClosed tells that no lines stand halfway or a third between those of the
// cycle.
func (h hearing) isClosed() bool {
	for _, p := range []int{2, 3} {
		finer := account{}
		hz := h.best.cycleHz / float64(p)
		for k := range len(h.best.lines) * p {
			v, n := 0.0, 1.0
			if f := float64(k) * hz; f > lineLow && f < lineHigh {
				v, n = h.spectrum.line(f, hz)
			}
			finer.lines, finer.means = append(finer.lines, v), append(finer.means, n)
		}
		if _, most := finer.free(func(k int) bool { return k%p != 0 }); most > strayLines {
			return false
		}
	}
	return true
}

// sureness of the speed found. Nobody is sure who was not told how the engine
// fires; and where the cycle does not show, or an engine that fires unevenly
// fits as well, the speed is only possible then.
func (h hearing) sureness() string {
	margin := h.margin()
	if h.isTold {
		switch {
		case margin < likelyMargin:
			return "possible"
		case margin < sureMargin:
			return "likely"
		}
		return "sure"
	}
	isKnown := h.said || h.cylinders == 1
	isWhole := h.isWhole()
	other, _ := h.uneven()
	switch {
	case margin < likelyMargin, !h.isClosed(), !isKnown && (!isWhole || other.worth > h.best.worth-unevenMargin):
		return "possible"
	case !isKnown, !isWhole, h.part() > len(h.steady)*3/4, margin < sureMargin, h.best.worth < sureWorth:
		return "likely"
	}
	return "sure"
}
