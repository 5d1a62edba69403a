package sound

import (
	"cmp"
	"math"
	"slices"
)

// ratios at which one speed is taken for another.
var ratios = []float64{0.5, 2, 1.0 / 3, 3, 2.0 / 3, 1.5, 0.25, 4}

// hearing is what a sound says of one engine.
type hearing struct {
	beat
	in     RPMIn
	pairs  *beat   // the same engine where every second firing alone is alike, or nil
	isTold bool    // pulse times: no doubt that they are firings
	hum    float64 // frequency of the mains, where it is heard
	mains  float64 // lines of it are left out
	raw    []float64
	rate   float64

	ear      *byEar    // where all firings are alike
	steady   []float64 // with the wander of the speed taken out
	spectrum *spectrum
	best     account
	rivals   []account
}

// listen finds the speed that explains the sound best: roughly; then again
// once its wander is taken out.
func (b beat) listen(in RPMIn, c clip) hearing {
	h := hearing{beat: b, in: in, isTold: len(in.PulseMs) > 0, pairs: b.inPairs()}
	h.raw, h.rate = decimate(c.samples, c.rate)
	raw := newSpectrum(h.raw, h.rate)
	if b.isEven() {
		h.ear = h.askEars()
	}
	h.hum = humIn(raw)
	if h.mains = h.hum; h.mains > 0 && !h.isTold {
		if beside := h.heardIn(raw); beside.isEngine() {
			return beside
		}
	}
	h.mains = 0
	return h.heardIn(raw)
}

// humIn gives the frequency of the mains where its lines stand in a sound,
// else 0. The mains keep to a few tenths of a percent; so do sound cards.
func humIn(s *spectrum) float64 {
	mains, most := 0.0, humWorth
	for _, nominal := range []float64{50, 60} {
		for off := -0.004; off < 0.0041; off += 0.001 {
			if a := single.weigh(s, nominal*(1+off), 0); a.worth > most {
				mains, most = nominal*(1+off), a.worth
			}
		}
	}
	return mains
}

func (h hearing) heardIn(raw *spectrum) hearing {
	h.spectrum = raw
	rough := h.search()
	h.steady = h.steadied(h.raw, h.rate, rough.cycleHz)
	h.spectrum = newSpectrum(h.steady, h.rate)
	h.best = h.search()
	if h.ear != nil {
		if byEar := h.climbed(h.ear.hz / float64(h.cylinders)); h.isWithin(byEar.cycleHz) &&
			h.score(byEar) > h.score(h.best) {
			h.best = byEar
		}
	}
	for _, q := range ratios {
		if hz := h.best.cycleHz * q; h.isWithin(hz) {
			h.rivals = append(h.rivals, h.climbed(hz))
		}
	}
	for i, r := range h.rivals {
		if h.score(r) > h.score(h.best) {
			h.best, h.rivals[i] = r, h.best
		}
	}
	return h
}

// byEar holds both ears and the firing rate they chose.
type byEar struct {
	first, second *ear
	hz, clarity   float64
}

// askEars gives what the ears choose, or nil where nothing repeats.
func (h hearing) askEars() *byEar {
	e := &byEar{}
	e.first, e.second = ears(h.raw, h.rate)
	in := h.in
	// the ears know four-strokes; a two-stroke fires like one of twice the cylinders
	in.Cylinders *= int(720 / h.cycleDeg)
	g := e.first.choose(in, e.second)
	if g.clarity <= 0 {
		return nil
	}
	e.hz, e.clarity = 1/g.period, g.clarity+math.Max(0, e.second.clarity(g.period))
	return e
}

// score is the worth of an account, with what the ear says of it where there
// is an ear.
func (h hearing) score(a account) float64 {
	if h.ear == nil {
		return a.worth
	}
	p := 1 / (a.cycleHz * float64(h.cylinders))
	best := math.Inf(-1)
	for off := -0.009; off < 0.0091; off += 0.003 {
		best = math.Max(best, h.ear.first.clarity(p*(1+off))+h.ear.second.clarity(p*(1+off)))
	}
	return temper*a.worth + earWorth*best/h.ear.clarity
}

func (h hearing) isWithin(cycleHz float64) bool {
	rpm := h.rpm(cycleHz)
	return rpm*1.005 > h.in.LowEngineRPM && rpm*0.995 < h.in.HighEngineRPM
}

// search glances at every speed of the range and weighs the best few.
func (h hearing) search() account {
	var all []account
	for rpm := h.in.LowEngineRPM; rpm <= h.in.HighEngineRPM; rpm *= searchStep {
		all = append(all, h.glance(h.spectrum, h.cycleHz(rpm), h.mains))
	}
	slices.SortFunc(all, func(a, b account) int { return cmp.Compare(b.worth, a.worth) })
	best, tried := account{worth: math.Inf(-1)}, []float64{}
	for _, a := range all {
		if len(tried) >= searchTries {
			break
		}
		if slices.ContainsFunc(tried, func(hz float64) bool { return math.Abs(hz/a.cycleHz-1) < 0.012 }) {
			continue
		}
		tried = append(tried, a.cycleHz)
		if a := h.climbed(a.cycleHz); a.worth > best.worth {
			best = a
		}
	}
	return best
}

// account weighs one speed: all firings alike, or every second.
func (h hearing) account(cycleHz float64) account {
	a := h.weigh(h.spectrum, cycleHz, h.mains)
	if h.pairs != nil {
		if p := h.pairs.weigh(h.spectrum, cycleHz, h.mains); p.worth-pairsRare > a.worth {
			p.worth -= pairsRare
			a = p
		}
	}
	return a
}

// climbed is the best account within a hundredth of a speed.
func (h hearing) climbed(cycleHz float64) account {
	best := account{worth: math.Inf(-1)}
	for off := -0.009; off < 0.0091; off += 0.003 {
		if a := h.account(cycleHz * (1 + off)); a.worth > best.worth {
			best = a
		}
	}
	for width := 0.0015; width > 1e-4; width /= 2 {
		for _, hz := range []float64{best.cycleHz * (1 - width), best.cycleHz * (1 + width)} {
			if near := h.account(hz); near.worth > best.worth {
				best = near
			}
		}
	}
	return best
}
