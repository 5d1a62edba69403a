package sound

// knownUneven are ways in which engines of some cylinders fire unevenly
// (crank throws; common practice): asked against the sound when nobody said
// how it fires.
var knownUneven = map[int][][]float64{
	2: {{270, 450}, {315, 405}, {300, 420}, {180, 540}},
	4: {{90, 180, 270, 180}, {180, 270, 180, 90}, {90, 270, 90, 270}},
	6: {{90, 150, 90, 150, 90, 150}, {60, 180, 60, 180, 60, 180}},
}

// uneven is the best account of the sound by an engine of as many cylinders
// that fires unevenly, at the speed found or at one it is taken for.
func (h hearing) uneven() (best account, way []float64) {
	if h.said {
		return best, nil
	}
	for _, intervals := range knownUneven[h.cylinders] {
		other := h
		other.beat = beat{cylinders: h.cylinders, cycleDeg: 720, intervals: intervals}.weighed()
		for _, q := range []float64{1, 0.5, 2, 1.0 / 3, 3} {
			hz := h.best.cycleHz * q
			if !h.isWithin(hz) {
				continue
			}
			for _, off := range []float64{-0.002, 0, 0.002} {
				if a := other.weigh(h.spectrum, hz*(1+off), h.mains); a.worth > best.worth {
					best, way = a, intervals
				}
			}
		}
	}
	return best, way
}
